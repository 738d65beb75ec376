#pragma once

#include <string>

#include "render/json.h"
#include "render/text.h"
#include "trial/trial.h"

namespace whichlink::render {

/// What a trial was about.
struct TrialTitle {
  std::string installation;
  std::string route;
  std::string heard;  ///< empty: any complaint
  std::string truth;  ///< low, mid or high
  std::uint64_t seed = 0;
  double days_since_pass = 0;
};

[[nodiscard]] std::string trial_page(const TrialTitle& title, const trial::Outcome& outcome,
                                     const Style& style);
[[nodiscard]] Json trial_json(const TrialTitle& title, const trial::Outcome& outcome);
/// An SVG 1.1 picture: mean priced minutes of each policy, with its interval.
[[nodiscard]] std::string trial_plot(const TrialTitle& title, const trial::Outcome& outcome);

}  // namespace whichlink::render
