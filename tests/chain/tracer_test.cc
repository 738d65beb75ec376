#include <gtest/gtest.h>

#include "chain/chain.h"

namespace whichlink::chain {
namespace {

// A source, two cords and two sinks in one place, built piece by piece.
class Bench : public ::testing::Test {
 protected:
  ElementId element(const std::string& name, End end = End::neither,
                    const std::string& connector = "", std::size_t lanes = 1) {
    Element one;
    one.name = name;
    one.end = end;
    one.connector = connector;
    const ElementId id{static_cast<std::uint32_t>(chain_.elements.size())};
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      one.conductors.push_back(
          chain_.conductors.add({id, lanes > 1 ? "lane " + std::to_string(lane) : ""}));
      is_end_.push_back(false);
    }
    chain_.elements.add(one);
    chain_.home.plug_in.resize(chain_.elements.size());
    return id;
  }
  ConductorId conductor(ElementId id, std::size_t lane = 0) const {
    return chain_.elements[id].conductors[lane];
  }
  void bond(ElementId a, ElementId b) { chain_.bonds.push_back({conductor(a), conductor(b)}); }
  void plug(ElementId a, ElementId jack) { chain_.home.plug_in[a] = jack; }
  void end(ElementId id) { is_end_[conductor(id).value] = true; }
  RouteId route(ElementId from, ElementId to) {
    Route one;
    one.from = conductor(from);
    one.to = conductor(to);
    return chain_.routes.add(one);
  }
  Traced traced(RouteId id) const { return Tracer(chain_, is_end_).trace(id, chain_.home); }

  // source - jack = plug - sink, twice.
  void two_ways() {
    for (const std::string side : {"left", "right"}) {
      source_.push_back(element(side + " source"));
      jack_.push_back(element(side + " jack", End::jack, "round"));
      plug_.push_back(element(side + " plug", End::plug, "round"));
      sink_.push_back(element(side + " sink"));
      bond(source_.back(), jack_.back());
      bond(plug_.back(), sink_.back());
      plug(plug_.back(), jack_.back());
      end(sink_.back());
      route_.push_back(route(source_.back(), sink_.back()));
    }
  }

  Chain chain_;
  std::vector<bool> is_end_;
  std::vector<ElementId> source_, jack_, plug_, sink_;
  std::vector<RouteId> route_;
};

using Chains = Bench;

TEST_F(Chains, ARouteIsFollowedToItsEndInOrder) {
  two_ways();
  const Traced found = traced(route_[0]);
  EXPECT_EQ(found.fault, Fault::none);
  EXPECT_TRUE(found.path.complete);
  const std::vector<ConductorId> wanted = {conductor(source_[0]), conductor(jack_[0]),
                                           conductor(plug_[0]), conductor(sink_[0])};
  EXPECT_EQ(found.path.conductors, wanted);
}

TEST_F(Chains, APulledPlugMakesABrokenWayThatEndsAtItsJack) {
  two_ways();
  chain_.home.plug_in[plug_[0]].reset();
  const Traced found = traced(route_[0]);
  EXPECT_EQ(found.fault, Fault::broken);
  EXPECT_FALSE(found.path.complete);
  ASSERT_FALSE(found.path.conductors.empty());
  EXPECT_EQ(found.path.conductors.back(), conductor(jack_[0]));
  EXPECT_TRUE(found.ends.empty());
}

TEST_F(Chains, AWayWithTwoEndsIsForked) {
  two_ways();
  bond(sink_[0], sink_[1]);
  const Traced found = traced(route_[0]);
  EXPECT_EQ(found.fault, Fault::forked);
  EXPECT_FALSE(found.path.complete);
  EXPECT_EQ(found.ends.size(), 2U);
}

TEST_F(Chains, AWayWithARingIsLoopedAndTheRingIsNamed) {
  two_ways();
  const ElementId detour = element("detour");
  bond(jack_[0], detour);
  bond(detour, sink_[0]);
  const Traced found = traced(route_[0]);
  EXPECT_EQ(found.fault, Fault::looped);
  EXPECT_FALSE(found.path.complete);
  EXPECT_FALSE(found.ring.empty());
}

TEST_F(Chains, CrossedPlugsLeadToTheOtherEnd) {
  two_ways();
  plug(plug_[0], jack_[1]);
  plug(plug_[1], jack_[0]);
  EXPECT_EQ(traced(route_[0]).path.conductors.back(), conductor(sink_[1]));
  EXPECT_EQ(traced(route_[1]).path.conductors.back(), conductor(sink_[0]));
  EXPECT_TRUE(traced(route_[0]).path.complete);
}

TEST_F(Chains, OnlyTheRoutesOwnSwitchIsOpen) {
  two_ways();
  const ElementId channel = element("channel");
  for (const ElementId side : source_) {
    chain_.switches.push_back({conductor(channel), conductor(side)});
  }
  chain_.routes[route_[1]].from = conductor(channel);
  chain_.routes[route_[1]].selects = conductor(source_[1]);
  const Traced found = traced(route_[1]);
  ASSERT_TRUE(found.path.complete);
  EXPECT_EQ(found.path.conductors.back(), conductor(sink_[1]));
}

TEST_F(Chains, LanesOfAJointGoToTheLanesOfTheSameNumber) {
  const ElementId plug_side = element("plug", End::plug, "square", 2);
  const ElementId jack_side = element("jack", End::jack, "square", 2);
  plug(plug_side, jack_side);
  is_end_[conductor(jack_side, 0).value] = is_end_[conductor(jack_side, 1).value] = true;
  Route second;
  second.from = conductor(plug_side, 1);
  second.to = conductor(jack_side, 1);
  const Traced found = traced(chain_.routes.add(second));
  ASSERT_TRUE(found.path.complete);
  EXPECT_EQ(found.path.conductors.back(), conductor(jack_side, 1));
}

TEST_F(Chains, ARingIsFoundWhereverItIsAndNoneWhereNoneIs) {
  two_ways();
  EXPECT_TRUE(Tracer(chain_, is_end_).ring(chain_.home).empty());
  const ElementId detour = element("detour");
  bond(plug_[1], detour);
  bond(detour, jack_[1]);
  const auto ring = Tracer(chain_, is_end_).ring(chain_.home);
  ASSERT_FALSE(ring.empty());
  const std::vector<ConductorId> on_it = {conductor(plug_[1]), conductor(detour),
                                          conductor(jack_[1])};
  for (const ConductorId one : ring) {
    EXPECT_NE(std::find(on_it.begin(), on_it.end(), one), on_it.end());
  }
}

TEST_F(Chains, ARingThroughSwitchesCountsAlthoughNoRouteOpensThemAll) {
  two_ways();
  const ElementId channel = element("channel");
  chain_.switches.push_back({conductor(channel), conductor(source_[0])});
  chain_.switches.push_back({conductor(channel), conductor(source_[1])});
  bond(sink_[0], sink_[1]);
  EXPECT_FALSE(Tracer(chain_, is_end_).ring(chain_.home).empty());
}

TEST_F(Chains, APlugFitsAJackOfItsConnectorAndLanesOnly) {
  const ElementId round = element("round plug", End::plug, "round");
  const ElementId other_round = element("other round plug", End::plug, "round");
  const ElementId jack = element("round jack", End::jack, "round");
  const ElementId square = element("square jack", End::jack, "square");
  const ElementId wide = element("wide jack", End::jack, "round", 2);
  EXPECT_TRUE(fits(chain_, round, jack));
  EXPECT_FALSE(fits(chain_, round, other_round));
  EXPECT_FALSE(fits(chain_, jack, round));
  EXPECT_FALSE(fits(chain_, jack, jack));
  EXPECT_FALSE(fits(chain_, round, square));
  EXPECT_FALSE(fits(chain_, round, wide));
}

TEST_F(Chains, MatesAreFoundFromEitherHalf) {
  two_ways();
  EXPECT_EQ(mate(chain_, chain_.home, plug_[0]), jack_[0]);
  EXPECT_EQ(mate(chain_, chain_.home, jack_[0]), plug_[0]);
  EXPECT_FALSE(mate(chain_, chain_.home, sink_[0]));
  chain_.home.plug_in[plug_[0]].reset();
  EXPECT_FALSE(mate(chain_, chain_.home, jack_[0]));
  EXPECT_FALSE(plug_of(chain_, chain_.home, jack_[0]));
}

TEST_F(Chains, ALaneIsNamedOnlyWhereThereAreSeveral) {
  const ElementId one = element("wire");
  const ElementId two = element("line", End::neither, "", 2);
  EXPECT_EQ(name_of(chain_, conductor(one)), "wire");
  EXPECT_EQ(name_of(chain_, conductor(two, 1)), "line.lane 1");
}

}  // namespace
}  // namespace whichlink::chain
