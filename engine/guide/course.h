#pragma once

#include <optional>
#include <string>
#include <vector>

#include "guide/case_file.h"
#include "plan/case_belief.h"
#include "plan/planner.h"

namespace whichlink::guide {

/// What the case has come to.
enum class Stage { under_way, mended, nothing_found, handed_over };

/// "under way", "mended", "nothing found" or "handed over"
[[nodiscard]] std::string name_of(Stage stage);

/// What to do now, and why.
struct Advice {
  Stage stage = Stage::under_way;
  std::optional<moves::Move> move;  ///< while under way
  std::string reason;               ///< one word of engine: "plan", "put back", "verify"
  plan::Plan plan;                  ///< all candidates, best first
};

struct Step {
  moves::Move move;
  moves::Standing before;
  Report report;
  bool made = true;  ///< false: "cannot do"
};

/// What was done and reported so far, and where things stand: all that a person sees. The setting
/// must outlive it.
class Track {
 public:
  Track(const moves::Setting& setting, RouteId route);

  /// A move that was made, and what was reported.
  void take(const moves::Move& move, const Report& report);
  /// A move that cannot be made.
  void pass_over(const moves::Move& move, const Report& report);

  [[nodiscard]] const moves::Setting& setting() const { return *setting_; }
  [[nodiscard]] RouteId route() const { return standing_.route; }
  [[nodiscard]] const moves::Standing& standing() const { return standing_; }
  [[nodiscard]] const std::vector<Step>& steps() const { return steps_; }

  /// The move that the route must stand, with nothing wrong to hear, before the case is closed;
  /// none where it can be neither stressed nor listened to.
  [[nodiscard]] std::optional<moves::Move> verification() const;
  /// It stood it since the last change.
  [[nodiscard]] bool verified() const;
  /// The route's last report was not "nothing wrong".
  [[nodiscard]] bool heard_wrong() const;
  /// Names of the moves that cannot be made.
  [[nodiscard]] std::vector<std::string> cannot() const;
  /// The same, and of those that brought the same again and again since the last change.
  [[nodiscard]] std::vector<std::string> worn_out() const;
  /// Whether a move was made that could mend, or break, the route.
  [[nodiscard]] bool anything_changed() const;
  [[nodiscard]] double minutes_spent() const;

 private:
  [[nodiscard]] bool heard_nothing_wrong(const Step& step) const;

  const moves::Setting* setting_;
  moves::Standing standing_;
  std::vector<Step> steps_;
};

/// How far an isolation has come: its track, and what is believed. Copies go their own way.
class Course {
 public:
  /// @param listener  index into the listeners of the route's sense
  Course(const moves::Setting& setting, RouteId route, std::size_t listener,
         const moves::ReportWeights& complaint);

  /// False where nothing in the model can bring the reports so far.
  [[nodiscard]] bool possible() const { return belief_.possible(); }
  /// @param known  as of advise_first; null: nothing is known of the ways on
  void take(const moves::Move& move, const Report& report, const moves::ReportWeights& weights,
            plan::KnownWays* known = nullptr);
  void pass_over(const moves::Move& move, const Report& report) { track_.pass_over(move, report); }
  [[nodiscard]] Advice advise(plan::Aim aim, const plan::Depth& depth = {}) const;
  /// The same, with plan::plan_first in place of plan::plan_next.
  /// @param known  plan::ways_for this setting, listener and aim
  [[nodiscard]] Advice advise_first(plan::Aim aim, const plan::Depth& depth,
                                    plan::KnownWays& known) const;

  [[nodiscard]] const Track& track() const { return track_; }
  [[nodiscard]] const moves::Setting& setting() const { return track_.setting(); }
  [[nodiscard]] RouteId route() const { return track_.route(); }
  [[nodiscard]] const moves::Standing& standing() const { return track_.standing(); }
  [[nodiscard]] const std::vector<Step>& steps() const { return track_.steps(); }
  [[nodiscard]] const plan::CaseBelief& belief() const { return belief_; }

 private:
  [[nodiscard]] Advice by(plan::Plan found) const;

  Track track_;
  plan::CaseBelief belief_;
};

/// Whether an action changes anything that could mend, or break, the route.
[[nodiscard]] bool changes_something(const moves::Action& action);

inline const std::string kNotSure = "not sure";
inline const std::string kCannotDo = "cannot do";
/// Nobody makes the same move with the same result once more after so many times.
constexpr std::size_t kMostRepeats = 3;
/// A case that has taken this many moves is handed over.
constexpr std::size_t kMostMoves = 60;

}  // namespace whichlink::guide
