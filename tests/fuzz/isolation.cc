#include <cmath>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "answer.h"
#include "guide/case.h"
#include "load/load.h"
#include "moves/move.h"

namespace {

using namespace whichlink;
using fuzz::must;

constexpr std::size_t kMostAnswers = 8;  // the exact picture of many reports is slow when watched
constexpr plan::Depth kNoSearch{0, 0, 0};

moves::Installation shipped(const std::string& name) {
  const std::string source = WHICHLINK_SOURCE_DIR;
  auto loaded = load::installation_file(source + "/models/" + name + ".yaml", source + "/rules");
  must(loaded.has_value(), "a shipped installation that cannot be read");
  return std::move(*loaded);
}

/// The input as a row of small choices; 0 once it has ended.
class Keys {
 public:
  Keys(const std::uint8_t* data, std::size_t size) : data_(data), size_(size) {}
  [[nodiscard]] bool ended() const { return size_ == 0; }
  std::size_t below(std::size_t count) {
    if (size_ == 0) return 0;
    --size_;
    return *data_++ % count;
  }

 private:
  const std::uint8_t* data_;
  std::size_t size_;
};

/// Any report, those among them that mean nothing at this sense.
guide::Report report(const faults::Sense& sense, Keys& keys) {
  const std::size_t known = sense.symptoms.size();
  const std::size_t which = keys.below(known + 6);
  if (which < known) return {sense.symptoms[which].name, {}};
  if (which == known) return {guide::kNotSure, {}};
  if (which == known + 1) return {guide::kCannotDo, {}};
  if (which == known + 2) return {sense.elsewhere ? sense.elsewhere->name : "elsewhere", {}};
  if (which == known + 3) return {"weak", static_cast<double>(keys.below(256)) / 2};
  if (which == known + 4) return {"no such thing", {}};
  return {sense.symptoms.front().name, {}};
}

void check_picture(const guide::Case& one) {
  const plan::Picture picture = one.picture();
  for (const belief::StateVector& states : picture.marginal) {
    double sum = 0;
    for (const double chance : states) {
      must(chance >= 0 && chance <= 1 + 1e-9, "a chance that is none");
      sum += chance;
    }
    must(std::abs(sum - 1) < 1e-9, "states that do not add up");
  }
  must(picture.something_wrong >= 0 && picture.something_wrong <= 1 + 1e-9, "a doubt that is none");
  double last = 2;
  for (const guide::Suspect& suspect : one.suspects(picture)) {
    must(suspect.chance >= 0 && suspect.chance <= last, "suspects out of order");
    last = suspect.chance + 1e-12;
  }
}

// One answer; what is refused must leave the case as it was.
void answer(guide::Case& one, Keys& keys) {
  const std::vector<moves::Move> possible = moves::derive_moves(one.setting(), one.standing());
  must(!possible.empty(), "nothing can be done");
  moves::Move move = possible[keys.below(possible.size())];
  if (keys.below(4) == 0) {  // seldom, for planning under the sanitizers takes its time
    const guide::Advice advice = one.advise(kNoSearch);
    if (advice.move) move = *advice.move;
  }
  const std::size_t steps = one.steps().size();
  const double doubt = one.belief().something_wrong(one.standing());
  const guide::Report said = report(one.setting().rules().senses[move.sense], keys);
  if (const auto problem = one.answer({move.name, said, {"f", 1, 1}})) {
    must(!problem->what.empty() && to_line(*problem).find('\n') == std::string::npos,
         "a refusal without words");
    must(one.steps().size() == steps && one.belief().something_wrong(one.standing()) == doubt,
         "a refused answer that left something behind");
    return;
  }
  must(one.steps().size() == steps + 1, "an answer that was not taken in");
}

// What is told at the end, whatever the end: a plug that is elsewhere is always told.
void check_ending(const guide::Case& one, guide::Stage stage) {
  const guide::Ending ending = one.ending(stage);
  must(ending.put_back.size() >= moves::put_back_list(one.setting(), one.standing()).size(),
       "a plug that nobody is told to put back");
  must(stage == guide::Stage::handed_over || !one.standing().temporary,
       "closed with something changed");
  must(!ending.cautions.empty(), "an ending without cautions");
}

// The case's events, written and read again, lead to the same belief and the same advice.
void check_replay(const moves::Installation& installation, const guide::Case& one,
                  const guide::Advice& advice) {
  const auto events = load::case_from(load::to_text(one.events()), "f");
  must(events.has_value(), "a written case that cannot be read");
  const auto again = guide::Case::open(installation, *events);
  must(again.has_value(), "a written case that cannot be opened");
  must((*again)->picture().log_evidence == one.picture().log_evidence, "another belief");
  const guide::Advice same = (*again)->advise(kNoSearch);
  must(same.stage == advice.stage && same.move.has_value() == advice.move.has_value() &&
           (!same.move || same.move->name == advice.move->name),
       "another advice");
}

}  // namespace

// Any bytes as what a person answers in a guided case: advised moves and others, reports that can
// be and cannot, taken back or not.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const std::vector<moves::Installation>& rooms =
      *new std::vector<moves::Installation>{shipped("screening-set"), shipped("single-room")};
  Keys keys(data, size);
  const moves::Installation& room = rooms[keys.below(rooms.size())];
  const std::size_t number = keys.below(room.chain.routes.size());
  const chain::Route& route = room.chain.routes[RouteId{static_cast<std::uint32_t>(number)}];
  guide::CaseFile events;
  events.route = route.name;
  events.complaint = report(room.rules.senses[room.rules.signals[route.signal].sense], keys);
  auto opened = guide::Case::open(room, events);
  if (!opened) return 0;
  guide::Case& one = **opened;
  for (std::size_t count = 0; count < kMostAnswers && !keys.ended(); ++count) {
    if (keys.below(8) == 7) {
      const bool any = !one.steps().empty();
      must(one.take_back() == any, "an answer that cannot be taken back");
    } else {
      answer(one, keys);
    }
  }
  const guide::Advice advice = one.advise(kNoSearch);
  must(advice.stage != guide::Stage::under_way || advice.move, "no advice");
  check_picture(one);
  check_ending(one,
               advice.stage == guide::Stage::under_way ? guide::Stage::handed_over : advice.stage);
  check_replay(room, one, advice);
  return 0;
}
