#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "load/reader.h"
#include "moves/installation.h"

namespace whichlink::load {

/// Where the things of an installation stand in its file, for complaints about the whole.
struct JointPlace {
  ConductorId a, b;
  Here at;
};
struct RoutePlaces {
  Here name, from, to, selects, pair, side;
};
struct InstallationPlaces {
  std::vector<JointPlace> joints;  ///< fixed, switched and plugged, lane by lane
  IdVector<PartId, Here> parts;    ///< of each part's name
  IdVector<RouteId, RoutePlaces> routes;
};

/// Reads one installation; each function one of its top keys. Checks of the whole chain are in
/// installation_checks.h: they need every name.
class InstallationReader {
 public:
  InstallationReader(const faults::Rules& rules, Complaints& complaints);
  moves::Installation read(const Node& root);
  [[nodiscard]] const InstallationPlaces& places() const { return at_; }
  /// What the installation has otherwise than its trade: no meter, other days since a check.
  void change(faults::Rules& rules) const;

 private:
  using Joined = std::pair<ConductorId, ConductorId>;
  /// An element, or one lane of it.
  struct Spot {
    ElementId element;
    std::optional<std::size_t> lane;
  };

  // installation.cc
  void read_places(Fields& top);
  void read_start(Fields& top);
  void read_walking(Fields& top);
  void read_walk(const Node& item, const Scope& scope);
  void check_walking(const Node* walking);
  void read_routes(Fields& top);
  void read_route(const Entry& entry, const Scope& scope,
                  std::vector<std::pair<RouteId, const Node*>>& pairs);

  // installation_parts.cc
  void read_parts(Fields& top);
  void read_part(const Entry& entry, const Scope& scope, PlaceId place);
  void read_spares(Fields& top);
  void add_part(chain::Part part, std::optional<PartKindId> kind, Here at,
                const std::map<std::string, PlaceId>& piece_places);
  std::map<std::string, PlaceId> read_piece_places(const Node* node, const Scope& scope,
                                                   std::optional<PartKindId> kind);

  // installation_joints.cc
  std::optional<Spot> read_spot(const Node& node);
  std::optional<Spot> read_lane(const Node& node, ElementId element, const std::string& lane);
  std::optional<ConductorId> read_conductor(const Node& node);
  std::optional<std::pair<Spot, Spot>> read_joint(const Node& item);
  std::vector<Joined> join(const Spot& a, const Spot& b, Here at);
  void read_fixed(Fields& top);
  void read_switched(Fields& top);
  void read_plugged(Fields& top);
  void plug(ElementId plug, ElementId jack, Here at);
  bool is_pluggable(ElementId plug, ElementId jack, Here at);
  bool is_free(ElementId plug, ElementId jack, Here at);
  [[nodiscard]] std::vector<std::string> lanes_of(const Spot& spot) const;
  [[nodiscard]] std::string name_of(const Spot& spot) const;

  const faults::Rules& rules_;
  Complaints& complaints_;
  moves::Installation built_;
  bool has_meter_ = true;
  bool said_too_many_ = false;
  double days_since_pass_ = 0;
  InstallationPlaces at_;
  Index<PlaceId> places_;
  Index<PartKindId> kinds_;
  Index<PartId> parts_;
  Index<SignalId> signals_;
  Index<RouteId> routes_;
  std::vector<Here> place_items_;  ///< by place
  std::set<std::pair<PlaceId, PlaceId>> walks_;
  std::set<Joined> joined_;                      ///< both ways round
  std::map<ElementId, ElementId> plug_in_jack_;  ///< by jack
};

/// The rules' name, which must be a plain file name without its ending.
[[nodiscard]] std::string read_rules_name(Fields& top);

}  // namespace whichlink::load
