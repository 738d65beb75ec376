// One update of a chain of 2,000 elements with single faults.

#include <fmt/core.h>

#include "belief/belief.h"
#include "belief/enumeration.h"
#include "belief/set_belief.h"
#include "bench/measure.h"

namespace {

using namespace whichlink;
using bench::seconds_of;
using bench::time_text;

// Invented numbers: every fault rare, sounding bad in one of three ways.
belief::Network chain_of(std::size_t faults) {
  belief::Network network;
  network.at_most.resize(1);
  for (std::size_t fault = 0; fault < faults; ++fault) {
    const double present = 1e-7 * static_cast<double>(1 + fault % 7);
    network.prior.push_back({1 - present, present * .4, present * .6});
    network.at_most[0].push_back({0, .1 * static_cast<double>(1 + fault % 5), .8, 1});
  }
  return network;
}

// Moves every fault; the signal goes through the first `share` of the chain.
belief::Slice slice_of(std::size_t faults, double share) {
  belief::Slice slice;
  const belief::StateMatrix stirred = {{{1, 0, 0}, {0, .7, .3}, {0, .2, .8}}};
  for (std::uint32_t fault = 0; fault < faults; ++fault) {
    slice.transitions.push_back({fault, stirred});
    if (fault < share * static_cast<double>(faults)) slice.hearing.path.push_back(fault);
  }
  slice.hearing.leak_at_most = {.99, .995, 1, 1};
  slice.hearing.chance_of_report = {.02, .2, .7, .08};
  return slice;
}

void row(const std::string& name, double seconds, double ours) {
  fmt::print("{:44} {:>11} {:11.3f}\n", name, time_text(seconds), seconds / ours);
}

void chain_of_2000() {
  constexpr std::size_t kElements = 2000;
  const belief::Network network = chain_of(kElements);
  const std::vector<belief::Slice> slices = {slice_of(kElements, 1), slice_of(kElements, .5)};
  const auto thresholds = belief::by_thresholds(network, slices);
  if (!thresholds.fits) bench::stop("long chain: the signed sum does not fit");
  const belief::Posterior single = belief::by_subsets(network, slices, 1);
  // Single faults leave several at once out; how much, by_subsets itself bounds.
  bench::must_agree("long chain", bench::distance(thresholds.posterior, single),
                    single.left_out + -std::log1p(-single.left_out) + 1e-9);
  belief::SetBelief stepwise(network, 1, 0);
  for (const belief::Slice& slice : slices) stepwise.apply(slice);
  bench::must_agree("long chain, step by step", bench::distance(stepwise.posterior(), single),
                    1e-9);

  belief::SetBelief after_one(network, 1, 0);
  after_one.apply(slices[0]);
  const double first = seconds_of([&] {
    belief::SetBelief next(network, 1, 0);
    next.apply(slices[0]);
  });
  const double apply = seconds_of([&] {
    belief::SetBelief next = after_one;
    next.apply(slices[1]);
  });
  const double read = seconds_of([&] { (void)stepwise.posterior(); });
  // What a sitting pays for an answer: the step taken in, and every fault's chances read.
  const double update = seconds_of([&] {
    belief::SetBelief next = after_one;
    next.apply(slices[1]);
    (void)next.posterior();
  });
  const double subsets = seconds_of([&] { (void)belief::by_subsets(network, slices, 1); });
  const double rival = seconds_of([&] { (void)belief::by_thresholds(network, slices); });
  fmt::print("long chain: {} elements, a fault each; target 20 ms an update\n", kElements);
  fmt::print("{:44} {:>11} {:>11}\n", "", "median", "ratio");
  row("ours: a later hearing and the posterior", update, update);
  row("  of it, a copy and SetBelief.apply", apply, update);
  row("  of it, SetBelief.posterior", read, update);
  row("ours: SetBelief.apply, the first hearing", first, update);
  row("ours: by_subsets from nothing, two hearings", subsets, update);
  row("rival: by_thresholds, two hearings, all sets", rival, update);
  fmt::print("several faults at once weigh at most {:.2g} here\n\n", single.left_out);
}

void chain_of_8() {
  constexpr std::size_t kElements = 8;
  const belief::Network network = chain_of(kElements);
  const std::vector<belief::Slice> slices = {slice_of(kElements, 1), slice_of(kElements, .5)};
  const belief::Posterior right = referee::enumerate(network, slices);
  const belief::Posterior found = belief::by_subsets(network, slices, kElements);
  bench::must_agree("short chain", bench::distance(right, found), 1e-9);
  const double ours = seconds_of([&] { (void)belief::best_posterior(network, slices); });
  const double rival = seconds_of([&] { (void)referee::enumerate(network, slices); });
  fmt::print("short chain: {} elements, all sets of faults\n", kElements);
  row("ours: best_posterior", ours, ours);
  row("rival: enumeration of 3^8 states", rival, ours);
}

}  // namespace

int main() {
  chain_of_2000();
  chain_of_8();
}
