#include "faults/rules.h"

#include <algorithm>

namespace whichlink::faults {

std::optional<std::size_t> Sense::find(const std::string& symptom) const {
  for (std::size_t index = 0; index < symptoms.size(); ++index) {
    if (symptoms[index].name == symptom) return index;
  }
  if (elsewhere && elsewhere->name == symptom) return symptoms.size();
  return std::nullopt;
}

bool RoutineList::holds(std::size_t list, std::size_t own) const {
  return list == own || std::find(takes_in.begin(), takes_in.end(), list) != takes_in.end();
}

}  // namespace whichlink::faults
