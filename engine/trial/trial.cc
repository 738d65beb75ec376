#include "trial/trial.h"

#include <algorithm>
#include <atomic>
#include <mutex>

#include "base/cores.h"
#include "trial/memory.h"
#include "trial/player.h"

namespace whichlink::trial {
namespace {

bool was_bad(const moves::Setting& setting, PartId part, const simulate::Truth& truth) {
  const std::vector<ElementId>& elements = setting.chain().parts[part].elements;
  return std::any_of(elements.begin(), elements.end(), [&](ElementId element) {
    const std::vector<FaultId>& faults = setting.faults_of(element);
    return std::any_of(faults.begin(), faults.end(),
                       [&](FaultId fault) { return truth.states[fault.value] != belief::kAbsent; });
  });
}

Played priced(const moves::Setting& setting, const Drawn& drawn, const Game& game) {
  const faults::Prices& prices = setting.installation().prices;
  Played played;
  played.minutes = game.minutes + moves::put_back_minutes(setting, game.end);
  played.priced_minutes = played.minutes;
  played.moves = game.made.size();
  played.doubt = game.doubt;
  for (const moves::Substitute& swap : game.end.substituted) {
    const chain::Part& out = setting.chain().parts[swap.out];
    played.priced_minutes += setting.rules().part_kinds[out.kind].price_minutes;
    if (!was_bad(setting, swap.out, drawn.truth)) ++played.needless_parts;
  }
  played.service = game.stage == guide::Stage::handed_over;
  played.left_in = !played.service && game.is_left_wrong;
  if (played.service) played.priced_minutes += prices.service_minutes;
  if (played.left_in) played.priced_minutes += prices.miss_minutes;
  return played;
}

template <class Field>
std::vector<double> each(const std::vector<Played>& played, Field field) {
  std::vector<double> values;
  values.reserve(played.size());
  for (const Played& one : played) values.push_back(static_cast<double>(field(one)));
  return values;
}

void sum_up(Score& score) {
  const auto minutes = each(score.played, [](const Played& one) { return one.minutes; });
  score.mean_minutes = mean_of(minutes);
  score.median_minutes = quantile_of(minutes, .5);
  score.late_minutes = quantile_of(minutes, .95);
  score.mean_priced =
      mean_of(each(score.played, [](const Played& one) { return one.priced_minutes; }));
  score.mean_moves = mean_of(each(score.played, [](const Played& one) { return one.moves; }));
  score.needless_parts =
      mean_of(each(score.played, [](const Played& one) { return one.needless_parts; }));
  std::size_t service = 0;
  std::size_t left_in = 0;
  for (const Played& one : score.played) {
    service += one.service ? 1 : 0;
    left_in += one.left_in ? 1 : 0;
    score.most_moves = std::max(score.most_moves, one.moves);
  }
  score.service = share_of(service, score.played.size());
  score.left_in = share_of(left_in, score.played.size());
}

class Progress {
 public:
  Progress(const std::function<void(double)>& tell, std::size_t all)
      : tell_(tell), all_(static_cast<double>(all)) {}
  void one_more() {
    const std::scoped_lock lock(mutex_);
    ++done_;
    if (tell_) tell_(done_ / all_);
  }

 private:
  const std::function<void(double)>& tell_;
  std::mutex mutex_;
  double done_ = 0;
  double all_;
};

/// What all threads share. Each takes the next case, and plays every policy on it.
struct Trial {
  const moves::Setting& setting;
  const CaseDrawer& drawer;
  const Options& options;
  Progress progress;
  std::vector<Score>& scores;
  std::vector<Memory> memories;  ///< by policy
  std::atomic<std::size_t> next_case;
  std::mutex mutex;
  std::size_t cases;  ///< fewer than asked for where one could not be drawn
};

void play(Trial& trial) {
  constexpr std::uint64_t kApart = 1'000'003;  // seeds of one trial never meet those of the next
  const Options& options = trial.options;
  std::vector<Player> players;
  for (std::size_t index = 0; index < options.policies.size(); ++index) {
    players.emplace_back(trial.setting, options.complaint, options.policies[index], options.depth,
                         options.remember ? &trial.memories[index] : nullptr);
  }
  for (std::size_t number = trial.next_case++; number < options.cases; number = trial.next_case++) {
    const std::uint64_t seed = options.seed * kApart + number;
    const auto drawn = trial.drawer.draw(seed);
    if (!drawn) {
      const std::scoped_lock lock(trial.mutex);
      trial.cases = std::min(trial.cases, number);
      return;
    }
    for (std::size_t index = 0; index < players.size(); ++index) {
      trial.scores[index].played[number] =
          priced(trial.setting, *drawn, players[index].play(*drawn, seed));
    }
    trial.progress.one_more();
  }
}

}  // namespace

Outcome run(const moves::Setting& setting, const moves::Setting& truth, const Options& options,
            const std::function<void(double)>& progress) {
  Outcome outcome;
  for (const std::string& policy : options.policies) {
    outcome.scores.push_back(
        {policy, std::vector<Played>(options.cases), {}, {}, {}, {}, {}, {}, {}, {}, 0});
  }
  const CaseDrawer drawer(truth, options.complaint);
  Trial trial{setting,
              drawer,
              options,
              {progress, options.cases},
              outcome.scores,
              std::vector<Memory>(options.policies.size()),
              {},
              {},
              options.cases};
  on_every_core([&](std::size_t /*worker*/, std::size_t /*workers*/) { play(trial); });
  outcome.cases = trial.cases;
  for (Score& score : outcome.scores) {
    score.played.resize(outcome.cases);
    sum_up(score);
  }
  return outcome;
}

}  // namespace whichlink::trial
