#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <set>
#include <string>

#include "answer.h"
#include "load/load.h"

namespace {

using whichlink::chain::Chain;

Chain two_routes() {
  Chain chain;
  whichlink::chain::Route route;
  for (const char* name : {"left", "bone"}) {
    route.name = name;
    chain.routes.add(route);
  }
  return chain;
}

}  // namespace

// Any bytes as sessions: what is accepted has codes that are neither names nor twice there, days,
// and routes of the chain.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using whichlink::fuzz::must;
  static const Chain chain = two_routes();
  const std::string text(reinterpret_cast<const char*>(data), size);
  const auto answer = whichlink::load::sessions_from(text, chain, "f");
  whichlink::fuzz::check(answer);
  if (!answer) return 0;
  std::set<std::string> codes;
  for (const auto& session : *answer) {
    must(codes.insert(session.code).second, "a code that stands twice");
    must(session.code.find_first_of("0123456789") != std::string::npos, "a code without a digit");
    must(session.code.find_first_not_of("0123456789-") != std::string::npos ||
             session.code.find('-') == std::string::npos,
         "a code that may be a date");
    must(session.day.size() == 10, "a day that is none");
    must(!session.routes.empty(), "a session without a route");
    for (const std::string& route : session.routes) {
      must(route == "left" || route == "bone", "a route that is none");
    }
  }
  return 0;
}
