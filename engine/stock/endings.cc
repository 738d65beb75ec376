#include "stock/endings.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <mutex>

#include "base/cores.h"
#include "history/closing.h"
#include "moves/arrangement.h"
#include "moves/parts.h"
#include "trial/player.h"

namespace whichlink::stock {
namespace {

// Kinds of fault that hardly ever come still get so many cases (judged).
constexpr std::size_t kLeastCases = 4;
// Until one is heard of; a fault that shows in one of a hundred sessions is, in the end (judged).
constexpr int kMostSessions = 400;
// As many as a trial has (judged).
const std::string kPolicy = "time";

/// One thing that may be wrong, and the routes on which it is heard of.
struct Wrong {
  std::optional<FaultId> fault;  ///< absent: crossed
  chain::Patching real;
  std::vector<RouteId> routes;
};

struct Group {
  FaultGroup told;
  std::vector<Wrong> members;
};

struct Play {
  std::size_t group = 0;
  const Wrong* wrong = nullptr;
  RouteId route;
  std::uint64_t seed = 0;
  bool was_heard = false;
  std::map<std::string, double> taken, needless;
};

class Player {
 public:
  Player(const moves::Setting& setting, const EndingOptions& options)
      : setting_(setting), options_(options) {}

  Endings play(const std::function<void(double)>& progress) {
    list_faults();
    list_crossings();
    list_plays();
    play_all(progress);
    return sum_up();
  }

 private:
  Group& group_of(const std::string& mode, std::optional<PartKindId> at, double rate) {
    const auto found = std::find_if(groups_.begin(), groups_.end(), [&](const Group& one) {
      return one.told.mode == mode && one.told.at == at;
    });
    if (found != groups_.end()) return *found;
    groups_.push_back({{mode, at, 0, rate, 0, {}, {}}, {}});
    return groups_.back();
  }

  static void add(Group& group, Wrong wrong) {
    ++group.told.items;
    group.members.push_back(std::move(wrong));
  }

  void list_faults() {
    const chain::Chain& chain = setting_.chain();
    for (const FaultId fault : setting_.faults().ids()) {
      const moves::Fault& one = setting_.faults()[fault];
      std::optional<PartKindId> at;
      if (one.element) {
        const chain::Part& part = chain.parts[chain.elements[*one.element].part];
        if (part.spare) continue;
        at = part.kind;
      }
      const double rate = setting_.rate_per_year(fault);
      std::vector<RouteId> routes =
          one.route ? std::vector<RouteId>{*one.route} : setting_.routes_with(fault);
      if (rate <= 0 || routes.empty()) continue;
      add(group_of(history::mode_name(setting_, fault), at, rate),
          {fault, chain.home, std::move(routes)});
    }
  }

  // Each pair of plugs once, though both routes of the pair know of it.
  void list_crossings() {
    if (!setting_.rules().crossing) return;
    const double rate = setting_.rules().crossing->rate.mid_per_year;
    for (const RouteId route : setting_.chain().routes.ids()) {
      const std::optional<RouteId> other = setting_.chain().routes[route].pair;
      if (rate <= 0 || !other || other->value < route.value) continue;
      for (moves::Arrangement& one : moves::arrangements_of(setting_, route)) {
        if (one.crossed.empty()) continue;
        add(group_of(history::kCrossed, std::nullopt, rate),
            {std::nullopt, std::move(one.patching), {route, *other}});
      }
    }
  }

  void list_plays() {
    constexpr std::uint64_t kApart = 1'000'003;
    double all = 0;
    for (const Group& group : groups_) {
      all += group.told.rate_per_year * static_cast<double>(group.told.items);
    }
    for (std::size_t index = 0; index < groups_.size(); ++index) {
      const Group& group = groups_[index];
      const double share = group.told.rate_per_year * static_cast<double>(group.told.items) / all;
      const auto wanted =
          static_cast<std::size_t>(std::lround(share * static_cast<double>(options_.cases)));
      const std::size_t count = std::max(kLeastCases, wanted);
      const std::size_t members = group.members.size();
      for (std::size_t number = 0; number < count; ++number) {
        // Evenly over the members, and over the routes of each.
        const Wrong& wrong =
            group.members[count < members ? number * members / count : number % members];
        Play play;
        play.group = index;
        play.wrong = &wrong;
        play.route = wrong.routes[number / members % wrong.routes.size()];
        play.seed = options_.seed * kApart + plays_.size();
        plays_.push_back(std::move(play));
      }
    }
  }

  void play_all(const std::function<void(double)>& progress) {
    std::mutex mutex;
    std::size_t done = 0;
    const auto one_more = [&] {
      const std::scoped_lock lock(mutex);
      ++done;
      if (progress) progress(static_cast<double>(done) / static_cast<double>(plays_.size()));
    };
    std::atomic<std::uint32_t> next{0};
    // A route at a time: what was chosen once is remembered for it.
    on_every_core([&](std::size_t /*worker*/, std::size_t /*workers*/) {
      const auto routes = static_cast<std::uint32_t>(setting_.chain().routes.size());
      for (std::uint32_t route = next++; route < routes; route = next++) {
        trial::Memory memory;
        trial::Player player(setting_, {RouteId{route}, std::nullopt, 0}, kPolicy, options_.depth,
                             &memory);
        for (Play& play : plays_) {
          if (play.route.value != route) continue;
          play_one(play, player);
          one_more();
        }
      }
    });
  }

  // Sessions go by until somebody complains.
  [[nodiscard]] std::optional<trial::Drawn> complained_of(const Play& play) const {
    Random random(play.seed);
    const Wrong& wrong = *play.wrong;
    for (int session = 0; session < kMostSessions; ++session) {
      simulate::Truth truth = simulate::nothing_wrong(setting_);
      truth.real = wrong.real;
      if (wrong.fault) {
        const belief::StateVector& prior = setting_.network().prior[wrong.fault->value];
        const double shows =
            prior[belief::kShowing] / (prior[belief::kShowing] + prior[belief::kQuiet]);
        truth.states[wrong.fault->value] =
            random.uniform() < shows ? belief::kShowing : belief::kQuiet;
      }
      const auto seed_of_room = static_cast<std::uint64_t>(random.uniform() * 0x1.0p53);
      simulate::Room room(setting_, truth, 0, seed_of_room);
      const std::size_t heard = room.complain(play.route);
      if (heard != 0) return trial::Drawn{std::move(truth), heard, std::move(room)};
    }
    return std::nullopt;
  }

  void play_one(Play& play, trial::Player& player) const {
    const std::optional<trial::Drawn> drawn = complained_of(play);
    if (!drawn) return;
    play.was_heard = true;
    const trial::Game game = player.play(*drawn, play.seed);
    const faults::Rules& rules = setting_.rules();
    for (const moves::Substitute& swap : game.end.substituted) {
      const std::string& kind = rules.part_kinds[setting_.chain().parts[swap.out].kind].name;
      play.taken[kind] += 1;
      if (!is_in(swap.out, play.wrong->fault)) play.needless[kind] += 1;
    }
    if (const auto kind = fitted_by_service(game, play.wrong->fault)) {
      play.taken[rules.part_kinds[*kind].name] += 1;
    }
    for (const moves::Move& move : game.made) {
      const auto* treat = std::get_if<moves::Treat>(&move.action);
      if (treat == nullptr) continue;
      for (const std::string& used : rules.remedies[treat->remedy].uses) play.taken[used] += 1;
    }
  }

  // What is handed over takes a part as well, where only a new one mends it.
  [[nodiscard]] std::optional<PartKindId> fitted_by_service(const trial::Game& game,
                                                            std::optional<FaultId> fault) const {
    if (game.stage != guide::Stage::handed_over || !game.is_left_wrong || !fault) {
      return std::nullopt;
    }
    const moves::Fault& one = setting_.faults()[*fault];
    if (!one.mode || !setting_.rules().modes[*one.mode].remedies.empty()) return std::nullopt;
    const chain::Chain& chain = setting_.chain();
    const PartKindId kind = chain.parts[chain.elements[*one.element].part].kind;
    if (!setting_.rules().part_kinds[kind].exchangeable) return std::nullopt;
    return kind;
  }

  [[nodiscard]] bool is_in(PartId part, std::optional<FaultId> fault) const {
    if (!fault || !setting_.faults()[*fault].element) return false;
    return setting_.chain().elements[*setting_.faults()[*fault].element].part == part;
  }

  Endings sum_up() {
    Endings endings;
    for (Group& group : groups_) endings.groups.push_back(std::move(group.told));
    for (const Play& play : plays_) {
      if (!play.was_heard) continue;
      ++endings.cases;
      FaultGroup& group = endings.groups[play.group];
      ++group.played;
      for (const auto& [name, count] : play.taken) group.taken[name] += count;
      for (const auto& [name, count] : play.needless) group.needless[name] += count;
    }
    for (FaultGroup& group : endings.groups) {
      for (auto& [name, count] : group.taken) count /= static_cast<double>(group.played);
      for (auto& [name, count] : group.needless) count /= static_cast<double>(group.played);
    }
    return endings;
  }

  const moves::Setting& setting_;
  const EndingOptions& options_;
  std::vector<Group> groups_;
  std::vector<Play> plays_;
};

}  // namespace

Endings endings_of(const moves::Installation& installation, const EndingOptions& options,
                   const std::function<void(double)>& progress) {
  const moves::Installation stocked = moves::with_full_drawer(installation);
  const moves::Setting setting(stocked, installation.rules.handling.default_days_since_pass);
  return Player(setting, options).play(progress);
}

}  // namespace whichlink::stock
