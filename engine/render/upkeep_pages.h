#pragma once

#include <string>
#include <vector>

#include "history/learned.h"
#include "history/lookback.h"
#include "history/rhythm.h"
#include "render/json.h"
#include "render/text.h"

/// What a record tells: learned rates, sessions in doubt, how often to check.
namespace whichlink::render {

struct RatesTitle {
  std::string installation;
  std::string from, until;  ///< days; from is empty where nothing is on record
  double years = 0;
};

[[nodiscard]] std::string rates_page(const RatesTitle& title,
                                     const std::vector<history::LearnedRate>& rates,
                                     const Style& style);
[[nodiscard]] Json rates_json(const RatesTitle& title,
                              const std::vector<history::LearnedRate>& rates);

/// What a look-back is about.
struct LookBackTitle {
  std::string installation;
  std::string route;  ///< of the case
  std::size_t case_number = 0;
  double recall = 0;  ///< sessions from this chance on are to be recalled
};

[[nodiscard]] std::string lookback_page(const LookBackTitle& title, const history::LookBack& back,
                                        const Style& style);
[[nodiscard]] Json lookback_json(const LookBackTitle& title, const history::LookBack& back);

/// What a comparison of intervals rests on.
struct RhythmTitle {
  std::string installation;
  std::string listener;
  bool learned = false;  ///< rates come from a record
  faults::Use use;
};

[[nodiscard]] std::string rhythm_page(const RhythmTitle& title, const history::Rhythm& rhythm,
                                      const Style& style);
[[nodiscard]] Json rhythm_json(const RhythmTitle& title, const history::Rhythm& rhythm);
/// Minutes a year over the interval: checking, spoilt sessions, and both.
[[nodiscard]] std::string rhythm_plot(const RhythmTitle& title, const history::Rhythm& rhythm);

}  // namespace whichlink::render
