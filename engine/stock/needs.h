#pragma once

#include <map>
#include <string>
#include <vector>

#include "history/learned.h"
#include "stock/endings.h"
#include "upkeep/demand.h"

namespace whichlink::stock {

/// What is believed of each kind of fault, by its name in a record.
using Rates = std::map<std::string, upkeep::Gamma>;

/// The rates of several installations of one trade: each kind of fault comes as often everywhere,
/// and what was seen anywhere tells of it.
[[nodiscard]] Rates pooled_rates(const std::vector<std::vector<history::LearnedRate>>& learned);

/// Rooms that are alike.
struct Room {
  const moves::Setting* setting = nullptr;  ///< as its file has it
  const Endings* endings = nullptr;
  std::size_t rooms = 1;
  std::vector<std::string> gone;  ///< names of parts that are in the file and no longer there
};

/// How often one part or supply is asked for by faults, a year.
struct Need {
  std::vector<upkeep::Stream> streams;  ///< one a kind of fault
  double per_year = 0;                  ///< expected
  double needless_per_year = 0;         ///< of these, instead of a part that was sound
};

/// Of every part and supply that is asked for at all, by name; of supplies with what sessions use.
/// @param rooms  all that take from the same cupboard
[[nodiscard]] std::map<std::string, Need> needs_of(const std::vector<Room>& rooms,
                                                   const Rates& rates);

}  // namespace whichlink::stock
