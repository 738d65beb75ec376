#include "load/installation_checks.h"

#include <algorithm>

#include "load/joined.h"

namespace whichlink::load {
namespace {

using chain::Chain;

/// Elements that one route may pass, lane by lane: what ranks them grows with the square of their
/// number.
constexpr std::size_t kLongestWay = 1'000;

class ChainChecks {
 public:
  ChainChecks(const moves::Installation& installation, const InstallationPlaces& at,
              Complaints& complaints)
      : installation_(installation), chain_(installation.chain), at_(at), complaints_(complaints) {}

  void check() {
    check_rings();
    for (const RouteId route : chain_.routes.ids()) {
      check_pair(route);
      check_roles(route);
    }
    // A ring or a wrong start would only be complained of again, once a route.
    if (!complaints_.empty()) return;
    check_selections();
    if (!complaints_.empty()) return;
    check_ways();
  }

 private:
  // Joints in the order of the file: the one that joins what is joined already closes the ring.
  void check_rings() {
    Joined joined(chain_.conductors.size());
    for (const chain::Bond& bond : chain_.bonds) {
      if (!stands_in_file(bond)) joined.join(bond.a.value, bond.b.value);
    }
    std::vector<JointPlace> joints = at_.joints;
    std::stable_sort(joints.begin(), joints.end(), [](const auto& one, const auto& other) {
      return std::pair(one.at.line, one.at.column) < std::pair(other.at.line, other.at.column);
    });
    for (const JointPlace& joint : joints) {
      if (joined.join(joint.a.value, joint.b.value)) continue;
      complaints_.add(joint.at,
                      "this joint closes a ring: there is another way from " + named(joint.a) +
                          " to " + named(joint.b),
                      "joints without a ring");
    }
  }

  [[nodiscard]] bool stands_in_file(const chain::Bond& bond) const {
    return chain_.elements[chain_.conductors[bond.a].element].part !=
           chain_.elements[chain_.conductors[bond.b].element].part;
  }

  void check_pair(RouteId id) {
    const chain::Route& route = chain_.routes[id];
    if (!route.pair) return;
    const chain::Route& other = chain_.routes[*route.pair];
    const Here at = at_.routes[id].pair;
    if (*route.pair == id) {
      complaints_.add(at, "a route paired with itself", "another route");
    } else if (other.pair != id) {
      complaints_.add(at, "the route " + in_quotes(other.name) + " does not say the same",
                      "`pair: " + route.name + "` there");
    } else if (id > *route.pair && route.side.empty() != other.side.empty()) {
      complaints_.add(at_.routes[id].side, "only one route of a pair has a side",
                      "one left and one right, or none");
    } else if (id > *route.pair && !route.side.empty() && route.side == other.side) {
      complaints_.add(at_.routes[id].side, "both routes of a pair are on the " + route.side,
                      "one left and one right");
    }
  }

  void check_roles(RouteId id) {
    const chain::Route& route = chain_.routes[id];
    if (role_of(route.from) != faults::Role::source) {
      complaints_.add(at_.routes[id].from, "no signal starts at " + named(route.from),
                      "an element whose class has `role: source`");
    }
    if (role_of(route.to) != faults::Role::end) {
      complaints_.add(at_.routes[id].to, "no signal comes out at " + named(route.to),
                      "an element whose class has `role: end`");
    }
  }

  void check_selections() {
    Joined joined(chain_.conductors.size());
    for (const chain::Bond& bond : chain_.bonds) joined.join(bond.a.value, bond.b.value);
    for (const ElementId plug : chain_.elements.ids()) {
      const auto jack = chain_.home.plug_in[plug];
      if (!jack) continue;
      const auto& ours = chain_.elements[plug].conductors;
      const auto& theirs = chain_.elements[*jack].conductors;
      for (std::size_t lane = 0; lane < ours.size(); ++lane) {
        joined.join(ours[lane].value, theirs[lane].value);
      }
    }
    for (const RouteId id : chain_.routes.ids()) check_selection(id, joined);
  }

  void check_selection(RouteId id, Joined& joined) {
    const chain::Route& route = chain_.routes[id];
    if (!route.selects) return;
    std::vector<std::string> switched;
    for (const chain::Switch& way : chain_.switches) {
      if (!joined.are_joined(way.common.value, route.from.value)) continue;
      if (way.selected == *route.selects) return;
      switched.push_back(chain::name_of(chain_, way.selected));
    }
    complaints_.add(
        at_.routes[id].selects,
        "nothing under `switched` connects " + named(route.from) + " with " + named(*route.selects),
        one_of(switched), nearest(chain::name_of(chain_, *route.selects), switched));
  }

  void check_ways() {
    std::vector<bool> is_end(chain_.conductors.size(), false);
    for (const ConductorId conductor : chain_.conductors.ids()) {
      is_end[conductor.value] = role_of(conductor) == faults::Role::end;
    }
    const chain::Tracer tracer(chain_, is_end);
    for (const RouteId id : chain_.routes.ids()) {
      check_way(id, tracer.trace(id, chain_.home));
    }
  }

  void check_way(RouteId id, const chain::Traced& traced) {
    const chain::Route& route = chain_.routes[id];
    const std::string way = "the way from " + named(route.from);
    switch (traced.fault) {
      case chain::Fault::broken:
        if (const auto sides = switched_from(route); !route.selects && !sides.empty()) {
          complaints_.add(at_.routes[id].name, way + " stops there: the route selects nothing",
                          "`selects`: " + one_of(sides));
          return;
        }
        complaints_.add(at_.routes[id].name,
                        way + " stops after " + named(traced.path.conductors.back()),
                        "joints all the way to " + named(route.to));
        return;
      case chain::Fault::forked:
        complaints_.add(at_.routes[id].name, way + " forks: it ends at " + listed(traced.ends),
                        "one end, " + named(route.to));
        return;
      case chain::Fault::looped:  // check_rings let none pass
      case chain::Fault::none:
        break;
    }
    if (const std::size_t length = traced.path.conductors.size(); length > kLongestWay) {
      complaints_.add(at_.routes[id].name, way + " passes " + std::to_string(length) + " elements",
                      "at most " + std::to_string(kLongestWay));
      return;
    }
    if (traced.ends != std::vector<ConductorId>{route.to}) {
      complaints_.add(at_.routes[id].to, way + " ends at " + listed(traced.ends),
                      "it to end at " + named(route.to));
    }
  }

  /// What the console can connect with the start of a route.
  [[nodiscard]] std::vector<std::string> switched_from(const chain::Route& route) const {
    std::vector<std::string> sides;
    for (const chain::Switch& way : chain_.switches) {
      if (way.common == route.from) sides.push_back(chain::name_of(chain_, way.selected));
    }
    return sides;
  }
  [[nodiscard]] faults::Role role_of(ConductorId conductor) const {
    const chain::Element& element = chain_.elements[chain_.conductors[conductor].element];
    return installation_.rules.classes[element.element_class].role;
  }
  [[nodiscard]] std::string named(ConductorId conductor) const {
    return in_quotes(chain::name_of(chain_, conductor));
  }
  [[nodiscard]] std::string listed(const std::vector<ConductorId>& conductors) const {
    constexpr std::size_t kShown = 8;
    std::string text;
    for (std::size_t index = 0; index < conductors.size() && index < kShown; ++index) {
      if (index > 0) text += " and ";
      text += named(conductors[index]);
    }
    return conductors.size() > kShown ? text + " and more" : text;
  }

  const moves::Installation& installation_;
  const Chain& chain_;
  const InstallationPlaces& at_;
  Complaints& complaints_;
};

}  // namespace

void check_chain(const moves::Installation& installation, const InstallationPlaces& at,
                 Complaints& complaints) {
  ChainChecks(installation, at, complaints).check();
}

}  // namespace whichlink::load
