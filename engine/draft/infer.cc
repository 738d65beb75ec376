#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "draft/draft.h"
#include "draft/keys.h"

namespace whichlink::draft {
namespace {

/// Rooms are matched with the outlines' places by trying; with more than these only the first do.
constexpr std::size_t kMostPlaces = 5;

bool has_all(const Sketch& whole, const Sketch& some) {
  const auto among = [](const auto& all) {
    return [&all](const auto& one) { return std::find(all.begin(), all.end(), one) != all.end(); };
  };
  const auto joints = [](const std::vector<Sketch::Joint>& all) {
    return [&all](const Sketch::Joint& joint) { return holds(all, joint); };
  };
  return std::all_of(some.parts.begin(), some.parts.end(), among(whole.parts)) &&
         std::all_of(some.routes.begin(), some.routes.end(), among(whole.routes)) &&
         std::all_of(some.fixed.begin(), some.fixed.end(), joints(whole.fixed)) &&
         std::all_of(some.switched.begin(), some.switched.end(), joints(whole.switched)) &&
         std::all_of(some.plugged.begin(), some.plugged.end(), joints(whole.plugged));
}

struct Found {
  const faults::Outline* outline = nullptr;
  std::vector<std::size_t> ways;
  Sketch sketch;
};

/// Every combination of ways of one outline.
template <class Each>
void each_way(const faults::Outline& outline, const Each& each) {
  std::vector<std::size_t> ways(outline.choices.size(), 0);
  while (true) {
    each(ways);
    std::size_t choice = 0;
    while (choice < ways.size() && ++ways[choice] == outline.choices[choice].ways.size()) {
      ways[choice++] = 0;
    }
    if (choice == ways.size()) return;
  }
}

/// The kinds of equipment that are all there, each in the way with the most parts.
std::vector<Found> found_with(const faults::Rules& rules, const Sketch& whole,
                              const std::vector<std::string>& places) {
  std::vector<Found> all;
  for (const faults::Outline& outline : rules.outlines->kinds) {
    Found best;
    each_way(outline, [&](const std::vector<std::size_t>& ways) {
      Sketch sketch = laid_out(rules, outline, ways, places);
      if (!has_all(whole, sketch)) return;
      if (best.outline != nullptr && best.sketch.parts.size() >= sketch.parts.size()) return;
      best = {&outline, ways, std::move(sketch)};
    });
    if (best.outline != nullptr) all.push_back(std::move(best));
  }
  return all;
}

class Inferring {
 public:
  Inferring(const faults::Rules& rules, const Sketch& whole) : rules_(rules), whole_(whole) {}

  Inferred go() {
    match_places();
    say(kName, whole_.name);
    say(kAbout, whole_.about);
    say(kPeople, std::to_string(whole_.people));
    say(kStart, whole_.start);
    say_places();
    say_kinds();
    say_spares();
    say_numbers();
    say_walking();
    list_kept();
    return std::move(inferred_);
  }

 private:
  void say(const std::string& key, const std::string& value) {
    inferred_.answers[key] = {value, true};
  }

  // All together, or apart in the order that fits the most of the file.
  void match_places() {
    places_.assign(rules_.outlines->places.size(), whole_.places.front());
    found_ = found_with(rules_, whole_, places_);
    const std::size_t needed = rules_.outlines->places.size();
    const std::size_t have = std::min(whole_.places.size(), kMostPlaces);
    if (rules_.outlines->apart_words.empty() || needed > have) return;
    std::vector<std::size_t> order(have);
    for (std::size_t index = 0; index < have; ++index) order[index] = index;
    bool is_first = true;
    do {
      std::vector<std::string> places;
      for (std::size_t place = 0; place < needed; ++place) {
        places.push_back(whole_.places[order[place]]);
      }
      std::vector<Found> found = found_with(rules_, whole_, places);
      // With nothing to tell them by, the order of the file.
      const bool better = parts_in(found) > parts_in(found_);
      if (better || (is_first && found_.empty())) {
        places_ = places;
        found_ = std::move(found);
        apart_ = true;
      }
      is_first = false;
    } while (std::next_permutation(order.begin(), order.end()));
  }

  static std::size_t parts_in(const std::vector<Found>& found) {
    std::size_t count = 0;
    for (const Found& one : found) count += one.sketch.parts.size();
    return count;
  }

  void say_places() {
    if (!rules_.outlines->apart_words.empty()) say(kPlaces, apart_ ? kApart : kTogether);
    if (apart_) {
      for (std::size_t place = 0; place < places_.size(); ++place) {
        say(place_key(rules_.outlines->places[place].key), places_[place]);
      }
    } else {
      say(kOnlyPlace, places_.front());
    }
    say(kOldPlaces, value_of(places_));
    std::vector<std::string> more;
    for (const std::string& place : whole_.places) {
      if (std::find(places_.begin(), places_.end(), place) == places_.end()) more.push_back(place);
    }
    if (!more.empty()) say(kExtraPlaces, value_of(more));
  }

  void say_kinds() {
    std::vector<std::string> names;
    for (const Found& one : found_) {
      names.push_back(one.outline->name);
      for (std::size_t choice = 0; choice < one.ways.size(); ++choice) {
        const faults::OutlineChoice& asked = one.outline->choices[choice];
        say(way_key(*one.outline, asked), asked.ways[one.ways[choice]].name);
      }
      for (const Sketch::Part& part : one.sketch.parts) drawn_.parts.push_back(part);
      for (const Sketch::Joint& joint : one.sketch.fixed) drawn_.fixed.push_back(joint);
      for (const Sketch::Joint& joint : one.sketch.switched) drawn_.switched.push_back(joint);
      for (const Sketch::Joint& joint : one.sketch.plugged) drawn_.plugged.push_back(joint);
      for (const Sketch::Route& route : one.sketch.routes) drawn_.routes.push_back(route);
    }
    say(kKinds, value_of(names));
    inferred_.kept = left_over(whole_, drawn_);
    if (!inferred_.kept.routes.empty()) say(kHasRoutes, kYes);
    say_taken(names);
  }

  // A kind of equipment that is not there, and of which some route or part has its name in use.
  void say_taken(const std::vector<std::string>& there) {
    std::set<std::string> names;
    for (const Sketch::Part& part : inferred_.kept.parts) names.insert(part.name);
    for (const Sketch::Route& route : inferred_.kept.routes) names.insert(route.name);
    std::set<std::string> kinds;
    for (const Sketch::Part& part : inferred_.kept.parts) kinds.insert(part.kind);
    say(kKeptKinds, value_of({kinds.begin(), kinds.end()}));
    for (const faults::Outline& outline : rules_.outlines->kinds) {
      if (std::find(there.begin(), there.end(), outline.name) != there.end()) continue;
      bool taken = false;
      each_way(outline, [&](const std::vector<std::size_t>& ways) {
        const Sketch sketch = laid_out(rules_, outline, ways, places_);
        for (const Sketch::Part& part : sketch.parts) taken |= names.contains(part.name);
        for (const Sketch::Route& route : sketch.routes) taken |= names.contains(route.name);
      });
      if (taken) inferred_.taken.push_back(outline.name);
    }
    say(kTaken, value_of(inferred_.taken));
  }

  void say_spares() {
    std::vector<std::string> kinds;
    std::map<std::string, std::size_t> counts;
    for (const Sketch::Spare& spare : whole_.spares) {
      const std::size_t number = ++counts[spare.kind];
      kinds.push_back(spare.kind);
      say(spare_key(spare.kind, number, kSpareName), spare.name);
      say(spare_key(spare.kind, number, kState), spare.state);
      say(spare_key(spare.kind, number, kPlace), spare.place);
    }
    say(kSpares, value_of(kinds));
  }

  void say_numbers() {
    say(kMeter, whole_.has_meter ? kYes : kNo);
    say(kPassed, fmt::format("{}", whole_.days_since_pass));
    say(kService, fmt::format("{}", whole_.service_minutes));
    say(kMiss, fmt::format("{}", whole_.miss_minutes));
    if (!whole_.sessions_per_day) return;
    say(kSessions, fmt::format("{}", *whole_.sessions_per_day));
    say(kDaysPerYear, fmt::format("{}", *whole_.days_per_year));
    say(kSpoilt, fmt::format("{}", *whole_.spoilt_minutes));
  }

  void say_walking() {
    const std::vector<std::string> all = all_places(rules_, inferred_.answers);
    for (const Sketch::Walk& walk : whole_.walking) {
      for (std::size_t a = 0; a < all.size(); ++a) {
        for (std::size_t b = a + 1; b < all.size(); ++b) {
          const bool is_it = (all[a] == walk.from && all[b] == walk.to) ||
                             (all[a] == walk.to && all[b] == walk.from);
          if (!is_it) continue;
          say(walk_key(rules_, inferred_.answers, a, b), fmt::format("{}", walk.minutes));
        }
      }
    }
  }

  void list_kept() {
    std::vector<std::string>& words = inferred_.kept_words;
    const Sketch& kept = inferred_.kept;
    for (const Sketch::Route& route : kept.routes) words.push_back("the route " + route.name);
    for (const Sketch::Part& part : kept.parts) words.push_back("the part " + part.name);
    for (const auto* joints : {&kept.fixed, &kept.switched, &kept.plugged}) {
      for (const auto& [a, b] : *joints) words.push_back(fmt::format("{} to {}", a, b));
    }
  }

  const faults::Rules& rules_;
  const Sketch& whole_;
  std::vector<std::string> places_;
  bool apart_ = false;
  std::vector<Found> found_;
  Sketch drawn_;
  Inferred inferred_;
};

}  // namespace

Answers marked_as_in(const std::string& text, const faults::Rules& rules, Answers answers) {
  // Lines of a comment are joined again: to_text breaks long ones.
  std::string joined = text;
  for (std::size_t at = joined.find("\n# "); at != std::string::npos;
       at = joined.find("\n# ", at)) {
    if (joined.compare(at, 5, "\n# - ") == 0) {
      ++at;
    } else {
      joined.replace(at, 3, " ");
    }
  }
  for (const Question& question : form_of(rules, {}, answers).questions) {
    if (joined.find("\n# - " + question.asks + " (taken as: ") == std::string::npos) continue;
    const auto found = answers.find(question.key);
    if (found != answers.end()) found->second.known = false;
  }
  return answers;
}

Inferred inferred_from(const faults::Rules& rules, const moves::Installation& installation) {
  return Inferring(rules, sketch_of(installation)).go();
}

}  // namespace whichlink::draft
