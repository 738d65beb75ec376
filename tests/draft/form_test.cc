#include "draft/form.h"

#include <map>

#include "draft/draft.h"
#include "support.h"

namespace whichlink::draft {
namespace {

const Question& question_of(const Form& form, const std::string& key) {
  const auto found = std::find_if(form.questions.begin(), form.questions.end(),
                                  [&](const Question& one) { return one.key == key; });
  if (found != form.questions.end()) return *found;
  ADD_FAILURE() << "nobody asks " << key;
  return form.questions.front();
}

std::string complaint(const Question& question, const std::string& text) {
  const auto said = answer_to(question, text, {"f", 3, 1});
  return said ? "taken as " + said->value : to_line(said.error().front());
}

TEST(Form, EveryQuestionHasADefaultThatAnswersItAndSaysWhy) {
  for (const char* name : {"hearing", "stage-sound"}) {
    const faults::Rules rules = rules_named(name);
    Random random(3);
    const Form form = random_form(rules, random);
    EXPECT_GE(form.questions.size(), 9U);
    for (const Question& question : form.questions) {
      SCOPED_TRACE(question.key);
      EXPECT_FALSE(question.because.empty());
      const Said usual{question.usual, true};
      const auto again = answer_to(question, typed(question, usual), {"f", 1, 1});
      ASSERT_TRUE(again) << to_line(again.error().front());
      EXPECT_EQ(again->value, usual.value);
      const auto unknown = answer_to(question, "don't know", {"f", 1, 1});
      ASSERT_TRUE(unknown);
      EXPECT_EQ(*unknown, (Said{question.usual, false}));
    }
  }
}

TEST(Form, BadAnswersBringOneLineThatSaysWhatWasExpected) {
  const faults::Rules rules = rules_named("hearing");
  const Form form = answered(rules, {{"places", "apart"}, {"place desk", "West"}});
  EXPECT_EQ(complaint(question_of(form, "places"), "3"),
            "f:3:1: no choice \"3\"; expected a number from 1 to 2, or a name of the list");
  EXPECT_EQ(complaint(question_of(form, "places"), "togehter"),
            "f:3:1: no choice \"togehter\"; expected a number from 1 to 2, or a name of the list "
            "(did you mean \"together\"?)");
  EXPECT_EQ(complaint(question_of(form, "places"), "99999999999999999999"),
            "f:3:1: no choice \"99999999999999999999\"; expected a number from 1 to 2, or a name "
            "of the list");
  EXPECT_EQ(complaint(question_of(form, "place seat"), "West"),
            "f:3:1: \"West\" is taken; expected another name");
  EXPECT_EQ(complaint(question_of(form, "place seat"), "source"),
            "f:3:1: \"source\" is taken; expected another name");
  EXPECT_EQ(complaint(question_of(form, "place seat"), std::string(61, 'x')),
            "f:3:1: 61 characters; expected at most 60");
  EXPECT_EQ(complaint(question_of(form, "kinds"), "none"),
            "f:3:1: none of them; expected at least one: their numbers, parted by blanks");
  EXPECT_EQ(complaint(question_of(form, "kinds"), "1 1"),
            "f:3:1: \"headset\" is said twice; expected each once");
  EXPECT_EQ(complaint(question_of(form, "kinds"), "1, 8"),
            "f:3:1: no choice \"8\"; expected a number from 1 to 7, or a name of the list");
  EXPECT_EQ(complaint(question_of(form, "days a year"), "367"),
            "f:3:1: \"367\" is out of range; expected days a year, above 0 and at most 366");
  EXPECT_EQ(complaint(question_of(form, "days a year"), "0"),
            "f:3:1: \"0\" is out of range; expected days a year, above 0 and at most 366");
  for (const char* text : {"-1", "1e2", "nan", "inf", "0x10", "1,5", "five", ".", "1.2.3"}) {
    EXPECT_EQ(complaint(question_of(form, "sessions a day"), text),
              std::string("f:3:1: \"") + text +
                  "\" is no number; expected sessions a day, at least 0 and at most 10000");
  }
}

TEST(Form, NumbersNamesAndWordsAnswerTheSame) {
  const faults::Rules rules = rules_named("hearing");
  const Form form = answered(rules, {{"places", "apart"}});
  const Question& kinds = question_of(form, "kinds");
  const auto value = [&](const std::string& text) {
    return names_in(answer_to(kinds, text, {"f", 1, 1})->value);
  };
  EXPECT_EQ(value("1 3"), (std::vector<std::string>{"headset", "bone vibrator"}));
  EXPECT_EQ(value("headset, 3"), value("1 3"));
  EXPECT_EQ(value("1,3"), value("1 3"));
  EXPECT_EQ(value("all").size(), 7U);
  const Question& days = question_of(form, "days a year");
  EXPECT_EQ(answer_to(days, "200.", {"f", 1, 1})->value, "200");
  EXPECT_EQ(answer_to(days, ".5", {"f", 1, 1})->value, "0.5");
}

// Whatever bytes come, an answer is taken or one line says what is wrong.
TEST(Form, AnyBytesAreAnsweredOrRefused) {
  const faults::Rules rules = rules_named("hearing");
  const Form form = answered(rules, {{"places", "apart"}, {"kinds", "all"}, {"spares", "1 1 2"}});
  Random random(11);
  std::size_t refused = 0;
  for (int round = 0; round < 4000; ++round) {
    std::string text;
    const auto length = static_cast<std::size_t>(random.uniform() * 40);
    static const std::string kLikely = "0123456789 ,.-allnone\x1f;\t";
    for (std::size_t count = 0; count < length; ++count) {
      const double pick = random.uniform();
      text += random.uniform() < .7
                  ? kLikely[static_cast<std::size_t>(pick * static_cast<double>(kLikely.size()))]
                  : static_cast<char>(static_cast<int>(pick * 256));
    }
    for (const Question& question : form.questions) {
      const auto said = answer_to(question, text, {"f", 1, 1});
      if (said) continue;
      ++refused;
      ASSERT_EQ(said.error().size(), 1U);
      EXPECT_EQ(to_line(said.error().front()).find('\n'), std::string::npos);
    }
  }
  EXPECT_GT(refused, 10'000U);
}

TEST(Form, WhatFollowsFromAnEarlierAnswerGoesWithIt) {
  const faults::Rules rules = rules_named("hearing");
  Form form = answered(rules, {{"places", "apart"}, {"kinds", "1"}, {"headset: wall", "panel"}});
  EXPECT_EQ(question_of(form, "headset: wall").choices.size(), 2U);
  Answers answers = form.complete;
  answers["places"] = {"together", true};
  form = form_of(rules, answers, {});
  // In one room there is no wall: nobody asks, and no answer of before counts.
  for (const Question& question : form.questions) EXPECT_NE(question.key, "headset: wall");
  const Sketch sketch = draft_from(rules, form, nullptr).sketch;
  for (const Sketch::Part& part : sketch.parts) EXPECT_NE(part.kind, "panel wire");
  EXPECT_EQ(sketch.places, (std::vector<std::string>{"room"}));
}

TEST(Form, ANameThatIsTheDefaultOfAnotherPlaceLeavesThatOneAnotherDefault) {
  const faults::Rules rules = rules_named("hearing");
  const Form form = answered(rules, {{"places", "apart"}, {"place desk", "booth"}});
  EXPECT_EQ(question_of(form, "place seat").usual, "booth 2");
}

// What was not known is marked where it stands, and listed at the end.
TEST(Draft, WhatNobodyKnewIsMarkedAndListed) {
  const faults::Rules rules = rules_named("hearing");
  const Form form = answered(rules, {{"places", "apart"},
                                     {"kinds", "headset"},
                                     {"spares", "headset cord"},
                                     {"spare headset cord 1: state", "don't know"},
                                     {"way desk to seat", "d"},
                                     {"sessions a day", "d"},
                                     {"days since pass", "30"},
                                     {"service minutes", "don't know"}});
  const Draft draft = draft_from(rules, form, nullptr);
  EXPECT_EQ(draft.unknown.size(), 4U);
  const std::string text = to_text(draft, "hearing");
  for (const char* line : {"minutes: 0.3}  # not known: taken as 0.3\n",
                           "  sessions a day: 10  # not known: taken as 10\n",
                           "  service minutes: 45  # not known: taken as 45\n",
                           "state: unknown, place: control room}  # not known: taken as unknown\n",
                           "days since pass: 30\n", "# Find out:\n",
                           "# - How many sessions on a day of use? (taken as: 10)\n"}) {
    EXPECT_NE(text.find(line), std::string::npos) << line << "\n" << text;
  }
  const Draft sure = draft_from(rules, answered(rules, {{"kinds", "headset"}}), nullptr);
  EXPECT_EQ(to_text(sure, "hearing").find("Find out"), std::string::npos);
}

// A part, its joint and a route that no question knows stay when the rest is answered anew.
TEST(Draft, WhatNoQuestionIsAboutIsKept) {
  const faults::Rules rules = rules_named("hearing");
  std::string text =
      to_text(draft_from(rules, answered(rules, {{"kinds", "headset"}}), nullptr), "hearing");
  const auto put_in = [&](const std::string& after, const std::string& more) {
    const std::size_t at = text.find(after);
    ASSERT_NE(at, std::string::npos) << after;
    text.insert(at + after.size(), more);
  };
  put_in("  room:\n",
         "    loop stage: talk stage\n    loop jack: phone jack\n"
         "    loop microphone: talk microphone\n");
  put_in("\nfixed:\n", "  - [loop stage, loop jack]\n");
  put_in("\nplugged:\n", "  - [loop microphone.plug, loop jack]\n");
  put_in("\nroutes:\n",
         "  loop:\n    from: loop stage\n    to: loop microphone.microphone\n"
         "    signal: talk forward\n");
  const Inferred inferred = inferred_from(rules, loaded(text, rules));
  EXPECT_EQ(inferred.kept_words,
            (std::vector<std::string>{"the route loop", "the part loop stage", "the part loop jack",
                                      "the part loop microphone", "loop stage to loop jack",
                                      "loop microphone.plug to loop jack"}));
  // The headset goes, a wall comes; what was made by hand is still there, and in the right room.
  const Form form = answered(rules,
                             {{"places", "apart"},
                              {"place desk", "office"},
                              {"kinds", "talk forward"},
                              {"spares", "talk microphone"}},
                             inferred.answers);
  const moves::Installation made =
      loaded(to_text(draft_from(rules, form, &inferred.kept), "hearing"), rules);
  const Sketch sketch = sketch_of(made);
  ASSERT_EQ(sketch.routes.size(), 2U);
  EXPECT_EQ(sketch.routes[1].name, "loop");
  std::size_t kept = 0;
  for (const Sketch::Part& part : sketch.parts) {
    if (part.name.rfind("loop ", 0) != 0) continue;
    ++kept;
    EXPECT_EQ(part.place, "office");
  }
  EXPECT_EQ(kept, 3U);
}

// A kind of equipment that somebody has changed by hand is kept whole, and is not asked about.
TEST(Draft, EquipmentChangedByHandIsKeptAndNotOfferedAgain) {
  const faults::Rules rules = rules_named("hearing");
  std::string text = to_text(draft_from(rules, answered(rules, {{"kinds", "1 5"}}), nullptr), "x");
  const std::string from = "- [response input, response jack]";
  ASSERT_NE(text.find(from), std::string::npos);
  // A wire of its own between input and jack.
  text.replace(text.find(from), from.size(),
               "- [response input, button wire]\n  - [button wire, response jack]");
  text.insert(text.find("    response input:"), "    button wire: patch wire\n");
  const Inferred inferred = inferred_from(rules, loaded(text, rules));
  EXPECT_EQ(inferred.taken, std::vector<std::string>{"response button"});
  const Form form = form_of(rules, {}, inferred.answers);
  for (const Choice& choice : question_of(form, "kinds").choices) {
    EXPECT_NE(choice.name, "response button");
  }
  const Sketch before = sketch_of(loaded(text, rules));
  const Sketch after =
      sketch_of(loaded(to_text(draft_from(rules, form, &inferred.kept), "x"), rules));
  EXPECT_EQ(left_over(before, after).parts.size(), 0U);
  EXPECT_EQ(left_over(before, after).fixed.size(), 0U);
  EXPECT_EQ(left_over(before, after).routes.size(), 0U);
  EXPECT_EQ(before.parts.size(), after.parts.size());
}

TEST(Draft, NoMeterMeansThatNothingIsMeasured) {
  const faults::Rules rules = rules_named("hearing");
  const Form form = answered(rules, {{"kinds", "1"}, {"meter", "no"}, {"days since pass", "40"}});
  const moves::Installation made =
      loaded(to_text(draft_from(rules, form, nullptr), "hearing"), rules);
  EXPECT_FALSE(made.rules.meter);
  EXPECT_EQ(made.rules.handling.default_days_since_pass, 40);
}

// Words and signs that mean something in the file's language are names all the same.
TEST(Draft, AnyNameIsReadBackAsItWasSaid) {
  const faults::Rules rules = rules_named("hearing");
  for (const char* name :
       {"no",   "Yes", "null", "TRUE", "off",   "y",    "~",   "3",      ".5",     "a: b",
        "a #b", "[a]", "{a}",  "- a",  "\"a\"", "it's", "a\\", "&a",     "*a",     "!a",
        "|",    ">",   "%a",   "@a",   "`a`",   "a,b",  "?a",  "größer", "試聴室", "a: "}) {
    SCOPED_TRACE(name);
    const Form form = answered(rules, {{"name", name}, {"places", "apart"}, {"place seat", name}});
    const moves::Installation made =
        loaded(to_text(draft_from(rules, form, nullptr), "hearing"), rules);
    EXPECT_EQ(made.name, form.complete.at("name").value);
    EXPECT_EQ(made.chain.places[PlaceId{1}].name, form.complete.at("place seat").value);
  }
}

// A cord goes through the wall: its plugs are in the room of the jacks, the rest in the other.
TEST(Draft, APlugIsWhereItsJackIs) {
  const faults::Rules rules = rules_named("hearing");
  const Form form =
      answered(rules, {{"places", "apart"}, {"kinds", "headset"}, {"headset: wall", "straight"}});
  const moves::Installation made =
      loaded(to_text(draft_from(rules, form, nullptr), "hearing"), rules);
  std::size_t joints = 0;
  for (const ElementId plug : made.chain.elements.ids()) {
    const auto jack = made.chain.home.plug_in[plug];
    if (!jack) continue;
    ++joints;
    EXPECT_EQ(made.chain.elements[plug].place, made.chain.elements[*jack].place)
        << made.chain.elements[plug].name;
  }
  EXPECT_EQ(joints, 4U);
  std::map<std::string, std::string> places;
  for (const chain::Element& element : made.chain.elements) {
    places[element.name] = made.chain.places[element.place].name;
  }
  EXPECT_EQ(places["headset cord.left plug"], "control room");
  EXPECT_EQ(places["headset cord.cord"], "booth");
  EXPECT_EQ(places["headset cord.left pins"], "booth");
}

// What nobody knew is still marked after the file was changed, until somebody says it.
TEST(Draft, WhatNobodyKnewIsStillMarkedWhenTheFileIsReadAgain) {
  const faults::Rules rules = rules_named("hearing");
  const std::string long_name(40, 'W');
  const Form first = answered(rules, {{"places", "apart"},
                                      {"place desk", long_name},
                                      {"place seat", long_name + "2"},
                                      {"kinds", "headset"},
                                      {"headset: wall", "d"},
                                      {"way desk to seat", "d"},
                                      {"sessions a day", "d"},
                                      {"days since pass", "d"},
                                      {"service minutes", "30"}});
  const std::string text = to_text(draft_from(rules, first, nullptr), "hearing");
  const Inferred inferred = inferred_from(rules, loaded(text, rules));
  const Answers marked = marked_as_in(text, rules, inferred.answers);
  for (const auto& [key, said] : marked) {
    const bool is_guess = key == "headset: wall" || key == "way desk to seat" ||
                          key == "sessions a day" || key == "days since pass";
    EXPECT_EQ(said.known, !is_guess) << key;
  }
  const Draft again =
      draft_from(rules, answered(rules, {{"sessions a day", "9"}}, marked), &inferred.kept);
  EXPECT_EQ(again.unknown.size(), 3U);
  EXPECT_EQ(to_text(draft_from(rules, form_of(rules, {}, marked), &inferred.kept), "hearing"),
            text);
}

// Where the person stands at first is not asked, and stays when the room gets another name.
TEST(Draft, TheStartOfAFileIsKept) {
  const faults::Rules rules = rules_named("hearing");
  std::string text =
      to_text(draft_from(rules, answered(rules, {{"places", "apart"}}), nullptr), "hearing");
  const std::string from = "start: control room";
  ASSERT_NE(text.find(from), std::string::npos);
  text.replace(text.find(from), from.size(), "start: booth");
  const Inferred inferred = inferred_from(rules, loaded(text, rules));
  const Form form = answered(rules, {{"place seat", "cabin"}}, inferred.answers);
  EXPECT_EQ(draft_from(rules, form, &inferred.kept).sketch.start, "cabin");
}

}  // namespace
}  // namespace whichlink::draft
