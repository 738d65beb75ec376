#include "stock/answer.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/moment.h"
#include "moves/parts.h"
#include "stock/losses.h"
#include "upkeep/base_stock.h"

namespace whichlink::stock {
namespace {

// Judged: the curve of one part ends here, or where one more saves nothing to speak of.
constexpr std::size_t kMostOfOne = 200;
constexpr double kNothingSaved = 1e-9;
// Lists kept while the best one is sought: some tenths of a second (judged).
constexpr std::size_t kMostStates = 1'000'000;
// What costs nothing still takes a place in the order of what to buy.
constexpr double kLeastPrice = 1e-6;

/// A line with the demand that it is reckoned from.
struct Reckoned {
  Line line;
  upkeep::Demand demand;  ///< over the lead time
};

/// What one part or supply is, before anything is reckoned.
struct Thing {
  std::string name;
  bool is_supply = false;
  double lost_per_day = 0;
};

class Answering {
 public:
  explicit Answering(const Question& question)
      : question_(question),
        rules_(question.rooms.front().setting->rules()),
        stores_(*rules_.stores) {}

  Result<Answer> answer() {
    if (Problems unknown = unknown_names(); !unknown.empty()) return tl::unexpected(unknown);
    add_up_use();
    const std::map<std::string, Need> needs = needs_of(question_.rooms, question_.rates);
    std::vector<Reckoned> parts;
    for (const Thing& thing : things(question_.rooms)) {
      Reckoned one = reckon(thing, needs, question_.rooms);
      if (thing.is_supply) {
        answer_.supplies.push_back(std::move(one.line));
      } else {
        parts.push_back(std::move(one));
      }
    }
    std::stable_sort(parts.begin(), parts.end(), [&](const Reckoned& a, const Reckoned& b) {
      return first_saves(a) > first_saves(b);
    });
    if (answer_.sessions_per_day > 0) spend(parts);
    pool(parts);
    for (Reckoned& one : parts) answer_.parts.push_back(std::move(one.line));
    return std::move(answer_);
  }

 private:
  [[nodiscard]] const SaidTerms* said_of(const std::string& name) const {
    for (const SaidTerms& terms : question_.file.terms) {
      if (terms.name == name) return &terms;
    }
    return nullptr;
  }

  [[nodiscard]] Problems unknown_names() const {
    std::vector<std::string> names;
    for (const faults::PartKind& kind : rules_.part_kinds) names.push_back(kind.name);
    for (const faults::Supply& supply : stores_.supplies) names.push_back(supply.name);
    Problems problems;
    for (const SaidTerms& terms : question_.file.terms) {
      if (std::find(names.begin(), names.end(), terms.name) != names.end()) continue;
      problems.push_back({terms.place, "unknown part \"" + terms.name + "\"", one_of(names),
                          nearest(terms.name, names)});
    }
    return problems;
  }

  void add_up_use() {
    double days = 0;
    double rooms = 0;
    for (const Room& room : question_.rooms) {
      const auto& use = room.setting->installation().use;
      if (!use) continue;
      const auto count = static_cast<double>(room.rooms);
      answer_.sessions_per_day += count * use->sessions_per_day;
      days += count * use->days_per_year;
      rooms += count;
    }
    if (rooms <= 0) return;
    answer_.days_per_year = days / rooms;
    sessions_per_room_ = answer_.sessions_per_day / rooms;
  }

  // Parts of the rooms in the order of the rules, then supplies.
  [[nodiscard]] std::vector<Thing> things(const std::vector<Room>& rooms) const {
    std::set<PartKindId> kinds;
    for (const Room& room : rooms) {
      for (const PartKindId kind : moves::exchangeable_kinds(room.setting->installation())) {
        kinds.insert(kind);
      }
    }
    std::vector<Thing> things;
    things.reserve(kinds.size() + stores_.supplies.size());
    for (const PartKindId kind : kinds) {
      things.push_back({rules_.part_kinds[kind].name, false, lost_per_day(kind, rooms)});
    }
    for (const faults::Supply& supply : stores_.supplies) things.push_back({supply.name, true, 0});
    return things;
  }

  // Mean over the rooms that have such a part.
  [[nodiscard]] static double lost_per_day(PartKindId kind, const std::vector<Room>& rooms) {
    double lost = 0;
    double count = 0;
    for (const Room& room : rooms) {
      const auto kinds = moves::exchangeable_kinds(room.setting->installation());
      if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) continue;
      if (!room.setting->installation().use) continue;
      const auto each = static_cast<double>(room.rooms);
      lost += each * sessions_lost_per_day(*room.setting, kind);
      count += each;
    }
    return count > 0 ? lost / count : 0;
  }

  void set_terms(Line& line, const std::vector<Room>& rooms) const {
    for (const PartKindId kind : rules_.part_kinds.ids()) {
      if (line.is_supply || rules_.part_kinds[kind].name != line.name) continue;
      line.price = rules_.part_kinds[kind].price_minutes * question_.file.money_per_minute;
      line.lead_days = stores_.parts[kind].lead_days;
      line.ready_days = stores_.parts[kind].ready_days;
      for (const std::string& need : rules_.part_kinds[kind].needs_after) {
        line.ready_after += (line.ready_after.empty() ? "" : ", ") + need;
      }
      count_spares(kind, rooms, line);
    }
    for (const faults::Supply& supply : stores_.supplies) {
      if (!line.is_supply || supply.name != line.name) continue;
      line.price = supply.price_minutes * question_.file.money_per_minute;
      line.lead_days = supply.lead_days;
      line.batch = supply.batch;
      line.shelf_days = supply.shelf_days;
    }
    line.service = question_.service;
    if (const SaidTerms* said = said_of(line.name)) {
      line.price = said->price.value_or(line.price);
      line.lead_days = said->lead_days.value_or(line.lead_days);
      line.ready_days = said->ready_days.value_or(line.ready_days);
      line.shelf_days = said->shelf_days.value_or(line.shelf_days);
      line.batch = said->batch.value_or(line.batch);
      line.on_hand = said->on_hand.value_or(line.on_hand);
      line.on_order = said->on_order;
      if (said->service) line.service = said->service;
    }
  }

  // A part of unknown state, or one that is gone, is nobody's spare.
  void count_spares(PartKindId kind, const std::vector<Room>& rooms, Line& line) const {
    for (const Room& room : rooms) {
      for (const chain::Part& part : room.setting->chain().parts) {
        if (!part.spare || part.kind != kind) continue;
        const auto state = std::find_if(
            rules_.spare_states.begin(), rules_.spare_states.end(),
            [&](const faults::SpareState& one) { return one.name == part.spare_state; });
        const bool is_gone =
            std::find(room.gone.begin(), room.gone.end(), part.name) != room.gone.end();
        if (is_gone) {
          line.not_counted.push_back(part.name + " (used or thrown out, by the record)");
        } else if (state != rules_.spare_states.end() && !state->is_spare) {
          line.not_counted.push_back(part.name + " (state " + part.spare_state + ")");
        } else {
          line.on_hand += room.rooms;
        }
      }
    }
  }

  [[nodiscard]] Reckoned reckon(const Thing& thing, const std::map<std::string, Need>& needs,
                                const std::vector<Room>& rooms) const {
    Line line;
    line.name = thing.name;
    line.is_supply = thing.is_supply;
    line.sessions_lost_per_day = thing.lost_per_day;
    set_terms(line, rooms);
    const auto found = needs.find(thing.name);
    const Need need = found == needs.end() ? Need{} : found->second;
    line.per_year = need.per_year;
    line.needless_per_year = need.needless_per_year;
    const upkeep::Demand year(need.streams, 1);
    constexpr double kLow = .05;
    line.low_per_year = static_cast<double>(year.least_for(kLow));
    line.high_per_year = static_cast<double>(year.least_for(1 - kLow));
    line.ready_days_per_year = line.per_year * line.ready_days;
    upkeep::Demand demand(need.streams, line.lead_days / kDaysPerYear);
    Reckoned one{std::move(line), std::move(demand)};
    decide(one);
    return one;
  }

  // What a year of lacking one costs, in the cupboard's money; and of one on the shelf.
  [[nodiscard]] double lacking_per_year(const Line& line) const {
    const auto& use = question_.rooms.front().setting->installation().use;
    if (!use) return 0;
    return line.sessions_lost_per_day * answer_.days_per_year * use->spoilt_minutes *
           question_.file.money_per_minute;
  }
  [[nodiscard]] double holding_per_year(const Line& line) const {
    return std::max(line.price, kLeastPrice) * stores_.held_share_per_year;
  }

  void decide(Reckoned& one) const {
    Line& line = one.line;
    const double lacking = lacking_per_year(line);
    if (line.per_year <= 0) {
      line.why = Why::never_asked;
    } else if (line.service || lacking <= 0) {
      line.why = Why::service;
      line.service = line.service.value_or(stores_.service);
      line.hold = upkeep::level_for_service(one.demand, *line.service, line.batch);
    } else {
      line.why = Why::costs_least;
      line.hold = upkeep::cheapest_level(one.demand, holding_per_year(line), lacking, line.batch);
    }
    if (line.shelf_days > 0 && line.hold > 1) {
      const double used = std::floor(line.per_year * line.shelf_days / kDaysPerYear);
      const auto most = static_cast<std::size_t>(std::max(1.0, used));
      if (line.hold > most) {
        line.hold = most;
        line.why = Why::shelf_life;
      }
    }
    const std::size_t have = line.on_hand + line.on_order;
    if (have < line.hold) line.order = std::max(line.hold - have, line.batch);
    line.held = outlook(one, line.hold, line.batch);
    line.none = outlook(one, 0);
    line.sessions_next_saves =
        line.held.sessions_lost - outlook(one, line.hold + 1, line.batch).sessions_lost;
  }

  // What is used is ordered again one by one, or in batches.
  [[nodiscard]] Outlook outlook(const Reckoned& one, std::size_t level,
                                std::size_t batch = 1) const {
    const upkeep::Stocked stocked = upkeep::stocked(one.demand, level, batch);
    Outlook outlook;
    outlook.chance_out = stocked.chance_out;
    outlook.days_without = stocked.expected_short * kDaysPerYear;
    outlook.sessions_lost =
        stocked.expected_short * answer_.days_per_year * one.line.sessions_lost_per_day;
    outlook.days_lost = sessions_per_room_ > 0 ? outlook.sessions_lost / sessions_per_room_ : 0;
    return outlook;
  }

  [[nodiscard]] double first_saves(const Reckoned& one) const {
    const double price = std::max(one.line.price, kLeastPrice);
    const double lost = one.line.none.sessions_lost - outlook(one, 1).sessions_lost;
    // Where nobody said what is lost, by what is asked for.
    return (answer_.sessions_per_day > 0 ? lost : one.line.per_year) / price;
  }

  void spend(const std::vector<Reckoned>& parts) {
    std::vector<upkeep::Choice> choices;
    Curve curve;
    for (const Reckoned& one : parts) {
      const std::size_t have = one.line.on_hand + one.line.on_order;
      const auto batch = static_cast<double>(one.line.batch);
      upkeep::Choice choice{std::max(one.line.price, kLeastPrice) * batch, {}};
      choice.lost.push_back(outlook(one, have).days_lost);
      while (choice.lost.size() < kMostOfOne) {
        const double lost = outlook(one, have + choice.lost.size() * one.line.batch).days_lost;
        if (choice.lost.back() - lost < kNothingSaved) break;
        choice.lost.push_back(lost);
      }
      curve.lost_at_first += choice.lost.front();
      curve.parts.push_back(one.line.name);
      choices.push_back(std::move(choice));
    }
    curve.steps = upkeep::marginal_curve(choices);
    for (upkeep::Step& step : curve.steps) step.held *= parts[step.choice].line.batch;
    answer_.curve = std::move(curve);
    if (question_.budget) answer_.bought = bought(choices, parts);
  }

  [[nodiscard]] Bought bought(const std::vector<upkeep::Choice>& choices,
                              const std::vector<Reckoned>& parts) const {
    Bought bought;
    bought.budget = *question_.budget;
    bought.least_possible = upkeep::least_possible(choices, bought.budget);
    auto exact = upkeep::exact_list(choices, bought.budget, kMostStates);
    bought.is_exact = exact.has_value();
    bought.list = exact ? std::move(*exact) : upkeep::greedy_list(choices, bought.budget);
    for (std::size_t index = 0; index < parts.size(); ++index) {
      bought.list.held[index] *= parts[index].line.batch;
    }
    return bought;
  }

  void pool(const std::vector<Reckoned>& parts) {
    Pooling pooling;
    for (const Room& room : question_.rooms) pooling.rooms += room.rooms;
    if (pooling.rooms < 2) return;
    for (const Reckoned& one : parts) {
      pooling.shared_parts += one.line.hold;
      pooling.shared_money += static_cast<double>(one.line.hold) * one.line.price;
      pooling.shared_days_lost += one.line.held.days_lost;
      if (sessions_per_room_ > 0) {
        pooling.fetch_days_lost += one.line.per_year * question_.file.fetch_days *
                                   answer_.days_per_year / kDaysPerYear *
                                   one.line.sessions_lost_per_day / sessions_per_room_;
      }
    }
    for (const Room& room : question_.rooms) {
      Room alone = room;
      alone.rooms = 1;
      const auto count = static_cast<double>(room.rooms);
      const std::vector<Room> own{alone};
      const std::map<std::string, Need> needs = needs_of(own, question_.rates);
      for (const Thing& thing : things(own)) {
        if (thing.is_supply) continue;
        const Line line = reckon(thing, needs, own).line;
        pooling.local_parts += line.hold * room.rooms;
        pooling.local_money += count * static_cast<double>(line.hold) * line.price;
        pooling.local_days_lost += count * line.held.days_lost;
      }
    }
    answer_.pooling = pooling;
  }

  const Question& question_;
  const faults::Rules& rules_;
  const faults::Stores& stores_;
  Answer answer_;
  double sessions_per_room_ = 0;
};

}  // namespace

Result<Answer> answer_to(const Question& question) {
  return Answering(question).answer();
}

}  // namespace whichlink::stock
