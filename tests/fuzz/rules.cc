#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "answer.h"
#include "load/load.h"

namespace {

using whichlink::fuzz::must;

bool adds_up(const std::vector<double>& chances) {
  double sum = 0;
  for (const double chance : chances) {
    if (!(chance >= 0 && chance <= 1)) return false;
    sum += chance;
  }
  return std::abs(sum - 1) < 1e-8;
}

}  // namespace

// Any bytes as rules: what is accepted holds chances that add up.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto answer = whichlink::load::rules_from(text, "f");
  whichlink::fuzz::check(answer);
  if (!answer) return 0;
  for (const auto& sense : answer->senses) {
    must(!sense.listeners.empty() && sense.symptoms.size() > 1, "a sense without its parts");
    for (const auto& listener : sense.listeners) {
      for (const auto& row : listener.report) must(adds_up(row), "a report that does not add up");
    }
  }
  for (const auto& mode : answer->modes) {
    must(mode.symptom_chance.size() == answer->senses.size(), "a mode without a sense");
    for (const auto& row : mode.symptom_chance) must(adds_up(row), "a mode that does not add up");
    must(mode.rate.low_per_year <= mode.rate.high_per_year, "a rate upside down");
  }
  for (const auto& stress : answer->stresses) must(adds_up(stress.false_alarm), "a false alarm");
  return 0;
}
