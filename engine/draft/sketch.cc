#include "draft/sketch.h"

#include <algorithm>

namespace whichlink::draft {
namespace {

using chain::Chain;

/// "piece" in "part.piece".
std::string piece_of(const chain::Element& element, const chain::Part& part) {
  return element.name.size() > part.name.size() ? element.name.substr(part.name.size() + 1) : "";
}

void add_parts(const moves::Installation& from, Sketch& sketch) {
  const Chain& chain = from.chain;
  for (const chain::Part& part : chain.parts) {
    const std::string& kind = from.rules.part_kinds[part.kind].name;
    const std::string& place = chain.places[part.place].name;
    if (part.spare) {
      sketch.spares.push_back({part.name, kind, part.spare_state, place});
      continue;
    }
    Sketch::Part one{part.name, kind, place, {}};
    for (const ElementId id : part.elements) {
      const chain::Element& element = chain.elements[id];
      const std::string& own = chain.places[element.place].name;
      if (own != place) one.piece_places[piece_of(element, part)] = own;
    }
    sketch.parts.push_back(std::move(one));
  }
}

void add_joints(const Chain& chain, Sketch& sketch) {
  for (const chain::Bond& bond : chain.bonds) {
    const ElementId a = chain.conductors[bond.a].element;
    const ElementId b = chain.conductors[bond.b].element;
    if (chain.elements[a].part == chain.elements[b].part) continue;  // moulded
    sketch.fixed.emplace_back(chain::name_of(chain, bond.a), chain::name_of(chain, bond.b));
  }
  for (const chain::Switch& one : chain.switches) {
    sketch.switched.emplace_back(chain::name_of(chain, one.common),
                                 chain::name_of(chain, one.selected));
  }
  for (const ElementId plug : chain.elements.ids()) {
    if (const auto jack = chain.home.plug_in[plug]) {
      sketch.plugged.emplace_back(chain.elements[plug].name, chain.elements[*jack].name);
    }
  }
}

void add_routes(const moves::Installation& from, Sketch& sketch) {
  const Chain& chain = from.chain;
  for (const chain::Route& route : chain.routes) {
    sketch.routes.push_back({route.name, chain::name_of(chain, route.from),
                             chain::name_of(chain, route.to),
                             route.selects ? chain::name_of(chain, *route.selects) : "",
                             from.rules.signals[route.signal].name, route.side,
                             route.pair ? chain.routes[*route.pair].name : ""});
  }
}

template <class One, class Same>
void drop(std::vector<One>& from, const std::vector<One>& those, const Same& same) {
  std::erase_if(from, [&](const One& one) {
    return std::any_of(those.begin(), those.end(),
                       [&](const One& other) { return same(one, other); });
  });
}

}  // namespace

Sketch sketch_of(const moves::Installation& installation) {
  const Chain& chain = installation.chain;
  Sketch sketch;
  sketch.name = installation.name;
  sketch.about = installation.about;
  sketch.people = installation.people;
  sketch.start = chain.places[installation.start].name;
  for (const chain::Place& place : chain.places) sketch.places.push_back(place.name);
  for (const PlaceId a : chain.places.ids()) {
    for (const PlaceId b : chain.places.ids()) {
      if (a < b) {
        sketch.walking.push_back(
            {chain.places[a].name, chain.places[b].name, chain.walking_minutes[a][b]});
      }
    }
  }
  add_parts(installation, sketch);
  add_joints(chain, sketch);
  add_routes(installation, sketch);
  sketch.miss_minutes = installation.prices.miss_minutes;
  sketch.service_minutes = installation.prices.service_minutes;
  sketch.has_meter = installation.rules.meter.has_value();
  sketch.days_since_pass = installation.rules.handling.default_days_since_pass;
  if (installation.use) {
    sketch.sessions_per_day = installation.use->sessions_per_day;
    sketch.days_per_year = installation.use->days_per_year;
    sketch.spoilt_minutes = installation.use->spoilt_minutes;
  }
  return sketch;
}

bool holds(const std::vector<Sketch::Joint>& joints, const Sketch::Joint& joint) {
  const Sketch::Joint turned{joint.second, joint.first};
  return std::any_of(joints.begin(), joints.end(),
                     [&](const Sketch::Joint& one) { return one == joint || one == turned; });
}

Sketch left_over(const Sketch& whole, const Sketch& without) {
  Sketch rest = whole;
  const auto same_name = [](const auto& one, const auto& other) { return one.name == other.name; };
  const auto same_joint = [](const Sketch::Joint& one, const Sketch::Joint& other) {
    return holds({other}, one);
  };
  drop(rest.parts, without.parts, same_name);
  drop(rest.routes, without.routes, same_name);
  drop(rest.fixed, without.fixed, same_joint);
  drop(rest.switched, without.switched, same_joint);
  drop(rest.plugged, without.plugged, same_joint);
  rest.spares.clear();
  return rest;
}

}  // namespace whichlink::draft
