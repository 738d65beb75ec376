#include <gtest/gtest.h>

#include <algorithm>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

using Row = std::vector<double>;

class GoodRules : public ::testing::Test {
 protected:
  faults::Rules rules = rules_from(good("doorbell.yaml"), "f").value();

  const faults::Mode& mode(const std::string& name) const {
    return *std::find_if(rules.modes.begin(), rules.modes.end(),
                         [&](const faults::Mode& one) { return one.name == name; });
  }
  const faults::PartKind& kind(const std::string& name) const {
    return *std::find_if(rules.part_kinds.begin(), rules.part_kinds.end(),
                         [&](const faults::PartKind& one) { return one.name == name; });
  }
};

TEST_F(GoodRules, CautionsKeepTheirOrderAndWhetherTheyHurt) {
  ASSERT_EQ(rules.cautions.size(), 2U);
  EXPECT_EQ(rules.cautions[0].words, "Work on the low-voltage side only.");
  EXPECT_TRUE(rules.cautions[0].hurts);
  EXPECT_EQ(rules.cautions[1].name, "label it");
  EXPECT_FALSE(rules.cautions[1].hurts);
  EXPECT_EQ(rules.always, std::vector<std::size_t>{0});
}

TEST_F(GoodRules, SymptomsKeepTheOrderOfSeverity) {
  const faults::Sense& ear = rules.senses[SenseId{0}];
  ASSERT_EQ(ear.symptoms.size(), 4U);
  EXPECT_EQ(ear.symptoms[0].name, "rings");
  EXPECT_EQ(ear.symptoms[0].drop_db, std::nullopt);
  EXPECT_EQ(ear.symptoms[2].drop_db, 25.5);
  EXPECT_EQ(ear.symptoms[3].key, "0");
  EXPECT_EQ(ear.asks, "What does the bell do?");
  EXPECT_EQ(ear.level_spread_db, 4);
  EXPECT_EQ(ear.source, "judged");
  ASSERT_TRUE(ear.elsewhere.has_value());
  EXPECT_EQ(ear.elsewhere->name, "other bell");
  EXPECT_EQ(ear.chance_elsewhere_noticed, .9);
  EXPECT_EQ(rules.meter, SenseId{1});
  EXPECT_FALSE(rules.senses[SenseId{1}].elsewhere.has_value());
}

TEST_F(GoodRules, WhatIsNoMistakeIsReportedRight) {
  const faults::Sense& ear = rules.senses[SenseId{0}];
  ASSERT_EQ(ear.listeners.size(), 2U);
  const auto& report = ear.listeners[0].report;
  EXPECT_EQ(report[0], (Row{1, 0, 0, 0}));
  EXPECT_EQ(report[1], (Row{.2, .75, .05, 0}));
  EXPECT_EQ(report[3], (Row{0, 0, 0, 1}));
  EXPECT_EQ(ear.listeners[1].name, "new");
  EXPECT_EQ(ear.listeners[1].report[1], (Row{0, 1, 0, 0}));
  EXPECT_EQ(ear.listeners[1].source, "invented for the demo");
}

TEST_F(GoodRules, AFalseAlarmLeavesTheRestForNothingWrong) {
  const faults::Stress& flex = rules.stresses[StressId{0}];
  EXPECT_EQ(flex.false_alarm, (Row{.98, .02, 0, 0}));
  EXPECT_EQ(flex.minutes, .5);
  EXPECT_EQ(flex.short_words, "flex {it}");
  EXPECT_EQ(flex.cautions, std::vector<std::size_t>{0});
  const faults::Stress& press = rules.stresses[StressId{1}];
  EXPECT_EQ(press.false_alarm, (Row{1, 0, 0, 0}));
  EXPECT_EQ(press.minutes, .1);
}

TEST_F(GoodRules, ARemedyHasItsFlagsAndLists) {
  const faults::Remedy& clean = rules.remedies[RemedyId{0}];
  EXPECT_TRUE(clean.whole_joint);
  EXPECT_TRUE(clean.unplugs);
  EXPECT_FALSE(clean.by_service);
  EXPECT_EQ(clean.uses, std::vector<std::string>{"swab"});
  EXPECT_EQ(clean.needs_after, std::vector<std::string>{"test ring"});
  EXPECT_EQ(clean.cautions, std::vector<std::size_t>{1});
  const faults::Remedy& rewire = rules.remedies[RemedyId{1}];
  EXPECT_FALSE(rewire.whole_joint);
  EXPECT_TRUE(rewire.by_service);
  EXPECT_EQ(rewire.minutes, 30);
}

TEST_F(GoodRules, AModeHasItsChancesInEverySense) {
  const faults::Mode& worn = mode("worn contact");
  EXPECT_EQ(rules.classes[worn.element_class].name, "button");
  EXPECT_EQ(worn.family, "contact");
  EXPECT_EQ(worn.rate.low_per_year, .1);
  EXPECT_EQ(worn.rate.mid_per_year, .3);
  EXPECT_EQ(worn.rate.high_per_year, .8);
  EXPECT_EQ(worn.rate.source, "judged");
  EXPECT_EQ(worn.chance_shows, .3);
  EXPECT_EQ(worn.stays_left_alone, .95);
  EXPECT_EQ(worn.stays_disturbed, .6);
  EXPECT_EQ(worn.symptom_chance[SenseId{0}], (Row{.15, .25, 0, .6}));
  EXPECT_EQ(worn.symptom_chance[SenseId{1}], (Row{.3, .7}));
  EXPECT_EQ(worn.provoked_by, (std::map<StressId, double>{{StressId{1}, .8}}));
  EXPECT_EQ(worn.cured_by_stress, (std::map<StressId, double>{{StressId{1}, 0}}));
  EXPECT_EQ(worn.cured_by_replug, .3);
  EXPECT_EQ(worn.caused_by_replug, .005);
  EXPECT_EQ(worn.remedies, (std::map<RemedyId, double>{{RemedyId{0}, .7}}));
  EXPECT_EQ(worn.reach, faults::Reach::lane);
}

TEST_F(GoodRules, ASenseLeftOutNoticesNothing) {
  const faults::Mode& chewed = mode("chewed");
  EXPECT_EQ(chewed.symptom_chance[SenseId{0}], (Row{1, 0, 0, 0}));
  EXPECT_EQ(chewed.symptom_chance[SenseId{1}], (Row{0, 1}));
  EXPECT_EQ(chewed.reach, faults::Reach::whole);
  EXPECT_EQ(chewed.chance_shows, 1);
  EXPECT_EQ(chewed.stays_left_alone, 1);
  EXPECT_EQ(rules.unlisted.symptom_chance[SenseId{1}], (Row{1, 0}));
  EXPECT_EQ(rules.unlisted.symptom_chance[SenseId{0}], (Row{0, 0, 0, 1}));
}

TEST_F(GoodRules, AClassKnowsItsModesStressesAndConnector) {
  ASSERT_EQ(rules.classes.size(), 6U);
  const faults::ElementClass& wire = rules.classes[ClassId{1}];
  EXPECT_EQ(wire.modes, std::vector<ModeId>{ModeId{1}});
  EXPECT_EQ(wire.stresses, std::vector<StressId>{StressId{0}});
  EXPECT_EQ(wire.cautions, std::vector<std::size_t>{1});
  EXPECT_EQ(wire.role, faults::Role::link);
  EXPECT_EQ(wire.connector, std::nullopt);
  EXPECT_EQ(rules.classes[ClassId{4}].role, faults::Role::plug);
  EXPECT_EQ(rules.classes[ClassId{4}].connector, "spade");
  EXPECT_EQ(rules.classes[ClassId{5}].role, faults::Role::end);
}

TEST_F(GoodRules, APartHasItsPiecesAndMouldedJoints) {
  const faults::PartKind& cord = kind("bell cord");
  ASSERT_EQ(cord.pieces.size(), 4U);
  EXPECT_EQ(cord.pieces[1].name, "wire");
  EXPECT_EQ(cord.pieces[1].lanes, (std::vector<std::string>{"red", "blue"}));
  EXPECT_EQ(cord.pieces[2].element_class, cord.pieces[0].element_class);
  ASSERT_EQ(cord.moulded.size(), 3U);
  EXPECT_EQ(cord.moulded[2].piece_a, 1U);
  EXPECT_EQ(cord.moulded[2].lane_a, 1U);
  EXPECT_EQ(cord.moulded[2].piece_b, 3U);
  EXPECT_EQ(cord.moulded[2].lane_b, std::nullopt);
  EXPECT_TRUE(cord.exchangeable);
  EXPECT_EQ(cord.exchange_minutes, 2);
  EXPECT_EQ(cord.price_minutes, 15);
  EXPECT_EQ(cord.needs_after, std::vector<std::string>{"test ring"});
}

TEST_F(GoodRules, TheOnlyPieceOfAPartHasNoNameOfItsOwn) {
  EXPECT_EQ(kind("twin line").pieces.front().name, "");
  EXPECT_EQ(kind("twin line").pieces.front().lanes.size(), 2U);
}

TEST_F(GoodRules, EveryClassIsAPartOfOnePieceToo) {
  EXPECT_EQ(rules.part_kinds.size(), 3U + 6U);
  const faults::PartKind& bell = kind("bell");
  ASSERT_EQ(bell.pieces.size(), 1U);
  EXPECT_EQ(bell.pieces.front().element_class, ClassId{5});
  EXPECT_EQ(bell.words, "bell");
  EXPECT_FALSE(bell.exchangeable);
}

TEST_F(GoodRules, APartHidesTheClassOfItsName) {
  const std::string text = edited(good("doorbell.yaml"), "  twin line:\n    words: twin line",
                                  "  bell:\n    words: twin line");
  const auto hidden = rules_from(text, "f");
  ASSERT_TRUE(hidden.has_value());
  EXPECT_EQ(std::count_if(hidden->part_kinds.begin(), hidden->part_kinds.end(),
                          [](const faults::PartKind& one) { return one.name == "bell"; }),
            1);
}

TEST_F(GoodRules, ASignalHasItsLevelOrItsRange) {
  const faults::Signal& ring = rules.signals[SignalId{0}];
  EXPECT_EQ(ring.level, 60);
  EXPECT_EQ(ring.level_high, 70);
  EXPECT_EQ(ring.level_unit, "dB");
  EXPECT_EQ(ring.minutes, .25);
  EXPECT_EQ(ring.symptom_words,
            (std::map<std::string, std::string>{{"silent", "no ring at all"},
                                                {"other bell", "rings next door"}}));
  const faults::Signal& tone = rules.signals[SignalId{1}];
  EXPECT_EQ(tone.level, 65);
  EXPECT_EQ(tone.level_high, std::nullopt);
}

TEST_F(GoodRules, TheRestIsReadToo) {
  ASSERT_EQ(rules.spare_states.size(), 1U);
  EXPECT_EQ(rules.spare_states[0].name, "new");
  EXPECT_EQ(rules.spare_states[0].chance_bad, .005);
  EXPECT_EQ(rules.unlisted.rate.high_per_year, .2);
  EXPECT_EQ(rules.unlisted.chance_shows, .5);
  EXPECT_EQ(rules.unlisted.stays, .9);
  ASSERT_TRUE(rules.crossing.has_value());
  EXPECT_EQ(rules.crossing->trace_words, "Follow the wires.");
  EXPECT_EQ(rules.crossing->trace_minutes, 1);
  EXPECT_EQ(rules.crossing->rate.mid_per_year, .2);
  EXPECT_EQ(rules.prices.miss_minutes, 60);
  EXPECT_EQ(rules.prices.service_minutes, 45);
  EXPECT_EQ(rules.handling.replug_minutes, .3);
  EXPECT_EQ(rules.handling.alone_minutes, .4);
  EXPECT_EQ(rules.handling.measure_minutes, 2);
  EXPECT_EQ(rules.handling.measure_words, "Measure {it}.");
  EXPECT_EQ(rules.handling.default_days_since_pass, 7);
  EXPECT_EQ(rules.trade, "doorbells");
  EXPECT_EQ(rules.connectors, (std::vector<std::string>{"barrel", "spade"}));
}

TEST_F(GoodRules, TheNearestSourceCounts) {
  const std::string text = edited(
      edited(good("doorbell.yaml"), "trade: doorbells", "trade: doorbells\nsource: all of it"),
      "rate: {low: .1, mid: .3, high: .8}", "rate: {low: .1, mid: .3, high: .8, source: own}");
  const auto changed = rules_from(text, "f");
  ASSERT_TRUE(changed.has_value()) << lines(changed).front();
  EXPECT_EQ(changed->modes[ModeId{0}].rate.source, "own");
  EXPECT_EQ(changed->modes[ModeId{0}].source, "judged");
  EXPECT_EQ(changed->senses[SenseId{1}].source, "all of it");
}

TEST_F(GoodRules, OneSourceAtTheTopCoversAllNumbers) {
  const std::string without = "\n    cautions: [low voltage]\n    source: judged\n  press";
  const std::string text =
      edited(good("doorbell.yaml"), without, "\n    cautions: [low voltage]\n  press");
  EXPECT_FALSE(rules_from(text, "f").has_value());
  EXPECT_EQ(lines(rules_from("source: judged\n" + text, "f")), std::vector<std::string>{});
}

TEST_F(GoodRules, ChancesThatMissOneByLessThanABillionthAreMadeToAddUp) {
  const std::string text = edited(good("doorbell.yaml"), "{silent: .6, faint: .25, rings: .15}",
                                  "{silent: .6, faint: .25, rings: .1500000009}");
  const auto changed = rules_from(text, "f");
  ASSERT_TRUE(changed.has_value());
  const Row& row = changed->modes[ModeId{0}].symptom_chance[SenseId{0}];
  EXPECT_NEAR(row[0] + row[1] + row[2] + row[3], 1, 1e-15);
  const std::string more = edited(good("doorbell.yaml"), "{silent: .6, faint: .25, rings: .15}",
                                  "{silent: .6, faint: .25, rings: .150000002}");
  EXPECT_FALSE(rules_from(more, "f").has_value());
}

TEST_F(GoodRules, ATradeNeedsNoMeterNoLevelsAndNoCrossing) {
  std::string text = good("doorbell.yaml");
  text = edited(text, "meter: meter\n\n", "");
  text = edited(text, ", drop db: 10}", "}");
  text = edited(text, ", drop db: 25.5}", "}");
  text = edited(text, "    level spread db: 4\n", "");
  text = edited(text, "  measure minutes: 2\n  measure words: \"Measure {it}.\"\n", "");
  const std::size_t crossed = text.find("crossed:");
  text.erase(crossed, text.find("prices:") - crossed);
  text.erase(text.find("\nroutine:"));  // it takes thresholds
  const auto small = rules_from(text, "f");
  ASSERT_EQ(lines(small), std::vector<std::string>{});
  EXPECT_FALSE(small->meter.has_value());
  EXPECT_FALSE(small->crossing.has_value());
}

TEST_F(GoodRules, TheRoutineHasItsListsAndItems) {
  ASSERT_TRUE(rules.routine.has_value());
  const faults::Routine& routine = *rules.routine;
  EXPECT_EQ(routine.stress_minutes, .05);
  EXPECT_EQ(routine.if_failed, (std::vector<std::string>{"mend it", "check it again"}));
  ASSERT_EQ(routine.lists.size(), 2U);
  EXPECT_EQ(routine.lists[1].every_days, 7);
  EXPECT_TRUE(routine.lists[1].holds(0, 1));
  EXPECT_TRUE(routine.lists[1].holds(1, 1));
  EXPECT_FALSE(routine.lists[0].holds(1, 0));
  ASSERT_EQ(routine.items.size(), 2U);
  EXPECT_EQ(routine.items[0].list, 0U);
  EXPECT_FALSE(routine.items[0].after);
  EXPECT_EQ(routine.items[0].words, "Look at the bell.");
  EXPECT_EQ(routine.items[0].asks, "Is it there?");
  EXPECT_EQ(routine.items[0].if_not, "Find it.");
  EXPECT_EQ(routine.items[0].minutes, .5);
  EXPECT_EQ(routine.items[0].cautions, std::vector<std::size_t>{0});
  EXPECT_EQ(routine.items[0].source, "judged");
  EXPECT_TRUE(routine.items[1].after);
  EXPECT_EQ(routine.items[1].list, 1U);
}

TEST_F(GoodRules, TheRoutineHasItsSignals) {
  ASSERT_EQ(rules.routine->signals.size(), 2U);
  const faults::RoutineSignal& ring = rules.routine->signals[0];
  EXPECT_EQ(rules.signals[ring.signal].name, "ring");
  EXPECT_EQ(ring.minutes, .1);
  EXPECT_FALSE(ring.stressed);
  ASSERT_TRUE(ring.pair.has_value());
  EXPECT_EQ(ring.pair->words, "a ring at {one}, a tone at {other}");
  EXPECT_EQ(ring.pair->expects, "{one} rings, {other} does not");
  ASSERT_TRUE(ring.sweep.has_value());
  EXPECT_EQ(ring.sweep->list, 1U);
  EXPECT_EQ(ring.sweep->words, "all notes");
  EXPECT_EQ(ring.sweep->frequencies_hz, (Row{250, 500.5}));
  EXPECT_EQ(ring.sweep->minutes, .2);
  ASSERT_TRUE(ring.thresholds.has_value());
  EXPECT_EQ(ring.thresholds->frequencies_hz, Row{1000});
  EXPECT_EQ(ring.thresholds->minutes, .3);
  const faults::RoutineSignal& tone = rules.routine->signals[1];
  EXPECT_TRUE(tone.stressed);
  EXPECT_FALSE(tone.pair.has_value());
  EXPECT_EQ(tone.source, "invented for the demo");
}

TEST_F(GoodRules, TheRoutineHasItsTripLevelAndReferenceLevels) {
  ASSERT_TRUE(rules.routine->trip.has_value());
  EXPECT_EQ(rules.routine->trip->choices_db, (Row{5, 10}));
  EXPECT_EQ(rules.routine->trip->usual_db, 10);
  EXPECT_EQ(rules.routine->trip->step_db, 5);
  EXPECT_EQ(rules.routine->trip->because, "It is so.");
  ASSERT_EQ(rules.routine->levels.size(), 1U);
  const faults::ReferenceLevels& bench = rules.routine->levels[0];
  EXPECT_EQ(bench.name, "bench");
  EXPECT_EQ(rules.signals[bench.signal].name, "ring");
  EXPECT_EQ(bench.coupler, "a jar");
  EXPECT_EQ(bench.standard, "HOUSE 1");
  EXPECT_EQ(bench.year, 1999);
  EXPECT_EQ(bench.dial_db, 70);
  EXPECT_EQ(bench.unit, "dB");
  ASSERT_EQ(bench.reference.size(), 2U);
  EXPECT_EQ(bench.reference[1].hz, 1000);
  EXPECT_EQ(bench.reference[1].db, -7);
  ASSERT_EQ(bench.within.size(), 2U);
  EXPECT_EQ(bench.within[0].hz, 600);
  EXPECT_EQ(bench.within[0].db, 3);
}

TEST(GoodRoutine, MayBeLeftOut) {
  const std::string text = good("doorbell.yaml");
  const auto rules = rules_from(text.substr(0, text.find("\nroutine:")), "f");
  ASSERT_TRUE(rules);
  EXPECT_FALSE(rules->routine.has_value());
}

}  // namespace
}  // namespace whichlink::load
