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

std::optional<PartKind::Spot> PartKind::find(const std::string& after_name) const {
  if (pieces.empty()) return std::nullopt;  // of a file that is refused, while it is read on
  std::string lane = after_name;
  std::size_t piece = 0;
  if (pieces.size() > 1) {
    const std::size_t stop = after_name.find('.');
    const std::string named = after_name.substr(0, stop);
    while (piece < pieces.size() && pieces[piece].name != named) ++piece;
    if (piece == pieces.size()) return std::nullopt;
    lane = stop == std::string::npos ? "" : after_name.substr(stop + 1);
    if (stop != std::string::npos && lane.empty()) return std::nullopt;
  }
  if (lane.empty()) return Spot{piece, std::nullopt};
  const std::vector<std::string>& lanes = pieces[piece].lanes;
  const auto found = std::find(lanes.begin(), lanes.end(), lane);
  if (found == lanes.end()) return std::nullopt;
  return Spot{piece, static_cast<std::size_t>(found - lanes.begin())};
}

bool RoutineList::holds(std::size_t list, std::size_t own) const {
  return list == own || std::find(takes_in.begin(), takes_in.end(), list) != takes_in.end();
}

}  // namespace whichlink::faults
