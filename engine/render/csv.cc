#include "render/csv.h"

namespace whichlink::render {

std::string csv_line(const std::vector<std::string>& fields) {
  std::string line;
  for (const std::string& field : fields) {
    if (&field != &fields.front()) line += ',';
    if (field.find_first_of(",\"\r\n") == std::string::npos) {
      line += field;
      continue;
    }
    line += '"';
    for (const char letter : field) line += letter == '"' ? "\"\"" : std::string(1, letter);
    line += '"';
  }
  return line + "\r\n";
}

}  // namespace whichlink::render
