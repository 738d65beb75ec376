#include "chain/chain.h"

namespace whichlink::chain {

bool fits(const Chain& chain, ElementId plug, ElementId jack) {
  const Element& one = chain.elements[plug];
  const Element& other = chain.elements[jack];
  return one.end == End::plug && other.end == End::jack && one.connector == other.connector &&
         one.conductors.size() == other.conductors.size();
}

std::optional<ElementId> plug_of(const Chain& chain, const Patching& patching, ElementId jack) {
  for (const ElementId plug : chain.elements.ids()) {
    if (patching.plug_in[plug] == jack) return plug;
  }
  return std::nullopt;
}

std::optional<ElementId> mate(const Chain& chain, const Patching& patching, ElementId element) {
  switch (chain.elements[element].end) {
    case End::plug:
      return patching.plug_in[element];
    case End::jack:
      return plug_of(chain, patching, element);
    case End::neither:
      break;
  }
  return std::nullopt;
}

std::string name_of(const Chain& chain, ConductorId conductor) {
  const Conductor& one = chain.conductors[conductor];
  const Element& element = chain.elements[one.element];
  if (one.lane.empty() || element.conductors.size() < 2) return element.name;
  return element.name + "." + one.lane;
}

}  // namespace whichlink::chain
