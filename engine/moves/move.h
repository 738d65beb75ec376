#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "chain/chain.h"
#include "moves/setting.h"

namespace whichlink::moves {

// What a person can do. Each ends with listening to (or measuring, or watching) something.
struct Listen {
  friend bool operator==(const Listen&, const Listen&) = default;
};
struct ApplyStress {
  ElementId element;
  StressId stress;
  friend bool operator==(const ApplyStress&, const ApplyStress&) = default;
};
/// Every stress that the route's elements bear, one after the other from its source to its end,
/// while somebody listens: what a route must stand before it is used again.
struct StressRoute {
  friend bool operator==(const StressRoute&, const StressRoute&) = default;
};
struct Treat {
  ElementId element;
  RemedyId remedy;
  friend bool operator==(const Treat&, const Treat&) = default;
};
/// Listen on another route by choosing it at its source; nothing is re-plugged.
struct TryRoute {
  RouteId route;
  friend bool operator==(const TryRoute&, const TryRoute&) = default;
};
/// A plug further down goes straight into a jack further up: what lies between is out of the way.
struct ConnectDirectly {
  ElementId plug, jack;
  friend bool operator==(const ConnectDirectly&, const ConnectDirectly&) = default;
};
/// Two plugs change jacks.
struct CrossPlugs {
  ElementId plug_a, plug_b;
  friend bool operator==(const CrossPlugs&, const CrossPlugs&) = default;
};
/// A part is taken out, and a spare, or one borrowed from another route, goes in its place.
struct Substitute {
  PartId out, in;
  friend bool operator==(const Substitute&, const Substitute&) = default;
};
/// The last direct connection, crossing or borrowing is undone.
struct PutBack {
  friend bool operator==(const PutBack&, const PutBack&) = default;
};
/// The old part goes back in, the spare out.
struct TakeOut {
  PartId out, in;  ///< as in the Substitute that it undoes
  friend bool operator==(const TakeOut&, const TakeOut&) = default;
};
/// Continuity of one part, its ends unplugged for it and plugged in again.
struct Measure {
  PartId part;
  friend bool operator==(const Measure&, const Measure&) = default;
};
/// Follow a route by its labels and put every plug where the installation says.
struct TraceLabels {
  RouteId route;
  friend bool operator==(const TraceLabels&, const TraceLabels&) = default;
};

using Action = std::variant<Listen, ApplyStress, StressRoute, Treat, TryRoute, ConnectDirectly,
                            CrossPlugs, Substitute, PutBack, TakeOut, Measure, TraceLabels>;

/// A plug and where it goes; no jack: it hangs free.
struct PlugChange {
  ElementId plug;
  std::optional<ElementId> jack;
  friend bool operator==(const PlugChange&, const PlugChange&) = default;
};

/// A change that is still to be put back.
struct Outstanding {
  Action action;
  std::vector<PlugChange> back;       ///< puts the plugs where they were
  std::optional<PlaceId> carried_to;  ///< where the route's end was carried to, if it was
  friend bool operator==(const Outstanding&, const Outstanding&) = default;
};

/// Where things stand: what the person has plugged, changed and not yet put back.
struct Standing {
  RouteId route;                         ///< the complaint's
  chain::Patching patching;              ///< as the person takes it to be
  PlaceId place;                         ///< where the person stands
  std::optional<Outstanding> temporary;  ///< at most one: one change at a time
  std::vector<Substitute> substituted;   ///< spares that are in, oldest first
  friend bool operator==(const Standing&, const Standing&) = default;
};

/// One possible move, ready to be shown and reckoned with.
struct Move {
  Action action;
  std::string name;  ///< unique among the moves of one standing; how case files call it
  RouteId heard_on;  ///< the route that is listened to at the end
  SenseId sense;
  double minutes = 0;                 ///< walking, doing, listening; without the price of parts
  PlaceId acts_at;                    ///< where the hands are
  PlaceId ends_at;                    ///< where the listener is at the end
  std::vector<PlugChange> changes;    ///< to the patching as the person takes it to be
  std::vector<std::size_t> cautions;  ///< indices into Rules::cautions, without repeats
};

/// The state at the start of a case on this route.
[[nodiscard]] Standing stand_at_start(const Setting& setting, RouteId route);
/// Every move that is possible now, in a fixed order.
[[nodiscard]] std::vector<Move> derive_moves(const Setting& setting, const Standing& standing);
/// The move of that name; nothing if it is not possible now.
[[nodiscard]] std::optional<Move> find_move(const Setting& setting, const Standing& standing,
                                            const std::string& name);
/// Where things stand after the move.
[[nodiscard]] Standing after(const Setting& setting, const Standing& standing, const Move& move);

/// What a person reads: one or two plain sentences.
[[nodiscard]] std::string instruction(const Setting& setting, const Standing& standing,
                                      const Move& move);
/// A few words for a list.
[[nodiscard]] std::string short_words(const Setting& setting, const Move& move);
/// One line for each thing that is not where it belongs: "headset cord.left plug -> left inside
/// jack".
[[nodiscard]] std::vector<std::string> put_back_list(const Setting& setting,
                                                     const Standing& standing);
/// Minutes to put every temporary change back.
[[nodiscard]] double put_back_minutes(const Setting& setting, const Standing& standing);

}  // namespace whichlink::moves
