#include "drill/drill.h"

#include <limits>
#include <set>

#include "drill/menu.h"
#include "trainees.h"

namespace whichlink::testing {
namespace {

using drill::Say;

std::string told(const drill::Drill& drill) {
  std::string text;
  for (const drill::Turn& turn : drill.turns()) {
    text += turn.words + ": " + turn.report.heard + " " + std::to_string(turn.lost) + "\n";
  }
  return text;
}

drill::DrillCase plug_not_home() {
  drill::DrillCase given;
  given.name = "a plug";
  given.model = "screening-set";
  given.route = "left phone";
  given.heard = "silent";
  given.hidden = {{"headset cord.left plug: not home", true, {}}};
  return given;
}

const std::vector<std::string> kMoves = {"listen",
                                         "twist headset cord.left plug",
                                         "try right phone",
                                         "flex headset cord.cord",
                                         "listen",
                                         "tap left earphone.driver",
                                         "rock headset cord.left pins",
                                         "listen"};

std::string played_with(const drill::DrillCase& given, bool asks) {
  Played played(given);
  for (const std::string& move : kMoves) {
    if (asks) {
      EXPECT_FALSE(played.drill->take(said(Say::hint)));
      EXPECT_FALSE(played.drill->take(held("headset cord", .4)));
      (void)played.drill->possible();
    }
    EXPECT_FALSE(played.drill->take(made(move)));
  }
  return told(*played.drill);
}

TEST(Drill, TheSameEventsGiveTheSameDrill) {
  const drill::DrillCase& given = first_case("listen and stress first");
  EXPECT_EQ(played_with(given, false), played_with(given, false));
}

TEST(Drill, WhatElseIsAskedChangesNoAnswer) {
  const drill::DrillCase& given = first_case("listen and stress first");
  EXPECT_EQ(played_with(given, false), played_with(given, true));
}

TEST(Drill, AnotherSeedGivesOtherAnswers) {
  drill::DrillCase given = first_case("listen and stress first");
  std::set<std::string> all;
  for (given.seed = 1; given.seed <= 12; ++given.seed) all.insert(played_with(given, false));
  EXPECT_GT(all.size(), 3U);
}

TEST(Drill, SeedsOfAnswersDoNotMeet) {
  std::set<std::uint64_t> seeds;
  for (std::uint64_t seed = 0; seed < 50; ++seed) {
    for (std::size_t number = 0; number < guide::kMostMoves; ++number) {
      seeds.insert(drill::seed_of_answer(seed, number));
    }
  }
  EXPECT_EQ(seeds.size(), 50 * guide::kMostMoves);
}

std::vector<drill::Choice> all_choices(const drill::Drill& drill) {
  std::vector<drill::Choice> choices = {{plan::Verdict::close, {}}, {plan::Verdict::service, {}}};
  for (const moves::Move& move : drill.possible()) choices.push_back({plan::Verdict::move, move});
  return choices;
}

void expect_losses_by_definition(const drill::Drill& drill) {
  const drill::Values& values = drill.values();
  const std::vector<drill::Choice> choices = all_choices(drill);
  double least = std::numeric_limits<double>::infinity();
  for (const drill::Choice& one : choices) least = std::min(least, values.of(one));
  EXPECT_DOUBLE_EQ(values.least(), least);
  std::size_t free = 0;
  for (const drill::Choice& one : choices) {
    const double lost = values.lost_by(one);
    EXPECT_GE(lost, 0);
    free += lost == 0 ? 1 : 0;
    EXPECT_DOUBLE_EQ(lost, drill::same(one, values.advised()) ? 0 : values.of(one) - least);
  }
  EXPECT_GE(free, 1U);
  EXPECT_LE(free, 4U);
  EXPECT_EQ(values.lost_by(values.advised()), 0);
}

// The value of every choice, against the definition; nothing below 0, nothing for the planner's.
TEST(Score, LostIsTheValueLessTheLeastOne) {
  Played played(plug_not_home());
  for (int step = 0; step < 3; ++step) {
    expect_losses_by_definition(*played.drill);
    ASSERT_FALSE(played.drill->take(made("listen")));
  }
}

// Where a call is the least of all, everything is measured from it.
TEST(Score, ACallCanBeTheLeast) {
  Played played(lesson("what routes share").cases.back());
  drill::Drill& drill = *played.drill;
  ASSERT_FALSE(drill.take(made("try right phone")));
  const drill::Choice service{plan::Verdict::service, {}};
  EXPECT_DOUBLE_EQ(drill.values().least(), drill.values().of(service));
  for (const moves::Move& move : drill.possible()) {
    EXPECT_GT(drill.values().lost_by({plan::Verdict::move, move}), 0) << move.name;
  }
  EXPECT_TRUE(drill::same(drill.values().advised(), service));
}

// The same choices with other answers: what is lost by the first is known before it is answered.
TEST(Score, LuckIsNotInIt) {
  drill::DrillCase given = first_case("the wiped contact");
  std::set<std::string> heard;
  std::set<double> lost_first;
  std::size_t unlucky = 0;
  for (given.seed = 1; given.seed <= 25; ++given.seed) {
    Played played(given);
    drill::Drill& drill = *played.drill;
    ASSERT_FALSE(drill.take(made("flex headset cord.cord")));
    const drill::Turn& turn = drill.turns().front();
    heard.insert(turn.report.heard);
    lost_first.insert(turn.lost);
    // A good choice is never charged, however it turns out.
    ASSERT_FALSE(drill.take(as_planned(drill)));
    EXPECT_EQ(drill.turns().back().lost, 0);
    const drill::Turn& good = drill.turns().back();
    if (good.minutes + drill.values().least() > good.value + 1) ++unlucky;
  }
  EXPECT_GE(heard.size(), 3U);
  EXPECT_EQ(lost_first.size(), 1U);
  EXPECT_GE(unlucky, 1U);
  EXPECT_GT(*lost_first.begin(), 0);
}

TEST(Score, ClosingWithSomethingChangedCostsAFaultLeftIn) {
  Played played(first_case("the fault that follows the plug"));
  drill::Drill& drill = *played.drill;
  const drill::Choice close{plan::Verdict::close, {}};
  ASSERT_FALSE(drill.take(made("cross headset cord.left pins with headset cord.right pins")));
  EXPECT_GE(drill.values().of(close), played.room->prices.miss_minutes);
  ASSERT_FALSE(drill.take(said(Say::close)));
  EXPECT_EQ(drill.turns().back().habit, drill::Habit::putting_back);
  EXPECT_GT(drill.turns().back().lost, .7 * played.room->prices.miss_minutes);
  EXPECT_EQ(drill.score().not_put_back.size(), 2U);
}

// Crossed, the route leads past the fault; once all is put back it does not.
TEST(Score, AFaultIsLeftInBehindPlugsThatAreStillCrossed) {
  Played played(first_case("a fault that stays quiet"));
  drill::Drill& drill = *played.drill;
  ASSERT_FALSE(drill.take(made("cross headset cord.left plug with headset cord.right plug")));
  ASSERT_FALSE(drill.take(said(Say::close)));
  EXPECT_TRUE(drill.score().left_in);
}

TEST(Score, ABorrowedPartThatStaysInIsToldApart) {
  Played played(lesson("put everything back").cases.back());
  drill::Drill& drill = *played.drill;
  ASSERT_FALSE(drill.take(made("substitute right earphone for left earphone")));
  ASSERT_FALSE(drill.take(said(Say::close)));
  ASSERT_FALSE(drill.take(said(Say::checks)));
  EXPECT_TRUE(drill.score().borrowed_left_in);
  EXPECT_FALSE(drill.score().not_put_back.empty());
}

drill::Score closed_after_an_exchange(const std::vector<std::string>& checks) {
  Played played(first_case("listen and stress first"));
  drill::Drill& drill = *played.drill;
  EXPECT_FALSE(drill.take(made("substitute spare headset cord for headset cord")));
  EXPECT_FALSE(drill.take(said(Say::close)));
  drill::Event last = said(Say::checks);
  last.checks = checks;
  EXPECT_FALSE(drill.take(last));
  EXPECT_EQ(drill.stage(), drill::Stage::ended);
  EXPECT_TRUE(drill.take(last).has_value());
  return drill.score();
}

TEST(Score, ChecksThatAreDueAndNotSaidAreFound) {
  EXPECT_TRUE(closed_after_an_exchange({"listening check", "note of the change in the log"})
                  .unchecked.empty());
  const drill::Score score = closed_after_an_exchange({"level check"});
  EXPECT_EQ(score.unchecked.size(), 2U);
  EXPECT_TRUE(score.unproved);
}

TEST(Score, AMoveThatCanTellNothingIsCounted) {
  Played played(first_case("listen and stress first"));
  drill::Drill& drill = *played.drill;
  ASSERT_FALSE(drill.take(made("try button")));  // shares nothing with the left phone
  ASSERT_FALSE(drill.take(made("flex headset cord.cord")));
  EXPECT_TRUE(drill.turns().front().told_nothing);
  EXPECT_FALSE(drill.turns().back().told_nothing);
  EXPECT_EQ(drill.score().told_nothing, 1U);
}

TEST(Score, AMoveNamedByAHintIsCounted) {
  Played played(first_case("listen and stress first"));
  drill::Drill& drill = *played.drill;
  for (int hint = 1; hint <= 4; ++hint) {
    ASSERT_FALSE(drill.take(said(Say::hint)));
    EXPECT_EQ(static_cast<int>(drill.hint()), std::min(hint, 3));
  }
  ASSERT_FALSE(drill.take(as_planned(drill)));
  EXPECT_EQ(drill.hint(), drill::Hint::none);
  EXPECT_EQ(drill.score().told_moves, 1U);
}

std::vector<bool> mask_of(const guide::Case& one, FaultId fault) {
  std::vector<bool> mask(one.setting().faults().size(), false);
  mask[fault.value] = true;
  return mask;
}

// Against beliefs that are reckoned elsewhere.
TEST(Told, SuspicionAgreesWithTheBeliefItself) {
  Played played(plug_not_home());
  ASSERT_FALSE(played.drill->take(made("flex headset cord.cord")));
  const guide::Case& one = played.drill->isolation();
  const std::vector<double> now = one.belief().present_now();
  std::vector<FaultId> some;
  for (const FaultId fault : one.setting().faults().ids()) {
    EXPECT_NEAR(one.belief().any_now(mask_of(one, fault)), now[fault.value], 1e-9);
    if (now[fault.value] > .01) some.push_back(fault);
  }
  ASSERT_GE(some.size(), 4U);
  const std::vector<double> at_start = one.belief().present_at_start(some);
  for (std::size_t index = 0; index < some.size(); ++index) {
    // Each leaves out sets of three faults, of its own world.
    EXPECT_NEAR(drill::any_at_start(one, mask_of(one, some[index])), at_start[index], 3e-4);
  }
}

// What an answer would do is what it then does, whatever it is; it is asked of every move first.
TEST(Told, SuspicionIfAnsweredIsWhatTheAnswerLeaves) {
  for (const drill::DrillCase& given : {plug_not_home(), first_case("direct connection")}) {
    Played played(given);
    const guide::Case& one = played.drill->isolation();
    const moves::Standing start = one.standing();
    for (const moves::Move& move : played.drill->possible()) {
      const auto groups = drill::groups_of(one);
      const faults::Sense& sense = one.setting().rules().senses[move.sense];
      const std::size_t outcomes = sense.severities() + (sense.elsewhere ? 1 : 0);
      std::vector<std::vector<double>> foreseen;
      for (std::size_t outcome = 0; outcome < outcomes; ++outcome) {
        foreseen.push_back(drill::suspicion_if(one, groups, move, outcome));
      }
      Played again(given);
      ASSERT_FALSE(again.drill->take(made(move.name)));
      const drill::Turn& turn = again.drill->turns().back();
      const auto left = drill::suspicion(again.drill->isolation(), groups);
      for (std::size_t group = 0; group < groups.size(); ++group) {
        EXPECT_EQ(foreseen.at(turn.outcome)[group], left[group])
            << move.name << ": " << groups[group].words;
      }
    }
    EXPECT_TRUE(one.standing() == start);
  }
}

// As much as the likeliest of its faults, at most their sum.
TEST(Told, APlaceHoldsWhatItsFaultsHold) {
  Played played(plug_not_home());
  ASSERT_FALSE(played.drill->take(made("flex headset cord.cord")));
  const guide::Case& one = played.drill->isolation();
  const std::vector<double> now = one.belief().present_now();
  const auto groups = drill::groups_of(one);
  const auto suspicion = drill::suspicion(one, groups);
  for (std::size_t index = 0; index < groups.size(); ++index) {
    if (groups[index].plugs) continue;
    double most = 0;
    double sum = 0;
    for (std::size_t fault = 0; fault < now.size(); ++fault) {
      const double here = groups[index].mask[fault] ? now[fault] : 0;
      most = std::max(most, here);
      sum += here;
    }
    EXPECT_GE(suspicion[index], most - 1e-9) << groups[index].words;
    EXPECT_LE(suspicion[index], sum + 1e-9) << groups[index].words;
  }
}

TEST(Told, EveryFaultOnTheWayIsInOnePlace) {
  Played played(first_case("direct connection"));
  const guide::Case& one = played.drill->isolation();
  const std::vector<bool> matters = plan::faults_that_matter(one.setting(), one.standing());
  for (const FaultId fault : one.setting().faults().ids()) {
    std::size_t in = 0;
    for (const drill::Group& group : drill::groups_of(one)) in += group.mask[fault.value] ? 1 : 0;
    EXPECT_EQ(in, matters[fault.value] ? 1U : in) << one.setting().name_of(fault);
  }
}

TEST(Claims, ACordCondemnedWhileAContactIsPossibleIsNotSupported) {
  Played played(plug_not_home());
  drill::Drill& drill = *played.drill;
  ASSERT_FALSE(drill.take(held("headset cord.cord", .9)));
  ASSERT_FALSE(drill.take(held("headset cord.cord", .3)));
  const drill::Claim& loud = drill.claims().front();
  EXPECT_FALSE(loud.supported);
  EXPECT_FALSE(loud.is_true);  // the plug is not home
  EXPECT_NE(loud.rival.find("plug"), std::string::npos) << loud.rival;
  EXPECT_TRUE(drill.claims().back().supported);
  EXPECT_EQ(drill.score().unsupported, 1U);
  ASSERT_FALSE(drill.take(held("headset cord", .9)));  // the plug belongs to it
  EXPECT_TRUE(drill.claims().back().is_true);
}

TEST(Claims, ANameThatMeansNothingIsAProblem) {
  Played played(plug_not_home());
  const auto problem = played.drill->take(held("headset crod", .5));
  ASSERT_TRUE(problem);
  EXPECT_EQ(problem->hint, "headset cord");
  EXPECT_TRUE(played.drill->claims().empty());
  EXPECT_TRUE(played.drill->events().empty());
}

TEST(Claims, CrossedPlugsAreTrueWhereTheyAreCrossed) {
  Played crossed(first_case("left and right crossed"));
  ASSERT_FALSE(crossed.drill->take(held("crossed plugs", .9)));
  EXPECT_TRUE(crossed.drill->claims().front().is_true);
  EXPECT_TRUE(crossed.drill->claims().front().supported);
  ASSERT_FALSE(crossed.drill->take(made("trace left phone")));
  ASSERT_FALSE(crossed.drill->take(held("crossed plugs", .9)));
  EXPECT_TRUE(crossed.drill->claims().back().is_true);  // it is about the start
  Played plain(plug_not_home());
  ASSERT_FALSE(plain.drill->take(held("crossed plugs", .9)));
  EXPECT_FALSE(plain.drill->claims().front().is_true);
  EXPECT_FALSE(plain.drill->claims().front().supported);
}

std::string opening_problem(const drill::DrillCase& given) {
  const moves::Installation room = room_of(given);
  const auto opened = drill::Drill::open(room, given);
  return opened ? "" : to_line(opened.error().front());
}

TEST(Cases, EveryShippedCaseOpens) {
  std::size_t cases = 0;
  for (const drill::Lesson& one : lessons().lessons) {
    for (const drill::DrillCase& given : one.cases) {
      ++cases;
      EXPECT_EQ(opening_problem(given), "") << one.name << ", " << given.name;
    }
  }
  EXPECT_GE(cases, 24U);
  EXPECT_EQ(lessons().lessons.size(), 13U);
}

TEST(Cases, NamesThatMeanNothingAreComplainedOf) {
  drill::DrillCase given = first_case("listen and stress first");
  given.hidden.front().fault = "headset cord.cord.left: broken conducter";
  EXPECT_NE(
      opening_problem(given).find("did you mean \"headset cord.cord.left: broken conductor\""),
      std::string::npos);
  given = first_case("left and right crossed");
  given.crossed = {"left patch cord.far plug", "headset cord.left plug"};
  EXPECT_NE(opening_problem(given).find("cannot be crossed"), std::string::npos);
  given = first_case("listen and stress first");
  given.heard = "hum";
  EXPECT_NE(opening_problem(given).find("what is hidden is not heard as"), std::string::npos);
  given.route = "left fone";
  EXPECT_NE(opening_problem(given).find("unknown route"), std::string::npos);
  given = first_case("listen and stress first");
  given.missing = {"spare cord"};
  const auto found = drill::as_found({}, given);
  ASSERT_FALSE(found);
  EXPECT_NE(to_line(found.error().front()).find("no spare"), std::string::npos);
}

TEST(Cases, AMissingSpareGoesInForNothing) {
  const auto spares = [](const drill::DrillCase& given) {
    Played played(given);
    std::size_t count = 0;
    for (const moves::Move& move : played.drill->possible()) {
      count += move.name.find("substitute spare") == 0 ? 1 : 0;
    }
    return count;
  };
  drill::DrillCase given = first_case("the fault that follows the plug");
  EXPECT_EQ(spares(given), 0U);
  given.missing.clear();
  EXPECT_EQ(spares(given), 2U);
}

void expect_picked(const moves::Setting& setting, const std::vector<drill::MenuEntry>& menu,
                   const std::string& number, const moves::Move& move) {
  for (const std::string& typed : {number, move.name, moves::short_words(setting, move)}) {
    const drill::Pick pick = drill::pick(setting, menu, typed);
    ASSERT_EQ(pick.fits.size(), 1U) << typed;
    EXPECT_EQ(pick.fits.front()->name, move.name) << typed;
  }
}

TEST(Menu, EveryMoveIsPickedByItsNumberAndByItsName) {
  Played played(first_case("listen and stress first"));
  const moves::Setting& setting = played.drill->isolation().setting();
  const auto menu = drill::menu_of(played.drill->possible());
  std::size_t moves = 0;
  for (std::size_t kind = 0; kind < menu.size(); ++kind) {
    for (std::size_t index = 0; index < menu[kind].moves.size(); ++index) {
      ++moves;
      const std::string number = std::to_string(kind + 1) + "." + std::to_string(index + 1);
      expect_picked(setting, menu, number, menu[kind].moves[index]);
    }
  }
  EXPECT_EQ(moves, played.drill->possible().size());
}

TEST(Menu, WordsPickAMoveWhereOnlyOneHasThem) {
  Played played(first_case("listen and stress first"));
  const moves::Setting& setting = played.drill->isolation().setting();
  const auto menu = drill::menu_of(played.drill->possible());
  EXPECT_EQ(drill::pick(setting, menu, "flex cord").fits.size(), 1U);
  EXPECT_GT(drill::pick(setting, menu, "headset").fits.size(), 1U);
  EXPECT_NE(drill::pick(setting, menu, "2").kind, nullptr);
  for (const char* none : {"0", "99", "2.99", "2.x", "2.", ".3", "", "frobnicate"}) {
    const drill::Pick pick = drill::pick(setting, menu, none);
    EXPECT_TRUE(pick.fits.empty() && pick.kind == nullptr) << none;
  }
}

}  // namespace
}  // namespace whichlink::testing
