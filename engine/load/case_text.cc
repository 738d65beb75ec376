#include <algorithm>
#include <array>
#include <charconv>

#include "load/load.h"
#include "load/reader.h"

namespace whichlink::load {
namespace {

/// Numbers of a case are what somebody said: they need no source.
const Scope kSaid{"said"};

guide::Report read_report(Fields& fields, Place& place, Complaints& complaints) {
  guide::Report report;
  if (const Node* node = fields.need("heard", "a symptom, `not sure` or `cannot do`")) {
    place = complaints.place(node->at);
    report.heard = sentence(*node, complaints);
  }
  if (const Node* node = fields.find("drop db")) {
    report.drop_db = number(*node, kDropDb, fields.scope(), complaints);
  }
  return report;
}

void read_complaint(const Node& node, guide::CaseFile& events, Complaints& complaints) {
  Fields fields(&node, node.at, kSaid, complaints);
  if (const Node* route = fields.need("route", "the name of a route")) {
    events.route_place = complaints.place(route->at);
    events.route = sentence(*route, complaints);
  }
  events.complaint = read_report(fields, events.complaint_place, complaints);
  if (const Node* days = fields.find("days since pass")) {
    events.days_since_pass = number(*days, kDays, fields.scope(), complaints);
  }
}

guide::Done read_done(const Node& node, Complaints& complaints) {
  Fields fields(&node, node.at, kSaid, complaints);
  guide::Done done;
  Place heard;
  done.place = complaints.place(node.at);
  if (const Node* move = fields.need("move", "the name of a move")) {
    done.place = complaints.place(move->at);
    done.move = sentence(*move, complaints);
  }
  done.report = read_report(fields, heard, complaints);
  return done;
}

guide::CaseFile read_case(const Node& root, Complaints& complaints) {
  guide::CaseFile events;
  Fields top(&root, root.at, kSaid, complaints);
  events.model = top.text_or_empty("model");
  if (const Node* node = top.find("listener")) {
    events.listener_place = complaints.place(node->at);
    events.listener = sentence(*node, complaints);
  }
  if (const Node* node = top.find("aim")) {
    const std::string name = sentence(*node, complaints);
    events.aim = plan::aim_of(name);
    if (!events.aim && !name.empty()) {
      complaints.add(node->at, "unknown aim \"" + name + "\"", one_of(plan::aim_names()),
                     nearest(name, plan::aim_names()));
    }
  }
  if (const Node* node = top.need("complaint", "{route: ..., heard: ...}")) {
    read_complaint(*node, events, complaints);
  }
  if (const Node* node = top.find("done")) {
    for (const Node& item : items(*node, complaints)) {
      events.done.push_back(read_done(item, complaints));
    }
  }
  return events;
}

/// A text as a YAML value that reads back to the same: bare where it is plain words, else quoted.
std::string as_value(const std::string& text) {
  const auto is_letter = [](char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= 'A' && letter <= 'Z');
  };
  const auto is_bare = [&](char letter) {
    return is_letter(letter) || (letter >= '0' && letter <= '9') || letter == ' ' ||
           letter == '.' || letter == '-';
  };
  static const std::vector<std::string> kWords{"null", "Null",  "NULL",  "true", "True",
                                               "TRUE", "false", "False", "FALSE"};
  const bool bare = !text.empty() && is_letter(text.front()) && text.back() != ' ' &&
                    std::all_of(text.begin(), text.end(), is_bare) &&
                    std::find(kWords.begin(), kWords.end(), text) == kWords.end();
  if (bare) return text;
  std::string value = "\"";
  for (const char letter : text) {
    if (letter == '"' || letter == '\\') value += '\\';
    value += letter;
  }
  return value + '"';
}

/// The shortest decimals that read back to the same double.
std::string as_value(double number) {
  std::array<char, 32> digits{};
  const auto written = std::to_chars(digits.begin(), digits.end(), number);
  return {digits.begin(), written.ptr};
}

std::string as_value(const guide::Report& report) {
  std::string text = "heard: " + as_value(report.heard);
  if (report.drop_db) text += ", drop db: " + as_value(*report.drop_db);
  return text;
}

}  // namespace

Result<guide::CaseFile> case_from(std::string_view text, const std::string& file) {
  Complaints complaints(file);
  guide::CaseFile events;
  if (const auto root = tree_from(text, complaints)) events = read_case(*root, complaints);
  if (!complaints.empty()) return tl::unexpected(complaints.sorted());
  return events;
}

std::string to_text(const guide::CaseFile& events) {
  std::string text;
  if (!events.model.empty()) text += "model: " + as_value(events.model) + "\n";
  if (!events.listener.empty()) text += "listener: " + as_value(events.listener) + "\n";
  if (events.aim) text += "aim: " + plan::name_of(*events.aim) + "\n";
  text += "complaint: {route: " + as_value(events.route) + ", " + as_value(events.complaint);
  if (events.days_since_pass) text += ", days since pass: " + as_value(*events.days_since_pass);
  text += "}\n";
  if (!events.done.empty()) text += "done:\n";
  for (const guide::Done& done : events.done) {
    text += "  - {move: " + as_value(done.move) + ", " + as_value(done.report) + "}\n";
  }
  return text;
}

}  // namespace whichlink::load
