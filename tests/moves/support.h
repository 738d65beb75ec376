#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "load/load.h"
#include "moves/arrangement.h"
#include "moves/move.h"
#include "moves/standing.h"

/// Shipped installations with names in place of ids.
namespace whichlink::moves {

inline const std::vector<std::string> kShipped = {"two-room-booth", "single-room", "screening-set",
                                                  "small-stage"};

/// An installation made ready, kept in one place for as long as the test lasts.
struct Shop {
  explicit Shop(const std::string& name, double days = 7) : Shop(load_it(name), days) {}
  explicit Shop(Installation given, double days = 7)
      : installation(std::move(given)), setting(installation, days) {}
  static Installation load_it(const std::string& name) {
    const std::string source = WHICHLINK_SOURCE_DIR;
    auto loaded = load::installation_file(source + "/models/" + name + ".yaml", source + "/rules");
    if (!loaded) {
      for (const Problem& problem : loaded.error()) ADD_FAILURE() << to_line(problem);
      return {};
    }
    return std::move(*loaded);
  }

  const chain::Chain& chain() const { return installation.chain; }
  RouteId route(const std::string& name) const {
    for (const RouteId id : chain().routes.ids()) {
      if (chain().routes[id].name == name) return id;
    }
    ADD_FAILURE() << "no route " << name;
    return {};
  }
  ElementId element(const std::string& name) const {
    for (const ElementId id : chain().elements.ids()) {
      if (chain().elements[id].name == name) return id;
    }
    ADD_FAILURE() << "no element " << name;
    return {};
  }
  FaultId fault(const std::string& name) const {
    for (const FaultId id : setting.faults().ids()) {
      if (setting.name_of(id) == name) return id;
    }
    ADD_FAILURE() << "no fault " << name;
    return {};
  }
  Standing start(const std::string& name) const { return stand_at_start(setting, route(name)); }
  Move move(const Standing& standing, const std::string& name) const {
    auto found = find_move(setting, standing, name);
    if (!found) {
      ADD_FAILURE() << "no move " << name;
      return {};
    }
    return std::move(*found);
  }
  Standing after_move(const Standing& standing, const std::string& name) const {
    return after(setting, standing, move(standing, name));
  }
  bool has(const Standing& standing, const std::string& name) const {
    return find_move(setting, standing, name).has_value();
  }
  std::vector<std::string> parts_on_way(const Standing& standing) const {
    std::vector<std::string> names;
    const auto path = setting.tracer().trace(standing.route, standing.patching).path;
    for (const PartId part : parts_of(chain(), path)) names.push_back(chain().parts[part].name);
    return names;
  }

  const Installation installation;
  const Setting setting;
};

}  // namespace whichlink::moves
