#include <cmath>
#include <limits>

#include "belief/set_belief.h"
#include "flat/support.h"
#include "search/search.h"

// The least expected minutes within a few moves, reckoned twice: from the file alone, and from the
// moves and the belief over sets of faults, which know nothing of the file.
namespace whichlink::testing {
namespace {

using moves::Standing;

/// From the file: beliefs over its states, every action tried, possible or not.
class FromTheFile {
 public:
  explicit FromTheFile(const PomdpFile& file) : file_(file) {}

  [[nodiscard]] double least(const SparseRow& belief, int moves) const {
    if (belief.size() == 1 && belief.begin()->first + 1 == file_.states.size()) return 0;
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t action = 0; action < file_.actions.size(); ++action) {
      const bool ends = file_.actions[action] == "close" || file_.actions[action] == "service";
      if (moves == 0 && !ends) continue;
      best = std::min(best, minutes(belief, action, moves));
    }
    return best;
  }

 private:
  [[nodiscard]] double minutes(const SparseRow& belief, std::size_t action, int moves) const {
    double sum = 0;
    SparseRow after;
    for (const auto& [state, chance] : belief) {
      sum -= chance * file_.reward[action][state];
      for (const auto& [to, share] : file_.next[action][state]) after[to] += chance * share;
    }
    std::map<std::size_t, SparseRow> heard;
    for (const auto& [state, chance] : after) {
      for (const auto& [what, share] : file_.reports[action][state]) {
        heard[what][state] += chance * share;
      }
    }
    for (auto& [what, joint] : heard) {
      double total = 0;
      for (const auto& [state, chance] : joint) total += chance;
      for (auto& [state, chance] : joint) chance /= total;
      sum += total * least(joint, moves - 1);
    }
    return sum;
  }

  const PomdpFile& file_;
};

/// From the moves: one belief over sets of the kept faults for each way of being plugged.
class FromTheMoves {
 public:
  explicit FromTheMoves(const Written& written)
      : setting_(written.shop.setting),
        faults_(written.process.faults),
        standings_(written.process.grounds.standings) {
    for (const FaultId fault : faults_) {
      network_.prior.push_back(setting_.network().prior[fault.value]);
    }
    for (const auto& rows : setting_.network().at_most) {
      network_.at_most.emplace_back();
      for (const FaultId fault : faults_) network_.at_most.back().push_back(rows[fault.value]);
    }
  }

  [[nodiscard]] double least(const Written& written, int moves) const {
    std::vector<Hypothesis> all;
    const SignalId signal = setting_.chain().routes[written.route].signal;
    const SenseId sense = setting_.rules().signals[signal].sense;
    for (const moves::Arrangement& one : moves::arrangements_of(setting_, written.route)) {
      Hypothesis hypothesis{one.prior, one.patching,
                            belief::SetBelief(network_, faults_.size(), 0)};
      hypothesis.take_in(cut(moves::answered(
          moves::complaint_of(setting_, written.route, one.patching, 0), written.complaint)));
      hypothesis.take_in(cut(moves::settling(setting_, sense)));
      all.push_back(hypothesis);
    }
    double total = 0;
    for (const Hypothesis& one : all) total += one.weight;
    for (Hypothesis& one : all) one.weight /= total;
    return least(all, standings_.front(), moves);
  }

 private:
  struct Hypothesis {
    double weight;
    chain::Patching real;
    belief::SetBelief belief;

    void take_in(const belief::Slice& slice) {
      if (weight <= 0) return;
      const double before = belief.log_evidence();
      belief.apply(slice);
      weight *= std::exp(belief.log_evidence() - before);
    }
  };

  // Only the kept faults, by their own numbers.
  [[nodiscard]] belief::Slice cut(const belief::Slice& slice) const {
    belief::Slice out = slice;
    out.transitions.clear();
    out.hearing.path.clear();
    for (std::uint32_t index = 0; index < faults_.size(); ++index) {
      for (const belief::Transition& one : slice.transitions) {
        if (one.fault == faults_[index].value) out.transitions.push_back({index, one.matrix});
      }
      for (const std::uint32_t fault : slice.hearing.path) {
        if (fault == faults_[index].value) out.hearing.path.push_back(index);
      }
    }
    return out;
  }

  [[nodiscard]] bool kept(const Standing& standing) const {
    return std::any_of(standings_.begin(), standings_.end(), [&](const Standing& one) {
      return one.place == standing.place && one.patching == standing.patching &&
             one.temporary.has_value() == standing.temporary.has_value() &&
             one.substituted.size() == standing.substituted.size();
    });
  }

  [[nodiscard]] double something_wrong(const std::vector<Hypothesis>& all,
                                       const Standing& standing) const {
    chain::Patching settled = standing.patching;
    if (standing.temporary) {
      settled = moves::with_changes(setting_.chain(), settled, standing.temporary->back);
    }
    const auto path = setting_.tracer().trace(standing.route, settled).path;
    std::vector<bool> matters;
    const std::vector<FaultId> there = setting_.faults_on(path, standing.route);
    for (const FaultId fault : faults_) {
      matters.push_back(std::find(there.begin(), there.end(), fault) != there.end());
    }
    double wrong = 0;
    for (const Hypothesis& one : all) {
      const bool crossed = !(one.real.plug_in == standing.patching.plug_in);
      wrong += one.weight * (crossed ? 1 : 1 - one.belief.none_of(matters));
    }
    return wrong;
  }

  [[nodiscard]] double least(const std::vector<Hypothesis>& all, const Standing& standing,
                             int moves) const {
    double leaving = moves::put_back_minutes(setting_, standing);
    for (const moves::Substitute& swap : standing.substituted) {
      const PartKindId kind = setting_.chain().parts[swap.out].kind;
      leaving += setting_.rules().part_kinds[kind].price_minutes;
    }
    const faults::Prices& prices = setting_.installation().prices;
    double best = leaving + std::min(prices.service_minutes,
                                     prices.miss_minutes * something_wrong(all, standing));
    if (moves == 0) return best;
    for (const moves::Move& move : moves::derive_moves(setting_, standing)) {
      const Standing next = moves::after(setting_, standing, move);
      if (kept(next)) best = std::min(best, minutes(all, standing, move, next, moves));
    }
    return best;
  }

  [[nodiscard]] double minutes(const std::vector<Hypothesis>& all, const Standing& standing,
                               const moves::Move& move, const Standing& next, int moves) const {
    std::vector<belief::Question> questions;
    for (const Hypothesis& one : all) {
      questions.push_back(moves::question_of(setting_, standing, move, one.real, 0));
    }
    const faults::Sense& sense = setting_.rules().senses[move.sense];
    double sum = move.minutes;
    for (std::size_t outcome = 0; outcome < questions.front().report.front().size(); ++outcome) {
      std::vector<Hypothesis> heard = all;
      double total = 0;
      for (std::size_t index = 0; index < heard.size(); ++index) {
        heard[index].real = moves::patched_after(setting_, standing, move, heard[index].real);
        heard[index].take_in(
            cut(moves::answered(questions[index], moves::weights_of_outcome(sense, outcome))));
        total += heard[index].weight;
      }
      if (total <= 0) continue;
      for (Hypothesis& one : heard) one.weight /= total;
      sum += total * least(heard, next, moves - 1);
    }
    return sum;
  }

  const moves::Setting& setting_;
  const std::vector<FaultId>& faults_;
  const std::vector<Standing>& standings_;
  belief::Network network_;
};

void expect_agreement(const Written& written, int moves) {
  SparseRow start;
  for (std::size_t state = 0; state < written.file.start.size(); ++state) {
    if (written.file.start[state] > 0) start[state] = written.file.start[state];
  }
  const double from_file = FromTheFile(written.file).least(start, moves);
  const double from_moves = FromTheMoves(written).least(written, moves);
  EXPECT_NEAR(from_file, from_moves, 1e-9) << moves << " moves";
  // A case that is worth a move: without one it costs more.
  EXPECT_LT(from_file, FromTheFile(written.file).least(start, moves - 1) - 1e-3);
}

// What the search says of the case, against plain expansion of the file. More than three moves save
// less than a thousandth of a minute here, so both bounds must come that near.
TEST(Value, OfThreeMovesIsWhatTheSearchFinds) {
  for (const char* room : {"single-room", "screening-set"}) {
    const Written written(room, "left phone", {2, 1, 1});
    SparseRow start;
    for (std::size_t state = 0; state < written.file.states.size(); ++state) {
      if (written.file.start[state] > 0) start[state] = written.file.start[state];
    }
    const search::Process numbers = written.process.numbers();
    search::Search search(numbers);
    search.refine(1e-3, 100'000'000);
    const search::Answer answer = search.answer();
    const double expanded = FromTheFile(written.file).least(start, 3);
    EXPECT_NEAR(answer.lower, expanded, 2e-3) << room;
    EXPECT_NEAR(answer.upper, expanded, 2e-3) << room;
    EXPECT_LE(answer.lower, expanded + 1e-9) << room;
  }
}

TEST(Value, OfTwoMovesIsThatOfTheMovesThemselves) {
  expect_agreement(Written("single-room", "left phone", {3, 3, 3}), 2);
}

TEST(Value, OfOneMoveIsThatOfTheMovesThemselvesWhereSparesAreIn) {
  expect_agreement(Written("two-room-booth", "left phone", {3, 3, 10}), 1);
}

TEST(Value, OfTwoMovesIsThatOfTheMovesThemselvesInAnotherTrade) {
  expect_agreement(Written("small-stage", "left vocal", {2, 2, 2}), 2);
}

}  // namespace
}  // namespace whichlink::testing
