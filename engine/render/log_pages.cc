#include "render/log_pages.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "base/moment.h"
#include "render/csv.h"
#include "render/pages.h"

namespace whichlink::render {
namespace {

constexpr std::size_t kMinuteText = 16;  // 2026-11-26T08:30
constexpr std::size_t kMostCauses = 8;
constexpr double kWorthTelling = .01;

// "2026-11-26 08:30"
std::string when(const std::string& moment) {
  std::string text = moment.substr(0, kMinuteText);
  std::replace(text.begin(), text.end(), 'T', ' ');
  return text;
}

// The time alone where it is the same day.
std::string then(const std::string& moment, const std::string& before) {
  if (day_of(moment) != day_of(before)) return when(moment);
  constexpr std::size_t kTime = 11;
  return moment.size() >= kMinuteText ? when(moment).substr(kTime) : when(moment);
}

std::string number_text(double value) {
  return fmt::format("{:g}", value);
}

// "listen to bone: weak by 15 dB, under stress"
std::string answer_words(const record::CheckAnswer& answer) {
  if (answer.kind == "level") {
    return fmt::format("level of {}: {:g} dB at {:g} Hz", answer.step, answer.second.value_or(0),
                       answer.first.value_or(0));
  }
  if (answer.kind == "isolated") return "isolation of " + answer.step + ": " + answer.answer;
  std::string words = answer.step + ": " + report_text({answer.answer, answer.first});
  if (answer.extra == "untouched") words += ", before anything was moved";
  if (answer.extra == "stressed") words += ", under stress";
  return words;
}

std::string counted(std::size_t count, const std::string& one, const std::string& many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

}  // namespace

std::string cases_page(const std::vector<record::CaseHead>& heads, const Style& style) {
  if (heads.empty()) return "No case fits.\n";
  std::string out = heading(counted(heads.size(), "case", "cases") + ", newest first", style);
  out += dim("  no.  opened            route          complaint    ending         likeliest cause",
             style) +
         "\n";
  for (const record::CaseHead& head : heads) {
    std::string line = fmt::format("{:>5}  ", head.number) + padded(when(head.opened), 18);
    line += padded(cut(head.route, 14, style), 15);
    line += padded(cut(report_text(head.complaint), 12, style), 13);
    line += padded(head.ending, 15) + head.likeliest_cause;
    out += cut(line, style.width, style) + "\n";
  }
  return out;
}

std::string cases_csv(const std::vector<record::CaseHead>& heads) {
  std::string out = csv_line({"case", "installation", "route", "complaint", "opened", "ended",
                              "ending", "minutes", "answers", "likeliest cause"});
  for (const record::CaseHead& head : heads) {
    out +=
        csv_line({std::to_string(head.number), head.installation, head.route,
                  report_text(head.complaint), head.opened, head.ended, head.ending,
                  number_text(head.minutes), std::to_string(head.answers), head.likeliest_cause});
  }
  return out;
}

namespace {

Json head_json(const record::CaseHead& head) {
  return {{"case", head.number},     {"installation", head.installation},
          {"route", head.route},     {"complaint", report_text(head.complaint)},
          {"opened", head.opened},   {"ended", head.ended.empty() ? Json() : Json(head.ended)},
          {"ending", head.ending},   {"minutes", head.minutes},
          {"answers", head.answers}, {"likeliest_cause", head.likeliest_cause}};
}

Json head_json(const record::CheckHead& head) {
  return {{"check", head.number},
          {"installation", head.installation},
          {"list", head.list},
          {"listener", head.listener},
          {"opened", head.opened},
          {"ended", head.ended.empty() ? Json() : Json(head.ended)},
          {"routes_passed", head.passed},
          {"routes_failed", head.failed}};
}

}  // namespace

Json cases_json(const std::vector<record::CaseHead>& heads) {
  Json all = Json::array();
  for (const record::CaseHead& head : heads) all.push_back(head_json(head));
  return {{"cases", all}};
}

std::string case_story_page(const record::CaseStory& story, const Style& style) {
  const record::CaseHead& head = story.head;
  std::string out =
      heading("Case " + std::to_string(head.number) + ", " + head.installation, style);
  std::string opening = "On " + when(head.opened) + " " + head.route + " was reported \"" +
                        report_text(head.complaint) + "\". ";
  if (head.ended.empty()) {
    opening += "The case is still open.";
  } else {
    opening += "It ended at " + then(head.ended, head.opened) + ": " + head.ending + ", after " +
               minutes(head.minutes) + " of moves.";
  }
  out += wrapped(opening, "", style.width) + "\n";
  out += heading("What was done, and what was heard", style);
  if (story.answers.empty()) out += "  nothing yet\n";
  std::string last = head.opened;
  for (std::size_t index = 0; index < story.answers.size(); ++index) {
    const record::Answer& answer = story.answers[index];
    const std::string taken_back = answer.taken_back ? " (taken back)" : "";
    out += wrapped(answer.move + ": " + report_text(answer.report) + taken_back,
                   fmt::format("{:>4}  {}  ", index + 1, then(answer.at, last)), style.width);
    last = answer.at;
  }
  if (!story.end.causes.empty()) {
    out += "\n" + heading("What was there when it began, as believed at the end", style);
    std::size_t told = 0;
    for (const record::Cause& cause : story.end.causes) {
      if (cause.chance < kWorthTelling || ++told > kMostCauses) break;
      out += wrapped(cause.words, fmt::format("  {:>9}  ", percent(cause.chance)), style.width);
    }
  }
  if (!story.end.repairs.empty()) {
    out += "\n" + heading("What may have mended it", style);
    for (const std::string& repair : story.end.repairs) {
      out += wrapped(repair, "  - ", style.width);
    }
  }
  if (!story.end.parts.empty()) {
    out += "\n" + heading("Parts that stayed in", style);
    for (const record::PartUsed& part : story.end.parts) {
      out += wrapped(part.name + ", in the place of " + part.instead_of, "  - ", style.width);
    }
  }
  if (!story.end.thrown_out.empty()) {
    out += "\n" + heading("Thrown out", style);
    for (const record::PartThrownOut& part : story.end.thrown_out) {
      out += wrapped(part.name, "  - ", style.width);
    }
  }
  return out;
}

std::string case_story_csv(const record::CaseStory& story) {
  std::string out = csv_line({"case", "answer", "at", "move", "heard", "taken back"});
  for (std::size_t index = 0; index < story.answers.size(); ++index) {
    const record::Answer& answer = story.answers[index];
    out += csv_line({std::to_string(story.head.number), std::to_string(index + 1), answer.at,
                     answer.move, report_text(answer.report), answer.taken_back ? "yes" : "no"});
  }
  return out;
}

Json case_story_json(const record::CaseStory& story) {
  Json json = head_json(story.head);
  json["steps"] = Json::array();
  for (const record::Answer& answer : story.answers) {
    json["steps"].push_back({{"at", answer.at},
                             {"move", answer.move},
                             {"heard", report_text(answer.report)},
                             {"taken_back", answer.taken_back}});
  }
  json["causes"] = Json::array();
  for (const record::Cause& cause : story.end.causes) {
    json["causes"].push_back({{"mode", cause.mode},
                              {"fault", cause.fault},
                              {"words", cause.words},
                              {"chance", cause.chance}});
  }
  json["repairs"] = story.end.repairs;
  json["parts"] = Json::array();
  for (const record::PartUsed& part : story.end.parts) {
    json["parts"].push_back(
        {{"kind", part.kind}, {"name", part.name}, {"instead_of", part.instead_of}});
  }
  json["thrown_out"] = Json::array();
  for (const record::PartThrownOut& part : story.end.thrown_out) {
    json["thrown_out"].push_back({{"kind", part.kind}, {"name", part.name}});
  }
  return json;
}

std::string checks_page(const std::vector<record::CheckHead>& heads, const Style& style) {
  if (heads.empty()) return "No check fits.\n";
  std::string out = heading(counted(heads.size(), "check", "checks") + ", newest first", style);
  out += dim("  no.  begun             list      ended     passed  failed  installation", style) +
         "\n";
  for (const record::CheckHead& head : heads) {
    std::string line = fmt::format("{:>5}  ", head.number) + padded(when(head.opened), 18);
    line += padded(cut(head.list, 9, style), 10);
    line += padded(head.ended.empty() ? "not yet" : then(head.ended, head.opened).substr(0, 9), 10);
    line += fmt::format("{:>6}{:>8}  {}", head.passed, head.failed, head.installation);
    out += cut(line, style.width, style) + "\n";
  }
  return out;
}

std::string checks_csv(const std::vector<record::CheckHead>& heads) {
  std::string out = csv_line({"check", "installation", "list", "listener", "opened", "ended",
                              "routes passed", "routes failed"});
  for (const record::CheckHead& head : heads) {
    out += csv_line({std::to_string(head.number), head.installation, head.list, head.listener,
                     head.opened, head.ended, std::to_string(head.passed),
                     std::to_string(head.failed)});
  }
  return out;
}

Json checks_json(const std::vector<record::CheckHead>& heads) {
  Json all = Json::array();
  for (const record::CheckHead& head : heads) all.push_back(head_json(head));
  return {{"checks", all}};
}

std::string check_story_page(const record::CheckStory& story, const Style& style) {
  const record::CheckHead& head = story.head;
  std::string out =
      heading("Check " + std::to_string(head.number) + ", " + head.installation, style);
  const std::string end =
      head.ended.empty() ? "It has not ended." : "Ended " + then(head.ended, head.opened) + ".";
  out += wrapped("The " + head.list + " list, begun " + when(head.opened) + ". " + end, "",
                 style.width) +
         "\n";
  for (const record::RouteResult& route : story.routes) {
    std::string words = route.result;
    if (!route.heard.empty()) {
      words += ": " + route.heard + (route.stressed ? ", under stress" : "");
    }
    out += "  " + padded(route.route, 18) + words + "\n";
  }
  out += "\n" + heading("Answers", style);
  std::string last = head.opened;
  for (const record::CheckAnswer& answer : story.answers) {
    out += wrapped(answer_words(answer), "  " + then(answer.at, last) + "  ", style.width);
    last = answer.at;
  }
  return out;
}

std::string check_story_csv(const record::CheckStory& story) {
  std::string out = csv_line({"check", "route", "result", "heard", "under stress"});
  for (const record::RouteResult& route : story.routes) {
    out += csv_line({std::to_string(story.head.number), route.route, route.result, route.heard,
                     route.stressed ? "yes" : "no"});
  }
  return out;
}

Json check_story_json(const record::CheckStory& story) {
  Json json = head_json(story.head);
  json["routes"] = Json::array();
  for (const record::RouteResult& route : story.routes) {
    json["routes"].push_back({{"route", route.route},
                              {"result", route.result},
                              {"heard", route.heard},
                              {"under_stress", route.stressed}});
  }
  json["answers"] = Json::array();
  for (const record::CheckAnswer& answer : story.answers) {
    json["answers"].push_back({{"at", answer.at}, {"answer", answer_words(answer)}});
  }
  return json;
}

std::string sessions_page(const std::vector<record::Session>& sessions, const Style& style) {
  if (sessions.empty()) return "No session fits.\n";
  std::map<std::string, std::size_t> uses;
  std::string out = heading(counted(sessions.size(), "session", "sessions"), style);
  for (const record::Session& session : sessions) {
    out += cut("  " + padded(session.day, 12) + padded(session.code, 26) + listed(session.routes),
               style.width, style) +
           "\n";
    for (const std::string& route : session.routes) ++uses[route];
  }
  out += "\n" + heading("How many used each route", style);
  for (const auto& [route, count] : uses) {
    out += "  " + padded(route, 26) + fmt::format("{:>6}\n", count);
  }
  return out;
}

// As `whichlink session --from` reads it.
std::string sessions_csv(const std::vector<record::Session>& sessions) {
  std::string out = csv_line({"code", "day", "routes"});
  for (const record::Session& session : sessions) {
    out += csv_line({session.code, session.day, fmt::format("{}", fmt::join(session.routes, ";"))});
  }
  return out;
}

Json sessions_json(const std::vector<record::Session>& sessions) {
  Json all = Json::array();
  for (const record::Session& session : sessions) {
    all.push_back({{"code", session.code}, {"day", session.day}, {"routes", session.routes}});
  }
  return {{"sessions", all}};
}

}  // namespace whichlink::render
