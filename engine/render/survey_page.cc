#include <fmt/format.h>

#include "render/chain_drawing.h"
#include "render/pages.h"

namespace whichlink::render {
namespace {

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
  for (const guide::RouteSurvey& route : survey.routes) {
    const chain::Route& one = chain.routes[route.route];
    out += wrapped(one.name + ": " + installation.rules.signals[one.signal].words, "", style.width);
    out += route_drawing(chain, route.path, style);
    out += fmt::format("  {} moves; about {:.1f} faults a year (middle rates)\n",
                       route.moves.size(), route.faults_per_year);
    if (with_moves) out += moves_by_kind(setting, route, style);
    out += "\n";
  }
  out += joints_legend(style) + "\n\n";

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
