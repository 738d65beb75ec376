#include <set>

#include "flat/support.h"

// The file of each shipped installation, read back, against the moves themselves.
namespace whichlink::testing {
namespace {

using moves::Move;
using moves::Standing;

struct Shipped {
  const char* model;
  const char* route;
};

class Files : public ::testing::TestWithParam<Shipped> {
 protected:
  const Written written_{GetParam().model, GetParam().route, {}};
  const PomdpFile& file_ = written_.file;
  const flat::Process& process_ = written_.process;
  const moves::Setting& setting_ = written_.shop.setting;

  [[nodiscard]] const Standing& standing_of(std::size_t state) const {
    return process_.grounds
        .standings[process_.grounds.grounds[process_.states[state].ground].standing];
  }
  [[nodiscard]] const chain::Patching& real_of(std::size_t state) const {
    return process_.grounds.grounds[process_.states[state].ground].real;
  }
  // Price of the parts that are in, and the way back.
  [[nodiscard]] double leaving(const Standing& standing) const {
    double minutes = moves::put_back_minutes(setting_, standing);
    for (const moves::Substitute& one : standing.substituted) {
      const PartKindId kind = setting_.chain().parts[one.out].kind;
      minutes += setting_.rules().part_kinds[kind].price_minutes;
    }
    return minutes;
  }
  [[nodiscard]] bool sound(std::size_t state) const {
    const Standing& standing = standing_of(state);
    if (!(real_of(state).plug_in == standing.patching.plug_in)) return false;
    chain::Patching settled = standing.patching;
    if (standing.temporary) {
      settled = moves::with_changes(setting_.chain(), settled, standing.temporary->back);
    }
    const auto path = setting_.tracer().trace(standing.route, settled).path;
    const std::vector<FaultId> there = setting_.faults_on(path, standing.route);
    for (std::size_t index = 0; index < process_.faults.size(); ++index) {
      const bool matters =
          std::find(there.begin(), there.end(), process_.faults[index]) != there.end();
      if (matters && process_.states[state].faults[index] != belief::kAbsent) return false;
    }
    return true;
  }
};

double sum(const SparseRow& row) {
  double total = 0;
  for (const auto& [index, chance] : row) {
    EXPECT_GE(chance, 0);
    total += chance;
  }
  return total;
}

TEST_P(Files, HaveRowsThatAddUpToOne) {
  ASSERT_FALSE(file_.next.empty());
  double start = 0;
  for (const double chance : file_.start) start += chance;
  EXPECT_NEAR(start, 1, 1e-9);
  for (std::size_t action = 0; action < file_.actions.size(); ++action) {
    for (std::size_t state = 0; state < file_.states.size(); ++state) {
      ASSERT_NEAR(sum(file_.next[action][state]), 1, 1e-9) << action << " " << state;
      ASSERT_NEAR(sum(file_.reports[action][state]), 1, 1e-9) << action << " " << state;
    }
  }
}

TEST_P(Files, NameEverythingOnceAndSayWhatItIs) {
  EXPECT_EQ(file_.values, "reward");
  EXPECT_DOUBLE_EQ(file_.discount, 0.999999);
  EXPECT_EQ(file_.states.size(), process_.states.size() + 1);
  EXPECT_EQ(file_.actions.size(), process_.moves.size() + 2);
  EXPECT_EQ(file_.observations.size(), process_.observations.size() + 1);
  EXPECT_EQ(file_.states.back(), "end");
  EXPECT_EQ(file_.observations.back(), "nothing");
  std::size_t explained = 0;
  for (const auto* names : {&file_.states, &file_.actions, &file_.observations}) {
    for (const std::string& name : *names) explained += file_.meaning.count(name);
  }
  const std::size_t plain = 4;  // end, close, service and nothing
  EXPECT_EQ(explained + plain,
            file_.states.size() + file_.actions.size() + file_.observations.size());
  const std::set<std::string> once(process_.moves.begin(), process_.moves.end());
  EXPECT_EQ(once.size(), process_.moves.size());
}

TEST_P(Files, EndForGoodAtNoCost) {
  const std::size_t end = file_.states.size() - 1;
  const std::size_t nothing = file_.observations.size() - 1;
  for (std::size_t action = 0; action < file_.actions.size(); ++action) {
    EXPECT_EQ(file_.next[action][end], (SparseRow{{end, 1}}));
    EXPECT_EQ(file_.reports[action][end], (SparseRow{{nothing, 1}}));
    EXPECT_EQ(file_.reward[action][end], 0);
  }
  EXPECT_EQ(file_.start[end], 0);
}

TEST_P(Files, PriceClosingAndServiceAsTheRulesDo) {
  const std::size_t close = file_.action("close");
  const std::size_t service = file_.action("service");
  const faults::Prices& prices = setting_.installation().prices;
  const std::size_t end = file_.states.size() - 1;
  std::size_t sound_states = 0;
  for (std::size_t state = 0; state < end; ++state) {
    const double leaving_minutes = leaving(standing_of(state));
    const double missed = sound(state) ? 0 : prices.miss_minutes;
    sound_states += sound(state) ? 1 : 0;
    EXPECT_DOUBLE_EQ(file_.reward[close][state], -(leaving_minutes + missed));
    EXPECT_DOUBLE_EQ(file_.reward[service][state], -(leaving_minutes + prices.service_minutes));
    EXPECT_EQ(file_.next[close][state], (SparseRow{{end, 1}}));
    EXPECT_EQ(file_.next[service][state], (SparseRow{{end, 1}}));
  }
  EXPECT_GE(sound_states, 1U);
  EXPECT_LT(sound_states, end);
}

TEST_P(Files, MakeWhatIsNoMoveDearerThanService) {
  const std::size_t end = file_.states.size() - 1;
  const double miss = setting_.installation().prices.miss_minutes;
  const std::size_t service = file_.action("service");
  std::size_t impossible = 0;
  for (std::size_t action = 0; action < process_.moves.size(); ++action) {
    for (std::size_t state = 0; state < end; ++state) {
      const auto move = moves::find_move(setting_, standing_of(state), process_.moves[action]);
      if (move && file_.next[action][state].count(end) == 0) continue;
      ++impossible;
      EXPECT_EQ(file_.next[action][state], (SparseRow{{end, 1}}));
      EXPECT_NEAR(file_.reward[action][state], file_.reward[service][state] - miss, 1e-9);
    }
  }
  EXPECT_GE(impossible, 1U);
}

// Where each fault may be after the move, as a product: the chance of one whole set.
double chance_of(const std::vector<belief::StateMatrix>& matrices, const flat::FaultStates& from,
                 const flat::FaultStates& to) {
  double chance = 1;
  for (std::size_t index = 0; index < from.size(); ++index) {
    chance *= matrices[index][from[index]][to[index]];
  }
  return chance;
}

double written_in(const SparseRow& row, std::size_t place) {
  const auto found = row.find(place);
  return found == row.end() ? 0 : found->second;
}

/// One move from one state, asked of the moves and looked up in the file.
class Comparison {
 public:
  Comparison(const Written& written, std::size_t state, const Move& move)
      : process_(written.process),
        network_(written.shop.setting.network()),
        move_(move),
        from_(process_.states[state].faults),
        row_(written.file.next[written.file.action(move.name)][state]),
        reports_(written.file.reports[written.file.action(move.name)]) {
    const flat::Ground& ground = process_.grounds.grounds[process_.states[state].ground];
    question_ = moves::question_of(
        written.shop.setting, process_.grounds.standings[ground.standing], move, ground.real, 0);
    sets_ = process_.states.size() / process_.grounds.grounds.size();
    to_ = row_.begin()->first / sets_ * sets_;
  }

  /// The first state of the ground that the move leads to.
  [[nodiscard]] std::size_t to() const { return to_; }

  void expect_moves() const {
    std::vector<belief::StateMatrix> matrices(process_.faults.size(), belief::kIdentity);
    for (std::size_t index = 0; index < matrices.size(); ++index) {
      for (const belief::Transition& one : question_.transitions) {
        if (one.fault == process_.faults[index].value) matrices[index] = one.matrix;
      }
    }
    double kept = 0;
    for (std::size_t state = to_; state < to_ + sets_; ++state) {
      kept += chance_of(matrices, from_, process_.states[state].faults);
    }
    for (std::size_t state = to_; state < to_ + sets_; ++state) {
      const double expected = chance_of(matrices, from_, process_.states[state].faults) / kept;
      ASSERT_NEAR(written_in(row_, state), expected, 1e-12) << move_.name;
    }
  }

  void expect_reports() const {
    for (std::size_t state = to_; state < to_ + sets_; ++state) {
      const std::vector<double> chances = reports_after(process_.states[state].faults);
      double mentioned = 0;
      for (std::size_t what = 0; what < process_.observations.size(); ++what) {
        if (process_.observations[what].sense.value != question_.sense) continue;
        const double chance = written_in(reports_[state], what);
        ASSERT_NEAR(chance, chances[process_.observations[what].outcome], 1e-12) << move_.name;
        mentioned += chance;
      }
      ASSERT_NEAR(mentioned, 1, 1e-9) << move_.name;
    }
  }

 private:
  // By the plain formula of the worst draw.
  [[nodiscard]] std::vector<double> reports_after(const flat::FaultStates& states) const {
    std::vector<double> chances(question_.report.front().size(), 0.0);
    double below = 0;
    for (std::size_t severity = 0; severity < question_.report.size(); ++severity) {
      double at_most = question_.leak_at_most[severity];
      for (const std::uint32_t fault : question_.path) {
        for (std::size_t index = 0; index < states.size(); ++index) {
          if (process_.faults[index].value != fault || states[index] != belief::kShowing) continue;
          at_most *= network_.at_most[question_.sense][fault][severity];
        }
      }
      for (std::size_t outcome = 0; outcome < chances.size(); ++outcome) {
        chances[outcome] += (at_most - below) * question_.report[severity][outcome];
      }
      below = at_most;
    }
    return chances;
  }

  const flat::Process& process_;
  const belief::Network& network_;
  const Move& move_;
  const flat::FaultStates& from_;
  const SparseRow& row_;
  const std::vector<SparseRow>& reports_;
  belief::Question question_;
  std::size_t sets_ = 0;
  std::size_t to_ = 0;
};

TEST_P(Files, MoveAndReportAsTheMovesThemselvesSay) {
  std::size_t compared = 0;
  for (std::size_t state = 0; state < process_.states.size(); ++state) {
    const Standing& standing = standing_of(state);
    for (const Move& move : moves::derive_moves(setting_, standing)) {
      const std::size_t action = file_.action(move.name);
      if (action == file_.actions.size()) continue;
      if (file_.next[action][state].count(process_.end()) > 0) continue;
      const Comparison comparison(written_, state, move);
      comparison.expect_moves();
      comparison.expect_reports();
      EXPECT_DOUBLE_EQ(file_.reward[action][state], -move.minutes);
      const std::size_t to = comparison.to();
      EXPECT_TRUE(real_of(to) == moves::patched_after(setting_, standing, move, real_of(state)));
      EXPECT_TRUE(standing_of(to).patching == moves::after(setting_, standing, move).patching);
      ASSERT_FALSE(HasFailure());
      ++compared;
    }
  }
  EXPECT_GE(compared, 500U);
}

INSTANTIATE_TEST_SUITE_P(Shipped, Files,
                         ::testing::Values(Shipped{"two-room-booth", "left phone"},
                                           Shipped{"single-room", "left phone"},
                                           Shipped{"screening-set", "left phone"},
                                           Shipped{"small-stage", "left vocal"}));

}  // namespace
}  // namespace whichlink::testing
