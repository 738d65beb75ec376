#include "upkeep/budget.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <queue>
#include <span>
#include <utility>

#include "base/double_double.h"

namespace whichlink::upkeep {
namespace {

/// Differences smaller than this share are rounding.
constexpr double kHair = 1e-12;

using Choices = std::span<const Choice>;

double with_hair(double budget) {
  return budget * (1 + kHair);
}

/// From one corner of a part's convex hull to the next.
struct Rise {
  std::size_t held = 0;  ///< after it
  double price = 0;      ///< of all that it takes
  DoubleDouble saved;
};

/// The corners of the largest convex function that is nowhere above `lost`, up to its lowest point.
/// Rounding makes no hollows: a number of spares that all will be used are as many steps.
std::vector<std::size_t> corners(const std::vector<double>& lost) {
  const auto lowest = std::min_element(lost.begin(), lost.end());
  double largest = 0;
  for (const double one : lost) largest = std::max(largest, std::abs(one));
  // Is `middle` above the straight line from `left` to `right`?
  const auto above = [&](std::size_t left, std::size_t middle, std::size_t right) {
    const double share = static_cast<double>(middle - left) / static_cast<double>(right - left);
    return lost[middle] > lost[left] + share * (lost[right] - lost[left]) + kHair * largest;
  };
  std::vector<std::size_t> kept;
  for (std::size_t held = 0; held <= static_cast<std::size_t>(lowest - lost.begin()); ++held) {
    while (kept.size() > 1 && above(kept[kept.size() - 2], kept.back(), held)) kept.pop_back();
    // The first has no neighbour on its left; it stays, for nothing need be bought.
    kept.push_back(held);
  }
  return kept;
}

std::vector<Rise> rises(const Choice& choice) {
  const std::vector<std::size_t> kept = corners(choice.lost);
  std::vector<Rise> rises;
  for (std::size_t index = 1; index < kept.size(); ++index) {
    const DoubleDouble saved =
        DoubleDouble(choice.lost[kept[index - 1]]) - DoubleDouble(choice.lost[kept[index]]);
    if (saved.high() <= 0) break;
    rises.push_back(
        {kept[index], choice.price * static_cast<double>(kept[index] - kept[index - 1]), saved});
  }
  return rises;
}

/// The rises of all parts, those first that save most per money. Where `take(part, rise)` says no,
/// that part's later rises are left out.
template <class Take>
void along(Choices choices, const Take& take) {
  std::vector<std::vector<Rise>> all;
  all.reserve(choices.size());
  struct Next {
    double per_money;
    std::size_t choice;
    std::size_t rise;
    bool operator<(const Next& other) const {
      return per_money != other.per_money ? per_money < other.per_money : choice > other.choice;
    }
  };
  std::priority_queue<Next> queue;
  const auto offer = [&](std::size_t choice, std::size_t rise) {
    if (rise >= all[choice].size()) return;
    const Rise& one = all[choice][rise];
    queue.push({one.saved.high() / one.price, choice, rise});
  };
  for (std::size_t choice = 0; choice < choices.size(); ++choice) {
    all.push_back(rises(choices[choice]));
    offer(choice, 0);
  }
  while (!queue.empty()) {
    const Next next = queue.top();
    queue.pop();
    if (take(next.choice, all[next.choice][next.rise])) offer(next.choice, next.rise + 1);
  }
}

/// Lost by all parts while nothing is bought.
DoubleDouble lost_without(Choices choices) {
  DoubleDouble sum;
  for (const Choice& choice : choices) sum += choice.lost.front();
  return sum;
}

std::vector<Step> curve_of(Choices choices) {
  std::vector<Step> steps;
  DoubleDouble money;
  DoubleDouble lost = lost_without(choices);
  along(choices, [&](std::size_t choice, const Rise& rise) {
    money += rise.price;
    lost += -rise.saved;
    steps.push_back({choice, money.high(), lost.high(), rise.held});
    return true;
  });
  return steps;
}

/// What is lost at least, for any sum of money.
class Bound {
 public:
  explicit Bound(Choices choices)
      : without_(lost_without(choices).high()), steps_(curve_of(choices)) {}

  [[nodiscard]] double at(double money) const {
    const auto next =
        std::upper_bound(steps_.begin(), steps_.end(), money,
                         [](double value, const Step& step) { return value < step.money; });
    const double from = next == steps_.begin() ? 0 : std::prev(next)->money;
    const double lost = next == steps_.begin() ? without_ : std::prev(next)->lost;
    if (next == steps_.end()) return lost;
    return lost + (next->lost - lost) * (money - from) / (next->money - from);
  }

 private:
  double without_;
  std::vector<Step> steps_;
};

List list_of(Choices choices, std::vector<std::size_t> held) {
  DoubleDouble money;
  DoubleDouble lost;
  for (std::size_t choice = 0; choice < choices.size(); ++choice) {
    money += DoubleDouble::product(choices[choice].price, static_cast<double>(held[choice]));
    lost += choices[choice].lost[held[choice]];
  }
  return {std::move(held), money.high(), lost.high()};
}

/// A list of the first parts.
struct Partly {
  double money = 0;
  double lost = 0;
  std::size_t from = 0;  ///< the list without the last part: its place among those before
  std::size_t held = 0;  ///< of the last part
};

/// Both in order of money; of what comes out, each loses less than all before it.
std::vector<Partly> merged(const std::vector<Partly>& one, const std::vector<Partly>& other) {
  std::vector<Partly> all;
  all.reserve(one.size() + other.size());
  std::merge(one.begin(), one.end(), other.begin(), other.end(), std::back_inserter(all),
             [](const Partly& a, const Partly& b) {
               return a.money != b.money ? a.money < b.money : a.lost < b.lost;
             });
  std::size_t kept = 0;
  for (const Partly& list : all) {
    if (kept == 0 || list.lost < all[kept - 1].lost) all[kept++] = list;
  }
  all.resize(kept);
  return all;
}

}  // namespace

std::vector<Step> marginal_curve(const std::vector<Choice>& choices) {
  return curve_of(choices);
}

List greedy_list(const std::vector<Choice>& choices, double budget) {
  std::vector<std::size_t> held(choices.size());
  DoubleDouble money;
  along(choices, [&](std::size_t choice, const Rise& rise) {
    const DoubleDouble after = money + DoubleDouble(rise.price);
    if (after.high() > with_hair(budget)) return false;
    money = after;
    held[choice] = rise.held;
    return true;
  });
  return list_of(choices, std::move(held));
}

std::optional<List> exact_list(const std::vector<Choice>& choices, double budget,
                               std::size_t most_states) {
  const List greedy = greedy_list(choices, budget);
  double scale = 0;
  for (const Choice& choice : choices) scale += std::abs(choice.lost.front());
  const double worth_it = greedy.lost + kHair * scale;

  std::vector<std::vector<Partly>> layers = {{Partly{}}};
  std::size_t states = 0;
  for (std::size_t part = 0; part < choices.size(); ++part) {
    const Choice& choice = choices[part];
    const Bound rest(Choices(choices).subspan(part + 1));
    std::vector<Partly> layer;
    for (std::size_t held = 0; held < choice.lost.size(); ++held) {
      const double price = choice.price * static_cast<double>(held);
      std::vector<Partly> more;
      for (std::size_t from = 0; from < layers.back().size(); ++from) {
        const Partly& before = layers.back()[from];
        const Partly list = {before.money + price, before.lost + choice.lost[held], from, held};
        if (list.money > with_hair(budget)) break;
        if (list.lost + rest.at(with_hair(budget) - list.money) <= worth_it) more.push_back(list);
      }
      layer = merged(layer, more);
      if (states + layer.size() > most_states) return std::nullopt;
    }
    states += layer.size();
    layers.push_back(std::move(layer));
  }

  // By rounding alone could all have been left out.
  if (layers.back().empty()) return greedy;
  std::vector<std::size_t> held(choices.size());
  std::size_t place = layers.back().size() - 1;
  for (std::size_t part = choices.size(); part-- > 0;) {
    const Partly& list = layers[part + 1][place];
    held[part] = list.held;
    place = list.from;
  }
  return list_of(choices, std::move(held));
}

double least_possible(const std::vector<Choice>& choices, double budget) {
  return Bound(choices).at(with_hair(budget));
}

}  // namespace whichlink::upkeep
