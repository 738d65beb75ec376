#pragma once

#include <optional>
#include <string>
#include <vector>

#include "guide/case.h"

namespace whichlink::drill {

/// Faults that sit in one place of the chain: a plugged joint, or what lies between two joints.
struct Group {
  std::string words;       ///< "contact of headset cord.left plug and left inside jack"
  std::vector<bool> mask;  ///< by fault
  std::vector<ElementId> elements;
  bool plugs = false;  ///< not faults, but plugs that may be crossed: an empty mask
};

/// What an answer did to the suspicion of one group.
struct Shift {
  std::string group;
  double before = 0, after = 0;  ///< chance that something is wrong there
  bool touched = false;          ///< the move had hands on it
  bool in_the_way = true;        ///< after the move
};

/// The groups of a route in the order of the signal: as it is plugged at home, then what was put in
/// since. Last come plugs that may be crossed, where there are any, and the cause that is not
/// listed.
[[nodiscard]] std::vector<Group> groups_of(const guide::Case& one);

/// Chance that something is wrong in each group now, from the working belief.
[[nodiscard]] std::vector<double> suspicion(const guide::Case& one,
                                            const std::vector<Group>& groups);

/// The same, were this the answer to that move, which can be made now: outcome `outcome` of its
/// sense. As now where that answer cannot be.
[[nodiscard]] std::vector<double> suspicion_if(const guide::Case& one,
                                               const std::vector<Group>& groups,
                                               const moves::Move& move, std::size_t outcome);

/// Chance that one of these faults (a mask) was present when the complaint was made, given
/// everything that was heard since: the evidence with these faults taken out of the world, against
/// all of it (Bayes).
[[nodiscard]] double any_at_start(const guide::Case& one, const std::vector<bool>& mask);

}  // namespace whichlink::drill
