#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "guide/case_file.h"

/// What a record holds, as plain values. Times are texts as in base/moment.h. There is no place for
/// a name or a birth date: a session is a code, a day, and the routes that were used.
namespace whichlink::record {

using Number = std::int64_t;  ///< of a case or a check, counted from 1

/// How a case ended; "open" while it has not.
inline const std::string kOpen = "open";

/// kOpen, then the names of the guide's endings.
[[nodiscard]] const std::vector<std::string>& ending_names();

struct CaseHead {
  Number number = 0;
  std::string installation;  ///< its name
  std::string model;         ///< its file, or the name that it was asked for by
  std::string route;
  guide::Report complaint;
  std::string opened, ended;              ///< ended: empty while open
  std::string ending = kOpen;             ///< one of ending_names()
  double minutes = 0;                     ///< of the moves made
  std::size_t answers = 0;                ///< without those taken back
  std::optional<double> days_since_pass;  ///< as somebody said
  std::string likeliest_cause;            ///< in words; empty while open
};

struct Answer {
  std::string move;
  guide::Report report;
  std::string at;
  bool taken_back = false;
};

/// A fault that was there when the case was opened, as believed when it ended.
struct Cause {
  std::string mode;   ///< "CLASS: MODE" of the rules
  std::string fault;  ///< its name in the installation
  std::string words;  ///< as a colleague says it
  double chance = 0;
};

struct PartUsed {
  std::string kind;
  std::string name;
  std::string instead_of;
};

struct PartThrownOut {
  std::string kind;
  std::string name;
};

/// What is known when a case ends.
struct CaseEnd {
  std::string ending;
  double minutes = 0;
  std::vector<Cause> causes;         ///< likeliest first
  std::vector<std::string> repairs;  ///< what was done that may have mended it, in words
  std::vector<PartUsed> parts;
  std::vector<PartThrownOut> thrown_out;  ///< found bad, spares that were tried among them
};

struct CaseStory {
  CaseHead head;
  std::vector<Answer> answers;  ///< in order, those taken back among them
  CaseEnd end;
};

/// Which cases; empty fields do not narrow.
struct Filter {
  std::string installation, route, ending;
  std::string from, until;  ///< days on which the case was opened, both included
  std::string cause;        ///< part of the words of a cause, of .05 or more
  std::size_t most = 0;     ///< newest so many; 0: all
};

/// One answer during a check, as history/check_events.h writes it.
struct CheckAnswer {
  std::string kind;    ///< "said", "level" or "isolated"
  std::string step;    ///< the step's name, or the route's
  std::string answer;  ///< what was heard; the reference levels; how the isolation ended
  std::string extra;   ///< when something was heard: "untouched", "stressed", "not sure" or empty
  std::optional<double> first, second;  ///< a drop in dB; a frequency in Hz and its reading in dB
  std::string at;
  friend bool operator==(const CheckAnswer&, const CheckAnswer&) = default;
};

/// What a check found of one route.
struct RouteResult {
  std::string route;
  std::string result;  ///< "passed", "failed", "mended" or "not checked"
  std::string heard;   ///< what was heard, where it failed
  bool stressed = false;
};

struct CheckHead {
  Number number = 0;
  std::string installation;
  std::string list;  ///< "daily", "weekly" ...
  std::string listener;
  std::string model;
  std::optional<double> trip_db;
  std::string opened, ended;
  std::size_t passed = 0, failed = 0;
};

struct CheckStory {
  CheckHead head;
  std::vector<CheckAnswer> answers;
  std::vector<RouteResult> routes;
};

/// A route that passed or failed, on a day.
struct RouteCheck {
  std::string at;
  std::string result;
  std::string listener;
  bool stressed = false;
};

struct Session {
  std::string code;
  std::string day;
  std::vector<std::string> routes;
};

/// A part that is no longer where the installation's file has it: it stayed in, or was thrown out.
struct GonePart {
  std::string name;
  std::string kind;
  std::string at;  ///< when the case ended
  Number isolation = 0;
  bool thrown_out = false;
};

/// What somebody on a drill held to be wrong, and whether it was.
struct DrillClaim {
  std::string suspect;
  double sure = 0;      ///< as said, 0 to 1
  double believed = 0;  ///< what the answers so far gave it
  bool is_true = false;
  bool supported = true;
  friend bool operator==(const DrillClaim&, const DrillClaim&) = default;
};

struct DrillLoss {
  std::string habit;
  double minutes = 0;
  friend bool operator==(const DrillLoss&, const DrillLoss&) = default;
};

/// A drill that has ended. Drills are played on invented rooms: they say nothing of any real one.
struct Drilled {
  Number number = 0;
  std::string trainee;  ///< a code
  std::string lesson;
  std::string drill_case;  ///< its name in the lesson
  std::uint64_t seed = 0;
  std::string at;
  double ideal = 0, lost = 0, minutes = 0;  ///< minutes, as drill::Score has them
  std::size_t moves = 0, told_nothing = 0, named_by_hint = 0;
  std::size_t not_put_back = 0, unchecked = 0, blamed = 0;
  bool borrowed_left_in = false, service = false, left_in = false;
  std::vector<DrillLoss> losses;
  std::vector<DrillClaim> claims;
  friend bool operator==(const Drilled&, const Drilled&) = default;
};

/// Expected number of faults of each mode that cases of an installation were opened with.
struct ModeCount {
  std::string mode;
  double faults = 0;
  std::size_t cases = 0;  ///< in which it was believed at all
};

}  // namespace whichlink::record
