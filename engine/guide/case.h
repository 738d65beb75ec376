#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "guide/case_file.h"
#include "guide/course.h"

namespace whichlink::guide {

/// A suspect as people are shown it.
struct Suspect {
  std::optional<FaultId> fault;  ///< absent: crossed plugs
  std::string name;              ///< as in tables
  std::string words;
  std::string family;
  double chance = 0;
};

/// How a case ended, for the closing page.
struct Ending {
  Stage stage = Stage::under_way;
  std::vector<Suspect> causes;                ///< what was there at the start, likeliest first
  std::vector<Suspect> all_causes;            ///< the same, the unlikely ones among them
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
  [[nodiscard]] const moves::Standing& standing() const { return course_->standing(); }
  [[nodiscard]] const plan::CaseBelief& belief() const { return course_->belief(); }
  [[nodiscard]] const std::vector<Step>& steps() const { return course_->steps(); }
  [[nodiscard]] std::vector<std::string> cannot() const { return course_->track().cannot(); }
  [[nodiscard]] double minutes_spent() const { return course_->track().minutes_spent(); }

  [[nodiscard]] plan::Picture picture() const { return belief().picture(standing()); }
  /// Suspects on the route as it was at the start and on parts put in since, likeliest first, now.
  [[nodiscard]] std::vector<Suspect> suspects(const plan::Picture& picture) const;
  /// @param depth  how far to search ahead
  [[nodiscard]] Advice advise(const plan::Depth& depth = {}) const {
    return course_->advise(aim_, depth);
  }
  [[nodiscard]] Ending ending(Stage stage) const;

 private:
  Case(const moves::Installation& installation, CaseFile events);
  [[nodiscard]] std::optional<Problem> begin();

  moves::Setting setting_;
  CaseFile events_;
  plan::Aim aim_ = plan::Aim::time;
  std::unique_ptr<Course> course_;
};

/// The weights of a report on a route's sense; a problem if it means nothing there.
[[nodiscard]] Result<moves::ReportWeights> weights_of(const faults::Sense& sense,
                                                      const Report& report, const Place& place);

}  // namespace whichlink::guide
