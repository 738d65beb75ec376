#include "history/closing.h"

#include <algorithm>

namespace whichlink::history {

std::string mode_name(const faults::Rules& rules, ModeId mode) {
  const faults::Mode& one = rules.modes[mode];
  return rules.classes[one.element_class].name + ": " + one.name;
}

std::string mode_name(const moves::Setting& setting, FaultId fault) {
  const std::optional<ModeId> mode = setting.faults()[fault].mode;
  return mode ? mode_name(setting.rules(), *mode) : kNotListed;
}

record::CaseEnd closing_of(const guide::Case& one, const guide::Ending& ending) {
  record::CaseEnd end;
  end.ending = guide::name_of(ending.stage);
  end.minutes = one.minutes_spent();
  end.repairs = ending.repairs;
  for (const guide::Suspect& cause : ending.all_causes) {
    if (cause.chance < kWorthRecording) continue;
    const std::string mode = cause.fault ? mode_name(one.setting(), *cause.fault) : kCrossed;
    end.causes.push_back({mode, cause.name, cause.words, std::min(cause.chance, 1.0)});
  }
  const chain::Chain& chain = one.setting().chain();
  for (const moves::Substitute& swap : one.standing().substituted) {
    const chain::Part& in = chain.parts[swap.in];
    end.parts.push_back(
        {one.setting().rules().part_kinds[in.kind].name, in.name, chain.parts[swap.out].name});
  }
  for (const std::string& name : ending.throw_out) {
    const auto part = std::find_if(chain.parts.begin(), chain.parts.end(),
                                   [&](const chain::Part& each) { return each.name == name; });
    if (part == chain.parts.end()) continue;
    end.thrown_out.push_back({one.setting().rules().part_kinds[part->kind].name, name});
  }
  return end;
}

}  // namespace whichlink::history
