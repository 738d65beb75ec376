#pragma once

#include <gtest/gtest.h>

#include <memory>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "guide/support.h"
#include "stock/answer.h"

namespace whichlink::stock {

using testing::shipped;

/// Endings that a test makes up: each fault of a mode takes so many of a thing.
struct MadeUp {
  std::string mode;
  std::size_t items;
  std::string thing;
  double taken;
};
inline Endings made_up(const std::vector<MadeUp>& all) {
  Endings endings;
  for (const MadeUp& one : all) {
    endings.groups.push_back(
        {one.mode, std::nullopt, one.items, 1, 10, {{one.thing, one.taken}}, {}});
  }
  return endings;
}

inline const Line& line_of(const std::vector<Line>& lines, const std::string& name) {
  for (const Line& line : lines) {
    if (line.name == name) return line;
  }
  throw std::runtime_error("no line " + name);
}

/// A question about one installation, with its own drawer.
class Asking {
 public:
  Asking(moves::Installation installation, Endings endings)
      : installation_(std::move(installation)),
        setting_(installation_, 0),
        endings_(std::move(endings)) {
    question.rooms.push_back({&setting_, &endings_, 1, {}});
  }
  Answer answer() const {
    auto answer = answer_to(question);
    if (!answer) throw std::runtime_error(to_line(answer.error().front()));
    return std::move(*answer);
  }
  [[nodiscard]] const moves::Setting& setting() const { return setting_; }

  Question question;

 private:
  moves::Installation installation_;
  moves::Setting setting_;
  Endings endings_;
};

}  // namespace whichlink::stock
