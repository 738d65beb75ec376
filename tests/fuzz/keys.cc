#include <unistd.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "answer.h"
#include "load/load.h"
#include "program/seat.h"
#include "record/record.h"
#include "render/text.h"
#include "typing.h"

namespace {

using namespace whichlink;
using testing::Asked;
using testing::Told;
using testing::Way;
namespace fs = std::filesystem;

constexpr std::size_t kWidest = 80;
const std::string kAt = "2026-11-26T08:30";

const std::string kLessons = R"(lessons for: hearing tests
about: "For the fuzzer."
source: invented for the demo
lessons:
  keys:
    goal: "Find it."
    hint: "Look."
    cases:
      a set: {model: screening-set, route: left phone, seed: 133, drawn: true}
      a cord:
        model: screening-set
        route: left phone
        heard: crackle
        seed: 11
        hidden:
          - {fault: "headset cord.cord.left: fractured conductor", showing: false}
      a room: {model: single-room, route: bone, seed: 132, drawn: true}
)";

/// A folder that is this process's alone, in memory where there is such a place; it is gone with
/// the process, and before a broken property ends it.
class Scratch {
 public:
  Scratch() {
    std::error_code none;
    const fs::path memory = "/dev/shm";
    const fs::path above = fs::is_directory(memory, none) ? memory : fs::temp_directory_path();
    folder_ = (above / ("whichlink-keys-" + std::to_string(::getpid()))).string();
  }
  ~Scratch() { remove(); }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;

  void begin() const {
    remove();
    fs::create_directories(folder_);
  }
  void remove() const {
    std::error_code none;
    fs::remove_all(folder_, none);
  }
  [[nodiscard]] std::string file(const std::string& name) const { return folder_ + "/" + name; }

 private:
  std::string folder_;
};

const Scratch& scratch() {
  static const Scratch one;
  return one;
}

/// @param shown  what broke it
void must(bool holds, const char* what, const std::string& shown = "") {
  if (holds) return;
  scratch().remove();
  std::fprintf(stderr, "%s\n", shown.c_str());
  fuzz::must(holds, what);
}

std::string text_of(const std::string& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

bool exists(const std::string& file) {
  return fs::exists(file);
}

void write(const std::string& file, const std::string& text) {
  std::ofstream(file, std::ios::binary) << text;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

// By another decoder than the program's own.
bool is_utf8(const std::string& text) {
  try {
    return !nlohmann::json(text).dump().empty();
  } catch (const nlohmann::json::exception&) {
    return false;
  }
}

bool is_plain(const std::string& line) {
  if (line.empty() || !is_utf8(line)) return false;
  for (std::size_t at = 0; at < line.size(); ++at) {
    const auto byte = static_cast<unsigned char>(line[at]);
    if (byte < 0x20 || byte == 0x7f) return false;
    const bool is_c1 = byte == 0xc2 && static_cast<unsigned char>(line[at + 1]) < 0xa0;
    if (is_c1) return false;
  }
  return true;
}

/// A line that the terminal shows while somebody types: their bytes, not ours.
bool is_echo(const std::string& line) {
  return line.rfind("> ", 0) == 0;
}

/// A line that is as long as it has to be: a complaint bears what was typed, a command stays whole.
bool is_as_long_as_it_is(const std::string& line) {
  return line.find("; expected ") != std::string::npos || line.rfind("answer ", 0) == 0 ||
         line.rfind("Go on later with: ", 0) == 0;
}

// What holds of every run.
void check_told(const Asked& asked, const Told& told, bool is_json) {
  must(told.code == 0 || told.code == 2, "an exit code that is not documented");
  must((told.code == 0) == told.err.empty(), "a complaint without code 2, or code 2 without one",
       told.err);
  if (told.code == 2) {
    must(told.err.back() == '\n', "a complaint that does not end");
    const std::vector<std::string> lines = lines_of(told.err);
    must(std::all_of(lines.begin(), lines.end(), is_plain), "a complaint that cannot be read");
    must(lines.size() == 1, "more than one complaint about an answer");
    must(lines.back().rfind("whichlink: ", 0) != 0, "an exception that reached the top");
  }
  for (const std::string& line : lines_of(told.out)) {
    if (asked.way == Way::terminal && is_echo(line)) continue;
    must(is_utf8(line), "a line that is no UTF-8", line);
    if (is_json || is_as_long_as_it_is(line)) continue;
    must(asked.words.front() == "new" || render::columns(line) <= kWidest, "a line too wide", line);
  }
  must(!is_json || told.code != 0 || nlohmann::json::accept(told.out), "no JSON", told.out);
}

bool says(const Told& told, const char* words) {
  return told.out.find(words) != std::string::npos;
}

record::Record opened(const std::string& file) {
  auto record = record::Record::open(file, record::Access::read);
  must(record.has_value(), "a record that cannot be read");
  return std::move(*record);
}

template <class Value>
Value got(Result<Value> result) {
  must(result.has_value(), "a record that does not answer");
  return std::move(*result);
}

/// The same command gone on with, nothing more typed, as JSON.
Told gone_on(std::vector<std::string> words) {
  const Asked asked{std::move(words), "", Way::pipe, true, scratch().file("home")};
  const Told told = run(asked);
  check_told(asked, told, true);
  must(told.code == 0, "what was put aside cannot be gone on with", told.err);
  return told;
}

// What was answered is on record, and goes on from there as if it had not been put aside.
void check_case(const Told& told, bool is_json, const std::string& file, const std::string& kept) {
  if (!exists(file)) return;
  const record::Record record = opened(file);
  if (got(record.cases({})).empty()) return;
  const guide::CaseFile events = got(record.events_of(1));
  const record::CaseStory story = got(record.story_of(1));
  const auto stand = std::count_if(story.answers.begin(), story.answers.end(),
                                   [](const record::Answer& one) { return !one.taken_back; });
  must(static_cast<std::size_t>(stand) == events.done.size(), "answers that are not on record");
  const bool is_open = story.head.ending == record::kOpen;
  if (told.code == 0 && !is_json) {
    must(says(told, "Go on later with: ") == is_open, "an ending that is not on record");
    const std::string moves = "\n" + std::to_string(events.done.size()) + " moves, ";
    must(says(told, moves.c_str()), "not as many answers as the person was told", moves + told.out);
  }
  if (exists(kept)) must(text_of(kept) == load::to_text(events), "a case file unlike the record");
  if (!is_open) return;
  const Told again = gone_on(
      {"isolate", "--resume", "1", "--record", file, "--at", kAt, "--think", "0", "--json"});
  must(!is_json || told.code != 0 || again.out == told.out, "another case than was put aside",
       told.out + again.out);
}

void check_check(const Told& told, bool is_json, const std::string& model,
                 const std::string& file) {
  if (!exists(file)) return;
  const record::Record record = opened(file);
  if (got(record.checks({})).empty()) return;
  const bool is_open = got(record.check_story_of(1)).head.ended.empty();
  if (told.code == 0 && !is_json) {
    must(says(told, "Go on later with: whichlink check") == is_open, "a check's end not on record");
  }
  if (!is_open) return;
  const Told again =
      gone_on({"check", "--model", model, "--resume", "--record", file, "--at", kAt, "--json"});
  must(!is_json || told.code != 0 || again.out == told.out, "another check than was stopped",
       told.out + again.out);
}

/// The bytes of one input, the first of which choose.
struct Bytes {
  const std::uint8_t* data;
  std::size_t size;

  std::uint8_t next() {
    if (size == 0) return 0;
    --size;
    return *data++;
  }
  [[nodiscard]] std::string_view rest() const {
    return {reinterpret_cast<const char*>(data), size};
  }
};

/// Bits of the third byte. At a terminal what is typed stands among what is shown, so no JSON
/// there.
struct Flags {
  bool terminal, file, json, record, twice, more, utf8;
};

Flags flags_of(std::uint8_t byte) {
  const auto bit = [byte](unsigned which) { return (byte >> which & 1U) != 0; };
  const bool terminal = bit(0) && !bit(1);
  return {terminal, bit(1), bit(2) && !terminal, bit(3), bit(4), bit(5), !bit(6)};
}

Asked asked_of(std::vector<std::string> words, const Flags& flags, Bytes bytes, std::size_t most) {
  if (flags.file) words.insert(words.end(), {"--answers", scratch().file("answers")});
  return {std::move(words), fuzz::Typing(bytes.rest(), flags.terminal, most).text(),
          flags.terminal ? Way::terminal : Way::pipe, flags.utf8, scratch().file("home")};
}

void begin_anew(const Asked& asked, const std::string& old) {
  scratch().begin();
  write(scratch().file("answers"), asked.typed);
  write(scratch().file("lessons.yaml"), kLessons);
  if (!old.empty()) write(scratch().file("room.yaml"), old);
}

// Runs it, where that is asked for twice from the start. @param old  a file that is there already
Told run_checked(const Asked& asked, const Flags& flags, const std::string& old = "") {
  begin_anew(asked, old);
  const Told told = run(asked);
  check_told(asked, told, flags.json);
  if (flags.twice) {
    begin_anew(asked, old);
    must(run(asked) == told, "the same input and another output");
  }
  return told;
}

/// Where the record is, if there is one.
std::string record_of(const Flags& flags) {
  return scratch().file(flags.record ? "record.db" : "home/whichlink/record.db");
}

void add(std::vector<std::string>& words, std::vector<std::string> more) {
  words.insert(words.end(), more.begin(), more.end());
}

void add_shared(std::vector<std::string>& words, const Flags& flags) {
  add(words, {"--at", kAt});
  if (flags.record) add(words, {"--record", record_of(flags)});
  if (flags.json) add(words, {"--json"});
}

const std::string& model_of(std::size_t which) {
  static const std::vector<std::string> models{"screening-set", "single-room", "small-stage"};
  return models[which % models.size()];
}

// At a terminal no answer ends a run; elsewhere nothing but an answer does.
void must_be_about_answers(const Asked& asked, const Told& told) {
  if (told.code == 0) return;
  must(asked.way != Way::terminal, "an answer that ends a sitting at a terminal", told.err);
  must(told.err.rfind("standard input:", 0) == 0 ||
           told.err.rfind(scratch().file("answers") + ":", 0) == 0,
       "a complaint about no answer", told.err);
}

void play_isolate(Bytes bytes) {
  constexpr std::size_t kMost = 14;
  const std::size_t about = bytes.next();
  const Flags flags = flags_of(bytes.next());
  std::vector<std::string> words{"isolate", "--model", model_of(about), "--think", "0"};
  const std::vector<std::vector<std::string>> more{
      {}, {"--since-pass", "3"}, {"--aim", "moves"}, {"--aim", "split"}};
  add(words, more[about / 3 % more.size()]);
  add_shared(words, flags);
  const std::string kept = scratch().file("kept.json");
  if (flags.more) add(words, {"--keep", kept});
  const Asked asked = asked_of(words, flags, bytes, kMost);
  const Told told = run_checked(asked, flags);
  must_be_about_answers(asked, told);
  check_case(told, flags.json, record_of(flags), kept);
}

void play_check(Bytes bytes) {
  constexpr std::size_t kMost = 20;
  const std::size_t about = bytes.next();
  const Flags flags = flags_of(bytes.next());
  std::vector<std::string> words{"check", "--model", model_of(about)};
  const std::vector<std::vector<std::string>> more{
      {}, {"--list", "weekly"}, {"--listener", "new"}, {"--trip", "10"}};
  add(words, more[about / 3 % more.size()]);
  add_shared(words, flags);
  const Asked asked = asked_of(words, flags, bytes, kMost);
  const Told told = run_checked(asked, flags);
  if (about / 3 % more.size() == 0) must_be_about_answers(asked, told);
  check_check(told, flags.json, model_of(about), record_of(flags));
}

void play_drill(Bytes bytes) {
  const std::size_t about = bytes.next();
  const Flags flags = flags_of(bytes.next());
  std::vector<std::string> words{"drill", "--lessons", scratch().file("lessons.yaml"), "--lesson",
                                 "keys",  "--case",    std::to_string(1 + about % 3)};
  // Each choice is valued by a search, and the planner's own way has as many: few of them, or an
  // input takes seconds.
  const bool against = about / 3 % 2 == 1 && !flags.twice;
  const std::size_t most = against ? 3 : 5;
  if (against) add(words, {"--against"});
  if (about / 6 % 2 == 1) add(words, {"--seed", std::to_string(about)});
  if (flags.more) add(words, {"--trainee", "t-1"});
  add_shared(words, flags);
  const Asked asked = asked_of(words, flags, bytes, most);
  const Told told = run_checked(asked, flags);
  must_be_about_answers(asked, told);
  if (flags.json || !exists(record_of(flags))) return;
  const bool has_ended = told.code == 0 && !says(told, "Put aside. Nothing is kept.");
  must(got(opened(record_of(flags)).drills("t-1")).size() == (has_ended ? 1U : 0U),
       "a drill that is not on record, or one that has not ended");
}

void play_new(Bytes bytes) {
  constexpr std::size_t kMost = 200;
  const std::size_t about = bytes.next();
  Flags flags = flags_of(bytes.next());
  flags.json = false;
  const std::string out = scratch().file("room.yaml");
  const std::string answers = out + ".answers";
  const std::vector<std::vector<std::string>> from{{},
                                                   {"--rules", "hearing"},
                                                   {"--rules", "stage-sound"},
                                                   {"--from", "single-room"},
                                                   {"--from", "small-stage"}};
  std::vector<std::string> words{"new", "--out", out};
  add(words, from[about % from.size()]);
  if (flags.more) add(words, {"--draw", scratch().file("chain.svg")});
  const std::string old = flags.record ? "old\n" : "";
  if (about / from.size() % 2 == 1) add(words, {"--replace"});
  const Told told = run_checked(asked_of(words, flags, bytes, kMost), flags, old);
  const bool is_written = exists(out) && text_of(out) != old;
  must(!is_written || told.code == 0, "a file by answers that were refused");
  if (is_written) {
    const auto read = load::installation_file(out, std::string(WHICHLINK_SOURCE_DIR) + "/rules");
    must(read.has_value(), "a file that cannot be read");
    must(old.empty() || text_of(out + ".before") == old, "an old file that is lost");
    must(!exists(answers), "answers that were left behind");
    return;
  }
  if (!exists(answers)) return;
  // What was kept is gone on with, and left as it was by somebody who adds nothing.
  const std::string kept = text_of(answers);
  std::vector<std::string> again{"new", "--out", out, "--resume", "--replace"};
  if (about % from.size() > 2) add(again, from[about % from.size()]);
  const Asked nothing{again, "", Way::pipe, true, scratch().file("home")};
  const Told gone_on = run(nothing);
  check_told(nothing, gone_on, false);
  must(told.code == 2 || gone_on.code == 0, "answers that were kept and cannot be gone on with");
  must(!exists(answers) || text_of(answers) == kept, "kept answers that changed");
}

}  // namespace

// Any bytes as what is typed at a guided case, a check, a drill, or at the form for an
// installation, through the whole program: with answers from a file, by a pipe or key by key, with
// a record or none.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Bytes bytes{data, size};
  switch (bytes.next() % 4) {
    case 'c' % 4:
      play_check(bytes);
      break;
    case 'd' % 4:
      play_drill(bytes);
      break;
    case 'n' % 4:
      play_new(bytes);
      break;
    default:  // 'i'
      play_isolate(bytes);
  }
  scratch().remove();
  return 0;
}
