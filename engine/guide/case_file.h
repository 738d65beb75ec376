#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "plan/aim.h"

namespace whichlink::guide {

/// A drop in dB is above 0, and at most this (judged).
constexpr double kMostDropDb = 120;

/// What was reported after a move, as written: a symptom's name, `elsewhere`'s name, "not sure" or
/// "cannot do"; or "weak" with a drop in dB.
struct Report {
  std::string heard;
  std::optional<double> drop_db;
};

struct Done {
  std::string move;  ///< the move's name
  Report report;
  Place place;  ///< where it stands in its file, for complaints about its meaning
};

/// A case as its events: what a person said and did, in order. The same thing is saved, resumed,
/// ranked and replayed.
struct CaseFile {
  std::string model;             ///< may be empty
  std::string listener;          ///< may be empty: the first of the rules
  std::optional<plan::Aim> aim;  ///< absent: time
  std::string route;
  Report complaint;
  std::optional<double> days_since_pass;
  std::vector<Done> done;
  Place route_place, complaint_place, listener_place;
};

}  // namespace whichlink::guide
