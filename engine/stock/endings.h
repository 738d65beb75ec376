#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "moves/installation.h"
#include "plan/ahead.h"

namespace whichlink::stock {

/// Faults of one kind, in one kind of part.
struct FaultGroup {
  std::string mode;              ///< as a record calls it (history/closing.h)
  std::optional<PartKindId> at;  ///< absent: crossed plugs, or a cause that is not listed
  std::size_t items = 0;         ///< places in the installation where it can be
  double rate_per_year = 0;      ///< at each of them, the middle one
  std::size_t played = 0;        ///< cases; 0 where nobody would ever hear of it
  /// By kind of part, and by supply: how many of it one such fault takes, mean.
  std::map<std::string, double> taken;
  std::map<std::string, double> needless;  ///< of these, instead of a part that was sound
};

/// How isolation ends, as far as it takes things from the cupboard.
struct Endings {
  std::vector<FaultGroup> groups;
  std::size_t cases = 0;
};

struct EndingOptions {
  std::size_t cases = 200;  ///< to play, about: each kind of fault gets a few at least
  std::uint64_t seed = 1;
  plan::Depth depth;  ///< how far the planner searches ahead
};

/// Plays cases of every fault that the installation can have, as often as each comes, with every
/// spare to hand, as the program itself would guide them, and counts what stays in and what is used
/// up. A contact that could be cleaned takes no cord; a cord that was changed for nothing counts;
/// what is handed over counts where only a new part mends it. Every fault is complained of at some
/// time; one fault a case.
/// @param progress  told the share done, from 0 to 1; may be empty
[[nodiscard]] Endings endings_of(const moves::Installation& installation,
                                 const EndingOptions& options,
                                 const std::function<void(double)>& progress);

}  // namespace whichlink::stock
