#pragma once

#include <array>
#include <optional>
#include <string>

#include "bench/measure.h"
#include "load/load.h"
#include "moves/arrangement.h"

/// The complaints that trials and bounds are measured by (docs/trials.md).
namespace whichlink::bench {

struct Row {
  const char* model;
  const char* route;
  const char* heard;
};
constexpr std::array<Row, 16> kRows = {{
    {"two-room-booth", "left phone", "silent"},
    {"two-room-booth", "left phone", "weak 30"},
    {"two-room-booth", "left phone", "crackle"},
    {"two-room-booth", "left phone", "drops out"},
    {"single-room", "left phone", "silent"},
    {"single-room", "left phone", "weak 30"},
    {"single-room", "left phone", "crackle"},
    {"single-room", "left phone", "drops out"},
    {"screening-set", "left phone", "silent"},
    {"screening-set", "left phone", "weak 30"},
    {"screening-set", "left phone", "crackle"},
    {"screening-set", "left phone", "drops out"},
    {"small-stage", "left vocal", "nothing"},
    {"small-stage", "left vocal", "low 25"},
    {"small-stage", "left vocal", "scratchy"},
    {"small-stage", "left vocal", "cuts"},
}};

/// A row, ready for reckoning.
class Complained {
 public:
  explicit Complained(const Row& row)
      : room_(loaded(row)), setting_(room_, room_.rules.handling.default_days_since_pass) {
    for (const RouteId one : setting_.chain().routes.ids()) {
      if (setting_.chain().routes[one].name == row.route) route = one;
    }
    const auto found = sense().find(row.heard);
    if (!found) stop(row.heard);
    heard = *found;
  }
  [[nodiscard]] const moves::Setting& setting() const { return setting_; }
  [[nodiscard]] const faults::Sense& sense() const {
    const SignalId signal = setting_.chain().routes[route].signal;
    return setting_.rules().senses[setting_.rules().signals[signal].sense];
  }

  RouteId route;
  std::size_t heard = 0;  ///< outcome of the route's sense

 private:
  static moves::Installation loaded(const Row& row) {
    const std::string source = WHICHLINK_SOURCE_DIR;
    auto room =
        load::installation_file(source + "/models/" + row.model + ".yaml", source + "/rules");
    if (!room) stop(row.model);
    return std::move(*room);
  }

  moves::Installation room_;
  moves::Setting setting_;
};

}  // namespace whichlink::bench
