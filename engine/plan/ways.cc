#include "plan/ways.h"

#include <algorithm>
#include <limits>

namespace whichlink::plan {
namespace {

// Lists of questions that are held: about a megabyte each where an installation is large (judged).
// The trials of the largest one here ask of some 55, and nine tenths of the time of ten.
constexpr std::size_t kMostHeld = 64;

// A report from another route, or from a meter, leaves open what the route itself sounds like.
bool tells_of_the_route(const moves::Standing& standing, const moves::Move& move,
                        const moves::Setting& setting) {
  const auto& route = setting.chain().routes[standing.route];
  return move.heard_on == standing.route &&
         move.sense == setting.rules().signals[route.signal].sense;
}

bool repairs_something(const moves::Setting& setting, const moves::Move& move) {
  if (const auto* swap = std::get_if<moves::Substitute>(&move.action)) {
    return setting.chain().parts[swap->in].spare;
  }
  return std::holds_alternative<moves::Treat>(move.action) ||
         std::holds_alternative<moves::TraceLabels>(move.action);
}

}  // namespace

KnownWays::KnownWays(const moves::Setting& setting, std::size_t listener,
                     std::optional<double> minutes_each)
    : setting_(setting), listener_(listener), minutes_each_(minutes_each) {}

Ways& KnownWays::at(const moves::Standing& standing) {
  const auto found = std::find_if(ways_.begin(), ways_.end(),
                                  [&](const Ways& one) { return one.standing == standing; });
  if (found != ways_.end()) return *found;
  if (held_ >= kMostHeld) {
    ways_.clear();
    outlooks_.clear();
    held_ = 0;
  }
  Ways here{standing, moves::put_back_minutes(setting_, standing), outlook_at(standing), {}, {}};
  for (moves::Move& move : moves::derive_moves(setting_, standing)) {
    moves::Standing next = moves::after(setting_, standing, move);
    const double back = moves::put_back_minutes(setting_, next);
    Outlook* outlook = outlook_at(next);
    const bool tells = tells_of_the_route(standing, move, setting_);
    const bool repairs = repairs_something(setting_, move);
    std::vector<bool> matters = faults_that_matter(setting_, next);
    belief::Wanted wanted = belief::wanted(matters);
    here.ways.push_back({std::move(move),
                         std::move(next),
                         back,
                         std::move(matters),
                         std::move(wanted),
                         outlook,
                         tells,
                         repairs,
                         {}});
  }
  return ways_.emplace_back(std::move(here));
}

const std::vector<Asked>& KnownWays::asked(Ways& ways, const chain::Patching& real) {
  for (const auto& [patching, asked] : ways.asked) {
    if (patching == real) return asked;
  }
  ++held_;
  std::vector<Asked> asked;
  asked.reserve(ways.ways.size());
  for (const Way& way : ways.ways) {
    asked.push_back(ask(setting_, ways.standing, way.move, way.next, real, listener_));
  }
  return ways.asked.emplace_back(real, std::move(asked)).second;
}

const belief::Question& KnownWays::question(const moves::Standing& standing,
                                            const moves::Move& move, const chain::Patching& real) {
  Ways& here = at(standing);
  const auto way = std::find_if(here.ways.begin(), here.ways.end(),
                                [&](const Way& one) { return one.move.name == move.name; });
  if (way == here.ways.end()) {
    return none_of_the_ways_ = moves::question_of(setting_, standing, move, real, listener_);
  }
  for (const auto& [patching, asked] : here.asked) {
    if (!(patching == real)) continue;
    return asked[static_cast<std::size_t>(way - here.ways.begin())].question.question();
  }
  for (const auto& [patching, question] : way->questions) {
    if (patching == real) return question;
  }
  return way->questions
      .emplace_back(real, moves::question_of(setting_, standing, move, real, listener_))
      .second;
}

double KnownWays::least_minutes(const Ways& ways) const {
  double least = std::numeric_limits<double>::infinity();
  for (const Way& way : ways.ways) {
    least = std::min(least, minutes_each_.value_or(way.move.minutes) + way.put_back_minutes);
  }
  return least;
}

Outlook* KnownWays::outlook_at(const moves::Standing& standing) {
  moves::Standing put_back = all_put_back(setting_, standing);
  for (const auto& [known, outlook] : outlooks_) {
    if (known == put_back) return outlook.get();
  }
  auto made = std::make_unique<Outlook>(setting_, put_back, minutes_each_);
  outlooks_.emplace_back(std::move(put_back), std::move(made));
  return outlooks_.back().second.get();
}

}  // namespace whichlink::plan
