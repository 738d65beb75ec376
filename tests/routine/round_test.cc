#include "routine/round.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "guide/case.h"
#include "guide/support.h"
#include "moves/arrangement.h"
#include "moves/support.h"
#include "simulate/room.h"

namespace whichlink::routine {
namespace {

using testing::shipped;

// One check of a shipped installation, answered by step names.
class Checked : public moves::Shop {
 public:
  explicit Checked(const std::string& model, const std::string& list = "daily",
                   std::optional<double> trip_db = std::nullopt)
      : Shop(model) {
    CheckFile events;
    events.list = list;
    events.trip_db = trip_db;
    events.at = "2026-11-26T08:30";
    auto opened = Round::open(setting, events);
    if (opened) round = std::move(*opened);
    EXPECT_TRUE(round);
  }

  // The answer that says all is well.
  [[nodiscard]] std::string fine(const Step& step) const {
    if (step.kind == Kind::look || step.kind == Kind::sweep) return kYes;
    if (step.kind == Kind::thresholds) return kWithin;
    if (step.is_pair()) return kAsItShould;
    const SignalId signal = installation.chain.routes[step.routes.front()].signal;
    return installation.rules.senses[installation.rules.signals[signal].sense]
        .symptoms.front()
        .name;
  }
  std::optional<Problem> say(const guide::Report& report, std::optional<When> when = {}) {
    return round->take(Said{round->now()->name, report, when, {}});
  }
  void all_well_until(const std::string& step) {
    while (round->now() != nullptr && round->now()->name != step) {
      ASSERT_FALSE(say({fine(*round->now()), {}}));
    }
    ASSERT_NE(round->now(), nullptr) << "no step " << step;
  }
  void all_well_to_the_end() {
    while (round->now() != nullptr) ASSERT_FALSE(say({fine(*round->now()), {}}));
  }
  [[nodiscard]] RouteOutcome of(const std::string& route) const {
    for (const RouteOutcome& one : round->outcome().routes) {
      if (one.route == route) return one;
    }
    ADD_FAILURE() << "no route " << route;
    return {};
  }
  [[nodiscard]] std::vector<std::string> done_in_case_of(const std::string& name) const {
    std::vector<std::string> lines;
    for (const guide::Done& done : round->case_of(route(name)).done) {
      lines.push_back(done.move + ": " + done.report.heard);
    }
    return lines;
  }

  std::unique_ptr<Round> round;
};

using Lines = std::vector<std::string>;
const std::string kPhones = "listen to left phone and right phone";
const std::string kInserts = "listen to left insert and right insert";

TEST(Round, AllWellPassesEveryRouteOfEveryInstallation) {
  for (const std::string model :
       {"two-room-booth", "single-room", "screening-set", "small-stage"}) {
    for (const std::string list : {"daily", "weekly"}) {
      SCOPED_TRACE(model);
      Checked checked(model, list);
      EXPECT_FALSE(checked.round->outcome().complete);
      checked.all_well_to_the_end();
      const Outcome outcome = checked.round->outcome();
      EXPECT_TRUE(outcome.complete);
      EXPECT_EQ(outcome.routes.size(), checked.installation.chain.routes.size());
      for (const RouteOutcome& route : outcome.routes) {
        EXPECT_EQ(route.verdict, Verdict::passed) << route.route;
        EXPECT_TRUE(route.not_done.empty());
      }
      for (const ItemOutcome& item : outcome.items) EXPECT_EQ(item.answer, kYes);
      EXPECT_EQ(outcome.at, "2026-11-26T08:30");
      EXPECT_EQ(outcome.list, list);
    }
  }
}

TEST(Round, APassSaysWhetherTheRouteWasStressed) {
  Checked checked("two-room-booth");
  checked.all_well_to_the_end();
  EXPECT_TRUE(checked.of("left phone").stressed);
  EXPECT_FALSE(checked.of("left speaker").stressed);
}

TEST(Round, WhatWasNotReachedIsNotChecked) {
  Checked checked("two-room-booth");
  checked.all_well_until("sweep left phone and right phone");
  EXPECT_EQ(checked.of("left phone").verdict, Verdict::not_checked);
  EXPECT_EQ(checked.of("left phone").not_done, Lines{"sweep left phone and right phone"});
  ASSERT_FALSE(checked.say({kYes, {}}));
  EXPECT_EQ(checked.of("left phone").verdict, Verdict::passed);
  EXPECT_EQ(checked.of("bone").verdict, Verdict::not_checked);
}

TEST(Round, CannotDoAndNotSureLeaveARouteUnchecked) {
  Checked checked("two-room-booth");
  checked.all_well_until("listen to bone");
  ASSERT_FALSE(checked.say({guide::kCannotDo, {}}));
  checked.all_well_until("listen to button");
  ASSERT_FALSE(checked.say({guide::kNotSure, {}}));
  checked.all_well_to_the_end();
  EXPECT_EQ(checked.of("bone").verdict, Verdict::not_checked);
  EXPECT_EQ(checked.of("button").verdict, Verdict::not_checked);
  EXPECT_EQ(checked.of("button").report.heard, guide::kNotSure);
  EXPECT_TRUE(checked.round->to_isolate().empty());
}

TEST(Round, SwappedSidesFailBothAndAreAskedNoFurther) {
  Checked checked("two-room-booth");
  checked.all_well_until(kPhones);
  const std::size_t steps = checked.round->steps();
  ASSERT_FALSE(checked.say({kSwapped, {}}));
  EXPECT_EQ(checked.round->steps(), steps);
  for (const std::string side : {"left phone", "right phone"}) {
    EXPECT_EQ(checked.of(side).verdict, Verdict::failed);
    EXPECT_EQ(checked.of(side).report.heard, "wrong side");
    EXPECT_EQ(checked.of(side).when, When::untouched);
  }
  EXPECT_EQ(checked.round->to_isolate().size(), 2U);
}

TEST(Round, AnythingElseWrongWithAPairAsksForEachSideAlone) {
  for (const std::string& answer : {kOneSide, kBothInOne, kNotRight}) {
    Checked checked("two-room-booth");
    checked.all_well_until(kPhones);
    ASSERT_FALSE(checked.say({answer, {}}));
    ASSERT_EQ(checked.round->now()->name, "listen to left phone");
    ASSERT_FALSE(checked.say({"silent", {}}, When::untouched));
    ASSERT_EQ(checked.round->now()->name, "listen to right phone");
    EXPECT_TRUE(checked.round->to_isolate().empty()) << "the other side is to be heard first";
    ASSERT_FALSE(checked.say({"steady", {}}));
    EXPECT_EQ(checked.round->to_isolate(), std::vector<RouteId>{checked.route("left phone")});
    EXPECT_EQ(checked.of("left phone").verdict, Verdict::failed);
    checked.all_well_to_the_end();
    EXPECT_EQ(checked.of("right phone").verdict, Verdict::passed) << answer;
  }
}

TEST(Round, APairThatWasWrongDoesNotPassBecauseEachSideSoundsWellAlone) {
  Checked checked("two-room-booth");
  checked.all_well_until(kPhones);
  ASSERT_FALSE(checked.say({kBothInOne, {}}));
  ASSERT_FALSE(checked.say({"steady", {}}));
  EXPECT_TRUE(checked.round->to_isolate().empty());
  ASSERT_FALSE(checked.say({"steady", {}}));
  EXPECT_EQ(checked.of("left phone").verdict, Verdict::failed);
  EXPECT_EQ(checked.of("right phone").verdict, Verdict::failed);
  EXPECT_EQ(checked.of("left phone").report.heard, guide::kNotSure);
  EXPECT_EQ(checked.round->case_of(checked.route("left phone")).complaint.heard, guide::kNotSure);
}

TEST(Round, ASweepThatMissesATonesAsksForEachSideAndFailsTheWeakOne) {
  Checked checked("two-room-booth");
  checked.all_well_until("sweep left phone and right phone");
  ASSERT_FALSE(checked.say({kNo, {}}));
  ASSERT_EQ(checked.round->now()->name, "sweep left phone");
  ASSERT_FALSE(checked.say({kYes, {}}));
  ASSERT_FALSE(checked.say({kNo, {}}));
  EXPECT_EQ(checked.of("left phone").verdict, Verdict::passed);
  EXPECT_EQ(checked.of("right phone").verdict, Verdict::failed);
  EXPECT_EQ(checked.of("right phone").report.heard, "weak 10");
}

TEST(Round, AThresholdFailsBeyondTheTripLevelEitherWay) {
  for (const double change : {10.0, -10.0}) {
    Checked strict("single-room", "weekly", 5);
    strict.all_well_until("thresholds on left phone");
    ASSERT_FALSE(strict.say({"weak", change}));
    EXPECT_EQ(strict.of("left phone").verdict, Verdict::failed);
    EXPECT_EQ(strict.of("left phone").report.drop_db, 10);
    Checked lenient("single-room", "weekly", 10);
    lenient.all_well_until("thresholds on left phone");
    ASSERT_FALSE(lenient.say({"weak", change}));
    EXPECT_EQ(lenient.of("left phone").verdict, Verdict::passed);
  }
}

TEST(Round, TheUsualTripLevelIsThatOfTheRules) {
  EXPECT_EQ(Checked("single-room", "weekly").round->trip_db(), 10);
  EXPECT_EQ(Checked("single-room", "weekly").round->outcome().trip_db, 10);
  EXPECT_EQ(Checked("single-room", "daily").round->outcome().trip_db, std::nullopt);
}

TEST(Round, AReadingBeyondItsLimitFailsTheRouteByItsDrop) {
  Checked checked("two-room-booth");
  checked.all_well_until(kPhones);
  ASSERT_FALSE(checked.round->take(Read{"left phone", "", 1000, 75.5, {}}));
  EXPECT_TRUE(checked.round->to_isolate().empty());
  ASSERT_FALSE(checked.round->take(Read{"right phone", "", 1000, 65, {}}));
  EXPECT_EQ(checked.of("right phone").verdict, Verdict::failed);
  EXPECT_EQ(checked.of("right phone").report.drop_db, 12);
  EXPECT_EQ(checked.round->now()->name, kPhones) << "the step still waits for its answer";
  const guide::CaseFile file = checked.round->case_of(checked.route("right phone"));
  EXPECT_EQ(file.complaint.heard, "weak");
  EXPECT_EQ(file.complaint.drop_db, 12);
  EXPECT_EQ(checked.round->outcome().levels.size(), 2U);
}

TEST(Round, TakingBackIsTheSameAsNeverHavingSaid) {
  Checked checked("two-room-booth");
  checked.all_well_until(kPhones);
  ASSERT_FALSE(checked.say({kNotRight, {}}));
  ASSERT_FALSE(checked.say({"crackle", {}}, When::stressed));
  ASSERT_FALSE(checked.say({"steady", {}}));
  ASSERT_FALSE(checked.round->take(Isolated{"left phone", guide::Stage::mended, {}}));
  EXPECT_EQ(checked.of("left phone").verdict, Verdict::mended);
  ASSERT_TRUE(checked.round->take_back());  // the last listen, and the isolation after it
  EXPECT_EQ(checked.round->now()->name, "listen to right phone");
  EXPECT_EQ(checked.of("left phone").verdict, Verdict::failed);
  EXPECT_TRUE(checked.round->to_isolate().empty());
  ASSERT_TRUE(checked.round->take_back());
  EXPECT_EQ(checked.round->now()->name, "listen to left phone");
  EXPECT_TRUE(checked.round->to_isolate().empty());
  ASSERT_TRUE(checked.round->take_back());
  EXPECT_EQ(checked.round->now()->name, kPhones);
  while (checked.round->take_back()) {
  }
  EXPECT_EQ(checked.round->answered(), 0U);
  EXPECT_TRUE(checked.round->events().done.empty());
}

TEST(Round, TheSameEventsLeadToTheSameOutcome) {
  Checked checked("two-room-booth");
  checked.all_well_until(kPhones);
  ASSERT_FALSE(checked.round->take(Read{"left phone", "", 1000, 60, {}}));
  ASSERT_FALSE(checked.round->take(Isolated{"left phone", guide::Stage::handed_over, {}}));
  ASSERT_FALSE(checked.say({kOneSide, {}}));
  ASSERT_FALSE(checked.say({"silent", {}}, When::not_sure));
  checked.all_well_to_the_end();
  const auto again = Round::open(checked.setting, checked.round->events());
  ASSERT_TRUE(again);
  const Outcome one = checked.round->outcome();
  const Outcome two = (*again)->outcome();
  ASSERT_EQ(one.routes.size(), two.routes.size());
  for (std::size_t index = 0; index < one.routes.size(); ++index) {
    EXPECT_EQ(one.routes[index].verdict, two.routes[index].verdict);
    EXPECT_EQ(one.routes[index].report.heard, two.routes[index].report.heard);
    EXPECT_EQ(one.routes[index].report.drop_db, two.routes[index].report.drop_db);
    EXPECT_EQ(one.routes[index].isolated, two.routes[index].isolated);
  }
  EXPECT_EQ(one.levels.size(), two.levels.size());
  EXPECT_EQ(one.complete, two.complete);
}

TEST(Round, IsolationThatMendsClearsTheRouteAndNothingElseDoes) {
  for (const guide::Stage stage : {guide::Stage::mended, guide::Stage::nothing_found,
                                   guide::Stage::handed_over, guide::Stage::under_way}) {
    Checked checked("single-room");
    checked.all_well_until("listen to bone");
    ASSERT_FALSE(checked.say({"silent", {}}, When::untouched));
    ASSERT_EQ(checked.round->to_isolate().size(), 1U);
    ASSERT_FALSE(checked.round->take(Isolated{"bone", stage, {}}));
    EXPECT_TRUE(checked.round->to_isolate().empty());
    const bool mended = stage == guide::Stage::mended;
    EXPECT_EQ(checked.of("bone").verdict, mended ? Verdict::mended : Verdict::failed);
  }
}

// What the case is told.

TEST(EvidenceOfACheck, WhatIsWrongUntouchedIsTheComplaint) {
  Checked checked("two-room-booth");
  checked.all_well_until(kPhones);
  ASSERT_FALSE(checked.say({kNotRight, {}}));
  ASSERT_FALSE(checked.say({"drops out", {}}, When::untouched));
  ASSERT_FALSE(checked.say({"steady", {}}));
  const guide::CaseFile file = checked.round->case_of(checked.route("left phone"));
  EXPECT_EQ(file.route, "left phone");
  EXPECT_EQ(file.complaint.heard, "drops out");
  EXPECT_EQ(checked.done_in_case_of("left phone"), Lines{"try right phone: steady"});
}

TEST(EvidenceOfACheck, WhatIsWrongOnlyUnderStressIsAMoveAfterASoundListen) {
  Checked checked("two-room-booth");
  checked.all_well_until(kPhones);
  ASSERT_FALSE(checked.say({kNotRight, {}}));
  ASSERT_FALSE(checked.say({"crackle", {}}, When::stressed));
  ASSERT_FALSE(checked.say({"steady", {}}));
  EXPECT_EQ(checked.round->case_of(checked.route("left phone")).complaint.heard, "steady");
  EXPECT_EQ(checked.done_in_case_of("left phone"),
            (Lines{"try right phone: steady", "stress all: crackle"}));
}

TEST(EvidenceOfACheck, WhereNobodyKnowsTheComplaintIsNotSure) {
  Checked checked("single-room");
  checked.all_well_until("listen to bone");
  ASSERT_FALSE(checked.say({"hum", {}}));
  EXPECT_EQ(checked.round->case_of(checked.route("bone")).complaint.heard, guide::kNotSure);
  EXPECT_EQ(checked.done_in_case_of("bone").back(), "stress all: hum");
}

TEST(EvidenceOfACheck, OnlyRoutesThatShareSomethingAreListenedTo) {
  Checked checked("two-room-booth");
  checked.all_well_until("listen to talkback");
  ASSERT_FALSE(checked.say({"silent", {}}, When::untouched));
  EXPECT_EQ(checked.done_in_case_of("talkback"), Lines{}) << "nothing else runs that way";
}

TEST(EvidenceOfACheck, ARouteThatFailedAndSharesNothingTellsNothing) {
  Checked checked("two-room-booth");
  std::size_t silent = 0;
  while (checked.round->now() != nullptr) {
    const std::string& name = checked.round->now()->name;
    const bool talks = name == "listen to talkback" || name == "listen to talk forward";
    if (talks) {
      ASSERT_FALSE(checked.say({"silent", {}}, When::untouched));
      ++silent;
    } else {
      ASSERT_FALSE(checked.say({checked.fine(*checked.round->now()), {}}));
    }
  }
  ASSERT_EQ(silent, 2U);
  EXPECT_EQ(checked.done_in_case_of("talkback"), Lines{});
  EXPECT_EQ(checked.done_in_case_of("talk forward"), Lines{});
}

TEST(EvidenceOfACheck, OneOfManySoundRoutesThroughTheSameChannelIsEnough) {
  Checked checked("two-room-booth");
  while (checked.round->now() != nullptr) {
    const bool bone = checked.round->now()->name == "listen to bone";
    const std::string heard = bone ? "silent" : checked.fine(*checked.round->now());
    ASSERT_FALSE(checked.say({heard, {}}, When::untouched));
  }
  EXPECT_EQ(checked.done_in_case_of("bone"), Lines{"try left phone: steady"});
}

TEST(EvidenceOfACheck, OtherRoutesThatFailedGoInWithWhatWasHeard) {
  Checked checked("two-room-booth");
  checked.all_well_until(kPhones);
  ASSERT_FALSE(checked.say({kNotRight, {}}));
  ASSERT_FALSE(checked.say({"silent", {}}, When::untouched));
  ASSERT_FALSE(checked.say({"silent", {}}, When::untouched));
  checked.all_well_until("listen to bone");
  ASSERT_FALSE(checked.say({"silent", {}}, When::untouched));
  const Lines done = checked.done_in_case_of("bone");
  EXPECT_EQ(std::count(done.begin(), done.end(), "try left phone: silent"), 1);
  EXPECT_EQ(std::count(done.begin(), done.end(), "try right phone: silent"), 1);
}

TEST(EvidenceOfACheck, SwappedSidesLeadToCrossedPlugs) {
  Checked checked("two-room-booth");
  checked.all_well_until(kPhones);
  ASSERT_FALSE(checked.say({kSwapped, {}}));
  auto opened =
      guide::Case::open(checked.installation, checked.round->case_of(checked.route("left phone")));
  ASSERT_TRUE(opened);
  EXPECT_GT((*opened)->picture().crossed, .9);
}

// The evidence is worth something: both sides and bone silent points at what they share.
TEST(EvidenceOfACheck, EverythingSilentPointsAtTheSharedSource) {
  Checked checked("single-room");
  checked.all_well_until("listen to left phone and right phone");
  ASSERT_FALSE(checked.say({kNotRight, {}}));
  ASSERT_FALSE(checked.say({"silent", {}}, When::untouched));
  ASSERT_FALSE(checked.say({"silent", {}}, When::untouched));
  auto opened =
      guide::Case::open(checked.installation, checked.round->case_of(checked.route("left phone")));
  ASSERT_TRUE(opened);
  EXPECT_EQ((*opened)->suspects((*opened)->picture()).front().name, "channel: bad channel");
}

TEST(EvidenceOfACheck, ACaseOpensWhateverWasHeardOnAnyRoute) {
  std::size_t opened = 0;
  for (const std::string model :
       {"two-room-booth", "single-room", "screening-set", "small-stage"}) {
    const moves::Installation installation = shipped(model);
    for (const When when : {When::untouched, When::stressed, When::not_sure}) {
      for (std::size_t symptom = 1; symptom < 11; ++symptom) {
        Checked checked(model);
        while (checked.round->now() != nullptr) {
          const Step& step = *checked.round->now();
          if (step.kind != Kind::listen) {
            ASSERT_FALSE(checked.say({checked.fine(step), {}}));
          } else if (step.is_pair()) {
            ASSERT_FALSE(checked.say({kNotRight, {}}));
          } else {
            const SignalId signal = installation.chain.routes[step.routes.front()].signal;
            const faults::Sense& sense =
                installation.rules.senses[installation.rules.signals[signal].sense];
            const std::size_t outcome = std::min(symptom, sense.symptoms.size() - 1);
            ASSERT_FALSE(checked.say({sense.symptoms[outcome].name, {}}, when));
          }
        }
        for (const RouteId route : checked.round->to_isolate()) {
          const auto one = guide::Case::open(installation, checked.round->case_of(route));
          EXPECT_TRUE(one) << to_line(one.error().front());
          ++opened;
        }
      }
    }
  }
  EXPECT_GT(opened, 300U);
}

// What a check does not take.

std::string complaint(const Result<std::unique_ptr<Round>>& result) {
  return result ? "" : to_line(result.error().front());
}

TEST(BadCheck, AMisspeltListListenerOrTripLevelIsNamedWithTheNearest) {
  const moves::Installation room = shipped("single-room");
  const moves::Setting setting(room, 7);
  CheckFile file;
  file.list = "dayly";
  file.list_place = {"f", 1, 2};
  EXPECT_EQ(complaint(Round::open(setting, file)),
            "f:1:2: unknown list \"dayly\"; expected daily or weekly (did you mean \"daily\"?)");
  file.list = "";
  file.listener = "practiced";
  file.listener_place = {"f", 3, 4};
  EXPECT_EQ(complaint(Round::open(setting, file)),
            "f:3:4: unknown listener \"practiced\"; expected practised or new (did you mean "
            "\"practised\"?)");
  file.listener = "";
  file.trip_db = 7;
  file.trip_place = {"f", 5, 6};
  EXPECT_EQ(complaint(Round::open(setting, file)),
            "f:5:6: 7 dB is no trip level here; expected 5 or 10");
}

TEST(BadCheck, RulesWithoutARoutineAreRefused) {
  moves::Installation room = shipped("single-room");
  room.rules.routine.reset();
  const moves::Setting setting(room, 7);
  EXPECT_EQ(complaint(Round::open(setting, {})),
            "the rules of this installation have no routine check; expected rules with a key "
            "`routine`");
}

TEST(BadCheck, WhatIsNoAnswerChangesNothing) {
  Checked checked("two-room-booth", "weekly");
  const auto refused = [&](const Event& event) {
    const std::size_t events = checked.round->events().done.size();
    const std::size_t answered = checked.round->answered();
    const auto problem = checked.round->take(event);
    EXPECT_TRUE(problem);
    EXPECT_EQ(checked.round->events().done.size(), events);
    EXPECT_EQ(checked.round->answered(), answered);
    return problem ? to_line(*problem) : "";
  };
  EXPECT_EQ(
      refused(Said{"wipe and look", {"yess", {}}, {}, {"f", 1, 1}}),
      "f:1:1: unknown answer \"yess\"; expected yes, no or cannot do (did you mean \"yes\"?)");
  refused(Said{"wear", {kYes, {}}, {}, {}});
  refused(Said{"wipe and look", {kYes, 10}, {}, {}});
  refused(Read{"left phone", "", 1000, 77, {}});
  refused(Isolated{"left phone", guide::Stage::mended, {}});
  checked.all_well_until(kPhones);
  refused(Said{kPhones, {"steady", {}}, {}, {}});
  refused(Read{"left insert", "", 1000, 77, {}});
  refused(Read{"left phone", "", 1001, 77, {}});
  refused(Read{"left phone", "insert in ear simulator", 1000, 77, {}});
  refused(Read{"left phone", "", 1000, 1e9, {}});
  refused(Read{"left phone", "", 1000, -150, {}});
  ASSERT_FALSE(checked.say({kNotRight, {}}));
  refused(Said{"listen to left phone", {"stedy", {}}, {}, {}});
  refused(Said{"listen to left phone", {"weak", 0}, {}, {}});
  refused(Said{"listen to left phone", {"weak", 121}, {}, {}});
  ASSERT_FALSE(checked.say({"steady", {}}));
  ASSERT_FALSE(checked.say({"crackle", {}}, When::stressed));
  refused(Isolated{"left phone", guide::Stage::mended, {}});
  checked.all_well_until("thresholds on left phone");
  refused(Said{"thresholds on left phone", {"weak", 0}, {}, {}});
  refused(Said{"thresholds on left phone", {"weak", 500}, {}, {}});
  checked.all_well_to_the_end();
  EXPECT_EQ(refused(Said{"wipe and look", {kYes, {}}, {}, {"f", 1, 1}}),
            "f:1:1: the check is through; expected no more answers");
}

}  // namespace
}  // namespace whichlink::routine
