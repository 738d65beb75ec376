#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/ids.h"

/// Elements, joints, patching and routes: what is plugged where, and which way a signal goes. Plain
/// plugs and jacks; nothing here knows what can go bad.
namespace whichlink::chain {

/// The part that an element plays in the chain.
enum class End { neither, plug, jack };

struct Place {
  std::string name;
};

/// What a hand holds and changes as one.
struct Part {
  std::string name;
  PartKindId kind;
  PlaceId place;                    ///< where it is; its elements may say otherwise
  bool spare = false;               ///< in the drawer, not in the chain
  std::string spare_state;          ///< for spares: "new", "used" ...
  std::vector<ElementId> elements;  ///< in the order of the kind's pieces
};

struct Element {
  std::string name;  ///< "part.piece", or the part's name where it is the only piece
  ClassId element_class;
  PartId part;
  PlaceId place;
  End end = End::neither;
  std::string connector;                ///< kind of plug or jack; empty otherwise
  std::vector<ConductorId> conductors;  ///< one a lane
};

/// One lane of an element: a vertex.
struct Conductor {
  ElementId element;
  std::string lane;  ///< empty for the only one
};

/// Two conductors that belong together for good (moulded, soldered, screwed to a board).
struct Bond {
  ConductorId a, b;
};

/// A way that the console opens when it selects `selected`, and only then.
struct Switch {
  ConductorId common, selected;
};

/// Which plug is in which jack, and what the console has selected: the state that moves change.
/// plug_in[plug element] is its jack. Elements that are no plugs hold nothing.
struct Patching {
  IdVector<ElementId, std::optional<ElementId>> plug_in;
  std::optional<RouteId> selected;
  friend bool operator==(const Patching&, const Patching&) = default;
};

/// A named way for a signal, from its source to its end.
struct Route {
  std::string name;
  ConductorId from, to;
  std::optional<ConductorId> selects;  ///< the switched side that the console opens for it
  SignalId signal;
  std::string side;             ///< "left", "right" or empty
  std::optional<RouteId> pair;  ///< the other side's route
};

/// The installation's fixed structure.
struct Chain {
  IdVector<PlaceId, Place> places;
  IdVector<PartId, Part> parts;
  IdVector<ElementId, Element> elements;
  IdVector<ConductorId, Conductor> conductors;
  std::vector<Bond> bonds;
  std::vector<Switch> switches;
  IdVector<RouteId, Route> routes;
  Patching home;  ///< as the installation file plugs it; nothing selected
  /// walking_minutes[from][to], one way, symmetric, 0 on the diagonal.
  IdVector<PlaceId, IdVector<PlaceId, double>> walking_minutes;
};

/// The way of one signal under one patching.
struct Path {
  std::vector<ConductorId> conductors;  ///< from the source to the last conductor reached
  bool complete = false;                ///< it reaches an end
};

/// Why a way is not what a chain should give.
enum class Fault { none, broken, forked, looped };

/// Follows the signal of `route` under `patching` (the route's own switch open, all others shut) to
/// wherever it comes out. `is_end[c]` marks the conductors where a signal comes out (or is taken
/// in). The way is complete when exactly one end is reached, which need not be the route's own:
/// plugs that are crossed lead elsewhere. Broken: no end; forked: several; looped: the joints close
/// a ring. Cost: linear in the size of the chain. Uses a breadth-first search of Boost.Graph.
struct Traced {
  Path path;
  Fault fault = Fault::none;
  std::vector<ConductorId> ends;  ///< all ends reached
  std::vector<ConductorId> ring;  ///< for looped: conductors on it
};

/// The chain as a graph, ready to follow signals. Keeps a reference: the chain must outlive it.
class Tracer {
 public:
  explicit Tracer(const Chain& chain, std::vector<bool> is_end);
  [[nodiscard]] Traced trace(RouteId route, const Patching& patching) const;
  /// Conductors that lie on a ring of bonds, switches (all open) and plugged joints; empty if none.
  [[nodiscard]] std::vector<ConductorId> ring(const Patching& patching) const;
  [[nodiscard]] const Chain& chain() const { return chain_; }

 private:
  const Chain& chain_;
  std::vector<bool> is_end_;
};

/// Whether this plug goes into this jack (kind of connector, number of lanes).
[[nodiscard]] bool fits(const Chain& chain, ElementId plug, ElementId jack);
/// The plug in a jack, if any.
[[nodiscard]] std::optional<ElementId> plug_of(const Chain& chain, const Patching& patching,
                                               ElementId jack);
/// The element's partner in its plugged joint, from either half.
[[nodiscard]] std::optional<ElementId> mate(const Chain& chain, const Patching& patching,
                                            ElementId element);
/// Display name of a conductor: its element's name, with the lane where there are several.
[[nodiscard]] std::string name_of(const Chain& chain, ConductorId conductor);

}  // namespace whichlink::chain
