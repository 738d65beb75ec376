#pragma once

#include <string>
#include <vector>

#include "drill/drill.h"
#include "record/entries.h"

namespace whichlink::history {

/// A drill that has ended, as the record keeps it.
/// @param lesson  its name
[[nodiscard]] record::Drilled drilled(const drill::Drill& drill, const std::string& trainee,
                                      const std::string& lesson);

/// Of drills: what was kept of the ideal, and what the rest went by.
struct Losses {
  std::size_t drills = 0;
  double ideal = 0, lost = 0;               ///< minutes
  std::vector<record::DrillLoss> by_habit;  ///< largest first

  /// ideal / (ideal + lost), as drill::Score.
  [[nodiscard]] double share_kept() const { return ideal + lost > 0 ? ideal / (ideal + lost) : 1; }
};
[[nodiscard]] Losses losses_of(const std::vector<record::Drilled>& drills);

/// One trainee, or all together.
struct Progress {
  std::string trainee;                  ///< empty: all together
  std::vector<record::Drilled> drills;  ///< oldest first
  Losses all, late;                     ///< late: the second half of the drills
  drill::Calibration calibration;
  std::size_t unsupported = 0;   ///< claims
  std::size_t told_nothing = 0;  ///< moves
  std::size_t left_changed = 0;  ///< drills that ended with something not put back
  std::size_t unchecked = 0;  ///< drills without a check that was due, or with a borrowed part in
};
[[nodiscard]] Progress progress_of(const std::string& trainee, std::vector<record::Drilled> drills);

/// One lesson in a class.
struct LessonOfClass {
  std::string lesson;
  std::size_t trainees = 0;
  Losses losses;
  std::string weakest;  ///< the trainee who kept least; empty where nobody lost anything
  double weakest_kept = 1;
};

struct ClassView {
  std::vector<Progress> trainees;      ///< by code
  std::vector<LessonOfClass> lessons;  ///< least kept first
};
[[nodiscard]] ClassView class_of(const std::vector<record::Drilled>& drills);

}  // namespace whichlink::history
