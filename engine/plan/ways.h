#pragma once

#include <list>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "plan/case_belief.h"
#include "plan/outlook.h"

namespace whichlink::plan {

/// A move, and all that does not hang on what is believed.
struct Way {
  moves::Move move;
  moves::Standing next;
  double put_back_minutes = 0;      ///< from `next`
  std::vector<bool> matters;        ///< faults_that_matter in `next`
  belief::Wanted wanted;            ///< the same
  Outlook* outlook = nullptr;       ///< from `next`
  bool tells_of_the_route = false;  ///< what the complaint's route itself sounds like
  bool repairs = false;             ///< it may mend something for good
  /// By way in which things may really be plugged, where all moves were not asked of.
  std::list<std::pair<chain::Patching, belief::Question>> questions;
};

/// A way, weighed by what is believed.
struct Weighed {
  const Way* way = nullptr;
  AskedOfAll asked;
  Prediction prediction;
  Reports reports;
  bool idle = false;  ///< as of Candidate, and so is expected_minutes
  double expected_minutes = 0;
};

/// The moves of one standing, in the order of derive_moves.
struct Ways {
  moves::Standing standing;
  double put_back_minutes = 0;
  Outlook* outlook = nullptr;
  std::vector<Way> ways;
  /// By way in which things may really be plugged, then by move.
  std::list<std::pair<chain::Patching, std::vector<Asked>>> asked;
};

/// Finds the ways on from each standing once, whatever is believed there: for who plans many steps
/// of many cases of one complaint. What it gives is of the same numbers as if it were found anew.
/// For one thread; forgets everything when it holds too much.
class KnownWays {
 public:
  /// The setting must outlive it.
  /// @param minutes_each  as of Outlook
  KnownWays(const moves::Setting& setting, std::size_t listener,
            std::optional<double> minutes_each);
  /// Stays until the next call.
  Ways& at(const moves::Standing& standing);
  /// By move; stays as long as `ways`.
  const std::vector<Asked>& asked(Ways& ways, const chain::Patching& real);

  /// moves::question_of; stays until the next call. Found anew each time for a move that is not one
  /// of the ways on from here.
  const belief::Question& question(const moves::Standing& standing, const moves::Move& move,
                                   const chain::Patching& real);

  /// No move from here costs less, with what must be put back after it; infinity without a move.
  [[nodiscard]] double least_minutes(const Ways& ways) const;
  [[nodiscard]] belief::Forecaster& buffers() { return buffers_; }
  /// Room for so many, whose vectors keep theirs.
  [[nodiscard]] std::vector<Weighed>& weighed(std::size_t count) {
    if (weighed_.size() < count) weighed_.resize(count);
    return weighed_;
  }
  [[nodiscard]] std::optional<double> minutes_each() const { return minutes_each_; }

 private:
  Outlook* outlook_at(const moves::Standing& standing);

  const moves::Setting& setting_;
  std::size_t listener_;
  std::optional<double> minutes_each_;
  std::list<Ways> ways_;
  /// Standings share their outlook wherever they are the same once everything is put back.
  std::vector<std::pair<moves::Standing, std::unique_ptr<Outlook>>> outlooks_;
  std::size_t held_ = 0;  ///< lists of questions
  belief::Forecaster buffers_;
  std::vector<Weighed> weighed_;
  belief::Question none_of_the_ways_;  ///< of a move that is none of the ways
};

}  // namespace whichlink::plan
