#include "trial/policy.h"

#include <algorithm>
#include <set>

#include "moves/arrangement.h"

namespace whichlink::trial {
namespace {

using guide::Course;
using guide::Stage;
using moves::Move;

/// What the program itself advises.
class Ours : public Policy {
 public:
  Ours(plan::Aim aim, const plan::Depth& depth) : aim_(aim), depth_(depth) {}
  Choice next(const Course& course) override {
    if (!known_) {
      known_.emplace(plan::ways_for(course.setting(), course.belief().listener(), aim_));
    }
    guide::Advice advice = course.advise_first(aim_, depth_, *known_);
    return {advice.stage, std::move(advice.move), advice.plan.something_wrong};
  }
  [[nodiscard]] plan::KnownWays* known() override { return known_ ? &*known_ : nullptr; }

 private:
  plan::Aim aim_;
  plan::Depth depth_;
  std::optional<plan::KnownWays> known_;  // all courses are of one complaint
};

bool is_repair(const moves::Setting& setting, const Move& move) {
  if (const auto* swap = std::get_if<moves::Substitute>(&move.action)) {
    return setting.chain().parts[swap->in].spare;
  }
  return std::holds_alternative<moves::Treat>(move.action) ||
         std::holds_alternative<moves::TraceLabels>(move.action);
}

std::optional<Move> put_back(const Course& course, const std::vector<Move>& possible) {
  if (!course.standing().temporary) return std::nullopt;
  for (const Move& one : possible) {
    if (std::holds_alternative<moves::PutBack>(one.action)) return one;
  }
  return std::nullopt;
}

std::set<std::string> names_made(const Course& course) {
  std::set<std::string> names;
  for (const guide::Step& step : course.steps()) names.insert(step.move.name);
  return names;
}

/// What all plain policies share: a change for a test is put back at once; once something was
/// changed and nothing wrong is heard any more, the route is stressed, and the case closed if it
/// stands that; each move is made once; when none is left, service is called.
class Plain : public Policy {
 public:
  Choice next(const Course& course) override {
    if (course.steps().size() >= guide::kMostMoves) return {Stage::handed_over, std::nullopt, 0};
    std::vector<Move> possible = moves::derive_moves(course.setting(), course.standing());
    if (auto back = put_back(course, possible)) return {Stage::under_way, std::move(back), 0};
    if (course.track().anything_changed() && !course.track().heard_wrong()) {
      if (course.track().verified()) return {Stage::mended, std::nullopt, 0};
      if (auto last = course.track().verification()) return {Stage::under_way, std::move(last), 0};
    }
    const std::set<std::string> made = names_made(course);
    std::erase_if(possible, [&](const Move& one) {
      return made.contains(one.name) || std::holds_alternative<moves::TakeOut>(one.action);
    });
    auto chosen = choose(course, std::move(possible));
    if (!chosen) return {Stage::handed_over, std::nullopt, 0};
    return {Stage::under_way, std::move(chosen), 0};
  }

 private:
  /// One of these, none of which was made before; nothing: service.
  virtual std::optional<Move> choose(const Course& course, std::vector<Move> possible) = 0;
};

/// The one with the least figure; those without a figure are not made.
template <class Figure>
std::optional<Move> least(std::vector<Move> possible, Figure figure) {
  std::optional<Move> best;
  double least_figure = 0;
  for (Move& one : possible) {
    const std::optional<double> value = figure(one);
    if (!value || (best && *value >= least_figure)) continue;
    least_figure = *value;
    best = std::move(one);
  }
  return best;
}

/// A habit: stress what may be exchanged, treat every joint once, connect directly, put the spares
/// in, the cheap ones first, call service.
class FixedOrder : public Plain {
  std::optional<Move> choose(const Course& course, std::vector<Move> possible) override {
    const moves::Setting& setting = course.setting();
    std::set<std::uint32_t> treated;
    bool connected = false;
    for (const guide::Step& step : course.steps()) {
      if (const auto* treat = std::get_if<moves::Treat>(&step.move.action)) {
        treated.insert(treat->element.value);
      }
      connected = connected || std::holds_alternative<moves::ConnectDirectly>(step.move.action);
    }
    const auto kind_of = [&](PartId part) -> const faults::PartKind& {
      return setting.rules().part_kinds[setting.chain().parts[part].kind];
    };
    return least(std::move(possible), [&](const Move& one) -> std::optional<double> {
      if (const auto* stress = std::get_if<moves::ApplyStress>(&one.action)) {
        const PartId part = setting.chain().elements[stress->element].part;
        if (kind_of(part).exchangeable) return 1;
      } else if (const auto* treat = std::get_if<moves::Treat>(&one.action)) {
        if (!treated.contains(treat->element.value)) return 2;
      } else if (std::holds_alternative<moves::ConnectDirectly>(one.action)) {
        if (!connected) return 3;
      } else if (const auto* swap = std::get_if<moves::Substitute>(&one.action)) {
        if (setting.chain().parts[swap->in].spare) return 4 + kind_of(swap->out).price_minutes;
      }
      return std::nullopt;
    });
  }
};

double with_price(const moves::Setting& setting, const Move& move) {
  const auto* swap = std::get_if<moves::Substitute>(&move.action);
  const double price =
      swap == nullptr
          ? 0
          : setting.rules().part_kinds[setting.chain().parts[swap->out].kind].price_minutes;
  return move.minutes + price;
}

/// The repair that takes least, parts counted as minutes.
class CheapestFirst : public Plain {
  std::optional<Move> choose(const Course& course, std::vector<Move> possible) override {
    return least(std::move(possible), [&](const Move& one) -> std::optional<double> {
      if (!is_repair(course.setting(), one)) return std::nullopt;
      return with_price(course.setting(), one);
    });
  }
};

/// The repair that leaves the least chance that something is wrong.
class LikeliestFirst : public Plain {
  std::optional<Move> choose(const Course& course, std::vector<Move> possible) override {
    return least(std::move(possible), [&](const Move& one) -> std::optional<double> {
      if (!is_repair(course.setting(), one)) return std::nullopt;
      double wrong = 0;
      for (const plan::PredictedOutcome& outcome :
           course.belief().predict(course.standing(), one)) {
        wrong += outcome.chance * outcome.something_wrong;
      }
      return wrong;
    });
  }
};

/// Any move at all, by lot.
class AtRandom : public Plain {
 public:
  explicit AtRandom(std::uint64_t seed) : random_(seed) {}
  [[nodiscard]] bool is_fixed() const override { return false; }

 private:
  std::optional<Move> choose(const Course& /*course*/, std::vector<Move> possible) override {
    if (possible.empty()) return std::nullopt;
    return possible[random_.below(static_cast<std::uint32_t>(possible.size()))];
  }
  Random random_;
};

/// Halves the number of suspect parts, whatever their chances; then repairs what is left.
class HalfSplit : public Plain {
  using Parts = std::set<std::uint32_t>;

  static Parts parts_on(const moves::Setting& setting, const std::vector<std::uint32_t>& path) {
    Parts parts;
    for (const std::uint32_t fault : path) {
      const auto element = setting.faults()[FaultId{fault}].element;
      if (element) parts.insert(setting.chain().elements[*element].part.value);
    }
    return parts;
  }

  // The parts that a report speaks of: what is stressed, or what lies on the way that is heard.
  static Parts spoken_of(const moves::Setting& setting, const moves::Standing& before,
                         const Move& move) {
    if (const auto* stress = std::get_if<moves::ApplyStress>(&move.action)) {
      return {setting.chain().elements[stress->element].part.value};
    }
    const moves::Standing next = moves::after(setting, before, move);
    return parts_on(setting, moves::question_of(setting, before, move, next.patching, 0).path);
  }

  static Parts suspects(const Course& course) {
    const moves::Setting& setting = course.setting();
    const moves::Standing start = moves::stand_at_start(setting, course.route());
    Parts suspects;
    const chain::Path home = setting.tracer().trace(course.route(), start.patching).path;
    std::vector<std::uint32_t> faults;
    for (const FaultId fault : setting.faults_on(home, course.route()))
      faults.push_back(fault.value);
    suspects = parts_on(setting, faults);
    for (const guide::Step& step : course.steps()) {
      if (std::holds_alternative<moves::PutBack>(step.move.action) ||
          is_repair(setting, step.move)) {
        continue;
      }
      const Parts spoken = spoken_of(setting, step.before, step.move);
      const faults::Sense& sense = setting.rules().senses[step.move.sense];
      const bool sound = step.report.heard == sense.symptoms.front().name;
      Parts left;
      for (const std::uint32_t part : suspects) {
        if (spoken.contains(part) != sound) left.insert(part);
      }
      if (!left.empty()) suspects = std::move(left);
    }
    return suspects;
  }

  std::optional<Move> choose(const Course& course, std::vector<Move> possible) override {
    const moves::Setting& setting = course.setting();
    const Parts suspect = suspects(course);
    const auto half = static_cast<double>(suspect.size()) / 2;
    std::optional<Move> split =
        suspect.size() < 2
            ? std::nullopt
            : least(possible, [&](const Move& one) -> std::optional<double> {
                if (is_repair(setting, one)) return std::nullopt;
                std::size_t in = 0;
                for (const std::uint32_t part : spoken_of(setting, course.standing(), one)) {
                  in += suspect.count(part);
                }
                if (in == 0 || in == suspect.size()) return std::nullopt;
                // Minutes decide between equal splits.
                return std::abs(static_cast<double>(in) - half) + one.minutes / 1000;
              });
    if (split) return split;
    return least(std::move(possible), [&](const Move& one) -> std::optional<double> {
      if (!is_repair(setting, one)) return std::nullopt;
      std::optional<std::uint32_t> part;
      if (const auto* treat = std::get_if<moves::Treat>(&one.action)) {
        part = setting.chain().elements[treat->element].part.value;
      } else if (const auto* swap = std::get_if<moves::Substitute>(&one.action)) {
        part = swap->out.value;
      }
      const double unlikely = part && suspect.contains(*part) ? 0 : 1000;
      return unlikely + with_price(setting, one);
    });
  }
};

}  // namespace

const std::vector<PolicyKind>& policy_kinds() {
  static const std::vector<PolicyKind> kKinds = {
      {"time", "ours: least priced minutes"},
      {"split", "ours: best split a minute"},
      {"moves", "ours: fewest moves"},
      {"fixed order", "stress, treat every joint, connect directly, put spares in, call service"},
      {"cheapest first", "repairs by what they take, without a test"},
      {"likeliest first", "repairs by the chance to cure, without a test"},
      {"half-split", "tests that halve the number of suspect parts, then repairs"},
      {"random", "any move that is possible, by lot"}};
  return kKinds;
}

std::unique_ptr<Policy> policy_of(const std::string& name, std::uint64_t seed,
                                  const plan::Depth& depth) {
  if (const auto aim = plan::aim_of(name)) return std::make_unique<Ours>(*aim, depth);
  if (name == "fixed order") return std::make_unique<FixedOrder>();
  if (name == "cheapest first") return std::make_unique<CheapestFirst>();
  if (name == "likeliest first") return std::make_unique<LikeliestFirst>();
  if (name == "half-split") return std::make_unique<HalfSplit>();
  return std::make_unique<AtRandom>(seed);
}

}  // namespace whichlink::trial
