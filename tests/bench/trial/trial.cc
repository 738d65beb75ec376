// Trials of the best split a minute: with what was chosen after the same reports remembered, and
// with every step of every case planned for itself.
//   bench_trial             the table
//   bench_trial CASES       so many cases of each row, remembered only
//   bench_trial CASES MODEL ROUTE HEARD POLICY   one row
#include "trial/trial.h"

#include <sys/resource.h>

#include <chrono>

#include "bench/rows.h"

namespace {

using namespace whichlink;
using bench::Row;

constexpr std::size_t kCases = 5000;
constexpr std::size_t kBothWays = 100;  ///< played without memory too, which takes far longer
constexpr double kTarget = 10;          // seconds, two cores

struct Taken {
  double wall = 0;  ///< seconds
  double cpu = 0;   ///< seconds of all threads
  trial::Outcome outcome;
};

double cpu_seconds() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  const auto seconds = [](const timeval& time) {
    return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) * 1e-6;
  };
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

double wall_seconds() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

double peak_megabytes() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024;
}

Taken played(const Row& row, const std::string& policy, std::size_t cases, bool remember) {
  const bench::Complained complained(row);
  trial::Options options;
  options.complaint = {complained.route, complained.heard, 0};
  options.cases = cases;
  options.policies = {policy};
  options.remember = remember;
  const double wall = wall_seconds();
  const double cpu = cpu_seconds();
  Taken taken;
  taken.outcome = trial::run(complained.setting(), complained.setting(), options, {});
  taken.wall = wall_seconds() - wall;
  taken.cpu = cpu_seconds() - cpu;
  return taken;
}

void must_be_the_same(const Row& row, const trial::Outcome& one, const trial::Outcome& other) {
  for (std::size_t number = 0; number < kBothWays; ++number) {
    const trial::Played& a = one.scores[0].played[number];
    const trial::Played& b = other.scores[0].played[number];
    if (a.priced_minutes == b.priced_minutes && a.moves == b.moves && a.doubt == b.doubt) continue;
    bench::stop(fmt::format("{}, {}: case {} goes otherwise if it is not remembered", row.model,
                            row.heard, number));
  }
}

void print_row(const Row& row, const Taken& taken) {
  fmt::print("{:15} {:10} {:10} {:9.2f} {:9.2f} {:8.3f}", row.model, row.route, row.heard,
             taken.wall, taken.cpu, taken.outcome.scores[0].mean_priced.value);
}

}  // namespace

int main(int count, char** arguments) {
  const std::size_t cases = count > 1 ? std::stoul(arguments[1]) : kCases;
  fmt::print("trial: {} cases of split; target {} s on two cores\n", cases, kTarget);
  if (count > 5) {
    const Row row{arguments[2], arguments[3], arguments[4]};
    print_row(row, played(row, arguments[5], cases, true));
    fmt::print("\npeak {:.0f} MB\n", peak_megabytes());
    return 0;
  }
  fmt::print("{:37} {:>9} {:>9} {:>8}  not remembered: cpu s a case   ratio\n", "", "wall s",
             "cpu s", "priced");
  for (const Row& row : bench::kRows) {
    const Taken ours = played(row, "split", cases, true);
    print_row(row, ours);
    if (count == 1) {
      const Taken plain = played(row, "split", kBothWays, false);
      must_be_the_same(row, ours.outcome, plain.outcome);
      const double each = plain.cpu / static_cast<double>(kBothWays);
      fmt::print(" {:30.4f} {:7.1f}", each, each * static_cast<double>(cases) / ours.cpu);
    }
    fmt::print("\n");
    std::fflush(stdout);
  }
  fmt::print("ratio: of processor time, all cases not remembered to ours. Peak {:.0f} MB\n",
             peak_megabytes());
  return 0;
}
