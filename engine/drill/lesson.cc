#include "drill/lesson.h"

#include <algorithm>

namespace whichlink::drill {

// A missing spare becomes the only part of a kind of its own, so that it goes in for nothing.
Result<moves::Installation> as_found(moves::Installation installation, const DrillCase& given) {
  std::vector<std::string> spares;
  for (const chain::Part& part : installation.chain.parts) {
    if (part.spare) spares.push_back(part.name);
  }
  for (const std::string& name : given.missing) {
    if (std::find(spares.begin(), spares.end(), name) == spares.end()) {
      return tl::unexpected(Problems{{given.missing_place, "no spare \"" + name + "\"",
                                      one_of(spares), nearest(name, spares)}});
    }
    for (chain::Part& part : installation.chain.parts) {
      if (part.name != name) continue;
      faults::PartKind kind = installation.rules.part_kinds[part.kind];
      part.kind = installation.rules.part_kinds.add(std::move(kind));
    }
  }
  return installation;
}

}  // namespace whichlink::drill
