#include "history/found_by_check.h"

namespace whichlink::history {

std::string usual_listener(const moves::Setting& setting) {
  return setting.rules().senses[SenseId{0}].listeners.front().name;
}

}  // namespace whichlink::history
