#include "render/chain_drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "moves/standing.h"

namespace whichlink::render {
namespace {

constexpr std::size_t kPlaceColumns = 16;
constexpr char kHard = '\x01';  // a blank that no line breaks at

std::string sign_of(JointLook look, const Style& style) {
  switch (look) {
    case JointLook::plugged:
      return style.unicode ? "═" : "=";
    case JointLook::switched:
      return style.unicode ? "┄" : "~";
    case JointLook::fixed:
      break;
  }
  return style.unicode ? "─" : "-";
}

std::string flushed(const std::string& place, const std::string& line, const Style& style) {
  std::string text = wrapped(line, "  " + padded(place, kPlaceColumns), style.width);
  std::replace(text.begin(), text.end(), kHard, ' ');
  return text;
}

}  // namespace

JointLook joint_between(const chain::Chain& chain, ElementId a, ElementId b) {
  if (chain.home.plug_in[a] == b || chain.home.plug_in[b] == a) return JointLook::plugged;
  for (const chain::Switch& one : chain.switches) {
    const ElementId common = chain.conductors[one.common].element;
    const ElementId selected = chain.conductors[one.selected].element;
    if ((common == a && selected == b) || (common == b && selected == a)) {
      return JointLook::switched;
    }
  }
  return JointLook::fixed;
}

std::vector<PlaceOnWay> places_on_way(const chain::Chain& chain, const chain::Path& path) {
  std::vector<PlaceOnWay> places;
  std::optional<ElementId> before;
  for (const ConductorId conductor : path.conductors) {
    const ElementId id = chain.conductors[conductor].element;
    const chain::Element& element = chain.elements[id];
    const std::string& part = chain.parts[element.part].name;
    if (!before || chain.elements[*before].part != element.part) {
      const std::string& here = chain.places[element.place].name;
      if (places.empty() || chain.places[places.back().place].name != here) {
        places.push_back({element.place, {}});
      }
      const JointLook look = before ? joint_between(chain, *before, id) : JointLook::fixed;
      places.back().parts.push_back({element.part, {}, look, !before});
    }
    std::string piece =
        element.name.size() > part.size() ? element.name.substr(part.size() + 1) : "";
    const std::string& lane = chain.conductors[conductor].lane;
    if (element.conductors.size() > 1) piece += (piece.empty() ? "" : ", ") + lane;
    if (!piece.empty()) places.back().parts.back().pieces.push_back(piece);
    before = id;
  }
  return places;
}

std::string route_drawing(const chain::Chain& chain, const chain::Path& path, const Style& style) {
  const std::vector<ElementId> elements = moves::elements_of(chain, path);
  std::string out;
  std::string line;
  std::string place;
  for (std::size_t index = 0; index < elements.size(); ++index) {
    const chain::Element& element = chain.elements[elements[index]];
    const bool same_part = index > 0 && chain.elements[elements[index - 1]].part == element.part;
    if (same_part) continue;
    const std::string here = chain.places[element.place].name;
    if (here != place) {
      if (!line.empty()) out += flushed(place, line, style);
      place = here;
      line.clear();
    }
    if (index > 0) {
      line += sign_of(joint_between(chain, elements[index - 1], elements[index]), style) + " ";
    }
    std::string name = chain.parts[element.part].name;
    std::replace(name.begin(), name.end(), ' ', kHard);
    line += name + " ";
  }
  return out + flushed(place, line, style);
}

std::string joints_legend(const Style& style) {
  return fmt::format("{} joined for good   {} plugged   {} selected at the source",
                     sign_of(JointLook::fixed, style), sign_of(JointLook::plugged, style),
                     sign_of(JointLook::switched, style));
}

}  // namespace whichlink::render
