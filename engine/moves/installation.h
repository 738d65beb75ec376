#pragma once

#include <optional>
#include <string>

#include "chain/chain.h"
#include "faults/rules.h"

namespace whichlink::moves {

/// One installation with the rules of its trade: everything that a case starts from.
struct Installation {
  std::string name;
  std::string about;
  faults::Rules rules;
  chain::Chain chain;  ///< spares are in it as parts with `spare` set, plugged nowhere
  PlaceId start;       ///< where the person stands at first
  int people = 1;      ///< 1, or 2 where somebody can act while another listens
  faults::Prices prices;
  std::optional<faults::Use> use;  ///< the rules', with the installation's own numbers
};

}  // namespace whichlink::moves
