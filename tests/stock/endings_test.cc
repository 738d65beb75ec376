#include "stock/endings.h"

#include <set>

#include "moves/parts.h"
#include "support.h"

namespace whichlink::stock {
namespace {

const FaultGroup& group_of(const Endings& endings, const faults::Rules& rules,
                           const std::string& mode, const std::string& at) {
  for (const FaultGroup& group : endings.groups) {
    if (group.mode == mode &&
        (at.empty() ? !group.at : group.at && rules.part_kinds[*group.at].name == at)) {
      return group;
    }
  }
  throw std::runtime_error("no group " + mode);
}

double taken(const FaultGroup& group, const std::string& name) {
  const auto found = group.taken.find(name);
  return found == group.taken.end() ? 0 : found->second;
}

TEST(Drawer, AFullOneHasASpareOfEachKindThatMayBeChanged) {
  const moves::Installation room = shipped("single-room");
  const moves::Installation full = moves::with_full_drawer(room);
  std::size_t spares = 0;
  for (const chain::Part& part : full.chain.parts) spares += part.spare ? 1 : 0;
  EXPECT_EQ(moves::exchangeable_kinds(room).size(), 5U);
  // Both cords: the spare headset cord is new already; the bone cord's is used, and gets another.
  EXPECT_EQ(spares, 6U);
  EXPECT_EQ(full.chain.home.plug_in.size(), full.chain.elements.size());
  EXPECT_EQ(moves::with_full_drawer(full).chain.parts.size(), full.chain.parts.size());
}

void a_broken_conductor_takes_a_cord(const Endings& endings, const moves::Installation& room) {
  for (const char* mode :
       {"transducer cord: broken conductor", "transducer cord: fractured conductor"}) {
    const FaultGroup& group = group_of(endings, room.rules, mode, "headset cord");
    EXPECT_GT(group.played, 3U);
    EXPECT_GE(taken(group, "headset cord"), .75) << mode;
  }
}

void what_is_pushed_home_or_set_right_takes_next_to_nothing(const Endings& endings,
                                                            const moves::Installation& room) {
  EXPECT_LE(
      taken(group_of(endings, room.rules, "phone plug: not home", "headset cord"), "headset cord"),
      .25);
  EXPECT_LE(taken(group_of(endings, room.rules, "crossed plugs", ""), "headset cord"), .25);
}

// Only a new button mends a worn switch, and its price is that of a visit: whoever fits it, it is
// wanted.
void what_is_handed_over_counts_where_only_a_new_part_mends(const Endings& endings,
                                                            const moves::Installation& room) {
  const FaultGroup& group =
      group_of(endings, room.rules, "button switch: worn switch", "response button");
  EXPECT_GE(taken(group, "response button"), .75);
}

void needless_parts_are_those_without_the_fault(const Endings& endings,
                                                const moves::Installation& room) {
  for (const FaultGroup& group : endings.groups) {
    for (const auto& [name, count] : group.needless) {
      EXPECT_LE(count, taken(group, name) + 1e-12) << group.mode;
      if (!group.at) continue;
      EXPECT_NE(name, room.rules.part_kinds[*group.at].name) << group.mode;
    }
  }
}

void every_kind_of_fault_is_there_with_its_items(const Endings& endings,
                                                 const moves::Installation& room) {
  EXPECT_EQ(group_of(endings, room.rules, "phone jack: loose nut", "phone jack").items, 4U);
  EXPECT_EQ(group_of(endings, room.rules, "not listed", "").items, 4U);
  EXPECT_EQ(
      group_of(endings, room.rules, "transducer cord: broken conductor", "headset cord").items, 2U);
  EXPECT_GE(endings.cases, 150U);
}

TEST(EndingsOfARoom, TheSameSeedGivesTheSame) {
  const moves::Installation room = shipped("single-room");
  EndingOptions options;
  options.cases = 40;
  options.depth = plan::depth_of(0);
  const Endings one = endings_of(room, options, {});
  const Endings two = endings_of(room, options, {});
  ASSERT_EQ(one.groups.size(), two.groups.size());
  for (std::size_t group = 0; group < one.groups.size(); ++group) {
    EXPECT_EQ(one.groups[group].taken, two.groups[group].taken);
  }
}

// Common practice, no source: headset and bone cords and a response button come before any
// transducer on the list of a clinic that holds nothing.
void cords_and_button_come_before_any_transducer(const Endings& endings,
                                                 const moves::Installation& room) {
  Asking asking(room, endings);
  asking.question.rates = pooled_rates({history::learned_rates(room, {}, 0)});
  for (const chain::Part& part : room.chain.parts) {
    if (part.spare) asking.question.rooms.front().gone.push_back(part.name);
  }
  const Answer answer = asking.answer();
  std::size_t first_transducer = answer.parts.size();
  std::size_t last_cord = 0;
  for (std::size_t place = 0; place < answer.parts.size(); ++place) {
    const std::string& name = answer.parts[place].name;
    EXPECT_EQ(answer.parts[place].on_hand, 0U);
    if (name == "earphone" || name == "vibrator")
      first_transducer = std::min(first_transducer, place);
    if (name == "headset cord" || name == "bone cord" || name == "response button") {
      last_cord = std::max(last_cord, place);
    }
  }
  EXPECT_LT(last_cord, first_transducer);
  // And so in what is bought one by one.
  ASSERT_TRUE(answer.curve);
  std::set<std::string> bought;
  for (const upkeep::Step& step : answer.curve->steps) {
    const std::string& name = answer.curve->parts[step.choice];
    if (name == "earphone" || name == "vibrator") break;
    bought.insert(name);
  }
  EXPECT_EQ(bought.size(), 3U);
}

// Common practice, no source: every transducer cord fails several times in an audiometer's life,
// some ten years.
void a_cord_fails_several_times_in_ten_years(const Endings& endings,
                                             const moves::Installation& room) {
  const auto needs = needs_of(Asking(room, endings).question.rooms,
                              pooled_rates({history::learned_rates(room, {}, 0)}));
  EXPECT_GT(10 * needs.at("headset cord").per_year, 3);
  EXPECT_GT(10 * needs.at("bone cord").per_year, 3);
  EXPECT_LT(10 * needs.at("headset cord").per_year, 40);
}

// The cases are played once for all of these.
TEST(EndingsOfARoom, AreWhatAColleagueWouldExpect) {
  const moves::Installation room = shipped("single-room");
  EndingOptions options;
  options.cases = 150;
  const Endings endings = endings_of(room, options, {});
  a_broken_conductor_takes_a_cord(endings, room);
  what_is_pushed_home_or_set_right_takes_next_to_nothing(endings, room);
  what_is_handed_over_counts_where_only_a_new_part_mends(endings, room);
  needless_parts_are_those_without_the_fault(endings, room);
  every_kind_of_fault_is_there_with_its_items(endings, room);
  cords_and_button_come_before_any_transducer(endings, room);
  a_cord_fails_several_times_in_ten_years(endings, room);
}

}  // namespace
}  // namespace whichlink::stock
