// How far apart the bounds of the plan are at the first step, for each row of docs/trials.md.
//   bench_bounds [SECONDS [FAULTS STANDINGS [ROW]]]   2 seconds a row, as deep as --think goes
#include "bench/rows.h"
#include "plan/ahead.h"

namespace {

using namespace whichlink;

void measure(const bench::Row& row, const plan::Depth& depth) {
  using Clock = std::chrono::steady_clock;
  const bench::Complained complained(row);
  const moves::Setting& setting = complained.setting();
  const moves::Standing start = moves::stand_at_start(setting, complained.route);
  const plan::CaseBelief belief(setting, complained.route, 0,
                                moves::weights_of_outcome(complained.sense(), complained.heard));
  const auto before = Clock::now();
  const auto ahead = plan::search_ahead(setting, belief, start, {}, depth);
  const double seconds = std::chrono::duration<double>(Clock::now() - before).count();
  if (!ahead) bench::stop("not searched");
  if (!(ahead->lower > 0 && ahead->lower <= ahead->upper + 1e-9)) bench::stop("bounds cross");
  fmt::print("{:15} {:10} {:10} {:8.2f} {:8.2f} {:5.0f} % {:5.0f} % {:7.2f} s  {}\n", row.model,
             row.route, row.heard, ahead->lower, ahead->upper,
             100 * (1 - ahead->lower / ahead->upper), 100 * ahead->kept, seconds,
             ahead->move ? ahead->move->name : "");
  std::fflush(stdout);
}

}  // namespace

int main(int count, char** arguments) {
  const double seconds = count > 1 ? std::stod(arguments[1]) : 2;
  plan::Depth depth = plan::depth_of(seconds);
  if (count > 3) {
    depth.faults = std::stoul(arguments[2]);
    depth.standings = std::stoul(arguments[3]);
  }
  fmt::print("bounds at the first step: {} s, {} faults, {} standings\n", seconds, depth.faults,
             depth.standings);
  fmt::print("{:37} {:>8} {:>8} {:>7} {:>7}\n", "", "under", "plan", "gap", "kept");
  for (std::size_t row = 0; row < bench::kRows.size(); ++row) {
    if (count > 4 && row != std::stoul(arguments[4])) continue;
    measure(bench::kRows[row], depth);
  }
  return 0;
}
