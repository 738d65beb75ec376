#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <vector>

#include "belief/network.h"

namespace whichlink::flat {

/// One number of a sparse row.
struct Entry {
  std::uint32_t index = 0;
  double chance = 0;
};
/// Ascending by index, no repeats, no chance of 0; adds up to 1.
using Row = std::vector<Entry>;

/// The state of each kept fault, in the order of the kept faults.
using FaultStates = std::vector<belief::State>;

/// Every way in which at most so many of some faults are present, each quiet or showing.
class FaultSets {
 public:
  /// @param together  at least 1; no more are present at once
  FaultSets(std::size_t faults, std::size_t together);

  [[nodiscard]] std::size_t size() const { return sets_.size(); }
  [[nodiscard]] const FaultStates& operator[](std::size_t set) const { return sets_[set]; }

  /// Where a set goes when each fault moves by its own matrix. What would be more than `together`
  /// is left out, and the rest made to add up to 1; where nothing would be left, the set stays.
  /// @param matrices  one for each fault
  [[nodiscard]] Row moved(std::size_t set, const std::vector<belief::StateMatrix>& matrices) const;
  /// The same from independent chances, not made to add up to 1.
  /// @param chances  one vector for each fault
  [[nodiscard]] Row drawn(const std::vector<belief::StateVector>& chances) const;

  /// How many there would be; infinity where that is too many to count.
  [[nodiscard]] static double count(std::size_t faults, std::size_t together);

 private:
  void list(FaultStates& states, std::size_t from, std::size_t left);
  void draw(const std::vector<belief::StateVector>& chances, FaultStates& states,
            std::size_t present, double chance, Row& row) const;

  std::size_t faults_;
  std::size_t together_;
  std::vector<FaultStates> sets_;
  std::map<FaultStates, std::uint32_t> index_;
};

}  // namespace whichlink::flat
