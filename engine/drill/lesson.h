#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "drill/habit.h"
#include "moves/installation.h"

/// Training on substitution logic: a trainee isolates a fault that the program plays. Lessons and
/// their cases are data; nothing here knows which trade it is.
namespace whichlink::drill {

/// A fault that is really there, by the name that tables show.
struct Hidden {
  std::string fault;
  bool showing = false;  ///< at the first move; else quiet
  Place place;
};

/// One case that a trainee is given.
struct DrillCase {
  std::string name;
  std::string words;  ///< what the trainee is told besides the complaint; may be empty
  std::string model;  ///< the installation
  std::string route;
  std::string heard;     ///< the complaint; may be empty where the case is drawn
  std::string listener;  ///< may be empty: the first of the rules
  std::optional<double> days_since_pass;
  std::uint64_t seed = 1;            ///< of what the room answers
  bool drawn = false;                ///< what is hidden is drawn from the rates, by the seed
  std::vector<Hidden> hidden;        ///< empty where it is drawn
  std::vector<std::string> missing;  ///< spares that are not in the drawer today
  std::vector<std::string> crossed;  ///< two plugs, each in the other's jack; or none
  Place place, route_place, heard_place, listener_place, crossed_place, missing_place;
};

struct Lesson {
  std::string name;
  std::string goal;              ///< one sentence
  std::string hint;              ///< the first hint: a question
  std::optional<Habit> teaches;  ///< absent: a bit of everything
  std::vector<DrillCase> cases;
};

/// One file of lessons, in the order in which they are taken.
struct Lessons {
  std::string trade;
  std::string about;
  std::vector<Lesson> lessons;
};

/// The installation as the case finds it: without the spares that are missing. A problem where one
/// of them is no spare.
[[nodiscard]] Result<moves::Installation> as_found(moves::Installation installation,
                                                   const DrillCase& given);

}  // namespace whichlink::drill
