#include "trial/trial.h"

#include <future>
#include <map>
#include <mutex>
#include <thread>

#include "moves/arrangement.h"

namespace whichlink::trial {
namespace {

// More would each plan again what the others have planned (judged).
constexpr std::size_t kMostThreads = 8;

/// What a fixed policy chooses after one sequence of reports, and where each next report leads.
struct Remembered {
  std::optional<Choice> choice;
  std::map<std::size_t, std::unique_ptr<Remembered>> next;  // by outcome
};

/// Plays the cases of one policy one after the other.
class Player {
 public:
  Player(const moves::Setting& setting, const Complaint& complaint, const std::string& policy,
         const plan::Depth& depth)
      : setting_(setting),
        complaint_(complaint),
        name_(policy),
        depth_(depth),
        policy_(policy_of(policy, 0, depth)) {}

  /// @param seed  of the case, for a policy that draws lots: so it plays the same in any company
  Played play(const Drawn& drawn, std::uint64_t seed) {
    if (!policy_->is_fixed()) policy_ = policy_of(name_, seed, depth_);
    simulate::Room room = drawn.room;
    const guide::Course& start = start_of(drawn.heard);
    std::optional<guide::Course> course;
    std::vector<Made> made;
    moves::Standing standing = start.standing();
    Played played;
    Remembered scratch;
    Remembered* here = policy_->is_fixed() ? &remembered_[drawn.heard] : &scratch;
    while (true) {
      if (!here->choice) {
        if (!course) course.emplace(caught_up(start, made));
        here->choice = policy_->next(*course);
      }
      const Choice& choice = *here->choice;
      if (choice.stage != guide::Stage::under_way) {
        played.doubt = choice.doubt;
        finish(choice.stage, standing, drawn, room, played);
        return played;
      }
      const moves::Move& move = *choice.move;
      const std::size_t outcome = room.respond(standing, move);
      played.minutes += move.minutes;
      ++played.moves;
      made.push_back({&move, outcome});
      if (course) take(*course, made.back());
      standing = moves::after(setting_, standing, move);
      std::unique_ptr<Remembered>& next = here->next[outcome];
      if (!next) next = std::make_unique<Remembered>();
      here = next.get();
    }
  }

 private:
  struct Made {
    const moves::Move* move;
    std::size_t outcome;
  };

  const guide::Course& start_of(std::size_t heard) {
    const auto found = starts_.find(heard);
    if (found != starts_.end()) return found->second;
    const SignalId signal = setting_.chain().routes[complaint_.route].signal;
    const faults::Sense& sense = setting_.rules().senses[setting_.rules().signals[signal].sense];
    return starts_
        .emplace(heard, guide::Course(setting_, complaint_.route, complaint_.listener,
                                      moves::weights_of_outcome(sense, heard)))
        .first->second;
  }

  void take(guide::Course& course, const Made& made) const {
    const faults::Sense& sense = setting_.rules().senses[made.move->sense];
    course.take(*made.move, {sense.outcome_name(made.outcome), std::nullopt},
                moves::weights_of_outcome(sense, made.outcome));
  }

  [[nodiscard]] guide::Course caught_up(const guide::Course& start,
                                        const std::vector<Made>& made) const {
    guide::Course course = start;
    for (const Made& one : made) take(course, one);
    return course;
  }

  void finish(guide::Stage stage, const moves::Standing& standing, const Drawn& drawn,
              const simulate::Room& room, Played& played) const {
    const faults::Prices& prices = setting_.installation().prices;
    played.minutes += moves::put_back_minutes(setting_, standing);
    played.priced_minutes = played.minutes;
    for (const moves::Substitute& swap : standing.substituted) {
      const chain::Part& out = setting_.chain().parts[swap.out];
      played.priced_minutes += setting_.rules().part_kinds[out.kind].price_minutes;
      bool bad = false;
      for (const ElementId element : out.elements) {
        for (const FaultId fault : setting_.faults_of(element)) {
          bad = bad || drawn.truth.states[fault.value] != belief::kAbsent;
        }
      }
      if (!bad) ++played.needless_parts;
    }
    played.service = stage == guide::Stage::handed_over;
    played.left_in = !played.service && !room.sound(standing);
    if (played.service) played.priced_minutes += prices.service_minutes;
    if (played.left_in) played.priced_minutes += prices.miss_minutes;
  }

  const moves::Setting& setting_;
  Complaint complaint_;
  std::string name_;
  plan::Depth depth_;
  std::unique_ptr<Policy> policy_;
  std::map<std::size_t, guide::Course> starts_;   // by what was complained of
  std::map<std::size_t, Remembered> remembered_;  // the same
};

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

/// What all threads share. Each plays a block of the cases, every policy on each.
struct Trial {
  const moves::Setting& setting;
  const CaseDrawer& drawer;
  const Options& options;
  Progress progress;
  std::vector<Score>& scores;
  std::mutex mutex;
  std::size_t cases;  ///< fewer than asked for where one could not be drawn
};

void play(Trial& trial, std::size_t first, std::size_t last) {
  constexpr std::uint64_t kApart = 1'000'003;  // seeds of one trial never meet those of the next
  const Options& options = trial.options;
  std::vector<Player> players;
  for (const std::string& policy : options.policies) {
    players.emplace_back(trial.setting, options.complaint, policy, options.depth);
  }
  for (std::size_t number = first; number < last; ++number) {
    const std::uint64_t seed = options.seed * kApart + number;
    const auto drawn = trial.drawer.draw(seed);
    if (!drawn) {
      const std::scoped_lock lock(trial.mutex);
      trial.cases = std::min(trial.cases, number);
      return;
    }
    for (std::size_t index = 0; index < players.size(); ++index) {
      trial.scores[index].played[number] = players[index].play(*drawn, seed);
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
  Trial trial{setting,        drawer, options,      {progress, options.cases},
              outcome.scores, {},     options.cases};
  const std::size_t threads =
      std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, kMostThreads);
  // Where no thread is to be had, its block is played when it is waited for.
  constexpr auto kIfPossible = std::launch::async | std::launch::deferred;
  std::vector<std::future<void>> others;
  for (std::size_t block = 1; block < threads; ++block) {
    others.push_back(std::async(kIfPossible, [&, block] {
      play(trial, options.cases * block / threads, options.cases * (block + 1) / threads);
    }));
  }
  play(trial, 0, options.cases / threads);
  for (std::future<void>& other : others) other.get();
  outcome.cases = trial.cases;
  for (Score& score : outcome.scores) {
    score.played.resize(outcome.cases);
    sum_up(score);
  }
  return outcome;
}

}  // namespace whichlink::trial
