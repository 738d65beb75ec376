#include "trial/trial.h"

#include <atomic>
#include <map>
#include <mutex>
#include <thread>

#include "moves/arrangement.h"

namespace whichlink::trial {
namespace {

/// What a fixed policy chooses after one sequence of reports, and where each next report leads.
struct Remembered {
  std::optional<Choice> choice;
  std::map<std::size_t, std::unique_ptr<Remembered>> next;  // by outcome
};

/// Plays the cases of one policy one after the other.
class Player {
 public:
  Player(const moves::Setting& setting, const Complaint& complaint, const std::string& policy,
         std::uint64_t seed, const plan::Depth& depth)
      : setting_(setting), complaint_(complaint), policy_(policy_of(policy, seed, depth)) {}

  Played play(const Drawn& drawn) {
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

/// Cases of one policy that one thread plays one after the other.
struct Task {
  std::size_t policy = 0;
  std::size_t first = 0;
  std::size_t last = 0;
};

/// A fixed policy may be split among threads: it chooses the same whoever played before.
std::vector<Task> tasks_of(const Options& options, std::size_t cases, std::size_t threads) {
  std::vector<Task> tasks;
  for (std::size_t policy = 0; policy < options.policies.size(); ++policy) {
    const bool fixed = policy_of(options.policies[policy], options.seed)->is_fixed();
    const std::size_t blocks = fixed ? threads : 1;
    for (std::size_t block = 0; block < blocks; ++block) {
      tasks.push_back({policy, cases * block / blocks, cases * (block + 1) / blocks});
    }
  }
  return tasks;
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

std::vector<Drawn> draw_all(const CaseDrawer& drawer, const Options& options) {
  constexpr std::uint64_t kApart = 1'000'003;  // seeds of one trial never meet those of the next
  std::vector<Drawn> cases;
  for (std::size_t number = 0; number < options.cases; ++number) {
    auto drawn = drawer.draw(options.seed * kApart + number);
    if (!drawn) break;
    cases.push_back(std::move(*drawn));
  }
  return cases;
}

}  // namespace

Outcome run(const moves::Setting& setting, const moves::Setting& truth, const Options& options,
            const std::function<void(double)>& progress) {
  const CaseDrawer drawer(truth, options.complaint);
  const std::vector<Drawn> cases = draw_all(drawer, options);
  Outcome outcome;
  outcome.cases = cases.size();
  for (const std::string& policy : options.policies) {
    outcome.scores.push_back(
        {policy, std::vector<Played>(cases.size()), {}, {}, {}, {}, {}, {}, {}, {}, 0});
  }
  const std::size_t threads = std::max(1U, std::thread::hardware_concurrency());
  const std::vector<Task> tasks = tasks_of(options, cases.size(), threads);
  Progress told(progress, cases.size() * options.policies.size());
  std::atomic<std::size_t> next_task = 0;
  const auto work = [&] {
    for (std::size_t at = next_task++; at < tasks.size(); at = next_task++) {
      const Task& task = tasks[at];
      Player player(setting, options.complaint, options.policies[task.policy], options.seed,
                    options.depth);
      for (std::size_t number = task.first; number < task.last; ++number) {
        outcome.scores[task.policy].played[number] = player.play(cases[number]);
        told.one_more();
      }
    }
  };
  std::vector<std::thread> others;
  for (std::size_t thread = 1; thread < threads; ++thread) others.emplace_back(work);
  work();
  for (std::thread& other : others) other.join();
  for (Score& score : outcome.scores) sum_up(score);
  return outcome;
}

}  // namespace whichlink::trial
