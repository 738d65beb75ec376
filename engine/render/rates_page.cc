#include <fmt/format.h>

#include "render/upkeep_pages.h"

namespace whichlink::render {
namespace {

constexpr double kLow = .05;
constexpr double kHigh = .95;

// Two digits that matter, without an exponent: rates run from thousandths to some tens.
std::string rate_text(double per_year) {
  return per_year < .1 ? fmt::format("{:.3f}", per_year) : fmt::format("{:.2f}", per_year);
}

std::string span(double low, double high) {
  return rate_text(low) + "-" + rate_text(high);
}

}  // namespace

std::string rates_page(const RatesTitle& title, const std::vector<history::LearnedRate>& rates,
                       const Style& style) {
  std::string out = heading(title.installation, style);
  out += title.from.empty() ? "Nothing is on record; these are the judged rates.\n"
                            : fmt::format("On record from {} to {}, {:.2f} years.\n", title.from,
                                          title.until, title.years);
  out += "\n" +
         dim("  faults a year and item              judged   items  faults     now (5 to 95 %)",
             style) +
         "\n";
  for (const history::LearnedRate& one : rates) {
    std::string line = "  " + padded(cut(one.name, 34, style), 35);
    line += fmt::format("{:>7}{:>8}{:>8.2f}{:>8} ({})", rate_text(one.prior.mid_per_year),
                        one.items, one.faults, rate_text(one.after.median()),
                        span(one.after.quantile(kLow), one.after.quantile(kHigh)));
    out += line + "\n";
  }
  out += "\n" +
         wrapped(
             "Faults are expected numbers: each case counts by the shares of its causes as they "
             "were believed when it ended. The rates now are medians of a gamma: the judged "
             "limits, and what the record adds.",
             "", style.width);
  return out;
}

Json rates_json(const RatesTitle& title, const std::vector<history::LearnedRate>& rates) {
  Json json = {{"installation", title.installation},
               {"from", title.from.empty() ? Json() : Json(title.from)},
               {"until", title.until},
               {"years", title.years}};
  json["rates"] = Json::array();
  for (const history::LearnedRate& one : rates) {
    json["rates"].push_back(
        {{"mode", one.name},
         {"judged",
          {{"low", one.prior.low_per_year},
           {"mid", one.prior.mid_per_year},
           {"high", one.prior.high_per_year},
           {"source", one.prior.source}}},
         {"prior", {{"shape", one.before.shape}, {"item_years", one.before.exposure}}},
         {"items", one.items},
         {"item_years", one.item_years},
         {"faults", one.faults},
         {"cases", one.cases},
         {"posterior",
          {{"shape", one.after.shape},
           {"item_years", one.after.exposure},
           {"mean", one.after.mean()},
           {"low", one.after.quantile(kLow)},
           {"median", one.after.median()},
           {"high", one.after.quantile(kHigh)}}}});
  }
  return json;
}

}  // namespace whichlink::render
