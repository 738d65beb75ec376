// Subsets, thresholds and full enumeration, as heard faults and hearings grow.

#include <fmt/core.h>

#include "base/random.h"
#include "belief/belief.h"
#include "belief/enumeration.h"
#include "belief/joint.h"
#include "bench/measure.h"

namespace {

using namespace whichlink;

constexpr std::size_t kSeverities = 4;

std::vector<double> at_most(Random& random) {
  std::vector<double> chances;
  for (std::size_t severity = 0; severity + 1 < kSeverities; ++severity) {
    chances.push_back(random.uniform());
  }
  std::sort(chances.begin(), chances.end());
  chances.push_back(1);
  return chances;
}

struct Case {
  belief::Network network;
  std::vector<belief::Slice> slices;
};

// Invented at random: all faults on every path, each moved by every step.
Case draw(std::size_t faults, std::size_t hearings) {
  Random random(1000 * faults + hearings);
  Case one;
  one.network.at_most.resize(1);
  for (std::size_t fault = 0; fault < faults; ++fault) {
    const double present = .001 + .049 * random.uniform();
    one.network.prior.push_back({1 - present, present * .5, present * .5});
    one.network.at_most[0].push_back(at_most(random));
  }
  for (std::size_t hearing = 0; hearing < hearings; ++hearing) {
    belief::Slice slice;
    for (std::uint32_t fault = 0; fault < faults; ++fault) {
      const double stays = random.uniform();
      slice.transitions.push_back(
          {fault, {{{1, 0, 0}, {0, stays, 1 - stays}, {0, 1 - stays, stays}}}});
      slice.hearing.path.push_back(fault);
    }
    slice.hearing.leak_at_most = {.9, .95, .98, 1};
    for (std::size_t severity = 0; severity < kSeverities; ++severity) {
      slice.hearing.chance_of_report.push_back(.05 + .9 * random.uniform());
    }
    one.slices.push_back(std::move(slice));
  }
  return one;
}

void row(std::size_t faults, std::size_t hearings) {
  const Case one = draw(faults, hearings);
  const auto thresholds = belief::by_thresholds(one.network, one.slices);
  const belief::Posterior small = belief::by_subsets(one.network, one.slices, 2);
  const bool can_enumerate = faults <= 8;
  const bool can_take_all = faults <= 12;
  std::string all_text = "-";
  std::string joint_text = "-";
  std::string referee_text = "-";
  std::string thresholds_text = "too many";
  belief::Posterior all;
  if (can_take_all) {
    all = belief::by_subsets(one.network, one.slices, faults);
    if (thresholds.fits) {
      bench::must_agree("thresholds", bench::distance(all, thresholds.posterior), 1e-9);
    }
    if (can_enumerate) {
      bench::must_agree("enumeration",
                        bench::distance(referee::enumerate(one.network, one.slices), all), 1e-9);
      referee_text = bench::time_text(
          bench::seconds_of([&] { (void)referee::enumerate(one.network, one.slices); }, 5));
    }
    const auto joint = [&] {
      return belief::by_joint(one.network, one.slices,
                              belief::joint_shape(one.network, one.slices));
    };
    bench::must_agree("joint", bench::distance(all, joint()), 1e-9);
    joint_text = bench::time_text(bench::seconds_of([&] { (void)joint(); }, 7));
    all_text = bench::time_text(
        bench::seconds_of([&] { (void)belief::by_subsets(one.network, one.slices, faults); }, 7));
  }
  if (thresholds.fits) {
    thresholds_text = bench::time_text(
        bench::seconds_of([&] { (void)belief::by_thresholds(one.network, one.slices); }, 7));
  }
  const double pairs =
      bench::seconds_of([&] { (void)belief::by_subsets(one.network, one.slices, 2); }, 7);
  const double best =
      bench::seconds_of([&] { (void)belief::best_posterior(one.network, one.slices); }, 7);
  fmt::print("{:6} {:8} {:>11} {:>11} {:>11} {:>11} {:>8.1e} {:>11} {:>11}\n", faults, hearings,
             joint_text, all_text, thresholds_text, bench::time_text(pairs), small.left_out,
             bench::time_text(best), referee_text);
}

}  // namespace

int main() {
  fmt::print("ways: one posterior, all faults on every path, {} severities; medians\n",
             kSeverities);
  fmt::print("{:>6} {:>8} {:>11} {:>11} {:>11} {:>11} {:>8} {:>11} {:>11}\n", "faults", "hearings",
             "joint", "all sets", "thresholds", "pairs", "left out", "ours (best)", "enumeration");
  for (const std::size_t faults : {4, 8, 12, 24, 60}) {
    for (const std::size_t hearings : {2, 4, 6}) row(faults, hearings);
  }
}
