#include "sheets/chain_sheet.h"

#include <fmt/format.h>

#include <algorithm>

#include "moves/standing.h"
#include "render/chain_drawing.h"
#include "sheets/html.h"
#include "sheets/names.h"

namespace whichlink::sheets {
namespace {

using render::JointLook;

// Parts are boxes in a row that wraps as the paper is wide; the joint before a box is a line.
const std::string kStyle = R"css(.way,.parts{list-style:none;padding:0;margin:0}
.way>li{border:1px solid #000;border-radius:.3rem;padding:.1rem .6rem .5rem;margin:.4rem 0}
.way h4{margin:.2rem 0;font-size:1rem;font-style:italic;font-weight:normal}
.parts{display:flex;flex-wrap:wrap;align-items:flex-start;gap:.5rem 0}
.parts>li{display:flex;max-width:100%;margin:0}
.parts p{margin:0}
.part{border:.12rem solid #000;padding:.15rem .5rem;min-width:0}
.piece{font-size:.9rem}
.joint{display:inline-block;flex:none;width:1.9rem;margin:0 .15rem;height:.5rem;align-self:flex-start;position:relative;top:.6rem}
.plugged{border-top:.15rem solid #000;border-bottom:.15rem solid #000}
.fixed{border-top:.2rem solid #000}
.switched{border-top:.2rem dotted #000}
.legend{display:flex;flex-wrap:wrap;gap:.2rem 1.6rem;list-style:none;padding:0}
.legend li{display:flex;margin:0}
.legend .joint{margin-right:.5rem}
@media print{.route,.way>li{break-inside:avoid}.tables{break-before:page}}
)css";

const char* look_of(JointLook joint) {
  switch (joint) {
    case JointLook::plugged:
      return "joint plugged";
    case JointLook::switched:
      return "joint switched";
    case JointLook::fixed:
      break;
  }
  return "joint fixed";
}

const char* joint_words(JointLook joint) {
  switch (joint) {
    case JointLook::plugged:
      return "plugged";
    case JointLook::switched:
      return "selected at the source";
    case JointLook::fixed:
      break;
  }
  return "joined for good";
}

Words joint(JointLook look) {
  return marked(look_of(look), "");
}

Block legend() {
  std::vector<Words> signs;
  for (const JointLook look : {JointLook::fixed, JointLook::plugged, JointLook::switched}) {
    signs.push_back(joint(look) + joint_words(look));
  }
  return list(signs, "legend");
}

Block part_box(const chain::Chain& chain, const render::PartOnWay& part) {
  Block inside = paragraph(strong(name(chain.parts[part.part].name)));
  for (const std::string& piece : part.pieces) inside += paragraph(name(piece), "piece");
  const Words before =
      part.first ? Words()
                 : joint(part.before) + spoken(std::string(joint_words(part.before)) + ": ");
  return (before.empty() ? Block() : paragraph(before)) + box("part", inside);
}

Block way(const chain::Chain& chain, const chain::Path& path) {
  std::vector<Block> places;
  for (const render::PlaceOnWay& place : render::places_on_way(chain, path)) {
    std::vector<Block> parts;
    for (const render::PartOnWay& part : place.parts) parts.push_back(part_box(chain, part));
    places.push_back(section(4, name(chain.places[place.place].name), list(parts, "parts")));
  }
  return numbered(places, "way");
}

std::string anchor_of(RouteId route) {
  return fmt::format("route-{}", route.value + 1);
}

Block routes(const moves::Setting& setting) {
  const chain::Chain& chain = setting.chain();
  Block all;
  std::vector<Words> links;
  for (const RouteId id : chain.routes.ids()) {
    const chain::Route& route = chain.routes[id];
    links.push_back(link_to(anchor_of(id), name(route.name)));
    const faults::Signal& signal = setting.rules().signals[route.signal];
    all += section(3, name(route.name),
                   paragraph("Carries " + signal.words + ".") +
                       way(chain, setting.tracer().trace(id, chain.home).path),
                   "route", anchor_of(id));
  }
  if (links.empty()) return section(2, "Routes", paragraph("No route yet."));
  return section(2, "Routes", list(links, "on-screen two") + legend() + all);
}

struct Plugged {
  ElementId plug, jack;
  std::vector<std::string> routes;
};

std::vector<Plugged> plugged_at(const moves::Setting& setting, PlaceId place) {
  const chain::Chain& chain = setting.chain();
  std::vector<Plugged> all;
  for (const ElementId plug : chain.elements.ids()) {
    const std::optional<ElementId> jack = chain.home.plug_in[plug];
    if (!jack || chain.elements[*jack].place != place) continue;
    Plugged one{plug, *jack, {}};
    for (const RouteId route : chain.routes.ids()) {
      const auto elements =
          moves::elements_of(chain, setting.tracer().trace(route, chain.home).path);
      if (std::find(elements.begin(), elements.end(), plug) == elements.end()) continue;
      one.routes.push_back(chain.routes[route].name);
    }
    all.push_back(std::move(one));
  }
  return all;
}

Block plugs(const moves::Setting& setting) {
  const chain::Chain& chain = setting.chain();
  Block all;
  for (const PlaceId place : chain.places.ids()) {
    Table plugged{"", {"Plug", "goes into", "for", "colour or label"}, {}, "plugs"};
    for (const Plugged& one : plugged_at(setting, place)) {
      std::vector<Words> names(one.routes.begin(), one.routes.end());
      plugged.rows.push_back({name(called(chain, one.plug)), name(called(chain, one.jack)),
                              names.empty() ? Words("no route") : joined(names, ", "), ""});
    }
    if (plugged.rows.empty()) continue;
    all += section(3, name(chain.places[place].name), table(plugged));
  }
  if (all.empty()) return {};
  Block first;
  if (setting.rules().crossing) first += paragraph(setting.rules().crossing->trace_words);
  first += paragraph("Write in what you see on each cord, and keep it true.");
  return section(2, "Which plug goes where", first + all, "tables");
}

Block spares(const chain::Chain& chain) {
  std::vector<Words> items;
  for (const chain::Part& part : chain.parts) {
    if (!part.spare) continue;
    items.push_back(name(part.name) + " (" + part.spare_state +
                    "): " + name(chain.places[part.place].name));
  }
  return items.empty() ? Block() : section(2, "Spares, and where they lie", list(items));
}

}  // namespace

std::string chain_sheet(const moves::Setting& setting, const std::string& date) {
  Page around;
  around.title = "What is plugged where";
  around.about = setting.installation().name;
  around.date = date;
  around.style = kStyle;
  return page(around, routes(setting) + plugs(setting) + spares(setting.chain()));
}

}  // namespace whichlink::sheets
