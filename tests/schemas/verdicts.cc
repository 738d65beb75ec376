// What the readers say of texts: the JSON Schemas are asked for the same. Reads, as often as there
// are texts, a line `KIND BYTES FILE` and that many bytes; FILE is that of the rules of an
// installation, else anything. Answers with a line for each problem, and a line with a full stop
// alone.
#include <iostream>
#include <map>
#include <string>

#include "load/load.h"

namespace {

using whichlink::Problems;
using whichlink::Result;
using whichlink::faults::Rules;
namespace load = whichlink::load;

template <class Value>
Problems problems_of(const Result<Value>& result) {
  return result ? Problems{} : result.error();
}

const Rules& rules_of(const std::string& file) {
  static std::map<std::string, Rules> known;
  const auto found = known.find(file);
  if (found != known.end()) return found->second;
  return known.emplace(file, load::rules_file(file).value()).first->second;
}

Problems verdict(const std::string& kind, const std::string& text, const std::string& file) {
  if (kind == "rules") return problems_of(load::rules_from(text, "f"));
  if (kind == "installation")
    return problems_of(load::installation_from(text, "f", rules_of(file)));
  if (kind == "case") return problems_of(load::case_from(text, "f"));
  if (kind == "stores") return problems_of(load::stores_from(text, "f"));
  if (kind == "lessons") return problems_of(load::lessons_from(text, "f"));
  return {{{"", 0, 0}, "no kind \"" + kind + "\"", "a kind of file", ""}};
}

}  // namespace

int main() {
  std::string kind;
  std::string file;
  std::size_t bytes = 0;
  while (std::cin >> kind >> bytes >> file) {
    std::cin.get();
    std::string text(bytes, '\0');
    std::cin.read(text.data(), static_cast<std::streamsize>(bytes));
    for (const whichlink::Problem& problem : verdict(kind, text, file)) {
      std::cout << whichlink::to_line(problem) << "\n";
    }
    std::cout << "." << std::endl;
  }
  return 0;
}
