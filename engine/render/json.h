#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "guide/case.h"
#include "guide/survey.h"

/// The same values as JSON. Keys are described in docs/formats.md.
namespace whichlink::render {

using Json = nlohmann::ordered_json;

[[nodiscard]] Json survey_json(const moves::Setting& setting, const guide::Survey& survey);
/// What was heard, and the drop where it was said.
[[nodiscard]] Json report_json(const guide::Report& report);
/// Posterior, bound and candidate moves of a case as it stands.
[[nodiscard]] Json rank_json(const guide::Case& one, const guide::Advice& advice,
                             const plan::Picture& picture);
/// The steps of a case, and its ending or the next move.
[[nodiscard]] Json case_json(const guide::Case& one, const guide::Advice& advice,
                             const plan::Picture& picture,
                             const std::optional<guide::Ending>& ending);

/// Every number the engine uses for one case: docs/formats.md, "Tables". The evidence of the case
/// so far is in it as slices, and the engine's own posterior of exactly these tables.
/// @param most_faults  keep only so many faults, the likeliest on the route; 0 keeps all
[[nodiscard]] Json tables_json(const guide::Case& one, std::size_t most_faults);

/// One line a value where it is short; ends with a line end.
[[nodiscard]] std::string to_text(const Json& json);

}  // namespace whichlink::render
