#pragma once

#include "flat/pomdp_file.h"
#include "flat/process.h"
#include "moves/support.h"
#include "render/pomdp.h"

namespace whichlink::testing {

/// A complaint of the sense's worst symptom, written out and read again. The process itself serves
/// as the dictionary of the file's numbers: which state stands for what.
struct Written {
  Written(const std::string& model, const std::string& route_name, const flat::Limits& limits)
      : shop(model), route(shop.route(route_name)) {
    const faults::Rules& rules = shop.setting.rules();
    const faults::Sense& sense =
        rules.senses[rules.signals[shop.chain().routes[route].signal].sense];
    complaint = moves::weights_of_outcome(sense, sense.severities() - 1);
    auto made = flat::process_of(shop.setting, route, 0, complaint, limits);
    if (!made) {
      ADD_FAILURE() << to_line(made.error().front());
      return;
    }
    process = std::move(*made);
    text = render::pomdp_text(shop.setting, process);
    file = read_pomdp(text);
    for (const std::string& one : file.complaints) ADD_FAILURE() << one;
  }

  const moves::Shop shop;
  RouteId route;
  moves::ReportWeights complaint;
  flat::Process process;
  std::string text;
  PomdpFile file;
};

}  // namespace whichlink::testing
