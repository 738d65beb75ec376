#include <cstddef>
#include <cstdint>
#include <string_view>

#include "answer.h"
#include "load/load.h"

// Any bytes as a cupboard's file: what is accepted holds figures that can be.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using whichlink::fuzz::must;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto answer = whichlink::load::stores_from(text, "f");
  whichlink::fuzz::check(answer);
  if (!answer) return 0;
  must(answer->money_per_minute > 0, "time that costs nothing");
  must(answer->fetch_days >= 0, "fetched before it is asked for");
  for (const auto& site : answer->sites) {
    must(site.rooms > 0 && !site.installation.empty(), "a site without a room");
  }
  for (const auto& terms : answer->terms) {
    must(!terms.name.empty(), "terms of nothing");
    must(!terms.price || *terms.price >= 0, "a price below nothing");
    must(!terms.service || (*terms.service > 0 && *terms.service < 1), "a chance that is none");
    must(!terms.batch || *terms.batch > 0, "an order of nothing");
  }
  return 0;
}
