#include "draft/keys.h"

#include <algorithm>

namespace whichlink::draft {

bool is_never_asked(const std::string& key) {
  return key.rfind("never asked: ", 0) == 0 ||
         (key.rfind("spare ", 0) == 0 && key.size() > kSpareName.size() + 2 &&
          key.ends_with(": " + kSpareName));
}

std::string place_key(const std::string& place) {
  return "place " + place;
}

std::string way_key(const faults::Outline& outline, const faults::OutlineChoice& choice) {
  return outline.name + ": " + choice.name;
}

std::string spare_key(const std::string& kind, std::size_t number, const std::string& what) {
  return "spare " + kind + " " + std::to_string(number) + ": " + what;
}

std::string walk_key(const faults::Rules& rules, const Answers& complete, std::size_t a,
                     std::size_t b) {
  // By the outlines' own places, so that a new name for a room keeps its minutes.
  const std::vector<std::string> all = all_places(rules, complete);
  const auto key = [&](std::size_t index) {
    const bool of_outline = is_apart(complete) && index < rules.outlines->places.size();
    return of_outline ? rules.outlines->places[index].key
                      : (index == 0 ? kOnlyPlace : "more " + all[index]);
  };
  return "way " + key(a) + " to " + key(b);
}

std::string value_at(const Answers& complete, const std::string& key) {
  const auto found = complete.find(key);
  return found == complete.end() ? "" : found->second.value;
}

bool is_apart(const Answers& complete) {
  return value_at(complete, kPlaces) == kApart;
}

bool is_chosen(const faults::Outline& outline, const Answers& complete) {
  const std::vector<std::string> kinds = names_in(value_at(complete, kKinds));
  return std::find(kinds.begin(), kinds.end(), outline.name) != kinds.end();
}

std::vector<std::size_t> chosen_ways(const faults::Outline& outline, const Answers& complete) {
  const bool apart = is_apart(complete);
  std::vector<std::size_t> ways;
  for (const faults::OutlineChoice& choice : outline.choices) {
    std::size_t way = apart ? choice.usual_apart : choice.usual_together;
    const std::string said = value_at(complete, way_key(outline, choice));
    for (std::size_t index = 0; index < choice.ways.size(); ++index) {
      if (choice.ways[index].name == said) way = index;
    }
    ways.push_back(way);
  }
  return ways;
}

std::vector<std::string> place_names(const faults::Rules& rules, const Answers& complete) {
  const bool apart = is_apart(complete);
  std::vector<std::string> names;
  for (const faults::OutlinePlace& place : rules.outlines->places) {
    names.push_back(value_at(complete, apart ? place_key(place.key) : kOnlyPlace));
  }
  return names;
}

std::vector<std::string> all_places(const faults::Rules& rules, const Answers& complete) {
  std::vector<std::string> all;
  std::vector<std::string> given = place_names(rules, complete);
  for (const std::string& more : names_in(value_at(complete, kExtraPlaces))) given.push_back(more);
  for (const std::string& name : given) {
    if (std::find(all.begin(), all.end(), name) == all.end()) all.push_back(name);
  }
  return all;
}

std::string place_now(const faults::Rules& rules, const Answers& complete,
                      const std::string& then) {
  const std::vector<std::string> old = names_in(value_at(complete, kOldPlaces));
  const std::vector<std::string> now = place_names(rules, complete);
  for (std::size_t index = 0; index < old.size() && index < now.size(); ++index) {
    if (old[index] == then) return now[index];
  }
  return then;
}

}  // namespace whichlink::draft
