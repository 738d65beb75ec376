#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "drill/claim.h"
#include "drill/lesson.h"
#include "drill/told.h"
#include "drill/value.h"
#include "guide/case.h"
#include "simulate/room.h"

namespace whichlink::drill {

/// What a trainee says, in the order in which it was said.
enum class Say { move, suspect, hint, close, service, checks };
struct Event {
  Say say = Say::move;
  std::string name;                 ///< of a move or a suspect
  double sure = 0;                  ///< of a suspect
  std::vector<std::string> checks;  ///< what must be done before the route is used again
  Place place;
};

/// Hints come in this order.
enum class Hint { none, question, split, move };

/// One step of a trainee, against the plan. All but the answer is known before the answer.
struct Turn {
  Choice chosen;
  std::string words;           ///< what was done, in a few words
  std::string instruction;     ///< how it is done; empty for an end
  std::string advised_words;   ///< what the planner would have done
  bool advised = false;        ///< it is what was done
  double minutes = 0;          ///< of the move
  double value = 0;            ///< priced minutes from here on, by this choice
  double least = 0;            ///< by the best of all choices
  double lost = 0;             ///< 0 for what the planner does
  std::optional<Habit> habit;  ///< what the loss is charged to
  bool told_nothing = false;   ///< whatever was answered, nothing could follow from it
  Hint hint = Hint::none;      ///< the furthest that was asked for before it
  double wrong_before = 0, wrong_after = 0;  ///< chance that the route is not sound
  // The answer, for a move.
  guide::Report report;
  std::size_t outcome = 0;  ///< of the move's sense
  bool heard_wrong = false;
  std::vector<Shift> shifts;
};

/// What a drill comes to.
struct Score {
  double ideal = 0;    ///< priced minutes of the best plan at the start
  double lost = 0;     ///< sum over the turns
  double minutes = 0;  ///< of the moves
  std::size_t moves = 0;
  std::vector<double> by_habit;  ///< of `lost`; in the order of Habit; adds up to it
  std::size_t told_nothing = 0;
  std::size_t told_moves = 0;   ///< made after the program had named them
  std::size_t unsupported = 0;  ///< claims
  std::vector<std::string> not_put_back;
  std::vector<std::string> blamed;     ///< parts left exchanged that were not shown to be bad
  std::vector<std::string> unchecked;  ///< needed before the next use, and not said
  bool borrowed_left_in = false;       ///< people would be served through a part of another route
  bool unproved =
      false;  ///< closed though the route had not stood its stresses since the last change
  // Luck is in these, and in none of the above.
  bool left_in = false;  ///< closed while the route, everything put back, was not sound
  bool service = false;

  /// ideal / (ideal + lost): 1 where nothing was lost.
  [[nodiscard]] double share_kept() const { return ideal + lost > 0 ? ideal / (ideal + lost) : 1; }
};

enum class Stage { under_way, ending, ended };  ///< ending: what must be checked is asked

/// One drill: the fold of its events. The same events of the same case always lead to the same
/// drill. Keeps a reference to the installation.
class Drill {
 public:
  /// Complains of names in the case that mean nothing, and of a complaint that nothing hidden
  /// brings.
  [[nodiscard]] static Result<std::unique_ptr<Drill>> open(const moves::Installation& installation,
                                                           DrillCase given,
                                                           const plan::Depth& depth = {});

  /// Takes one event in. On a problem nothing changes.
  [[nodiscard]] std::optional<Problem> take(const Event& event);

  [[nodiscard]] Stage stage() const { return stage_; }
  [[nodiscard]] const DrillCase& given() const { return given_; }
  [[nodiscard]] const guide::Case& isolation() const { return *case_; }
  [[nodiscard]] const guide::Track& track() const { return *track_; }
  [[nodiscard]] const std::vector<Event>& events() const { return events_; }
  [[nodiscard]] const std::vector<Turn>& turns() const { return turns_; }
  [[nodiscard]] const std::vector<Claim>& claims() const { return claims_; }
  [[nodiscard]] const Values& values() const { return *values_; }
  /// The furthest hint asked for at this step.
  [[nodiscard]] Hint hint() const { return hint_; }
  /// Every move that is possible now.
  [[nodiscard]] std::vector<moves::Move> possible() const;
  /// All that somebody may have to do before a route is used again, in the words of the rules.
  [[nodiscard]] std::vector<std::string> all_checks() const;
  /// What was hidden, in words; crossed plugs among it.
  [[nodiscard]] std::vector<std::string> hidden_words() const;
  [[nodiscard]] Score score() const;
  /// Plays the rest as the planner would, the same room answering.
  void play_out();

 private:
  Drill(DrillCase given, const plan::Depth& depth) : given_(std::move(given)), depth_(depth) {}
  [[nodiscard]] std::optional<Problem> begin(const moves::Installation& installation);
  [[nodiscard]] std::optional<Problem> hide();
  [[nodiscard]] std::optional<Problem> cross();
  [[nodiscard]] std::optional<Problem> explains_complaint() const;
  [[nodiscard]] std::optional<Problem> make(const Event& event);
  void end(plan::Verdict verdict);
  [[nodiscard]] std::optional<Problem> claim(const Event& event);
  [[nodiscard]] std::optional<Problem> check(const Event& event);
  [[nodiscard]] Turn turn_of(const Choice& chosen) const;
  [[nodiscard]] bool tells_nothing(const moves::Move& move) const;
  [[nodiscard]] std::string words_of(const Choice& choice) const;
  [[nodiscard]] std::vector<Shift> shifts_of(const moves::Move& move,
                                             const std::vector<Group>& groups,
                                             const std::vector<double>& before) const;
  [[nodiscard]] bool sound_once_put_back() const;
  void find_parts(Score& score) const;
  void plan();

  DrillCase given_;
  plan::Depth depth_;
  std::size_t listener_ = 0;
  std::unique_ptr<guide::Case> case_;
  std::unique_ptr<guide::Track> track_;
  std::unique_ptr<Values> values_;
  simulate::Truth truth_;
  simulate::Truth at_start_;
  std::vector<Event> events_;
  std::vector<Turn> turns_;
  std::vector<Claim> claims_;
  Hint hint_ = Hint::none;
  Stage stage_ = Stage::under_way;
  double ideal_ = 0;
  std::vector<std::string> checks_;
};

/// The seed of what the room answers to the move of that number (from 0): of the case and the
/// number alone, so that nothing else that is asked of the program changes an answer.
[[nodiscard]] std::uint64_t seed_of_answer(std::uint64_t seed, std::size_t number);

}  // namespace whichlink::drill
