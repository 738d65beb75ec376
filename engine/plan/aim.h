#pragma once

#include <optional>
#include <string>
#include <vector>

namespace whichlink::plan {

/// What a plan saves: minutes, priced; or what a trainer teaches, the best split a minute; or
/// moves, however long each takes.
enum class Aim { time, split, moves };

[[nodiscard]] const std::vector<std::string>& aim_names();
[[nodiscard]] std::string name_of(Aim aim);
/// Nothing if no aim is called so.
[[nodiscard]] std::optional<Aim> aim_of(const std::string& name);

}  // namespace whichlink::plan
