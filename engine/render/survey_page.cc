#include <fmt/format.h>

#include <algorithm>

#include "moves/standing.h"
#include "render/pages.h"

namespace whichlink::render {
namespace {

constexpr std::size_t kPlaceColumns = 16;

// The chain as a person reads it: parts in order, a line a place, joints between them as
// fixed, plugged or selected.
class ChainDrawing {
 public:
  ChainDrawing(const moves::Setting& setting, const Style& style)
      : chain_(setting.chain()), style_(style) {}

  std::string draw(const chain::Path& path) {
    const std::vector<ElementId> elements = moves::elements_of(chain_, path);
    std::string out;
    std::string line;
    std::string place;
    for (std::size_t index = 0; index < elements.size(); ++index) {
      const chain::Element& element = chain_.elements[elements[index]];
      const bool same_part = index > 0 && chain_.elements[elements[index - 1]].part == element.part;
      if (same_part) continue;
      const std::string here = chain_.places[element.place].name;
      if (here != place) {
        if (!line.empty()) out += flush(place, line);
        place = here;
        line.clear();
      }
      if (index > 0) line += joint(elements[index - 1], elements[index]) + " ";
      std::string name = chain_.parts[element.part].name;
      std::replace(name.begin(), name.end(), ' ', kHard);
      line += name + " ";
    }
    return out + flush(place, line);
  }

  [[nodiscard]] std::string legend() const {
    return fmt::format("{} joined for good   {} plugged   {} selected at the source",
                       style_.unicode ? "─" : "-", style_.unicode ? "═" : "=",
                       style_.unicode ? "┄" : "~");
  }

 private:
  static constexpr char kHard = '\x01';  // a blank that no line breaks at

  [[nodiscard]] std::string joint(ElementId a, ElementId b) const {
    if (chain_.home.plug_in[a] == b || chain_.home.plug_in[b] == a) {
      return style_.unicode ? "═" : "=";
    }
    for (const chain::Switch& one : chain_.switches) {
      const ElementId common = chain_.conductors[one.common].element;
      const ElementId selected = chain_.conductors[one.selected].element;
      if ((common == a && selected == b) || (common == b && selected == a)) {
        return style_.unicode ? "┄" : "~";
      }
    }
    return style_.unicode ? "─" : "-";
  }

  [[nodiscard]] std::string flush(const std::string& place, const std::string& line) const {
    std::string text = wrapped(line, "  " + padded(place, kPlaceColumns), style_.width);
    std::replace(text.begin(), text.end(), kHard, ' ');
    return text;
  }

  const chain::Chain& chain_;
  const Style& style_;
};

std::string moves_by_kind(const moves::Setting& setting, const guide::RouteSurvey& route,
                          const Style& style) {
  std::string out;
  for (const moves::Move& move : route.moves) {
    out += "    " + padded(minutes(move.minutes), 9) +
           cut(moves::short_words(setting, move), style.width - 13, style) + "\n";
  }
  return out;
}

std::string lookalikes(const moves::Setting& setting, const guide::RouteSurvey& route,
                       const Style& style) {
  std::string out;
  for (const guide::Lookalikes& group : route.lookalikes) {
    std::vector<std::string> words;
    for (const FaultId fault : group.faults) words.push_back(setting.name_of(fault));
    out += wrapped(listed(words), "    - ", style.width);
  }
  return out;
}

}  // namespace

std::string survey_page(const moves::Setting& setting, const guide::Survey& survey, bool with_moves,
                        const Style& style) {
  const moves::Installation& installation = setting.installation();
  const chain::Chain& chain = setting.chain();
  std::string out = heading(installation.name, style);
  out += wrapped(installation.about, "", style.width);
  out += wrapped(fmt::format("Rules: {}. {} elements in {} parts, {} routes, {} ways to go wrong.",
                             installation.rules.trade, chain.elements.size(), chain.parts.size(),
                             chain.routes.size(), setting.faults().size()),
                 "", style.width) +
         "\n";
  ChainDrawing drawing(setting, style);
  for (const guide::RouteSurvey& route : survey.routes) {
    const chain::Route& one = chain.routes[route.route];
    out += wrapped(one.name + ": " + installation.rules.signals[one.signal].words, "", style.width);
    out += drawing.draw(route.path);
    out += fmt::format("  {} moves; about {:.1f} faults a year (middle rates)\n",
                       route.moves.size(), route.faults_per_year);
    if (with_moves) out += moves_by_kind(setting, route, style);
    out += "\n";
  }
  out += drawing.legend() + "\n\n";

  out += heading("Spares", style);
  bool any = false;
  for (const chain::Part& part : chain.parts) {
    if (!part.spare) continue;
    any = true;
    out +=
        fmt::format("  {} ({}, {})\n", part.name, part.spare_state, chain.places[part.place].name);
  }
  if (!any) out += "  none: parts are borrowed from other routes to find a fault\n";

  out += "\n" + heading("What no move can tell apart", style);
  bool told = true;
  for (const guide::RouteSurvey& route : survey.routes) {
    if (route.lookalikes.empty()) continue;
    told = false;
    out += "  " + chain.routes[route.route].name + "\n" + lookalikes(setting, route, style);
  }
  if (told) out += "  nothing: every fault can be told from every other\n";
  return out;
}

}  // namespace whichlink::render
