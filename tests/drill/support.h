#pragma once

#include <gtest/gtest.h>

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "drill/drill.h"
#include "load/load.h"

/// Shipped lessons and rooms, and drills opened with them.
namespace whichlink::testing {

inline const std::string kSource = WHICHLINK_SOURCE_DIR;

template <class Value>
Value good(Result<Value> result) {
  if (!result) {
    for (const Problem& problem : result.error()) ADD_FAILURE() << to_line(problem);
    throw std::runtime_error("bad input");
  }
  return std::move(*result);
}

inline const drill::Lessons& lessons() {
  static const drill::Lessons all =
      good(load::lessons_file(kSource + "/rules/lessons/hearing.yaml"));
  return all;
}

/// A shipped installation; each is read once.
inline const moves::Installation& shipped(const std::string& model) {
  static std::map<std::string, moves::Installation> read;
  const auto found = read.find(model);
  if (found != read.end()) return found->second;
  return read
      .emplace(model, good(load::installation_file(kSource + "/models/" + model + ".yaml",
                                                   kSource + "/rules")))
      .first->second;
}

inline moves::Installation room_of(const drill::DrillCase& given) {
  return good(drill::as_found(shipped(given.model), given));
}

/// A drill with the room that it is played in.
struct Played {
  explicit Played(const drill::DrillCase& given)
      : room(std::make_unique<moves::Installation>(room_of(given))),
        drill(good(drill::Drill::open(*room, given))) {}
  std::unique_ptr<moves::Installation> room;
  std::unique_ptr<drill::Drill> drill;
};

inline drill::Event made(const std::string& move) {
  return {drill::Say::move, move, 0, {}, {}};
}
inline drill::Event said(drill::Say what) {
  return {what, "", 0, {}, {}};
}
inline drill::Event held(const std::string& name, double sure) {
  return {drill::Say::suspect, name, sure, {}, {}};
}

inline const drill::Lesson& lesson(const std::string& name) {
  for (const drill::Lesson& one : lessons().lessons) {
    if (one.name == name) return one;
  }
  throw std::runtime_error("no lesson " + name);
}

/// The first case of a lesson.
inline const drill::DrillCase& first_case(const std::string& name) {
  return lesson(name).cases.front();
}

}  // namespace whichlink::testing
