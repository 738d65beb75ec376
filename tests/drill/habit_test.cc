#include "drill/habit.h"

#include "support.h"

// What a loss is charged to, by what was done and heard before: a row a rule.
namespace whichlink::testing {
namespace {

struct Heard {
  std::string move, heard;
};

/// One room, and what somebody did in it so far.
class Before {
 public:
  Before(const std::string& model, const std::string& route, const std::vector<Heard>& done)
      : room_(good(
            load::installation_file(kSource + "/models/" + model + ".yaml", kSource + "/rules"))),
        setting_(room_, 7),
        track_(setting_, route_of(route)) {
    for (const Heard& one : done) track_.take(move(one.move), {one.heard, std::nullopt});
  }

  [[nodiscard]] moves::Move move(const std::string& name) const {
    const auto found = moves::find_move(setting_, track_.standing(), name);
    if (!found) throw std::runtime_error("no move " + name);
    return *found;
  }
  /// "close", "call" or a move.
  [[nodiscard]] drill::Choice choice(const std::string& name) const {
    if (name == "close") return {plan::Verdict::close, std::nullopt};
    if (name == "call") return {plan::Verdict::service, std::nullopt};
    return {plan::Verdict::move, move(name)};
  }
  [[nodiscard]] std::string charged(const std::string& chosen, const std::string& advised) const {
    return drill::name_of(
        drill::charged_to(setting_, track_, "drops out", choice(chosen), choice(advised)));
  }

 private:
  [[nodiscard]] RouteId route_of(const std::string& name) const {
    for (const RouteId route : room_.chain.routes.ids()) {
      if (room_.chain.routes[route].name == name) return route;
    }
    throw std::runtime_error("no route " + name);
  }

  moves::Installation room_;
  moves::Setting setting_;
  guide::Track track_;
};

std::string charged(const std::vector<Heard>& done, const std::string& chosen,
                    const std::string& advised, const std::string& model = "single-room") {
  return Before(model, "left phone", done).charged(chosen, advised);
}

const std::string kSpare = "substitute spare headset cord for headset cord";
const std::string kCross = "cross headset cord.left plug with headset cord.right plug";
const std::string kClean = "clean headset cord.left plug";

TEST(Habit, AnEndIsChargedByWhatWasHeardBefore) {
  EXPECT_EQ(charged({{kCross, "steady"}}, "close", "put back"), "putting back");
  EXPECT_EQ(charged({{"listen", "crackle"}}, "close", "stress all"), "calling");
  EXPECT_EQ(charged({{"listen", "steady"}}, "close", "stress all"), "quiet fault");
  EXPECT_EQ(charged({{kClean, "steady"}}, "close", "stress all"), "wiped contact");
  EXPECT_EQ(charged({{kSpare, "crackle"}, {"clean spare headset cord.left plug", "steady"}},
                    "close", "stress all"),
            "second fault");
  EXPECT_EQ(charged({{"listen", "crackle"}}, "call", "stress all"), "calling");
  EXPECT_EQ(charged({{"listen", "crackle"}}, "listen", "call"), "calling");
}

TEST(Habit, AMoveIsChargedByWhatItIsAndWhatWasBetter) {
  EXPECT_EQ(charged({}, kClean, "stress all"), "listening");
  EXPECT_EQ(charged({{"listen", "crackle"}}, kClean, "stress all"), "splitting");
  EXPECT_EQ(charged({{kClean, "crackle"}}, kSpare, "stress all"), "one change");
  EXPECT_EQ(charged({{kSpare, "crackle"}}, "take out spare headset cord", "stress all"),
            "second fault");
  EXPECT_EQ(charged({{kSpare, "drops out"}}, "take out spare headset cord", "stress all"),
            "splitting");
  EXPECT_EQ(charged({{"listen", "crackle"}}, kCross, "stress all"), "following the plug");
  EXPECT_EQ(charged({{"listen", "crackle"}}, "stress all", kCross), "following the plug");
  EXPECT_EQ(charged({{"listen", "crackle"}}, "stress all", "trace left phone"), "sides");
  EXPECT_EQ(charged({{"listen", "crackle"}}, "try right phone", "stress all"), "sharing");
  EXPECT_EQ(charged({{"listen", "steady"}}, "listen", "stress all"), "quiet fault");
  EXPECT_EQ(charged({{"listen", "steady"}}, "listen", "close"), "calling");
  EXPECT_EQ(charged({{kCross, "steady"}}, "listen", "put back"), "putting back");
}

TEST(Habit, ASpareThatNobodyKnowsIsChargedAsSuch) {
  EXPECT_EQ(charged({{"listen", "crackle"}}, kSpare, "stress all", "screening-set"), "known good");
  EXPECT_EQ(charged({{"listen", "crackle"}}, kSpare, "stress all"), "splitting");
}

TEST(Habit, NamesReadBack) {
  EXPECT_EQ(drill::habit_names().size(), drill::kHabits);
  for (const std::string& name : drill::habit_names()) {
    ASSERT_TRUE(drill::habit_of(name)) << name;
    EXPECT_EQ(drill::name_of(*drill::habit_of(name)), name);
    EXPECT_FALSE(drill::words_of(*drill::habit_of(name)).empty());
  }
  EXPECT_FALSE(drill::habit_of("splitings"));
}

}  // namespace
}  // namespace whichlink::testing
