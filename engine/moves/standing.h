#pragma once

#include <optional>
#include <vector>

#include "moves/move.h"

/// Small questions about where things stand, shared by the files of this room.
namespace whichlink::moves {

/// Elements of a path in order, without repeats.
[[nodiscard]] std::vector<ElementId> elements_of(const chain::Chain& chain,
                                                 const chain::Path& path);
/// Parts of a path in order, without repeats.
[[nodiscard]] std::vector<PartId> parts_of(const chain::Chain& chain, const chain::Path& path);
/// Where an element is now: a direct connection has carried the route's end along, and a part that
/// was put in is where the one is that it stands in for.
[[nodiscard]] PlaceId place_now(const Setting& setting, const Standing& standing,
                                ElementId element);
/// The patching after `changes`; a plug that sat in a jack that is taken hangs free.
[[nodiscard]] chain::Patching with_changes(const chain::Chain& chain, chain::Patching patching,
                                           const std::vector<PlugChange>& changes);
/// The changes that lead from `to` back to `from`.
[[nodiscard]] std::vector<PlugChange> way_back(const chain::Chain& chain,
                                               const chain::Patching& from,
                                               const chain::Patching& to);
/// What a substitution does to the plugs, under this patching.
[[nodiscard]] std::vector<PlugChange> substitution(const chain::Chain& chain,
                                                   const chain::Patching& patching,
                                                   const Substitute& swap);
/// Where each plug goes back into its jack, in the order of Outstanding::back; those that come out
/// and hang free have none.
[[nodiscard]] std::vector<PlaceId> put_back_places(const Setting& setting,
                                                   const Standing& standing);
/// The console's place: where a route is selected.
[[nodiscard]] PlaceId source_place(const chain::Chain& chain, RouteId route);
/// "{it}" replaced.
[[nodiscard]] std::string with_it(std::string words, const std::string& it);

}  // namespace whichlink::moves
