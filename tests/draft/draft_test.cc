#include "draft/draft.h"

#include <set>

#include "guide/survey.h"
#include "moves/setting.h"
#include "moves/standing.h"
#include "support.h"

namespace whichlink::draft {
namespace {

// The parts of a route by the outline itself: every step whose ways were chosen, by name.
std::vector<std::string> parts_as_outlined(const faults::Rules& rules, const std::string& name,
                                           const Answers& complete) {
  for (const faults::Outline& outline : rules.outlines->kinds) {
    for (const faults::OutlineRoute& route : outline.routes) {
      if (route.name != name) continue;
      std::vector<std::string> parts;
      for (const faults::OutlineStep& step : route.steps) {
        std::set<std::size_t> asked;
        std::set<std::size_t> met;
        for (const auto& [choice, way] : step.only) {
          const faults::OutlineChoice& one = outline.choices[choice];
          const auto said = complete.find(outline.name + ": " + one.name);
          const bool apart = complete.contains("places") && complete.at("places").value == "apart";
          const std::string chosen =
              said != complete.end() ? said->second.value
                                     : one.ways[apart ? one.usual_apart : one.usual_together].name;
          asked.insert(choice);
          if (one.ways[way].name == chosen) met.insert(choice);
        }
        if (asked == met) parts.push_back(rules.outlines->parts[step.part].name);
      }
      return parts;
    }
  }
  return {};
}

std::vector<std::string> parts_as_traced(const moves::Setting& setting, RouteId route) {
  const chain::Chain& chain = setting.chain();
  const chain::Traced traced = setting.tracer().trace(route, chain.home);
  EXPECT_EQ(traced.fault, chain::Fault::none) << chain.routes[route].name;
  EXPECT_TRUE(traced.path.complete) << chain.routes[route].name;
  std::vector<std::string> parts;
  for (const ConductorId conductor : traced.path.conductors) {
    const ElementId element = chain.conductors[conductor].element;
    const std::string& part = chain.parts[chain.elements[element].part].name;
    if (parts.empty() || parts.back() != part) parts.push_back(part);
  }
  return parts;
}

void check_as_outlined(const faults::Rules& rules, const Form& form) {
  const std::string text = to_text(draft_from(rules, form, nullptr), "rules");
  const moves::Installation installation = loaded(text, rules);
  ASSERT_FALSE(installation.chain.routes.empty());
  const moves::Setting setting(installation, 7);
  std::size_t routes = 0;
  for (const RouteId route : setting.chain().routes.ids()) {
    const std::string& name = setting.chain().routes[route].name;
    EXPECT_EQ(parts_as_traced(setting, route), parts_as_outlined(rules, name, form.complete))
        << name << "\n"
        << text;
    ++routes;
  }
  std::size_t expected = 0;
  const std::vector<std::string> chosen = names_in(form.complete.at("kinds").value);
  for (const faults::Outline& outline : rules.outlines->kinds) {
    if (std::find(chosen.begin(), chosen.end(), outline.name) != chosen.end()) {
      expected += outline.routes.size();
    }
  }
  EXPECT_EQ(routes, expected);
}

TEST(Draft, RandomAnswersGiveAFileThatIsReadWithEveryRouteAsOutlined) {
  for (const char* name : {"hearing", "stage-sound"}) {
    const faults::Rules rules = rules_named(name);
    ASSERT_TRUE(rules.outlines);
    for (std::uint64_t seed = 1; seed <= 1000 && !HasFailure(); ++seed) {
      SCOPED_TRACE(std::string(name) + ", seed " + std::to_string(seed));
      Random random(seed);
      check_as_outlined(rules, random_form(rules, random));
    }
  }
}

TEST(Draft, EveryWayOfEveryKindOfEquipmentTogetherAndApart) {
  std::size_t combinations = 0;
  for (const char* name : {"hearing", "stage-sound"}) {
    const faults::Rules rules = rules_named(name);
    for (const char* places : {"together", "apart"}) {
      for (const faults::Outline& outline : rules.outlines->kinds) {
        // With one choice a kind at most, this is every combination.
        ASSERT_LE(outline.choices.size(), 1U);
        const std::size_t ways = outline.choices.empty() ? 1 : outline.choices[0].ways.size();
        for (std::size_t way = 0; way < ways; ++way) {
          std::vector<Line> lines = {{"places", places}, {"kinds", outline.name}};
          if (!outline.choices.empty()) {
            const faults::OutlineWay& one = outline.choices[0].ways[way];
            if (one.needs_apart && std::string(places) == "together") continue;
            const bool asked = std::string(places) == "apart" || outline.choices[0].name != "wall";
            if (asked) lines.push_back({outline.name + ": " + outline.choices[0].name, one.name});
          }
          SCOPED_TRACE(std::string(name) + " " + places + " " + outline.name);
          check_as_outlined(rules, answered(rules, lines));
          ++combinations;
        }
      }
    }
  }
  EXPECT_EQ(combinations, 31U);  // 9 + 14 of hearing, 4 + 4 of the stage
}

TEST(Draft, SomeRandomInstallationsCanBeSurveyed) {
  for (const char* name : {"hearing", "stage-sound"}) {
    const faults::Rules rules = rules_named(name);
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
      Random random(seed);
      const Form form = random_form(rules, random);
      const moves::Installation installation =
          loaded(to_text(draft_from(rules, form, nullptr), "rules"), rules);
      const moves::Setting setting(installation, 7);
      const guide::Survey survey = guide::survey_of(setting);
      ASSERT_EQ(survey.routes.size(), installation.chain.routes.size());
      for (const guide::RouteSurvey& route : survey.routes) EXPECT_GE(route.moves.size(), 2U);
    }
  }
}

// What two files say of the chain, in no order.
struct Structure {
  std::set<std::string> parts, joints, routes, spares;
  friend bool operator==(const Structure&, const Structure&) = default;
};

Structure structure_of(const moves::Installation& installation) {
  const Sketch sketch = sketch_of(installation);
  Structure found;
  for (const Sketch::Part& part : sketch.parts) {
    std::string text = part.name + "|" + part.kind + "|" + part.place;
    for (const auto& [piece, place] : part.piece_places) text += "|" + piece + "@" + place;
    found.parts.insert(text);
  }
  const auto add = [&](const char* kind, const std::vector<Sketch::Joint>& joints) {
    for (const auto& [a, b] : joints) {
      found.joints.insert(kind + std::min(a, b) + " " + std::max(a, b));
    }
  };
  add("fixed ", sketch.fixed);
  add("switched ", sketch.switched);
  add("plugged ", sketch.plugged);
  for (const Sketch::Route& route : sketch.routes) {
    found.routes.insert(route.name + "|" + route.from + "|" + route.to + "|" + route.selects + "|" +
                        route.signal + "|" + route.side + "|" + route.pair);
  }
  for (const Sketch::Spare& spare : sketch.spares) {
    found.spares.insert(spare.kind + "|" + spare.state + "|" + spare.place);
  }
  return found;
}

struct Reached {
  const char* model;
  const char* rules;
  std::vector<Line> lines;
};

std::string model_of(const ::testing::TestParamInfo<Reached>& one) {
  std::string name = one.param.model;
  std::erase(name, '-');
  return name;
}

class Shipped : public ::testing::TestWithParam<Reached> {};

TEST_P(Shipped, IsReachedByAnswers) {
  const faults::Rules rules = rules_named(GetParam().rules);
  const Form form = answered(rules, GetParam().lines);
  const moves::Installation made = loaded(to_text(draft_from(rules, form, nullptr), "x"), rules);
  const moves::Installation given = shipped(GetParam().model);
  const Structure structure = structure_of(made);
  EXPECT_EQ(structure.parts, structure_of(given).parts);
  EXPECT_EQ(structure.joints, structure_of(given).joints);
  EXPECT_EQ(structure.routes, structure_of(given).routes);
  EXPECT_EQ(structure.spares, structure_of(given).spares);
  EXPECT_EQ(sketch_of(made).service_minutes, sketch_of(given).service_minutes);
  EXPECT_EQ(made.people, given.people);
  EXPECT_GE(structure.parts.size(), 11U);
}

// Read back, a shipped file gives answers, and those give the file.
TEST_P(Shipped, IsReadBackToAnswersThatGiveIt) {
  const faults::Rules rules = rules_named(GetParam().rules);
  const moves::Installation given = shipped(GetParam().model);
  const Inferred inferred = inferred_from(rules, given);
  EXPECT_TRUE(inferred.kept_words.empty());
  const Form form = form_of(rules, {}, inferred.answers);
  const moves::Installation made =
      loaded(to_text(draft_from(rules, form, &inferred.kept), "x"), rules);
  EXPECT_EQ(structure_of(made), structure_of(given));
  const Sketch one = sketch_of(made);
  const Sketch other = sketch_of(given);
  EXPECT_EQ(one.name, other.name);
  EXPECT_EQ(one.about, other.about);
  EXPECT_EQ(one.people, other.people);
  EXPECT_EQ(one.start, other.start);
  EXPECT_EQ(one.places, other.places);
  EXPECT_EQ(one.spares, other.spares);
  EXPECT_EQ(one.miss_minutes, other.miss_minutes);
  EXPECT_EQ(one.service_minutes, other.service_minutes);
  ASSERT_EQ(one.walking.size(), other.walking.size());
  for (std::size_t way = 0; way < one.walking.size(); ++way) {
    EXPECT_EQ(one.walking[way].minutes, other.walking[way].minutes);
  }
}

INSTANTIATE_TEST_SUITE_P(
    Draft, Shipped,
    ::testing::Values(Reached{"two-room-booth",
                              "hearing",
                              {{"places", "apart"},
                               {"kinds", "all"},
                               {"loudspeakers: amplifier", "two"},
                               {"spares",
                                "patch cord, headset cord, insert cord, response button, earphone"},
                               {"spare patch cord 1: state", "new"},
                               {"spare headset cord 1: state", "new"},
                               {"spare insert cord 1: state", "used"},
                               {"spare response button 1: state", "used"},
                               {"spare earphone 1: state", "don't know"}}},
                      Reached{"single-room",
                              "hearing",
                              {{"places", "1"},
                               {"kinds", "headset, bone vibrator, response button"},
                               {"spares", "headset cord, bone cord"},
                               {"spare headset cord 1: state", "new"},
                               {"spare bone cord 1: state", "used"}}},
                      Reached{"screening-set",
                              "hearing",
                              {{"places", "together"},
                               {"the place", "school room"},
                               {"kinds", "headset, response button"},
                               {"spares", "headset cord"},
                               {"spare headset cord 1: state", "d"},
                               {"service minutes", "60"}}},
                      Reached{"small-stage",
                              "stage-sound",
                              {{"places", "apart"},
                               {"kinds", "all"},
                               {"spares", "cord, cord, vocal microphone"},
                               {"spare cord 1: state", "used"},
                               {"spare cord 2: place", "stage"},
                               {"spare vocal microphone 1: state", "used"}}}),
    model_of);

TEST(Draft, RandomFilesAreReadBackToTheAnswersThatMadeThem) {
  for (const char* name : {"hearing", "stage-sound"}) {
    const faults::Rules rules = rules_named(name);
    for (std::uint64_t seed = 1; seed <= 200 && !HasFailure(); ++seed) {
      SCOPED_TRACE(std::string(name) + ", seed " + std::to_string(seed));
      Random random(seed);
      const std::string text = to_text(draft_from(rules, random_form(rules, random), nullptr), "x");
      const moves::Installation first = loaded(text, rules);
      const Inferred inferred = inferred_from(rules, first);
      EXPECT_TRUE(inferred.kept_words.empty()) << inferred.kept_words.front() << "\n" << text;
      const Form form = form_of(rules, {}, inferred.answers);
      const moves::Installation second =
          loaded(to_text(draft_from(rules, form, &inferred.kept), "x"), rules);
      EXPECT_EQ(structure_of(first), structure_of(second)) << text;
      EXPECT_EQ(sketch_of(first).places, sketch_of(second).places);
      EXPECT_EQ(sketch_of(first).has_meter, sketch_of(second).has_meter);
      EXPECT_EQ(sketch_of(first).days_since_pass, sketch_of(second).days_since_pass);
      EXPECT_EQ(sketch_of(first).sessions_per_day, sketch_of(second).sessions_per_day);
      EXPECT_EQ(sketch_of(first).days_per_year, sketch_of(second).days_per_year);
    }
  }
}

}  // namespace
}  // namespace whichlink::draft
