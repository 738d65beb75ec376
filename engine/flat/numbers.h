#pragma once

#include <cstddef>
#include <vector>

#include "flat/fault_sets.h"
#include "flat/grounds.h"

namespace whichlink::flat {

/// What a move does and tells, from one ground, of the kept faults.
struct Numbers {
  std::size_t to = 0;                         ///< the ground after it
  std::vector<belief::StateMatrix> matrices;  ///< by kept fault
  std::size_t sense = 0;
  std::vector<std::vector<double>> report;  ///< [set after it][outcome]; rows add up to 1
};

/// The kept faults of one setting, by number.
class Kept {
 public:
  /// @param faults  ascending
  Kept(const moves::Setting& setting, const std::vector<FaultId>& faults, const FaultSets& sets)
      : setting_(setting), faults_(faults), sets_(sets) {}

  [[nodiscard]] std::vector<belief::StateMatrix> matrices(
      const std::vector<belief::Transition>& transitions) const;
  /// Chance of what was reported, given the set of faults then.
  [[nodiscard]] double likelihood(const belief::Hearing& hearing, std::size_t set) const;
  /// A move's numbers. @param to  the ground after it
  [[nodiscard]] Numbers numbers(const belief::Question& question, std::size_t to) const;

 private:
  const moves::Setting& setting_;
  const std::vector<FaultId>& faults_;
  const FaultSets& sets_;
};

/// Chance of what was reported, where these faults show (docs/mathematics.md 2).
[[nodiscard]] double likelihood(const belief::Network& network, const belief::Hearing& hearing,
                                const std::vector<FaultId>& showing);

/// Takes out of each standing every move that does there exactly what another does in no more
/// minutes, and tells the same or nothing: no policy needs it.
/// @param numbers  [ground][place in its standing's moves]; the same are taken out
void take_out_needless(Grounds& grounds, std::vector<std::vector<Numbers>>& numbers);

}  // namespace whichlink::flat
