#include "moves/words.h"

#include <type_traits>

#include "moves/standing.h"

// Sentences for moves that every trade has; what is particular to one trade comes from its rules.
namespace whichlink::moves {
namespace {

std::string joined(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t index = 0; index < names.size(); ++index) {
    if (index > 0) text += index + 1 == names.size() ? " and " : ", ";
    text += names[index];
  }
  return text;
}

class Wording {
 public:
  Wording(const Setting& setting, const Standing& standing, const Move& move)
      : chain_(setting.chain()),
        rules_(setting.rules()),
        setting_(setting),
        standing_(standing),
        move_(move),
        next_(after(setting, standing, move)) {}

  std::string operator()(const Listen& /*unused*/) const { return "Change nothing."; }
  std::string operator()(const TryRoute& one) const {
    return "Select " + chain_.routes[one.route].name + " instead; re-plug nothing.";
  }
  std::string operator()(const ApplyStress& one) const {
    return with_it(rules_.stresses[one.stress].words, name(one.element));
  }
  std::string operator()(const StressRoute& /*unused*/) const {
    std::vector<std::string> steps;
    const chain::Path path = setting_.tracer().trace(standing_.route, standing_.patching).path;
    for (const ElementId element : elements_of(chain_, path)) {
      for (const StressId id : rules_.classes[chain_.elements[element].element_class].stresses) {
        steps.push_back(with_it(rules_.stresses[id].short_words, name(element)));
      }
    }
    return "Go along the whole route and listen throughout: " + joined(steps) +
           ". Answer with the worst that was heard.";
  }
  std::string operator()(const Treat& one) const {
    const faults::Remedy& remedy = rules_.remedies[one.remedy];
    std::string it = name(one.element);
    const auto partner = chain::mate(chain_, standing_.patching, one.element);
    if (remedy.whole_joint && partner) it += " and " + name(*partner);
    return with_it(remedy.words, it);
  }
  std::string operator()(const ConnectDirectly& one) const {
    std::string text = "Take " + name(one.plug) + " out of " + jack_of(one.plug) +
                       " and plug it straight into " + name(one.jack) + ", " + place(one.jack) +
                       ".";
    for (const PlugChange& change : move_.changes) {
      if (change.jack || change.plug == one.plug) continue;
      text += " " + name(change.plug) + " comes out and hangs free.";
    }
    const std::vector<std::string> bypassed = left_out();
    if (!bypassed.empty()) text += " Out of the way now: " + joined(bypassed) + ".";
    return text;
  }
  std::string operator()(const CrossPlugs& one) const {
    const chain::Traced traced = setting_.tracer().trace(standing_.route, next_.patching);
    const chain::Traced before = setting_.tracer().trace(standing_.route, standing_.patching);
    std::string text = "Exchange the two plugs: " + name(one.plug_a) + " into " +
                       jack_of(one.plug_b) + ", " + name(one.plug_b) + " into " +
                       jack_of(one.plug_a) + ".";
    if (traced.path.complete && before.path.complete &&
        traced.path.conductors.back() != before.path.conductors.back()) {
      text += " " + chain_.routes[standing_.route].name + " comes out at " +
              chain::name_of(chain_, traced.path.conductors.back()) +
              " now: listen there. A fault that is still heard there lies before the plugs; one "
              "that is gone lies beyond them.";
    }
    return text;
  }
  std::string operator()(const Substitute& one) const {
    const chain::Part& in = chain_.parts[one.in];
    const std::string whence =
        in.spare ? in.name + " (" + in.spare_state + ", " + chain_.places[in.place].name + ")"
                 : in.name + ", borrowed from its own place";
    return "Take " + chain_.parts[one.out].name + " out and put in " + whence + ".";
  }
  std::string operator()(const PutBack& /*unused*/) const {
    return "Put back what was changed: " + joined(put_back_list(setting_, standing_)) + ".";
  }
  std::string operator()(const TakeOut& one) const {
    return "Take " + chain_.parts[one.in].name + " out again and put " +
           chain_.parts[one.out].name + " back in.";
  }
  std::string operator()(const Measure& one) const {
    return with_it(rules_.handling.measure_words, chain_.parts[one.part].name);
  }
  std::string operator()(const TraceLabels& one) const {
    return with_it(rules_.crossing->trace_words, chain_.routes[one.route].name);
  }

 private:
  [[nodiscard]] std::string name(ElementId element) const { return chain_.elements[element].name; }
  [[nodiscard]] std::string place(ElementId element) const {
    return chain_.places[chain_.elements[element].place].name;
  }
  [[nodiscard]] std::string jack_of(ElementId plug) const {
    const auto jack = standing_.patching.plug_in[plug];
    return jack ? name(*jack) : "where it is";
  }
  // Parts of the present way that the new one leaves out.
  [[nodiscard]] std::vector<std::string> left_out() const {
    const auto was =
        parts_of(chain_, setting_.tracer().trace(standing_.route, standing_.patching).path);
    const auto now =
        parts_of(chain_, setting_.tracer().trace(standing_.route, next_.patching).path);
    std::vector<std::string> names;
    for (const PartId part : was) {
      bool kept = false;
      for (const PartId other : now) kept = kept || other == part;
      if (!kept) names.push_back(chain_.parts[part].name);
    }
    return names;
  }
  const chain::Chain& chain_;
  const faults::Rules& rules_;
  const Setting& setting_;
  const Standing& standing_;
  const Move& move_;
  Standing next_;
};

struct ShortWording {
  const chain::Chain& chain;
  const faults::Rules& rules;

  std::string operator()(const Listen& /*unused*/) const { return "listen again"; }
  std::string operator()(const TryRoute& one) const {
    return "try " + chain.routes[one.route].name;
  }
  std::string operator()(const ApplyStress& one) const {
    return with_it(rules.stresses[one.stress].short_words, chain.elements[one.element].name);
  }
  std::string operator()(const StressRoute& /*unused*/) const {
    return "stress everything on the route";
  }
  std::string operator()(const Treat& one) const {
    return with_it(rules.remedies[one.remedy].short_words, chain.elements[one.element].name);
  }
  std::string operator()(const ConnectDirectly& one) const {
    return "connect " + chain.elements[one.plug].name + " straight into " +
           chain.elements[one.jack].name;
  }
  std::string operator()(const CrossPlugs& one) const {
    return "cross " + chain.elements[one.plug_a].name + " with " + chain.elements[one.plug_b].name;
  }
  std::string operator()(const Substitute& one) const {
    return "put " + chain.parts[one.in].name + " in for " + chain.parts[one.out].name;
  }
  std::string operator()(const PutBack& /*unused*/) const { return "put back what was changed"; }
  std::string operator()(const TakeOut& one) const {
    return "put " + chain.parts[one.out].name + " back in for " + chain.parts[one.in].name;
  }
  std::string operator()(const Measure& one) const {
    return "measure " + chain.parts[one.part].name;
  }
  std::string operator()(const TraceLabels& one) const {
    return "follow the labels of " + chain.routes[one.route].name;
  }
};

}  // namespace

std::string handling(const Setting& setting, const Standing& standing, const Move& move) {
  return std::visit(Wording(setting, standing, move), move.action);
}

std::string attending(const Setting& setting, const Move& move) {
  if (std::holds_alternative<Measure>(move.action)) return "";
  const chain::Route& route = setting.chain().routes[move.heard_on];
  return setting.rules().signals[route.signal].words + ", on " + route.name;
}

std::string instruction(const Setting& setting, const Standing& standing, const Move& move) {
  const std::string then = attending(setting, move);
  return handling(setting, standing, move) + (then.empty() ? "" : " Then: " + then + ".");
}

std::string short_words(const Setting& setting, const Move& move) {
  return std::visit(ShortWording{setting.chain(), setting.rules()}, move.action);
}

}  // namespace whichlink::moves
