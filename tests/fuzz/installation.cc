#include <cstddef>
#include <cstdint>
#include <string_view>

#include "answer.h"
#include "load/load.h"

namespace {

constexpr std::string_view kRules = R"(
trade: doorbells
about: A button and a bell.
source: judged
connectors: [barrel]
senses:
  ear:
    asks: What?
    symptoms:
      rings: {key: s, words: rings}
      silent: {key: "0", words: silent}
    listeners: {practised: {}}
classes:
  button: {words: button, role: source}
  wire: {words: wire, role: link}
  plug: {words: plug, role: plug, connector: barrel}
  jack: {words: jack, role: jack, connector: barrel}
  bell: {words: bell, role: end}
parts:
  cord:
    words: cord
    pieces: {near: plug, wire: {class: wire, lanes: [red, blue]}, far: plug}
    moulded: [[near, wire.red], [wire.red, far]]
  twin: {words: twin, pieces: {line: {class: wire, lanes: [red, blue]}}}
signals:
  ring: {sense: ear, words: a ring, minutes: .25}
spare states: {new: {chance bad: .005}}
unlisted: {rate: {low: 0, mid: .1, high: .2}, symptoms: {ear: {silent: 1}}}
prices: {miss minutes: 60, service minutes: 45}
handling: {replug minutes: .3, alone minutes: .3, days since pass: 7}
)";

}  // namespace

// Any bytes as an installation of small rules: what is accepted can be walked along.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using whichlink::fuzz::must;
  namespace chain = whichlink::chain;
  static const whichlink::faults::Rules rules =
      whichlink::load::rules_from(kRules, "rules").value();
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  whichlink::fuzz::check(whichlink::load::rules_name_in(text, "f"));
  const auto answer = whichlink::load::installation_from(text, "f", rules);
  whichlink::fuzz::check(answer);
  if (!answer) return 0;
  const chain::Chain& built = answer->chain;
  std::vector<bool> is_end;
  for (const auto& conductor : built.conductors) {
    const auto& element = built.elements[conductor.element];
    is_end.push_back(rules.classes[element.element_class].role == whichlink::faults::Role::end);
  }
  const chain::Tracer tracer(built, is_end);
  must(tracer.ring(built.home).empty(), "a ring");
  for (const auto route : built.routes.ids()) {
    const auto traced = tracer.trace(route, built.home);
    must(traced.path.complete && traced.path.conductors.back() == built.routes[route].to,
         "a route that does not lead home");
  }
  return 0;
}
