#include "moves/standing.h"

#include <algorithm>
#include <type_traits>

namespace whichlink::moves {

std::vector<ElementId> elements_of(const chain::Chain& chain, const chain::Path& path) {
  std::vector<ElementId> elements;
  for (const ConductorId conductor : path.conductors) {
    const ElementId element = chain.conductors[conductor].element;
    if (std::find(elements.begin(), elements.end(), element) == elements.end()) {
      elements.push_back(element);
    }
  }
  return elements;
}

std::vector<PartId> parts_of(const chain::Chain& chain, const chain::Path& path) {
  std::vector<PartId> parts;
  for (const ElementId element : elements_of(chain, path)) {
    const PartId part = chain.elements[element].part;
    if (std::find(parts.begin(), parts.end(), part) == parts.end()) parts.push_back(part);
  }
  return parts;
}

namespace {

// Where an element is while every temporary carrying is undone: a part that was put in is in the
// place of the part that it stands in for, piece by piece, and no longer in its drawer.
PlaceId settled_place(const chain::Chain& chain, const Standing& standing, ElementId element) {
  const PartId part = chain.elements[element].part;
  const auto stands_for = [&](const Substitute& swap) {
    const std::vector<ElementId>& in = chain.parts[swap.in].elements;
    const std::vector<ElementId>& out = chain.parts[swap.out].elements;
    const auto piece =
        static_cast<std::size_t>(std::find(in.begin(), in.end(), element) - in.begin());
    return chain.elements[piece < out.size() ? out[piece] : element].place;
  };
  for (const Substitute& swap : standing.substituted) {
    if (swap.in == part) return stands_for(swap);
  }
  if (standing.temporary) {
    const auto* borrowed = std::get_if<Substitute>(&standing.temporary->action);
    if (borrowed != nullptr && borrowed->in == part) return stands_for(*borrowed);
  }
  return chain.elements[element].place;
}

}  // namespace

PlaceId place_now(const Setting& setting, const Standing& standing, ElementId element) {
  const chain::Chain& chain = setting.chain();
  const PlaceId at_home = settled_place(chain, standing, element);
  if (!standing.temporary || !standing.temporary->carried_to) return at_home;
  const auto* direct = std::get_if<ConnectDirectly>(&standing.temporary->action);
  if (direct == nullptr) return at_home;
  const chain::Path path = setting.tracer().trace(standing.route, standing.patching).path;
  const std::vector<ElementId> along = elements_of(chain, path);
  const auto plug = std::find(along.begin(), along.end(), direct->plug);
  const bool carried = std::find(plug, along.end(), element) != along.end();
  return carried ? *standing.temporary->carried_to : at_home;
}

chain::Patching with_changes(const chain::Chain& chain, chain::Patching patching,
                             const std::vector<PlugChange>& changes) {
  for (const PlugChange& change : changes) patching.plug_in[change.plug].reset();
  for (const PlugChange& change : changes) {
    if (!change.jack) continue;
    const std::optional<ElementId> occupant = chain::plug_of(chain, patching, *change.jack);
    if (occupant) patching.plug_in[*occupant].reset();
    patching.plug_in[change.plug] = change.jack;
  }
  return patching;
}

std::vector<PlugChange> way_back(const chain::Chain& chain, const chain::Patching& from,
                                 const chain::Patching& to) {
  std::vector<PlugChange> back;
  for (const ElementId plug : chain.elements.ids()) {
    if (from.plug_in[plug] != to.plug_in[plug]) back.push_back({plug, from.plug_in[plug]});
  }
  return back;
}

std::vector<PlugChange> substitution(const chain::Chain& chain, const chain::Patching& patching,
                                     const Substitute& swap) {
  std::vector<PlugChange> changes;
  const chain::Part& out = chain.parts[swap.out];
  const chain::Part& in = chain.parts[swap.in];
  for (const ElementId element : in.elements) {  // a borrowed part leaves its own place first
    if (chain.elements[element].end == chain::End::plug && patching.plug_in[element]) {
      changes.push_back({element, std::nullopt});
    }
    const std::optional<ElementId> guest = chain.elements[element].end == chain::End::jack
                                               ? chain::plug_of(chain, patching, element)
                                               : std::nullopt;
    if (guest) changes.push_back({*guest, std::nullopt});
  }
  for (std::size_t piece = 0; piece < out.elements.size() && piece < in.elements.size(); ++piece) {
    const ElementId old_one = out.elements[piece];
    const ElementId new_one = in.elements[piece];
    const std::optional<ElementId> partner = chain::mate(chain, patching, old_one);
    if (!partner) continue;
    if (chain.elements[old_one].end == chain::End::plug) {
      changes.push_back({old_one, std::nullopt});
      std::erase_if(changes, [&](const PlugChange& one) { return one.plug == new_one; });
      changes.push_back({new_one, *partner});
    } else {
      std::erase_if(changes, [&](const PlugChange& one) { return one.plug == *partner; });
      changes.push_back({*partner, new_one});
    }
  }
  return changes;
}

PlaceId source_place(const chain::Chain& chain, RouteId route) {
  return chain.elements[chain.conductors[chain.routes[route].from].element].place;
}

std::string with_it(std::string words, const std::string& it) {
  for (std::size_t at = words.find("{it}"); at != std::string::npos; at = words.find("{it}", at)) {
    words.replace(at, 4, it);
    at += it.size();
  }
  return words;
}

Standing stand_at_start(const Setting& setting, RouteId route) {
  Standing standing;
  standing.route = route;
  standing.patching = setting.chain().home;
  standing.place = setting.installation().start;
  return standing;
}

Standing after(const Setting& setting, const Standing& standing, const Move& move) {
  const chain::Chain& chain = setting.chain();
  Standing next = standing;
  next.place = move.ends_at;
  next.patching = with_changes(chain, standing.patching, move.changes);
  const auto keep_for_later = [&](std::optional<PlaceId> carried_to) {
    next.temporary =
        Outstanding{move.action, way_back(chain, standing.patching, next.patching), carried_to};
  };
  std::visit(
      [&](const auto& action) {
        using Kind = std::decay_t<decltype(action)>;
        if constexpr (std::is_same_v<Kind, ConnectDirectly>) {
          const PlaceId there = place_now(setting, standing, action.jack);
          const bool carried = there != place_now(setting, standing, action.plug);
          keep_for_later(carried ? std::optional<PlaceId>(there) : std::nullopt);
        } else if constexpr (std::is_same_v<Kind, CrossPlugs>) {
          keep_for_later(std::nullopt);
        } else if constexpr (std::is_same_v<Kind, Substitute>) {
          if (chain.parts[action.in].spare) {
            next.substituted.push_back(action);
          } else {
            keep_for_later(std::nullopt);
          }
        } else if constexpr (std::is_same_v<Kind, PutBack>) {
          next.temporary.reset();
        } else if constexpr (std::is_same_v<Kind, TakeOut>) {
          std::erase_if(next.substituted,
                        [&](const Substitute& one) { return one.in == action.in; });
        } else {
          static_assert(std::is_same_v<Kind, Listen> || std::is_same_v<Kind, ApplyStress> ||
                        std::is_same_v<Kind, StressRoute> || std::is_same_v<Kind, Treat> ||
                        std::is_same_v<Kind, TryRoute> || std::is_same_v<Kind, Measure> ||
                        std::is_same_v<Kind, TraceLabels>);
        }
      },
      move.action);
  return next;
}

std::vector<PlaceId> put_back_places(const Setting& setting, const Standing& standing) {
  std::vector<PlaceId> places;
  if (!standing.temporary) return places;
  Standing settled = standing;
  settled.temporary.reset();
  for (const PlugChange& change : standing.temporary->back) {
    if (change.jack) places.push_back(place_now(setting, settled, change.plug));
  }
  return places;
}

double put_back_minutes(const Setting& setting, const Standing& standing) {
  double minutes = 0;
  PlaceId at = standing.place;
  for (const PlaceId there : put_back_places(setting, standing)) {
    minutes += setting.chain().walking_minutes[at][there] + setting.rules().handling.replug_minutes;
    at = there;
  }
  return minutes;
}

std::vector<std::string> put_back_list(const Setting& setting, const Standing& standing) {
  const chain::Chain& chain = setting.chain();
  std::vector<std::string> lines;
  if (!standing.temporary) return lines;
  for (const PlugChange& change : standing.temporary->back) {
    const std::string plug = chain.elements[change.plug].name;
    lines.push_back(change.jack ? plug + " into " + chain.elements[*change.jack].name + ", " +
                                      chain.places[chain.elements[*change.jack].place].name
                                : plug + " out, hanging free");
  }
  return lines;
}

}  // namespace whichlink::moves
