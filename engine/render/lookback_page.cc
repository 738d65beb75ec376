#include <fmt/format.h>

#include "base/moment.h"
#include "render/upkeep_pages.h"

namespace whichlink::render {
namespace {

constexpr double kEarly = .05;
constexpr double kLate = .95;
constexpr double kWorthNaming = .01;
constexpr std::size_t kMostSuspects = 5;

std::string per_year_text(double rate) {
  return rate < .1 ? fmt::format("{:.3f}", rate) : fmt::format("{:.2f}", rate);
}

std::size_t recalled(const LookBackTitle& title, const history::LookBack& back) {
  std::size_t count = 0;
  for (const history::DoubtfulSession& one : back.sessions) {
    if (one.chance >= title.recall) ++count;
  }
  return count;
}

double spoilt_among_the_others(const LookBackTitle& title, const history::LookBack& back) {
  double spoilt = 0;
  for (const history::DoubtfulSession& one : back.sessions) {
    if (one.chance < title.recall) spoilt += one.chance;
  }
  return spoilt;
}

}  // namespace

std::string lookback_page(const LookBackTitle& title, const history::LookBack& back,
                          const Style& style) {
  std::string out = heading(title.installation, style);
  std::string opening =
      fmt::format("Case {} on {}, found {}. ", title.case_number, title.route, back.found);
  opening +=
      back.last_pass.empty()
          ? "No check of its routes that passed is on record; the record begins " + back.start + "."
          : "Its routes last passed a check on " + day_of(back.last_pass) + ".";
  out += wrapped(opening, "", style.width) + "\n";
  out += heading("What was wrong, and since when", style);
  std::size_t told = 0;
  for (const history::SuspectSince& one : back.suspects) {
    if (one.share < kWorthNaming || ++told > kMostSuspects) break;
    std::string words =
        fmt::format("{}: began about {} (5 to 95 %: {} to {}); {} a year", one.words,
                    day_text(one.onset.quantile(.5)), day_text(one.onset.quantile(kEarly)),
                    day_text(one.onset.quantile(kLate)), per_year_text(one.rate_per_year));
    if (!one.passes.empty()) {
      words +=
          "; a check like the last finds " + percent(one.passes.back().chance_found) + " of these";
    }
    out += wrapped(words, fmt::format("  {:>9}  ", percent(one.share)), style.width);
  }
  if (back.not_traced >= kWorthNaming) {
    out += wrapped("of causes that lie on no one part, such as crossed plugs, are not looked into",
                   fmt::format("  {:>9}  ", percent(back.not_traced)), style.width);
  }
  out += "\n";
  if (back.sessions.empty()) {
    return out + wrapped("No session is on record for that time; whichlink session enters them.",
                         "", style.width);
  }
  out += wrapped(
      fmt::format("Sessions since {}: {}, of which {:.1f} are expected to be spoilt. At or above "
                  "the recall limit of {:.0f} %: {}; the others hold {:.1f} more.",
                  back.start, back.sessions.size(), back.expected_spoilt, title.recall * 100,
                  recalled(title, back), spoilt_among_the_others(title, back)),
      "", style.width);
  out += "\n" + dim("  chance             day         session             routes", style) + "\n";
  for (const history::DoubtfulSession& one : back.sessions) {
    if (one.chance < kWorthNaming) break;
    const std::string mark = one.chance >= title.recall ? "recall" : "";
    const std::string line = fmt::format("  {:>9}  ", percent(one.chance)) + padded(mark, 8) +
                             padded(one.session.day, 12) + padded(one.session.code, 20) +
                             listed(one.session.routes);
    out += cut(line, style.width, style) + "\n";
  }
  out += "\n" +
         wrapped(
             "The chance is that the fault was there on a route that the session used, whether it "
             "showed or not. Who is called back is a clinical decision.",
             "", style.width);
  return out;
}

Json lookback_json(const LookBackTitle& title, const history::LookBack& back) {
  Json json = {{"installation", title.installation},
               {"case", title.case_number},
               {"route", title.route},
               {"record_begins", back.start},
               {"found", back.found},
               {"last_pass", back.last_pass.empty() ? Json() : Json(back.last_pass)},
               {"not_traced", back.not_traced},
               {"recall_from", title.recall},
               {"expected_spoilt", back.expected_spoilt},
               {"expected_spoilt_not_recalled", spoilt_among_the_others(title, back)}};
  json["suspects"] = Json::array();
  for (const history::SuspectSince& one : back.suspects) {
    Json passes = Json::array();
    for (const upkeep::PassedCheck& pass : one.passes) {
      passes.push_back({{"day", day_text(pass.day)}, {"chance_found", pass.chance_found}});
    }
    json["suspects"].push_back({{"words", one.words},
                                {"share", one.share},
                                {"rate_per_year", one.rate_per_year},
                                {"routes", one.routes},
                                {"passes", passes},
                                {"began",
                                 {{"early", day_text(one.onset.quantile(kEarly))},
                                  {"median", day_text(one.onset.quantile(.5))},
                                  {"late", day_text(one.onset.quantile(kLate))}}}});
  }
  json["sessions"] = Json::array();
  for (const history::DoubtfulSession& one : back.sessions) {
    json["sessions"].push_back({{"code", one.session.code},
                                {"day", one.session.day},
                                {"routes", one.session.routes},
                                {"chance", one.chance},
                                {"recall", one.chance >= title.recall}});
  }
  return json;
}

}  // namespace whichlink::render
