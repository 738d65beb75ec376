#include <gtest/gtest.h>

#include <algorithm>

#include "load/load.h"
#include "load/support.h"

namespace whichlink::load {
namespace {

using chain::Chain;

class GoodInstallation : public ::testing::Test {
 protected:
  faults::Rules rules = rules_from(good("doorbell.yaml"), "rules").value();
  moves::Installation doors = installation_from(good("two-doors.yaml"), "f", rules).value();
  const Chain& chain = doors.chain;

  ElementId element(const std::string& name) const {
    for (const ElementId id : chain.elements.ids()) {
      if (chain.elements[id].name == name) return id;
    }
    ADD_FAILURE() << "no element " << name;
    return {};
  }
  const chain::Part& part(const std::string& name) const {
    return *std::find_if(chain.parts.begin(), chain.parts.end(),
                         [&](const chain::Part& one) { return one.name == name; });
  }
  ConductorId conductor(const std::string& name) const {
    for (const ConductorId id : chain.conductors.ids()) {
      if (chain::name_of(chain, id) == name) return id;
    }
    ADD_FAILURE() << "no conductor " << name;
    return {};
  }
  bool bonded(const std::string& a, const std::string& b) const {
    return std::count_if(chain.bonds.begin(), chain.bonds.end(), [&](const chain::Bond& bond) {
             return (bond.a == conductor(a) && bond.b == conductor(b)) ||
                    (bond.a == conductor(b) && bond.b == conductor(a));
           }) == 1;
  }
};

TEST_F(GoodInstallation, IsNamedAndStaffed) {
  EXPECT_EQ(doors.name, "Two doors");
  EXPECT_EQ(doors.about, "Two buttons at the door, two bells in the house.");
  EXPECT_EQ(doors.people, 1);
  EXPECT_EQ(chain.places[doors.start].name, "hall");
  EXPECT_EQ(doors.rules.trade, "doorbells");
}

TEST_F(GoodInstallation, WalkingTakesTheSameBothWays) {
  const auto& minutes = chain.walking_minutes;
  ASSERT_EQ(minutes.size(), 3U);
  EXPECT_EQ(minutes[PlaceId{0}][PlaceId{1}], .3);
  EXPECT_EQ(minutes[PlaceId{1}][PlaceId{0}], .3);
  EXPECT_EQ(minutes[PlaceId{1}][PlaceId{1}], 0);
}

TEST_F(GoodInstallation, APieceStandsWhereItsPartStandsUnlessItSaysOtherwise) {
  EXPECT_EQ(chain.places[chain.elements[element("left cord.wire")].place].name, "porch");
  EXPECT_EQ(chain.places[part("wall").place].name, "hall");
  EXPECT_EQ(chain.places[chain.elements[element("wall.indoors")].place].name, "hall");
  EXPECT_EQ(chain.places[chain.elements[element("wall.outdoors")].place].name, "porch");
}

TEST_F(GoodInstallation, ElementsKnowTheirPartEndConnectorAndLanes) {
  const chain::Element& plug = chain.elements[element("left cord.near plug")];
  EXPECT_EQ(chain.parts[plug.part].name, "left cord");
  EXPECT_EQ(plug.end, chain::End::plug);
  EXPECT_EQ(plug.connector, "barrel");
  EXPECT_EQ(plug.conductors.size(), 1U);
  EXPECT_EQ(chain.elements[element("left jack")].end, chain::End::jack);
  const chain::Element& line = chain.elements[element("line")];
  EXPECT_EQ(line.end, chain::End::neither);
  ASSERT_EQ(line.conductors.size(), 2U);
  EXPECT_EQ(chain.conductors[line.conductors[1]].lane, "blue");
  EXPECT_EQ(chain.conductors[line.conductors[1]].element, element("line"));
}

TEST_F(GoodInstallation, PartsListTheirPiecesInOrder) {
  const chain::Part& cord = part("left cord");
  ASSERT_EQ(cord.elements.size(), 4U);
  EXPECT_EQ(chain.elements[cord.elements[2]].name, "left cord.far plug");
  EXPECT_EQ(rules.part_kinds[cord.kind].name, "bell cord");
  EXPECT_EQ(rules.part_kinds[part("button").kind].name, "button");
}

TEST_F(GoodInstallation, LanesAreJoinedByName) {
  EXPECT_TRUE(bonded("line.red", "wall.indoors.red"));
  EXPECT_TRUE(bonded("line.blue", "wall.indoors.blue"));
  // The outdoor piece lists its lanes the other way round.
  EXPECT_TRUE(bonded("wall.indoors.red", "wall.outdoors.red"));
  EXPECT_FALSE(bonded("wall.indoors.red", "wall.outdoors.blue"));
  EXPECT_TRUE(bonded("left in jack", "line.red"));
  EXPECT_TRUE(bonded("left cord.wire.blue", "left cord.spare core"));
}

TEST_F(GoodInstallation, HomePlugsAndSwitches) {
  EXPECT_EQ(chain.home.plug_in[element("left cord.far plug")], element("left in jack"));
  EXPECT_EQ(chain.home.plug_in[element("loose end")], std::nullopt);
  EXPECT_EQ(chain.home.plug_in.size(), chain.elements.size());
  EXPECT_EQ(chain.home.selected, std::nullopt);
  ASSERT_EQ(chain.switches.size(), 2U);
  EXPECT_EQ(chain.switches[1].common, conductor("button"));
  EXPECT_EQ(chain.switches[1].selected, conductor("right out"));
}

TEST_F(GoodInstallation, RoutesArePairedAndLeadHome) {
  ASSERT_EQ(chain.routes.size(), 2U);
  const chain::Route& left = chain.routes[RouteId{0}];
  EXPECT_EQ(left.from, conductor("button"));
  EXPECT_EQ(left.to, conductor("left bell"));
  EXPECT_EQ(left.selects, conductor("left out"));
  EXPECT_EQ(left.side, "left");
  EXPECT_EQ(left.pair, RouteId{1});
  EXPECT_EQ(rules.signals[left.signal].name, "ring");
  EXPECT_EQ(rules.signals[chain.routes[RouteId{1}].signal].name, "tone");

  std::vector<bool> is_end(chain.conductors.size(), false);
  is_end[conductor("left bell").value] = is_end[conductor("right bell").value] = true;
  const chain::Tracer tracer(chain, is_end);
  EXPECT_TRUE(tracer.ring(chain.home).empty());
  EXPECT_EQ(tracer.trace(RouteId{1}, chain.home).ends,
            std::vector<ConductorId>{conductor("right bell")});
}

TEST_F(GoodInstallation, ASpareIsAPartThatIsPluggedNowhere) {
  const chain::Part& spare = part("spare cord");
  EXPECT_TRUE(spare.spare);
  EXPECT_EQ(spare.spare_state, "new");
  EXPECT_EQ(chain.places[spare.place].name, "hall");
  ASSERT_EQ(spare.elements.size(), 4U);
  EXPECT_EQ(chain.home.plug_in[spare.elements[0]], std::nullopt);
  EXPECT_TRUE(bonded("spare cord.near plug", "spare cord.wire.red"));
  EXPECT_FALSE(part("left cord").spare);
}

TEST_F(GoodInstallation, PricesAreTheRulesUnlessItHasItsOwn) {
  EXPECT_EQ(doors.prices.miss_minutes, 60);
  EXPECT_EQ(doors.prices.source, "judged");
  const std::string text = edited(
      good("two-doors.yaml"), "spares:", "prices: {miss minutes: 90, service minutes: 5}\nspares:");
  const auto own = installation_from(text, "f", rules);
  ASSERT_TRUE(own.has_value());
  EXPECT_EQ(own->prices.miss_minutes, 90);
  EXPECT_EQ(own->prices.service_minutes, 5);
  EXPECT_EQ(own->prices.source, "invented for the demo");
}

TEST_F(GoodInstallation, APairNeedsNoSides) {
  const std::string text =
      edited(edited(good("two-doors.yaml"), "    side: left\n", ""), "    side: right\n", "");
  EXPECT_EQ(lines(installation_from(text, "f", rules)), std::vector<std::string>{});
}

TEST_F(GoodInstallation, TwoPeopleAreTwo) {
  const std::string text = edited(good("two-doors.yaml"), "people: 1", "people: 2");
  EXPECT_EQ(installation_from(text, "f", rules).value().people, 2);
}

TEST_F(GoodInstallation, ItsRulesNameIsReadWithoutTheRest) {
  EXPECT_EQ(rules_name_in(good("two-doors.yaml"), "f").value(), "doorbell");
  EXPECT_EQ(rules_name_in("rules: a b\nnothing else: {}\n", "f").value(), "a b");
  EXPECT_EQ(lines(rules_name_in("about: x\nrules: a/b\n", "f")),
            std::vector<std::string>{"f:2:8: \"a/b\" is no name of rules; expected a name without "
                                     "slashes that does not begin with a full stop"});
  EXPECT_EQ(lines(rules_name_in("rules: [\n", "f")),
            std::vector<std::string>{
                "f:2:1: a [ is not closed: it opened in line 1; expected a comma or ]"});
}

TEST_F(GoodInstallation, ErrorsInSeveralPlacesComeTogetherInOrder) {
  std::string text = good("two-doors.yaml");
  text = edited(text, "start: hall", "start: hell");
  text = edited(text, "    line: twin line", "    line: twin lime");
  text = edited(text, "- [button, right out]", "- [butto, right oot]");
  text = edited(text, "signal: tone", "signal: tome");
  text = edited(text, "state: new", "state: now");
  std::vector<std::string> places;
  for (const std::string& line : lines(installation_from(text, "f", rules))) {
    places.push_back(line.substr(0, line.find(": ")));
  }
  EXPECT_EQ(places, (std::vector<std::string>{"f:7:8", "f:24:11", "f:38:6", "f:38:13", "f:56:13",
                                              "f:60:40"}));
}

}  // namespace
}  // namespace whichlink::load
