// Facts of the trade: common practice, no source. The installation and its rates are the shipped
// ones.
#include "guide/support.h"

namespace whichlink::testing {
namespace {

const std::vector<std::string> kConnections = {"seating", "contact"};

class TradeFacts : public ::testing::Test {
 protected:
  moves::Installation booth_ = shipped("two-room-booth");
};

TEST_F(TradeFacts, SilentWithNothingElseKnownRanksConnectionsThenCordThenTransducer) {
  for (const std::string route : {"left phone", "right phone", "bone"}) {
    const auto one = open_case(booth_, route, {"silent", {}});
    const double connections = family(*one, kConnections);
    const double cords = family(*one, {"cord"});
    const double transducer = family(*one, {"transducer"});
    EXPECT_GT(connections, cords) << route;
    EXPECT_GT(cords, transducer) << route;
    EXPECT_GT(transducer, 0) << route;
  }
}

TEST_F(TradeFacts,
       BackOnDirectConnectionClearsTheTransducerAndPointsBeforeTheBoothPlugOrAtWhatWasWiped) {
  const auto one = open_case(booth_, "left phone", {"silent", {}},
                             {{"connect headset cord.left plug into left jack", "steady"}});
  EXPECT_LT(family(*one, {"transducer"}), 0.02);
  const double before_or_wiped = at(*one, "left patch cord") + at(*one, "left outside jack") +
                                 at(*one, "left panel wire") + at(*one, "left inside jack") +
                                 at(*one, "left jack") + at(*one, "headset cord.left plug");
  EXPECT_GT(before_or_wiped, 5 * at(*one, "headset cord.cord"));
  EXPECT_NE(first_suspect(*one).rfind("left earphone", 0), 0U);
}

TEST_F(TradeFacts, StillSilentOnDirectConnectionRanksCordThenTransducer) {
  const auto one = open_case(booth_, "left phone", {"silent", {}},
                             {{"connect headset cord.left plug into left jack", "silent"}});
  const double cord = at(*one, "headset cord.cord");
  const double transducer = family(*one, {"transducer"});
  EXPECT_GT(cord, transducer);
  EXPECT_GT(transducer, at(*one, "left patch cord"));
  EXPECT_EQ(first_suspect(*one).rfind("headset cord.cord", 0), 0U) << first_suspect(*one);
}

TEST_F(TradeFacts, CrackleOnATwistRanksThatContact) {
  for (const std::string plug : {"left patch cord.near plug", "headset cord.left plug"}) {
    const auto one = open_case(booth_, "left phone", {"drops out", {}},
                               {{"listen", "steady"}, {"twist " + plug, "crackle"}});
    const std::string jack = plug == "headset cord.left plug" ? "left inside jack" : "left jack";
    const double contact = at(*one, plug) + at(*one, jack);
    for (const std::string other :
         {"headset cord.cord", "left patch cord.wire", "left patch cord.far plug",
          "left outside jack", "left panel wire", "headset cord.left pins", "left earphone"}) {
      EXPECT_GT(contact, at(*one, other)) << plug << " against " << other;
    }
  }
}

TEST_F(TradeFacts, CuttingOutOnAFlexRanksThatCord) {
  const auto headset =
      open_case(booth_, "left phone", {"drops out", {}}, {{"flex headset cord.cord", "drops out"}});
  EXPECT_EQ(first_suspect(*headset).rfind("headset cord.cord", 0), 0U) << first_suspect(*headset);
  const auto patch = open_case(booth_, "left phone", {"drops out", {}},
                               {{"listen", "steady"},
                                {"flex headset cord.cord", "steady"},
                                {"flex left patch cord.wire", "drops out"}});
  EXPECT_EQ(first_suspect(*patch).rfind("left patch cord.wire", 0), 0U) << first_suspect(*patch);
}

TEST_F(TradeFacts, SteadyUnderStressClearsMostOfAnElementsSuspicion) {
  const auto before = open_case(booth_, "left phone", {"drops out", {}}, {{"listen", "steady"}});
  const auto after = open_case(booth_, "left phone", {"drops out", {}},
                               {{"listen", "steady"}, {"flex headset cord.cord", "steady"}});
  EXPECT_LT(at(*after, "headset cord.cord"), 0.5 * at(*before, "headset cord.cord"));
  EXPECT_GT(at(*after, "headset cord.cord"), 0);
}

TEST_F(TradeFacts, BothChannelsSilentPointsAtWhatTheyShare) {
  const auto one = open_case(booth_, "left phone", {"silent", {}}, {{"try right phone", "silent"}});
  const chain::Chain& chain = one->setting().chain();
  const auto on_route = [&](std::uint32_t route) {
    std::vector<bool> mask(one->setting().faults().size(), false);
    const auto path = one->setting().tracer().trace(RouteId{route}, chain.home).path;
    for (const FaultId fault : one->setting().faults_on(path, RouteId{route})) {
      mask[fault.value] = true;
    }
    return mask;
  };
  const auto left = on_route(0);
  const auto right = on_route(1);
  ASSERT_EQ(chain.routes[RouteId{1}].name, "right phone");
  double shared = 0;
  double rest = 0;
  for (const guide::Suspect& suspect : one->suspects(one->picture())) {
    if (!suspect.fault) continue;
    (left[suspect.fault->value] && right[suspect.fault->value] ? shared : rest) += suspect.chance;
  }
  EXPECT_GT(shared, rest);
}

TEST_F(TradeFacts, LeftAndRightCrossedIsFoundAndNamed) {
  const auto one = open_case(booth_, "left phone", {"wrong side", {}});
  EXPECT_EQ(first_suspect(*one), "crossed plugs");
  EXPECT_GT(one->picture().crossed, 0.9);
  const auto traced =
      open_case(booth_, "left phone", {"wrong side", {}}, {{"trace left phone", "steady"}});
  EXPECT_LT(traced->picture().crossed, 0.01);
  const guide::Ending ending = traced->ending(guide::Stage::mended);
  double crossed = 0;
  for (const guide::Suspect& cause : ending.causes) {
    if (cause.fault) continue;
    crossed += cause.chance;
    EXPECT_NE(cause.words.find("each other's jack"), std::string::npos) << cause.words;
  }
  EXPECT_GT(crossed, 0.9);
}

TEST_F(TradeFacts, ACrossedPlugsFaultGoesAlongIfItLiesBeyondAndStaysIfItLiesBefore) {
  const std::string cross = "cross headset cord.left plug with headset cord.right plug";
  const auto before = [](const guide::Case& one) {
    return at(one, "left patch cord") + at(one, "left outside jack") + at(one, "left panel wire") +
           at(one, "left jack") + at(one, "left inside jack");
  };
  const auto beyond = [](const guide::Case& one) {
    return at(one, "headset cord.cord.left") + at(one, "headset cord.left pins") +
           at(one, "left earphone");
  };
  // Driven left, listened for at the right phone: silent there stays before the plugs.
  const auto stays = open_case(booth_, "left phone", {"silent", {}}, {{cross, "silent"}});
  EXPECT_GT(before(*stays), 5 * beyond(*stays));
  const auto goes = open_case(booth_, "left phone", {"silent", {}}, {{cross, "steady"}});
  EXPECT_GT(beyond(*goes), before(*goes));
}

TEST_F(TradeFacts, BoneIsHeardAt25To30AndPhonesAt70AndOneKilohertz) {
  std::size_t seen = 0;
  for (const faults::Signal& signal : booth_.rules.signals) {
    if (signal.name == "bone") {
      ++seen;
      EXPECT_EQ(signal.level, 25);
      EXPECT_EQ(signal.level_high, 30);
      EXPECT_EQ(signal.level_unit, "dB HL");
    }
    if (signal.name == "phones") {
      ++seen;
      EXPECT_EQ(signal.level, 70);
      EXPECT_NE(signal.words.find("1000 Hz"), std::string::npos);
    }
  }
  EXPECT_EQ(seen, 2U);
}

TEST_F(TradeFacts, AnIntermittentMayRead20Or30Or50DecibelsDown) {
  std::size_t seen = 0;
  for (const faults::Mode& mode : booth_.rules.modes) {
    const std::string& element = booth_.rules.classes[mode.element_class].name;
    if (mode.name != "fractured conductor" || element != "transducer cord") continue;
    ++seen;
    const faults::Sense& ear = booth_.rules.senses[SenseId{0}];
    for (const std::string level : {"weak 20", "weak 30", "weak 50"}) {
      EXPECT_GT(mode.symptom_chance[SenseId{0}][*ear.find(level)], 0) << level;
    }
  }
  EXPECT_GT(seen, 0U);
}

TEST_F(TradeFacts, AStatedDropIsEvidence) {
  const auto slight = open_case(booth_, "left phone", {"weak", 10.0});
  const auto deep = open_case(booth_, "left phone", {"weak", 50.0});
  // A cushion or a band costs some 10 dB, never 50; a fractured cord may.
  const double slight_acoustic = at(*slight, "left earphone");
  const double deep_acoustic = at(*deep, "left earphone");
  EXPECT_GT(slight_acoustic, 0.5);
  EXPECT_LT(deep_acoustic, 0.1);
  EXPECT_GT(at(*deep, "headset cord.cord"), at(*slight, "headset cord.cord"));
}

}  // namespace
}  // namespace whichlink::testing
