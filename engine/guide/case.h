#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "guide/case_file.h"
#include "plan/case_belief.h"
#include "plan/planner.h"

namespace whichlink::guide {

/// A suspect as people are shown it.
struct Suspect {
  std::optional<FaultId> fault;  ///< absent: crossed plugs
  std::string name;              ///< as in tables
  std::string words;
  std::string family;
  double chance = 0;
};

/// What the case has come to.
enum class Stage { under_way, mended, nothing_found, handed_over };

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

/// How a case ended, for the closing page.
struct Ending {
  Stage stage = Stage::under_way;
  std::vector<Suspect> causes;                ///< what was there at the start, likeliest first
  std::vector<std::string> repairs;           ///< what was done that may have mended it, in order
  std::vector<std::string> verified;          ///< stresses it stood since, in order
  std::vector<std::string> put_back;          ///< what is not where it belongs, and where it goes
  std::vector<std::string> needs_after;       ///< before the route is used again
  std::vector<std::string> throw_out;         ///< bad parts
  std::vector<std::string> return_to_drawer;  ///< spares that were only tried
  std::vector<std::string>
      works_meanwhile;                  ///< routes that share no suspect part, or were heard steady
  std::vector<std::string> do_not_use;  ///< routes that may be affected
  std::vector<std::string> ruled_out;  ///< for service: what can no longer be the cause (or hardly)
  std::vector<std::string> cautions;
  double still_wrong = 0;
  double unlisted = 0;
};

/// One guided isolation. Its state is the fold of its events: the same events always lead to the
/// same advice. Keeps a reference to the installation.
class Case {
 public:
  /// Replays the events; complains of names that mean nothing, moves that were not possible, and
  /// reports that cannot be.
  [[nodiscard]] static Result<std::unique_ptr<Case>> open(const moves::Installation& installation,
                                                          CaseFile events);

  /// Takes one answer in. On a problem nothing changes.
  [[nodiscard]] std::optional<Problem> answer(const Done& done);
  /// Takes the last answer back; false if there is none.
  bool take_back();

  [[nodiscard]] const CaseFile& events() const { return events_; }
  [[nodiscard]] const moves::Setting& setting() const { return setting_; }
  [[nodiscard]] const moves::Standing& standing() const { return standing_; }
  [[nodiscard]] const plan::CaseBelief& belief() const { return *belief_; }
  [[nodiscard]] const std::vector<Step>& steps() const { return steps_; }
  [[nodiscard]] std::vector<std::string> cannot() const;
  [[nodiscard]] double minutes_spent() const;

  [[nodiscard]] plan::Picture picture() const { return belief_->picture(standing_); }
  /// Suspects on the route as it was at the start and on parts put in since, likeliest first, now.
  [[nodiscard]] std::vector<Suspect> suspects(const plan::Picture& picture) const;
  [[nodiscard]] Advice advise() const;
  [[nodiscard]] Ending ending(Stage stage) const;

 private:
  Case(const moves::Installation& installation, CaseFile events);
  [[nodiscard]] std::optional<Problem> begin();
  [[nodiscard]] std::optional<moves::Move> verification() const;
  [[nodiscard]] bool verified() const;
  [[nodiscard]] bool heard_wrong() const;
  [[nodiscard]] std::vector<std::string> worn_out() const;

  moves::Setting setting_;
  CaseFile events_;
  std::size_t listener_ = 0;
  RouteId route_;
  moves::Standing standing_;
  std::unique_ptr<plan::CaseBelief> belief_;
  std::vector<Step> steps_;
};

/// The weights of a report on a route's sense; a problem if it means nothing there.
[[nodiscard]] Result<moves::ReportWeights> weights_of(const faults::Sense& sense,
                                                      const Report& report, const Place& place);

inline const std::string kNotSure = "not sure";
inline const std::string kCannotDo = "cannot do";
/// Nobody makes the same move with the same result once more after so many times.
constexpr std::size_t kMostRepeats = 3;
/// A case that has taken this many moves is handed over.
constexpr std::size_t kMostMoves = 60;

}  // namespace whichlink::guide
