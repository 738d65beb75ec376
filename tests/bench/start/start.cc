// Start-up and first suggestion of the real program; the rival is a start that does nothing.
//   bench_start PROGRAM [RUNS]

#include <fcntl.h>
#include <fmt/core.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace {

[[noreturn]] void stop(const std::string& why) {
  fmt::print(stderr, "{}\n", why);
  std::exit(1);
}

struct Run {
  double wall_ms = 0;
  double processor_ms = 0;
  double peak_mb = 0;
};

double milliseconds(const timeval& time) {
  return 1e3 * static_cast<double>(time.tv_sec) + 1e-3 * static_cast<double>(time.tv_usec);
}

using Words = std::vector<std::string>;

struct Task {
  std::string name;
  Words arguments;  // the program first
  int input = -1;   // a file to read from its beginning
};

Run run(const Task& task, int output) {
  lseek(task.input, 0, SEEK_SET);
  std::vector<char*> argv;
  for (const std::string& word : task.arguments) argv.push_back(const_cast<char*>(word.c_str()));
  argv.push_back(nullptr);
  const auto start = std::chrono::steady_clock::now();
  const pid_t child = vfork();
  if (child < 0) stop("cannot start a process");
  if (child == 0) {
    dup2(task.input, 0);
    dup2(output, 1);
    execv(argv[0], argv.data());
    _exit(127);
  }
  int status = 0;
  rusage usage{};
  wait4(child, &status, 0, &usage);
  const auto wall = std::chrono::steady_clock::now() - start;
  if (status != 0) stop(task.name + ": the program failed");
  return {std::chrono::duration<double, std::milli>(wall).count(),
          milliseconds(usage.ru_utime) + milliseconds(usage.ru_stime),
          static_cast<double>(usage.ru_maxrss) / 1024};
}

int scratch() {
  std::FILE* file = std::tmpfile();
  if (file == nullptr) stop("cannot make a scratch file");
  return fileno(file);
}

int holding(const std::string& text) {
  const int file = scratch();
  if (write(file, text.data(), text.size()) != static_cast<ssize_t>(text.size())) stop("disk full");
  return file;
}

nlohmann::json answer_of(const Task& task) {
  const int file = scratch();
  (void)run(task, file);
  std::string text(static_cast<std::size_t>(lseek(file, 0, SEEK_END)), ' ');
  if (pread(file, text.data(), text.size(), 0) != static_cast<ssize_t>(text.size())) stop("disk");
  return nlohmann::json::parse(text);
}

template <class Field>
double median(const std::vector<Run>& runs, Field field) {
  std::vector<double> values;
  for (const Run& one : runs) values.push_back(one.*field);
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

}  // namespace

int main(int count, char** words) {
  if (count < 2) stop("expected: bench_start PROGRAM [RUNS]");
  const std::string program = words[1];
  const int runs = count > 2 ? std::max(1, std::atoi(words[2])) : 101;
  const Words isolate = {program,      "isolate", "--model", "two-room-booth", "--route",
                         "left phone", "--heard", "silent",  "--json"};
  std::string twelve;
  for (int answer = 0; answer < 12; ++answer) twelve += answer % 2 == 0 ? "silent\n" : "not sure\n";
  const std::vector<Task> tasks = {{"rival: --version", {program, "--version"}, holding("")},
                                   {"ours: first suggestion", isolate, holding("")},
                                   {"ours: a case of 12 answers", isolate, holding(twelve)}};

  const std::size_t none = answer_of(tasks[1])["steps"].size();
  const std::size_t all = answer_of(tasks[2])["steps"].size();
  if (none != 0 || all != 12) stop(fmt::format("{} and {} steps; expected 0 and 12", none, all));

  const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
  std::vector<std::vector<Run>> seen(tasks.size());
  for (int turn = 0; turn < runs; ++turn) {  // in turn, so that a busy spell hits all alike
    for (std::size_t task = 0; task < tasks.size(); ++task) {
      seen[task].push_back(run(tasks[task], nowhere));
    }
  }
  fmt::print("start: medians of {} runs\n", runs);
  fmt::print("{:28} {:>9} {:>9} {:>9} {:>9} {:>8}\n", "", "wall ms", "least ms", "cpu ms",
             "peak MB", "ratio");
  for (std::size_t task = 0; task < tasks.size(); ++task) {
    double least = seen[task].front().wall_ms;
    for (const Run& one : seen[task]) least = std::min(least, one.wall_ms);
    const double cpu = median(seen[task], &Run::processor_ms);
    fmt::print("{:28} {:9.1f} {:9.1f} {:9.1f} {:9.1f} {:8.2f}\n", tasks[task].name,
               median(seen[task], &Run::wall_ms), least, cpu, median(seen[task], &Run::peak_mb),
               cpu / median(seen[0], &Run::processor_ms));
  }
  fmt::print("ratio: cpu of the rival = 1. Targets: first suggestion 50 ms, peak 64 MB.\n");
}
