#include "sheets/case_words.h"

#include <fmt/format.h>

#include "render/pages.h"

namespace whichlink::sheets {

std::string said(const faults::Rules& rules, const faults::Signal& signal, SenseId sense,
                 const guide::Report& report) {
  if (report.drop_db) return fmt::format("weak by {:g} dB", *report.drop_db);
  if (report.heard == guide::kCannotDo) return "could not be done";
  const auto outcome = rules.senses[sense].find(report.heard);
  return outcome ? render::report_words(rules, signal, sense, *outcome) : report.heard;
}

std::string complaint_of(const guide::Case& one) {
  const faults::Rules& rules = one.setting().rules();
  const RouteId route = one.standing().route;
  const faults::Signal& signal = rules.signals[one.setting().chain().routes[route].signal];
  return said(rules, signal, signal.sense, one.events().complaint);
}

std::string heard_at(const guide::Case& one, const guide::Step& step) {
  const faults::Rules& rules = one.setting().rules();
  const RouteId route = step.move.heard_on;
  const faults::Signal& signal = rules.signals[one.setting().chain().routes[route].signal];
  return said(rules, signal, step.move.sense, step.report);
}

}  // namespace whichlink::sheets
