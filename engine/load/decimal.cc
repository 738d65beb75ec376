#include "load/decimal.h"

#include <charconv>
#include <system_error>

namespace whichlink::load {

std::optional<double> decimal_from(const std::string& text) {
  double value = 0;
  const char* const end = text.data() + text.size();
  const auto [rest, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc() || rest != end) return std::nullopt;
  return value;
}

}  // namespace whichlink::load
