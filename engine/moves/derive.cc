#include <algorithm>
#include <set>

#include "moves/move.h"
#include "moves/standing.h"

namespace whichlink::moves {
namespace {

/// Builds the list of moves for one standing, a function a kind.
class Derivation {
 public:
  Derivation(const Setting& setting, const Standing& standing)
      : setting_(setting),
        chain_(setting.chain()),
        rules_(setting.rules()),
        standing_(standing),
        path_(setting.tracer().trace(standing.route, standing.patching).path),
        along_(elements_of(chain_, path_)) {}

  std::vector<Move> all() {
    add(Listen{}, "listen", std::nullopt, 0);
    other_routes();
    stresses();
    stress_route();
    trace_labels();
    treatments();
    if (!standing_.temporary) {
      direct_connections();
      crossings();
    }
    substitutions();
    measurements();
    undoing();
    return std::move(moves_);
  }

 private:
  [[nodiscard]] const faults::ElementClass& class_of(ElementId element) const {
    return rules_.classes[chain_.elements[element].element_class];
  }
  [[nodiscard]] const faults::Signal& signal_of(RouteId route) const {
    return rules_.signals[chain_.routes[route].signal];
  }
  [[nodiscard]] double walk(PlaceId from, PlaceId to) const {
    return chain_.walking_minutes[from][to];
  }
  [[nodiscard]] PlaceId place_of(ElementId element) const {
    return place_now(setting_, standing_, element);
  }
  [[nodiscard]] std::string name_of(ElementId element) const {
    return chain_.elements[element].name;
  }

  // Where the route is heard once `changes` are made: where its end is then.
  [[nodiscard]] PlaceId heard_at(RouteId route, const Standing& then) const {
    return place_now(setting_, then, chain_.conductors[chain_.routes[route].to].element);
  }

  Move& add(Action action, std::string name, std::optional<PlaceId> acts_at, double minutes,
            std::vector<PlugChange> changes = {}, std::optional<RouteId> route = std::nullopt) {
    Move move;
    move.action = action;
    move.name = std::move(name);
    move.heard_on = route.value_or(standing_.route);
    move.sense = signal_of(move.heard_on).sense;
    move.changes = std::move(changes);
    move.acts_at = acts_at.value_or(standing_.place);
    move.ends_at = standing_.place;
    move.ends_at = heard_at(move.heard_on, after(setting_, standing_, move));
    if (!acts_at) move.acts_at = move.ends_at;
    move.minutes = walk(standing_.place, move.acts_at) + minutes +
                   walk(move.acts_at, move.ends_at) + signal_of(move.heard_on).minutes;
    caution(move, signal_of(move.heard_on).cautions);
    for (const PlugChange& change : move.changes) {
      caution_of_joint(move, change.plug, standing_.patching.plug_in[change.plug]);
      if (change.jack) caution(move, class_of(*change.jack).cautions);
    }
    moves_.push_back(std::move(move));
    return moves_.back();
  }

  static void caution(Move& move, const std::vector<std::size_t>& cautions) {
    for (const std::size_t one : cautions) {
      if (std::find(move.cautions.begin(), move.cautions.end(), one) == move.cautions.end()) {
        move.cautions.push_back(one);
      }
    }
  }

  // A joint that is parted or pushed together: what holds for either half holds for the move.
  void caution_of_joint(Move& move, ElementId half, std::optional<ElementId> other) const {
    caution(move, class_of(half).cautions);
    if (other) caution(move, class_of(*other).cautions);
  }

  void other_routes() {
    for (const RouteId route : chain_.routes.ids()) {
      if (route == standing_.route) continue;
      const chain::Traced traced = setting_.tracer().trace(route, standing_.patching);
      if (!traced.path.complete) continue;
      add(TryRoute{route}, "try " + chain_.routes[route].name, source_place(chain_, route), 0, {},
          route);
    }
  }

  void stresses() {
    for (const ElementId element : along_) {
      for (const StressId id : class_of(element).stresses) {
        const faults::Stress& stress = rules_.stresses[id];
        const PlaceId here = place_now(setting_, standing_, element);
        Move& move = add(ApplyStress{element, id}, stress.name + " " + name_of(element), here,
                         stress.minutes);
        const bool apart = here != move.ends_at;
        if (apart && setting_.installation().people < 2) {
          move.minutes += rules_.handling.alone_minutes;
        }
        caution(move, stress.cautions);
        caution(move, class_of(element).cautions);
      }
    }
  }

  void stress_route() {
    std::vector<std::size_t> cautions;
    double minutes = 0;
    std::size_t stressed = 0;
    std::optional<PlaceId> first;
    PlaceId at = standing_.place;
    for (const ElementId element : along_) {
      if (class_of(element).stresses.empty()) continue;
      const PlaceId here = place_now(setting_, standing_, element);
      if (!first) first = here;
      if (stressed > 0) minutes += walk(at, here);
      at = here;
      for (const StressId id : class_of(element).stresses) {
        minutes += rules_.stresses[id].minutes;
        const auto& more = rules_.stresses[id].cautions;
        cautions.insert(cautions.end(), more.begin(), more.end());
        ++stressed;
      }
      const auto& own = class_of(element).cautions;
      cautions.insert(cautions.end(), own.begin(), own.end());
    }
    if (stressed < 2) return;
    Move& move = add(StressRoute{}, "stress all", first, minutes);
    move.minutes += walk(at, move.ends_at) - walk(*first, move.ends_at);
    if (setting_.installation().people < 2 && *first != move.ends_at) {
      move.minutes += rules_.handling.alone_minutes;
    }
    caution(move, cautions);
  }

  void treatments() {
    std::set<std::pair<RemedyId, ElementId>> seen;
    for (const ElementId element : along_) {
      std::set<RemedyId> remedies;
      for (const ModeId mode : class_of(element).modes) {
        for (const auto& [remedy, chance] : rules_.modes[mode].remedies) remedies.insert(remedy);
      }
      for (const RemedyId id : remedies) {
        const faults::Remedy& remedy = rules_.remedies[id];
        if (remedy.by_service) continue;
        ElementId target = element;
        if (remedy.whole_joint) {
          const auto partner = chain::mate(chain_, standing_.patching, element);
          if (!partner) continue;
          if (chain_.elements[element].end == chain::End::jack) target = *partner;
        }
        if (!seen.insert({id, target}).second) continue;
        Move& move = add(Treat{target, id}, remedy.name + " " + name_of(target),
                         place_now(setting_, standing_, target), remedy.minutes);
        caution(move, remedy.cautions);
        const bool both = remedy.whole_joint || remedy.unplugs;
        caution_of_joint(move, target,
                         both ? chain::mate(chain_, standing_.patching, target) : std::nullopt);
      }
    }
  }

  void trace_labels() {
    const std::optional<RouteId> pair = chain_.routes[standing_.route].pair;
    if (!rules_.crossing || !pair || standing_.temporary || !standing_.substituted.empty()) return;
    Move& move = add(TraceLabels{standing_.route}, "trace " + chain_.routes[standing_.route].name,
                     source_place(chain_, standing_.route), rules_.crossing->trace_minutes);
    for (const RouteId route : {standing_.route, *pair}) {
      const chain::Path path = setting_.tracer().trace(route, standing_.patching).path;
      for (const ElementId element : elements_of(chain_, path)) {
        const auto jack = standing_.patching.plug_in[element];
        if (jack) caution_of_joint(move, element, jack);
      }
    }
  }

  [[nodiscard]] bool portable(std::size_t from_index) const {
    for (std::size_t index = from_index; index < along_.size(); ++index) {
      const PartId part = chain_.elements[along_[index]].part;
      if (!rules_.part_kinds[chain_.parts[part].kind].exchangeable) return false;
    }
    return true;
  }

  // A plug further down into a jack further up, where both are met in the direction of the signal.
  void direct_connections() {
    for (std::size_t lower = 0; lower < along_.size(); ++lower) {
      const ElementId plug = along_[lower];
      if (chain_.elements[plug].end != chain::End::plug) continue;
      const auto own_jack = standing_.patching.plug_in[plug];
      if (lower == 0 || own_jack != along_[lower - 1]) continue;
      for (std::size_t upper = 0; upper + 1 < lower; ++upper) {
        const ElementId jack = along_[upper];
        if (!chain::fits(chain_, plug, jack)) continue;
        const bool carried = place_of(plug) != place_of(jack);
        if (carried && !portable(lower)) continue;
        direct_connection(plug, jack, carried);
      }
    }
  }

  void direct_connection(ElementId plug, ElementId jack, bool carried) {
    std::vector<PlugChange> changes = {{plug, jack}};
    const auto occupant = chain::plug_of(chain_, standing_.patching, jack);
    if (occupant) changes.push_back({*occupant, std::nullopt});
    if (carried) {  // the part's other plugs come along
      for (const ElementId other : chain_.parts[chain_.elements[plug].part].elements) {
        const bool stays = other == plug || !standing_.patching.plug_in[other] ||
                           place_of(other) != place_of(plug) ||
                           is_along(*standing_.patching.plug_in[other]);
        if (!stays && chain_.elements[other].connector == chain_.elements[plug].connector) {
          changes.push_back({other, std::nullopt});
        }
      }
    }
    if (!leads_to_an_end(standing_.route, changes)) return;
    // The end of the route goes along to the jack: the way there is the way to the listener.
    add(ConnectDirectly{plug, jack}, "connect " + name_of(plug) + " into " + name_of(jack),
        place_of(plug), plugging_minutes(changes), changes);
  }

  [[nodiscard]] bool is_along(ElementId element) const {
    return std::find(along_.begin(), along_.end(), element) != along_.end();
  }

  [[nodiscard]] double plugging_minutes(const std::vector<PlugChange>& changes) const {
    double minutes = 0;
    for (const PlugChange& change : changes) {
      if (change.jack) minutes += rules_.handling.replug_minutes;
    }
    return minutes;
  }

  [[nodiscard]] bool leads_to_an_end(RouteId route, const std::vector<PlugChange>& changes) const {
    return setting_.tracer()
        .trace(route, with_changes(chain_, standing_.patching, changes))
        .path.complete;
  }

  void crossings() {
    const std::optional<RouteId> pair = chain_.routes[standing_.route].pair;
    if (!pair) return;
    const chain::Path other = setting_.tracer().trace(*pair, standing_.patching).path;
    for (const ElementId ours : along_) {
      for (const ElementId theirs : elements_of(chain_, other)) {
        const auto our_jack = chain::mate(chain_, standing_.patching, ours);
        const auto their_jack = chain::mate(chain_, standing_.patching, theirs);
        if (ours == theirs || !our_jack || !their_jack) continue;
        if (chain_.elements[ours].end != chain::End::plug) continue;
        if (!chain::fits(chain_, ours, *their_jack) || !chain::fits(chain_, theirs, *our_jack))
          continue;
        if (place_of(ours) != place_of(theirs)) continue;
        const std::vector<PlugChange> changes = {{ours, their_jack}, {theirs, our_jack}};
        if (!leads_to_an_end(standing_.route, changes) || !leads_to_an_end(*pair, changes))
          continue;
        add(CrossPlugs{ours, theirs}, "cross " + name_of(ours) + " with " + name_of(theirs),
            place_of(ours), plugging_minutes(changes), changes);
      }
    }
  }

  // A spare of the same kind; or, where there is none, the like part of another route.
  void substitutions() {
    for (const PartId out : parts_of(chain_, path_)) {
      const faults::PartKind& kind = rules_.part_kinds[chain_.parts[out].kind];
      if (!kind.exchangeable) continue;
      const bool is_spare = chain_.parts[out].spare;
      if (is_spare || is_changed(out)) continue;
      bool spare_found = false;
      for (const PartId in : chain_.parts.ids()) {
        const chain::Part& part = chain_.parts[in];
        if (!part.spare || part.kind != chain_.parts[out].kind || in_use(in)) continue;
        substitute(out, in, kind);
        spare_found = true;
      }
      if (!spare_found && !standing_.temporary) borrow(out, kind);
    }
  }

  // A part whose plugs are still to be put back stays where it is until they are.
  [[nodiscard]] bool is_changed(PartId part) const {
    if (!standing_.temporary) return false;
    const auto belongs = [&](ElementId element) { return chain_.elements[element].part == part; };
    return std::any_of(standing_.temporary->back.begin(), standing_.temporary->back.end(),
                       [&](const PlugChange& change) {
                         return belongs(change.plug) || (change.jack && belongs(*change.jack));
                       });
  }

  void borrow(PartId out, const faults::PartKind& kind) {
    const auto pair = chain_.routes[standing_.route].pair;
    std::vector<PartId> candidates;
    if (pair)
      candidates = parts_of(chain_, setting_.tracer().trace(*pair, standing_.patching).path);
    for (const PartId part : chain_.parts.ids()) candidates.push_back(part);
    const std::vector<PartId> ours = parts_of(chain_, path_);
    for (const PartId in : candidates) {
      const chain::Part& part = chain_.parts[in];
      if (part.spare || part.kind != chain_.parts[out].kind) continue;
      if (std::find(ours.begin(), ours.end(), in) != ours.end()) continue;
      substitute(out, in, kind);
      return;
    }
  }

  [[nodiscard]] bool in_use(PartId part) const {
    return std::any_of(standing_.substituted.begin(), standing_.substituted.end(),
                       [&](const Substitute& one) { return one.in == part; });
  }

  void substitute(PartId out, PartId in, const faults::PartKind& kind) {
    const Substitute swap{out, in};
    std::vector<PlugChange> changes = substitution(chain_, standing_.patching, swap);
    if (changes.empty() || !leads_to_an_end(standing_.route, changes)) return;
    const PlaceId works_at = part_place(out);
    const PlaceId fetched_at = chain_.parts[in].place;
    Move& move = add(swap, "substitute " + chain_.parts[in].name + " for " + chain_.parts[out].name,
                     works_at, kind.exchange_minutes, std::move(changes));
    move.minutes += walk(standing_.place, fetched_at) + walk(fetched_at, works_at) -
                    walk(standing_.place, works_at);
    caution(move, kind.cautions);
  }

  [[nodiscard]] PlaceId part_place(PartId part) const {
    return place_now(setting_, standing_, chain_.parts[part].elements.front());
  }

  void measurements() {
    if (!rules_.meter) return;
    for (const PartId part : parts_of(chain_, path_)) {
      if (!rules_.part_kinds[chain_.parts[part].kind].exchangeable) continue;
      Move& move = add(Measure{part}, "measure " + chain_.parts[part].name, part_place(part),
                       rules_.handling.measure_minutes);
      for (const ElementId element : chain_.parts[part].elements) {
        const auto partner = chain::mate(chain_, standing_.patching, element);
        if (partner) caution_of_joint(move, element, partner);
      }
      move.minutes -= signal_of(move.heard_on).minutes + walk(move.acts_at, move.ends_at);
      move.ends_at = move.acts_at;
      move.sense = *rules_.meter;
    }
  }

  void undoing() {
    if (standing_.temporary) {
      const std::vector<PlugChange>& back = standing_.temporary->back;
      const std::vector<PlaceId> places = put_back_places(setting_, standing_);
      const PlaceId first = places.empty() ? standing_.place : places.front();
      const PlaceId last = places.empty() ? standing_.place : places.back();
      Move& move = add(PutBack{}, "put back", first, 0, back);
      move.minutes += put_back_minutes(setting_, standing_) - walk(standing_.place, first) +
                      walk(last, move.ends_at) - walk(first, move.ends_at);
      return;  // the old part's plugs may be somewhere else just now
    }
    for (const Substitute& swap : standing_.substituted) {
      const Substitute reverse{swap.in, swap.out};
      const faults::PartKind& kind = rules_.part_kinds[chain_.parts[swap.out].kind];
      Move& move = add(TakeOut{swap.out, swap.in}, "take out " + chain_.parts[swap.in].name,
                       part_place(swap.in), kind.exchange_minutes,
                       substitution(chain_, standing_.patching, reverse));
      caution(move, kind.cautions);
    }
  }

  const Setting& setting_;
  const chain::Chain& chain_;
  const faults::Rules& rules_;
  const Standing& standing_;
  chain::Path path_;
  std::vector<ElementId> along_;
  std::vector<Move> moves_;
};

}  // namespace

std::vector<Move> derive_moves(const Setting& setting, const Standing& standing) {
  return Derivation(setting, standing).all();
}

std::optional<Move> find_move(const Setting& setting, const Standing& standing,
                              const std::string& name) {
  for (Move& move : derive_moves(setting, standing)) {
    if (move.name == name) return std::move(move);
  }
  return std::nullopt;
}

}  // namespace whichlink::moves
