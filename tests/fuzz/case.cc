#include <cstddef>
#include <cstdint>
#include <string_view>

#include "answer.h"
#include "load/load.h"

// Any bytes as a case: what is accepted is written and read back to the same.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using whichlink::fuzz::must;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto answer = whichlink::load::case_from(text, "f");
  whichlink::fuzz::check(answer);
  if (!answer) return 0;
  const std::string written = whichlink::load::to_text(*answer);
  const auto again = whichlink::load::case_from(written, "f");
  must(again.has_value(), "a written case that cannot be read");
  must(whichlink::load::to_text(*again) == written, "a written case that reads differently");
  must(again->done.size() == answer->done.size() && again->route == answer->route &&
           again->complaint.heard == answer->complaint.heard &&
           again->days_since_pass == answer->days_since_pass,
       "a case that comes back changed");
  return 0;
}
