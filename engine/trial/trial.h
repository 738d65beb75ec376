#pragma once

#include <functional>
#include <string>
#include <vector>

#include "trial/draw.h"
#include "trial/policy.h"

namespace whichlink::trial {

struct Options {
  Complaint complaint;
  std::size_t cases = 1000;
  std::uint64_t seed = 1;
  std::vector<std::string> policies;  ///< names of policy_kinds()
  plan::Depth depth;                  ///< how far ours searches ahead
  bool remember = true;               ///< what a fixed policy chose after the same reports
};

/// How one case went under one policy.
struct Played {
  double minutes = 0;         ///< moves, and putting back what is still changed at the end
  double priced_minutes = 0;  ///< the same with parts, a call for service, and a fault left in
  std::size_t moves = 0;
  std::size_t needless_parts = 0;  ///< spares left in for a part that was sound at the start
  bool service = false;            ///< handed over
  bool left_in = false;            ///< closed while the route was not sound
  double doubt = 0;  ///< believed chance of that at the end; 0 where the policy believes nothing
};

/// A number with its confidence interval of 95 %.
struct Estimate {
  double value = 0, low = 0, high = 0;
};

struct Score {
  std::string policy;
  std::vector<Played> played;  ///< by case, the same cases for every policy
  Estimate mean_minutes, median_minutes, late_minutes;  ///< late: 95th percentile
  Estimate mean_priced, mean_moves, needless_parts;     ///< parts: a case
  Estimate service, left_in;                            ///< shares of the cases
  std::size_t most_moves = 0;
};

struct Outcome {
  std::vector<Score> scores;  ///< in the order of Options::policies
  std::size_t cases = 0;      ///< fewer than asked for where the complaint hardly ever happens
};

/// Plays every policy on the same cases. The truth is drawn from `truth` and answers by it; beliefs
/// and plans are of `setting`, which must have the same faults. Policies that are fixed remember
/// what they chose after the same reports, so a case that goes like an earlier one is quick.
/// @param progress  told the share done, from 0 to 1; may be empty
[[nodiscard]] Outcome run(const moves::Setting& setting, const moves::Setting& truth,
                          const Options& options, const std::function<void(double)>& progress);

/// Mean with the normal interval of its standard error.
[[nodiscard]] Estimate mean_of(const std::vector<double>& values);
/// Quantile with the interval between order statistics (normal approximation of the binomial).
[[nodiscard]] Estimate quantile_of(std::vector<double> values, double quantile);
/// Share with Wilson's score interval (Wilson 1927, from memory).
[[nodiscard]] Estimate share_of(std::size_t hits, std::size_t count);

}  // namespace whichlink::trial
