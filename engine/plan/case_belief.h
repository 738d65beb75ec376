#pragma once

#include <functional>
#include <string>
#include <vector>

#include "belief/belief.h"
#include "belief/forecaster.h"
#include "belief/set_belief.h"
#include "moves/arrangement.h"

namespace whichlink::plan {

/// What one report to a move would mean, over all arrangements.
struct PredictedOutcome {
  double chance = 0;
  std::vector<double> present;  ///< by fault: present after the move, given the report
  double crossed = 0;           ///< chance that plugs of the pair are still crossed
  double something_wrong = 0;  ///< chance that the route, once everything is put back, is not sound
};

using Prediction = std::vector<PredictedOutcome>;

/// A move under one way in which things may really be plugged.
struct Asked {
  belief::ReadQuestion question;
  bool crossed = false;  ///< plugs of the pair are crossed after it
};
/// By hypothesis; null for those that are too light to be asked.
using AskedOfAll = std::vector<const Asked*>;
/// What the reports to a move are like.
struct Reports {
  std::vector<std::vector<double>> chances;  ///< by hypothesis that was asked, by outcome
  /// Bits that the report has of its own, if the worst that can be heard and the arrangement are
  /// known.
  double noise = 0;
};

/// One way things may really be plugged, with the belief that goes with it.
struct Hypothesis {
  moves::Arrangement arrangement;
  chain::Patching real;
  std::vector<belief::Slice> slices;
  belief::SetBelief belief;
  double weight = 0;  ///< posterior
};

/// The exact posterior of a case as people are shown it.
struct Picture {
  std::vector<belief::StateVector> marginal;  ///< by fault, now
  double crossed = 0;                         ///< chance that plugs of the pair are crossed now
  double something_wrong = 0;  ///< chance that the route, once everything is put back, is not sound
  double unlisted = 0;         ///< chance that a cause that is not listed is present on the route
  double left_out = 0;         ///< bound on what was left out; 0 when exact
  double digits_lost = 0;
  double log_evidence = 0;
  bool exact = true;
};

/// What is believed in one case: a mixture over arrangements, updated move by move. A report that
/// every arrangement excludes leaves possible() false.
class CaseBelief {
 public:
  CaseBelief(const moves::Setting& setting, RouteId route, std::size_t listener,
             const moves::ReportWeights& complaint);
  /// @param standing  where things stood before the move
  void take_in(const moves::Standing& standing, const moves::Move& move,
               const moves::ReportWeights& report);
  /// What a move asks, by how things are really plugged before it; stays until the next is asked.
  using QuestionOf = std::function<const belief::Question&(const chain::Patching& real)>;
  /// The same, for who knows what the move asks.
  void take_in(const moves::Standing& standing, const moves::Move& move,
               const moves::ReportWeights& report, const QuestionOf& question);
  [[nodiscard]] Prediction predict(const moves::Standing& standing, const moves::Move& move) const;
  /// Mutual information between the report and what is wrong before the move, in bits.
  [[nodiscard]] double bits(const moves::Standing& standing, const moves::Move& move) const;
  /// The same for a move that is known as numbers already.
  /// @param wanted  PredictedOutcome::present is of these alone, in their order
  /// @param prediction  is filled, and so are reports
  void predict(const AskedOfAll& asked, const std::vector<bool>& matters,
               const belief::Wanted& wanted, Prediction& prediction, Reports& reports,
               belief::Forecaster& buffers) const;
  /// @param reports  as predict filled it
  [[nodiscard]] double bits(const AskedOfAll& asked, const Reports& reports,
                            belief::Forecaster& buffers) const;
  /// No less than those, where every fault on the way was heard of before; infinity where not: what
  /// the report tells of the worst that can be heard, which tells all that there is of the faults.
  /// @param prediction  as predict gave it
  [[nodiscard]] double most_bits(const AskedOfAll& asked, const Prediction& prediction,
                                 const Reports& reports) const;
  /// The same, rougher, to weigh moves by: without sets of at most this share, and without what was
  /// reported, so that no picture comes of it.
  [[nodiscard]] CaseBelief thinned(double share) const;
  /// Whether it is heavy enough to be asked of a move.
  [[nodiscard]] static bool is_asked(const Hypothesis& one);
  [[nodiscard]] Picture picture(const moves::Standing& standing) const;
  [[nodiscard]] bool possible() const { return possible_; }
  [[nodiscard]] const std::vector<Hypothesis>& hypotheses() const { return hypotheses_; }
  [[nodiscard]] std::size_t fault_count() const { return setting_.faults().size(); }
  [[nodiscard]] std::size_t listener() const { return listener_; }
  /// Chance that the route is not sound once everything is put back (from the working belief).
  [[nodiscard]] double something_wrong(const moves::Standing& standing) const;
  /// By fault: present now (from the working belief, mixed over arrangements).
  [[nodiscard]] std::vector<double> present_now() const;
  /// Chance that one or more of these faults (a mask by fault) is present now: exact within the
  /// working belief, in which the faults of a part know of each other.
  [[nodiscard]] double any_now(const std::vector<bool>& about) const;
  [[nodiscard]] double crossed_now(const moves::Standing& standing) const;
  /// Chance that each of these faults was there when the complaint was made, given everything
  /// since.
  [[nodiscard]] std::vector<double> present_at_start(const std::vector<FaultId>& faults) const;
  /// The same for each arrangement with crossed plugs, in the order of hypotheses().
  [[nodiscard]] std::vector<double> arranged_at_start() const;

 private:
  CaseBelief(const CaseBelief& thick, double share);
  void reweigh();
  [[nodiscard]] std::vector<Asked> ask(const moves::Standing& standing,
                                       const moves::Move& move) const;

  const moves::Setting& setting_;
  RouteId route_;
  std::size_t listener_;
  std::vector<Hypothesis> hypotheses_;
  bool possible_ = true;
};

/// The move as numbers, things being plugged like `real` before it.
[[nodiscard]] Asked ask(const moves::Setting& setting, const moves::Standing& standing,
                        const moves::Move& move, const moves::Standing& next,
                        const chain::Patching& real, std::size_t listener);
/// The patching once the temporary change is undone; spares that are in stay in.
[[nodiscard]] chain::Patching settled(const moves::Setting& setting,
                                      const moves::Standing& standing);
/// The standing once that is done, and the person is back where they started.
[[nodiscard]] moves::Standing all_put_back(const moves::Setting& setting, moves::Standing standing);
/// A mask by fault: those on the route's way once everything is put back.
[[nodiscard]] std::vector<bool> faults_that_matter(const moves::Setting& setting,
                                                   const moves::Standing& standing);
/// A mask by fault: those of one element, or of all elements of one part.
[[nodiscard]] std::vector<bool> faults_in(const moves::Setting& setting, ElementId element);
[[nodiscard]] std::vector<bool> faults_in(const moves::Setting& setting, PartId part);

}  // namespace whichlink::plan
