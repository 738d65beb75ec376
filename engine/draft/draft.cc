#include "draft/draft.h"

#include <algorithm>
#include <charconv>
#include <set>

#include "draft/keys.h"

namespace whichlink::draft {
namespace {

using faults::JointKind;
using faults::Role;

double number_at(const Answers& complete, const std::string& key, double otherwise) {
  const std::string text = value_at(complete, key);
  double value = otherwise;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

std::string joined(const std::string& part, const std::string& after_name) {
  return after_name.empty() ? part : part + "." + after_name;
}

/// Lays one kind of equipment out, route by route.
class Laying {
 public:
  Laying(const faults::Rules& rules, const std::vector<std::string>& places)
      : rules_(rules), outlines_(*rules.outlines), places_(places) {}

  void lay(const faults::OutlineRoute& route, const std::vector<std::size_t>& ways) {
    const faults::OutlineStep* before = nullptr;
    std::string selects;
    for (const faults::OutlineStep& step : route.steps) {
      if (!faults::is_there(step, ways)) continue;
      add_part(step.part);
      if (before != nullptr) {
        add_joint(*before, step);
        if (step.joint == JointKind::switched && selects.empty()) selects = end(step, step.in);
      }
      before = &step;
    }
    const faults::OutlineStep& first = route.steps.front();
    sketch_.routes.push_back({route.name, end(first, first.out), end(*before, before->out), selects,
                              rules_.signals[route.signal].name, route.side, route.pair});
  }

  [[nodiscard]] Sketch done() { return std::move(sketch_); }

 private:
  [[nodiscard]] const faults::PartKind& kind_of(std::size_t part) const {
    return rules_.part_kinds[outlines_.parts[part].kind];
  }
  [[nodiscard]] std::string end(const faults::OutlineStep& step, const std::string& at) const {
    return joined(outlines_.parts[step.part].name, at);
  }

  void add_part(std::size_t index) {
    if (!there_.insert(index).second) return;
    const faults::OutlinePart& part = outlines_.parts[index];
    Sketch::Part one{part.name, kind_of(index).name, places_[part.place], {}};
    for (const auto& [piece, place] : part.piece_places) {
      if (places_[place] != one.place) one.piece_places[piece] = places_[place];
    }
    sketch_.parts.push_back(std::move(one));
  }

  [[nodiscard]] Role role_of(const faults::OutlineStep& step, const std::string& at) const {
    const faults::PartKind& kind = kind_of(step.part);
    return rules_.classes[kind.pieces[kind.find(at)->piece].element_class].role;
  }
  /// The element: what a plug is in, whatever the lane.
  [[nodiscard]] std::string element(const faults::OutlineStep& step, const std::string& at) const {
    const faults::PartKind& kind = kind_of(step.part);
    const auto& piece = kind.pieces[kind.find(at)->piece];
    return joined(outlines_.parts[step.part].name, piece.name);
  }

  void add_joint(const faults::OutlineStep& before, const faults::OutlineStep& step) {
    if (step.joint != JointKind::plugged) {
      auto& joints = step.joint == JointKind::fixed ? sketch_.fixed : sketch_.switched;
      add(joints, {end(before, before.out), end(step, step.in)});
      return;
    }
    if (role_of(before, before.out) == Role::plug) {
      add(sketch_.plugged, {element(before, before.out), element(step, step.in)});
      move_plug(before, before.out, step, step.in);
    } else {
      add(sketch_.plugged, {element(step, step.in), element(before, before.out)});
      move_plug(step, step.in, before, before.out);
    }
  }

  static void add(std::vector<Sketch::Joint>& joints, const Sketch::Joint& joint) {
    if (!holds(joints, joint)) joints.push_back(joint);
  }

  // A plug is where its jack is, whatever the place of its cord.
  void move_plug(const faults::OutlineStep& plug, const std::string& plug_at,
                 const faults::OutlineStep& jack, const std::string& jack_at) {
    const std::string there = place_of(jack, jack_at);
    if (place_of(plug, plug_at) == there) return;
    const faults::PartKind& kind = kind_of(plug.part);
    const std::string& piece = kind.pieces[kind.find(plug_at)->piece].name;
    Sketch::Part& part = part_named(outlines_.parts[plug.part].name);
    if (piece.empty()) {
      part.place = there;
    } else if (part.place == there) {
      part.piece_places.erase(piece);
    } else {
      part.piece_places[piece] = there;
    }
  }

  [[nodiscard]] std::string place_of(const faults::OutlineStep& step, const std::string& at) {
    const faults::PartKind& kind = kind_of(step.part);
    const Sketch::Part& part = part_named(outlines_.parts[step.part].name);
    const auto own = part.piece_places.find(kind.pieces[kind.find(at)->piece].name);
    return own == part.piece_places.end() ? part.place : own->second;
  }

  Sketch::Part& part_named(const std::string& name) {
    return *std::find_if(sketch_.parts.begin(), sketch_.parts.end(),
                         [&](const Sketch::Part& part) { return part.name == name; });
  }

  const faults::Rules& rules_;
  const faults::Outlines& outlines_;
  const std::vector<std::string>& places_;
  std::set<std::size_t> there_;
  Sketch sketch_;
};

/// Parts, joints and routes of `more` that `sketch` has not yet, added to it.
Block added(Sketch& sketch, const Sketch& more) {
  Block block;
  block.own = left_over(more, sketch);
  for (const Sketch::Part& part : block.own.parts) sketch.parts.push_back(part);
  for (const Sketch::Joint& joint : block.own.fixed) sketch.fixed.push_back(joint);
  for (const Sketch::Joint& joint : block.own.switched) sketch.switched.push_back(joint);
  for (const Sketch::Joint& joint : block.own.plugged) sketch.plugged.push_back(joint);
  for (const Sketch::Route& route : block.own.routes) sketch.routes.push_back(route);
  return block;
}

class Drafting {
 public:
  Drafting(const faults::Rules& rules, const Answers& complete)
      : rules_(rules), complete_(complete) {}

  Draft go(const Sketch* kept) {
    Sketch& sketch = draft_.sketch;
    sketch.name = value_at(complete_, kName);
    sketch.about = value_at(complete_, kAbout);
    sketch.people = value_at(complete_, kPeople) == "2" ? 2 : 1;
    sketch.places = all_places(rules_, complete_);
    const std::string start = value_at(complete_, kStart);
    sketch.start = start.empty() ? sketch.places.front() : place_now(rules_, complete_, start);
    add_walking();
    add_kinds();
    if (kept != nullptr) add_kept(*kept);
    add_spares();
    add_numbers();
    return std::move(draft_);
  }

 private:
  void add_walking() {
    const std::vector<std::string>& places = draft_.sketch.places;
    for (std::size_t a = 0; a < places.size(); ++a) {
      for (std::size_t b = a + 1; b < places.size(); ++b) {
        const std::string key = walk_key(rules_, complete_, a, b);
        draft_.sketch.walking.push_back(
            {places[a], places[b], number_at(complete_, key, rules_.outlines->walking_minutes)});
      }
    }
  }

  void add_kinds() {
    const std::vector<std::string> places = place_names(rules_, complete_);
    for (const faults::Outline& outline : rules_.outlines->kinds) {
      if (!is_chosen(outline, complete_)) continue;
      Block block =
          added(draft_.sketch, laid_out(rules_, outline, chosen_ways(outline, complete_), places));
      block.name = outline.name;
      block.words = outline.name;
      if (outline.words != outline.name) block.words += ": " + outline.words;
      block.look = outline.look;
      draft_.blocks.push_back(std::move(block));
    }
  }

  void add_kept(const Sketch& kept) {
    Sketch now = kept;
    for (Sketch::Part& part : now.parts) {
      part.place = place_now(rules_, complete_, part.place);
      for (auto& [piece, place] : part.piece_places) place = place_now(rules_, complete_, place);
      std::erase_if(part.piece_places, [&](const auto& one) { return one.second == part.place; });
    }
    Block block = added(draft_.sketch, now);
    block.words = "kept from the file before: no question is about it";
    const Sketch& own = block.own;
    if (own.parts.empty() && own.fixed.empty() && own.switched.empty() && own.plugged.empty() &&
        own.routes.empty()) {
      return;
    }
    draft_.blocks.push_back(std::move(block));
  }

  [[nodiscard]] bool is_in_use(const std::string& name) const {
    const auto is_called = [&](const auto& one) { return one.name == name; };
    return std::any_of(draft_.sketch.parts.begin(), draft_.sketch.parts.end(), is_called) ||
           std::any_of(draft_.sketch.spares.begin(), draft_.sketch.spares.end(), is_called);
  }

  void add_spares() {
    std::map<std::string, std::size_t> counts;
    for (const std::string& kind : names_in(value_at(complete_, kSpares))) {
      const std::size_t number = ++counts[kind];
      Sketch::Spare spare;
      spare.kind = kind;
      spare.state = value_at(complete_, spare_key(kind, number, kState));
      spare.place = value_at(complete_, spare_key(kind, number, kPlace));
      if (spare.place.empty()) spare.place = draft_.sketch.places.front();
      spare.name = value_at(complete_, spare_key(kind, number, kSpareName));
      if (spare.name.empty()) spare.name = "spare " + kind;
      const std::string wanted = spare.name;
      for (std::size_t more = 2; is_in_use(spare.name); ++more) {
        spare.name = wanted + " " + std::to_string(more);
      }
      draft_.sketch.spares.push_back(std::move(spare));
    }
  }

  void add_numbers() {
    Sketch& sketch = draft_.sketch;
    sketch.has_meter = value_at(complete_, kMeter) == kYes;
    sketch.days_since_pass = number_at(complete_, kPassed, rules_.handling.default_days_since_pass);
    sketch.service_minutes = number_at(complete_, kService, rules_.prices.service_minutes);
    sketch.miss_minutes = number_at(complete_, kMiss, rules_.prices.miss_minutes);
    if (!rules_.use) return;
    sketch.sessions_per_day = number_at(complete_, kSessions, rules_.use->sessions_per_day);
    sketch.days_per_year = number_at(complete_, kDaysPerYear, rules_.use->days_per_year);
    sketch.spoilt_minutes = number_at(complete_, kSpoilt, rules_.use->spoilt_minutes);
  }

  const faults::Rules& rules_;
  const Answers& complete_;
  Draft draft_;
};

}  // namespace

Sketch laid_out(const faults::Rules& rules, const faults::Outline& outline,
                const std::vector<std::size_t>& ways, const std::vector<std::string>& places) {
  Laying laying(rules, places);
  for (const faults::OutlineRoute& route : outline.routes) laying.lay(route, ways);
  return laying.done();
}

Draft draft_from(const faults::Rules& rules, const Form& form, const Sketch* kept) {
  Draft draft = Drafting(rules, form.complete).go(kept);
  for (const Question& question : form.questions) {
    const Said& said = form.complete.at(question.key);
    if (!said.known) draft.unknown.push_back({question, said});
  }
  return draft;
}

}  // namespace whichlink::draft
