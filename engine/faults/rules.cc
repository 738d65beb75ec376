#include "faults/rules.h"

namespace whichlink::faults {

std::optional<std::size_t> Sense::find(const std::string& symptom) const {
  for (std::size_t index = 0; index < symptoms.size(); ++index) {
    if (symptoms[index].name == symptom) return index;
  }
  if (elsewhere && elsewhere->name == symptom) return symptoms.size();
  return std::nullopt;
}

}  // namespace whichlink::faults
