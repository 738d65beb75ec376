#pragma once

#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/problem.h"
#include "guide/case_file.h"
#include "guide/course.h"
#include "routine/levels.h"
#include "routine/plan.h"

namespace whichlink::routine {

/// Whether what is wrong was there before anything was moved.
enum class When { untouched, stressed, not_sure };

/// Answers other than symptoms: to a pair, to what is looked at, and to thresholds.
inline const std::string kAsItShould = "as it should be";
inline const std::string kSwapped = "sides swapped";
inline const std::string kOneSide = "only one side";
inline const std::string kBothInOne = "both in one";
inline const std::string kNotRight = "one is not right";
inline const std::string kYes = "yes";
inline const std::string kNo = "no";
inline const std::string kWithin = "within";

/// One answer to the step whose turn it is. What means something depends on the step:
///   look        yes, no, cannot do
///   listen      a symptom of the route's sense, "weak" with a drop, not sure, cannot do; of a
///               pair: as it should be, sides swapped, only one side, both in one, one is not
///               right, not sure, cannot do
///   sweep       yes, no, not sure, cannot do
///   thresholds  within, a change in dB (drop_db, either sign, not 0), not sure, cannot do
struct Said {
  std::string step;  ///< its name
  guide::Report report;
  std::optional<When> when;  ///< of something wrong on a route that is stressed; absent: not sure
  Place place;               ///< for complaints
};
/// A level read from a meter, of a route of the step whose turn it is. The dial stands where the
/// reference levels say.
struct Read {
  std::string route;
  std::string set;  ///< name of the reference levels; empty: the first of the signal's
  double hz = 0;
  double measured_db = 0;
  Place place;
};
/// A failed route was isolated at once, and how that ended.
struct Isolated {
  std::string route;
  guide::Stage stage = guide::Stage::under_way;
  Place place;
};
using Event = std::variant<Said, Read, Isolated>;

/// A check as its events, in order: what is stored, read back and replayed.
struct CheckFile {
  std::string model;              ///< may be empty
  std::string list;               ///< empty: the first of the rules
  std::string listener;           ///< empty: the first of each sense
  std::optional<double> trip_db;  ///< absent: the rules' usual one
  std::optional<double> days_since_pass;
  std::string at;  ///< when it began, as the clock's owner writes it
  std::vector<Event> done;
  Place list_place, listener_place, trip_place;
};

enum class Verdict { not_checked, passed, failed, mended };

struct RouteOutcome {
  std::string route;
  Verdict verdict = Verdict::not_checked;
  guide::Report report;      ///< the first thing wrong; or why it was not checked; else empty
  std::optional<When> when;  ///< of something wrong
  bool stressed = false;     ///< it passed with everything on it stressed that bears a stress
  std::vector<std::string> not_done;  ///< its steps that were not reached, or not answered
  std::optional<guide::Stage> isolated;
};
struct ItemOutcome {
  std::string item;
  std::string answer;  ///< yes, no, cannot do; empty: not reached
};
/// What a check came to, as plain values: names, no ids.
struct Outcome {
  std::string installation, model, list, listener, at;
  std::optional<double> trip_db;     ///< where the list has thresholds
  bool complete = false;             ///< every step was answered
  std::vector<RouteOutcome> routes;  ///< all of the installation, in its order
  std::vector<ItemOutcome> items;    ///< those of the list, in its order
  std::vector<Level> levels;
};

/// One check under way: the fold of its events. Keeps a reference to the setting.
class Round {
 public:
  /// Replays the events. Complains of rules without a routine, of names that mean nothing, and of
  /// answers that no step of this check takes.
  [[nodiscard]] static Result<std::unique_ptr<Round>> open(const moves::Setting& setting,
                                                           CheckFile events);

  /// The step whose turn it is; null once all are answered.
  [[nodiscard]] const Step* now() const { return at_ < steps_.size() ? &steps_[at_] : nullptr; }
  /// Takes one event in. On a problem nothing changes.
  [[nodiscard]] std::optional<Problem> take(const Event& event);
  /// Takes the last answer or reading back, and an isolation that came of it; false if there is
  /// none.
  bool take_back();

  /// Routes that failed and were not isolated yet, nor left for later (`Isolated` with
  /// `under_way`), in the order in which they failed.
  [[nodiscard]] std::vector<RouteId> to_isolate() const;
  /// A case on a failed route with everything that this check heard and that tells of it:
  /// - wrong untouched: that is the complaint;
  /// - wrong only under stress: the first symptom is the complaint, since that is what was heard
  ///   untouched, and stressing the whole route is a move that was made, with its report;
  /// - not known which: "not sure", and the same move.
  /// Other routes of this check that pass the same things go in as listened to: those that failed,
  /// and of those that passed just enough to cover what they share. What guide::Case does not take
  /// is left out, so that it always opens.
  [[nodiscard]] guide::CaseFile case_of(RouteId route) const;

  [[nodiscard]] const CheckFile& events() const { return events_; }
  [[nodiscard]] const moves::Setting& setting() const { return setting_; }
  [[nodiscard]] const Plan& plan() const { return plan_; }
  [[nodiscard]] double trip_db() const { return trip_db_; }
  /// Steps answered so far, and those to come as things stand.
  [[nodiscard]] std::size_t answered() const { return at_; }
  [[nodiscard]] std::size_t steps() const { return steps_.size(); }
  [[nodiscard]] Outcome outcome() const;

 private:
  struct RouteState {
    bool listened = false;   ///< with a report that passes
    bool suspected = false;  ///< by an answer to the pair that named no side
    bool failed = false;
    guide::Report report;
    std::optional<When> when;
    bool under_stress = false;
    std::vector<std::string> not_done;
    std::optional<guide::Stage> isolated;
  };

  Round(const moves::Setting& setting, CheckFile events);
  [[nodiscard]] std::optional<Problem> begin();
  [[nodiscard]] std::optional<Problem> take_said(const Said& said);
  [[nodiscard]] std::optional<Problem> take_read(const Read& read);
  [[nodiscard]] std::optional<Problem> take_isolated(const Isolated& isolated);
  [[nodiscard]] std::optional<Problem> heard_on_pair(const Said& said);
  [[nodiscard]] std::optional<Problem> heard_on_route(const Said& said);
  [[nodiscard]] std::optional<Problem> swept(const Said& said);
  [[nodiscard]] std::optional<Problem> tried_thresholds(const Said& said);
  void ask_each_alone();
  void settle_suspicion();
  void fail(RouteId route, const guide::Report& report, std::optional<When> when);
  [[nodiscard]] const faults::Sense& sense_of(RouteId route) const;
  [[nodiscard]] guide::CaseFile evidence_of(RouteId route) const;

  const moves::Setting& setting_;
  CheckFile events_;
  Plan plan_;
  double trip_db_ = 0;
  std::vector<Step> steps_;  ///< the plan's, with what an answer added
  std::size_t at_ = 0;
  IdVector<RouteId, RouteState> routes_;
  std::vector<RouteId> failed_;  ///< in order
  std::vector<std::string> item_answers_;
  std::vector<Level> levels_;
};

}  // namespace whichlink::routine
