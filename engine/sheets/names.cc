#include "sheets/names.h"

#include <algorithm>

namespace whichlink::sheets {

std::string called(const chain::Chain& chain, ElementId element) {
  const std::string& whole = chain.elements[element].name;
  const std::string& part = chain.parts[chain.elements[element].part].name;
  return whole.size() > part.size() ? part + " (" + whole.substr(part.size() + 1) + ")" : part;
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
