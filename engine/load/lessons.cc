#include <cmath>

#include "load/load.h"
#include "load/reader.h"

namespace whichlink::load {
namespace {

constexpr Range kSeed{0, 1e9, "a whole number from 0 to 1000000000"};

drill::Hidden read_hidden(const Node& node, const Scope& scope, Complaints& complaints) {
  Fields fields(&node, node.at, scope, complaints);
  drill::Hidden hidden;
  hidden.place = complaints.place(node.at);
  if (const Node* fault = fields.need("fault", "the name of a fault, as tables show it")) {
    hidden.place = complaints.place(fault->at);
    hidden.fault = sentence(*fault, complaints);
  }
  hidden.showing = fields.yes("showing");
  return hidden;
}

void read_crossed(const Node& node, drill::DrillCase& one, Complaints& complaints) {
  one.crossed_place = complaints.place(node.at);
  const std::vector<Node>& plugs = items(node, complaints);
  for (const Node& plug : plugs) one.crossed.push_back(sentence(plug, complaints));
  if (!plugs.empty() && plugs.size() != 2) {
    complaints.add(node.at, "a list of " + std::to_string(plugs.size()), "two plugs of a pair");
  }
}

// What is hidden, or that it is drawn: one of them.
void read_truth(Fields& fields, drill::DrillCase& one) {
  Complaints& complaints = fields.complaints();
  one.drawn = fields.yes("drawn");
  if (const Node* node = fields.find("hidden")) {
    for (const Node& item : items(*node, complaints)) {
      one.hidden.push_back(read_hidden(item, fields.scope(), complaints));
    }
  }
  if (const Node* node = fields.find("crossed")) read_crossed(*node, one, complaints);
  const bool said = !one.hidden.empty() || !one.crossed.empty();
  if (said && one.drawn) {
    complaints.add(fields.at(), "a case that is drawn says what is hidden", "one or the other");
  }
  if (!said && !one.drawn) {
    complaints.add(fields.at(), "nothing is hidden in this case",
                   "`hidden`, `crossed` or `drawn: true`");
  }
}

drill::DrillCase read_case(const Entry& entry, const Scope& scope, Complaints& complaints) {
  Fields fields(&entry.value, entry.at, scope, complaints);
  drill::DrillCase one;
  one.name = entry.key;
  one.place = complaints.place(entry.at);
  one.route_place = one.heard_place = one.listener_place = one.crossed_place = one.missing_place =
      one.place;
  one.words = fields.text_or_empty("words");
  one.model = fields.text("model");
  if (const Node* node = fields.need("route", "the name of a route")) {
    one.route_place = complaints.place(node->at);
    one.route = sentence(*node, complaints);
  }
  if (const Node* node = fields.find("listener")) {
    one.listener_place = complaints.place(node->at);
    one.listener = sentence(*node, complaints);
  }
  if (const Node* node = fields.find("days since pass")) {
    one.days_since_pass = number(*node, kDays, fields.scope(), complaints);
  }
  const double seed = fields.number_or("seed", kSeed, 1);
  if (seed != std::floor(seed)) {
    complaints.add(fields.find("seed")->at, "a seed that is no whole number", kSeed.expected);
  }
  one.seed = static_cast<std::uint64_t>(seed);
  if (const Node* node = fields.find("missing")) {
    one.missing_place = complaints.place(node->at);
    for (const Node& item : items(*node, complaints)) {
      one.missing.push_back(sentence(item, complaints));
    }
  }
  read_truth(fields, one);
  if (const Node* node = fields.find("heard")) {
    one.heard_place = complaints.place(node->at);
    one.heard = sentence(*node, complaints);
  } else if (!one.drawn) {
    complaints.add(fields.at(), "the key \"heard\" is missing", "the complaint: a symptom");
  }
  return one;
}

drill::Lesson read_lesson(const Entry& entry, const Scope& scope, Complaints& complaints) {
  Fields fields(&entry.value, entry.at, scope, complaints);
  drill::Lesson lesson;
  lesson.name = entry.key;
  lesson.goal = fields.text("goal");
  lesson.hint = fields.text("hint");
  if (const Node* node = fields.find("teaches")) {
    const std::string name = sentence(*node, complaints);
    lesson.teaches = drill::habit_of(name);
    if (!lesson.teaches && !name.empty()) {
      complain_unknown(name, node->at, "habit", drill::habit_names(), complaints);
    }
  }
  const Node* cases = fields.need("cases", "a mapping of cases, each with its name");
  if (cases == nullptr) return lesson;
  const Named named(cases, fields.scope(), complaints);
  for (const Entry* one : named.entries()) {
    lesson.cases.push_back(read_case(*one, named.scope(), complaints));
  }
  if (named.entries().empty()) complaints.add(cases->at, "a lesson without a case", "one at least");
  return lesson;
}

}  // namespace

Result<drill::Lessons> lessons_from(std::string_view text, const std::string& file) {
  Complaints complaints(file);
  drill::Lessons lessons;
  if (const auto root = tree_from(text, complaints)) {
    Fields top(&*root, root->at, {}, complaints);
    lessons.trade = top.text("lessons for");
    lessons.about = top.text_or_empty("about");
    if (const Node* node = top.need("lessons", "a mapping of lessons, each with its name")) {
      const Named named(node, top.scope(), complaints);
      for (const Entry* one : named.entries()) {
        lessons.lessons.push_back(read_lesson(*one, named.scope(), complaints));
      }
      if (named.entries().empty()) complaints.add(node->at, "no lesson", "one at least");
    }
  }
  if (!complaints.empty()) return tl::unexpected(complaints.sorted());
  return lessons;
}

Result<drill::Lessons> lessons_file(const std::string& file) {
  const auto text = read_file(file);
  if (!text) return tl::unexpected(text.error());
  return lessons_from(*text, file);
}

}  // namespace whichlink::load
