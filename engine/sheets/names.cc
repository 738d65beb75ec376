#include "sheets/names.h"

#include <algorithm>
#include <vector>

namespace whichlink::sheets {

std::string called(const chain::Chain& chain, ElementId element) {
  const std::string& whole = chain.elements[element].name;
  const std::string& part = chain.parts[chain.elements[element].part].name;
  return whole.size() > part.size() ? part + " (" + whole.substr(part.size() + 1) + ")" : part;
}

std::string said_names(const chain::Chain& chain, std::string sentence) {
  // A longer name first, which may hold a shorter one.
  std::vector<ElementId> pieces;
  for (const ElementId id : chain.elements.ids()) {
    if (called(chain, id) != chain.elements[id].name) pieces.push_back(id);
  }
  std::stable_sort(pieces.begin(), pieces.end(), [&](ElementId a, ElementId b) {
    return chain.elements[a].name.size() > chain.elements[b].name.size();
  });
  for (const ElementId id : pieces) {
    const std::string& written = chain.elements[id].name;
    const std::string spoken = called(chain, id);
    for (std::size_t at = sentence.find(written); at != std::string::npos;
         at = sentence.find(written, at + spoken.size())) {
      sentence.replace(at, written.size(), spoken);
      // "headset cord (cord) (left)" is said "headset cord (cord, left)".
      const std::size_t end = at + spoken.size();
      if (sentence.compare(end, 2, " (") == 0) sentence.replace(end - 1, 3, ", ");
    }
  }
  return sentence;
}

std::string capital(std::string sentence) {
  if (!sentence.empty() && sentence[0] >= 'a' && sentence[0] <= 'z') sentence[0] -= 'a' - 'A';
  return sentence;
}

std::string said_moment(const std::string& moment) {
  constexpr std::size_t kToTheMinute = 16;
  std::string said = moment.substr(0, kToTheMinute);
  std::replace(said.begin(), said.end(), 'T', ' ');
  return said;
}

}  // namespace whichlink::sheets
