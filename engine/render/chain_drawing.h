#pragma once

#include <string>
#include <vector>

#include "chain/chain.h"
#include "moves/setting.h"
#include "render/text.h"

/// Chains as a person reads them: parts in order, by the place where they are, with the joints
/// between them.
namespace whichlink::render {

enum class JointLook { fixed, plugged, switched };
/// How two neighbours on a way are joined, as everything is plugged at home.
[[nodiscard]] JointLook joint_between(const chain::Chain& chain, ElementId a, ElementId b);

/// A part on a way, with those of its pieces that the signal passes there.
struct PartOnWay {
  PartId part;
  std::vector<std::string> pieces;      ///< "left plug", or a lane; none where it has but one
  JointLook before = JointLook::fixed;  ///< the joint to the part before it
  bool first = false;                   ///< of the way: there is none before it
};
/// Neighbours on a way that are in one place.
struct PlaceOnWay {
  PlaceId place;
  std::vector<PartOnWay> parts;
};
[[nodiscard]] std::vector<PlaceOnWay> places_on_way(const chain::Chain& chain,
                                                    const chain::Path& path);

/// One way as text, a line or more a place.
[[nodiscard]] std::string route_drawing(const chain::Chain& chain, const chain::Path& path,
                                        const Style& style);
/// What the signs of route_drawing mean, one line.
[[nodiscard]] std::string joints_legend(const Style& style);

/// All routes as a picture, SVG 1.1, black on white, 800 units wide: a box a part with its pieces,
/// a frame a place. Letters are of one width, so that no text is cut and none lies on another.
[[nodiscard]] std::string chain_svg(const moves::Setting& setting);

}  // namespace whichlink::render
