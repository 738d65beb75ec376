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
#include <optional>
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

// nullopt: the program said no.
std::optional<Run> try_run(const Task& task, int output, int errors) {
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
    dup2(errors, 2);
    execv(argv[0], argv.data());
    _exit(127);
  }
  int status = 0;
  rusage usage{};
  wait4(child, &status, 0, &usage);
  const auto wall = std::chrono::steady_clock::now() - start;
  if (!WIFEXITED(status) || WEXITSTATUS(status) == 127) stop(task.name + ": the program crashed");
  if (status != 0) return std::nullopt;
  return Run{std::chrono::duration<double, std::milli>(wall).count(),
             milliseconds(usage.ru_utime) + milliseconds(usage.ru_stime),
             static_cast<double>(usage.ru_maxrss) / 1024};
}

Run run(const Task& task, int output) {
  const std::optional<Run> done = try_run(task, output, 2);
  if (!done) stop(task.name + ": the program failed");
  return *done;
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

// How many answers the program took before it had no more; -1 if it refused one.
int steps_taken(const Task& task, int nowhere) {
  const int file = scratch();
  int steps = -1;
  if (try_run(task, file, nowhere)) {
    std::string text(static_cast<std::size_t>(lseek(file, 0, SEEK_END)), ' ');
    if (pread(file, text.data(), text.size(), 0) != static_cast<ssize_t>(text.size())) stop("disk");
    steps = static_cast<int>(nlohmann::json::parse(text).at("steps").size());
  }
  close(file);
  return steps;
}

// Answers that keep the case going: the fault stays silent where that is asked, and unsure
// elsewhere.
std::string answers_of(const Words& isolate, int wanted, int nowhere) {
  std::string answers;
  for (int given = 1; given <= wanted; ++given) {
    bool found = false;
    for (const char* answer : {"silent\n", "not sure\n"}) {
      const Task task{"answers", isolate, holding(answers + answer)};
      found = steps_taken(task, nowhere) == given;
      close(task.input);
      if (!found) continue;
      answers += answer;
      break;
    }
    if (!found) stop(fmt::format("no answer {} could be given", given));
  }
  return answers;
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
  const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
  const std::string twelve = answers_of(isolate, 12, nowhere);
  const std::vector<Task> tasks = {{"rival: --version", {program, "--version"}, holding("")},
                                   {"ours: first suggestion", isolate, holding("")},
                                   {"ours: a case of 12 answers", isolate, holding(twelve)}};

  if (steps_taken(tasks[1], nowhere) != 0 || steps_taken(tasks[2], nowhere) != 12) {
    stop("the cases do not have 0 and 12 steps");
  }

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
