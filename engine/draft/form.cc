#include "draft/form.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "draft/draft.h"
#include "draft/keys.h"

namespace whichlink::draft {
namespace {

constexpr std::size_t kLongestName = 60;
constexpr std::size_t kLongestLine = 200;
constexpr double kMostMinutes = 100'000;
constexpr double kMostDays = 36'500;
constexpr double kMostSessions = 10'000;
constexpr double kDaysOfYear = 366;

/// The value, as far as it can still answer the question.
std::optional<Said> still_good(const Question& question, const Said& said) {
  const auto is_choice = [&](const std::string& name) {
    return std::any_of(question.choices.begin(), question.choices.end(),
                       [&](const Choice& choice) { return choice.name == name; });
  };
  if (question.ask == Ask::one) {
    return is_choice(said.value) ? std::optional(said) : std::nullopt;
  }
  if (question.ask == Ask::text) {
    const bool is_free = std::find(question.in_use.begin(), question.in_use.end(), said.value) ==
                         question.in_use.end();
    return is_free ? std::optional(said) : std::nullopt;
  }
  if (question.ask == Ask::number) return said;
  std::vector<std::string> names = names_in(said.value);
  std::erase_if(names, [&](const std::string& name) { return !is_choice(name); });
  if (names.empty() && !question.may_be_none) return std::nullopt;
  return Said{value_of(names), said.known};
}

class Asking {
 public:
  Asking(const faults::Rules& rules, const Answers& answers, const Answers& usual)
      : rules_(rules), outlines_(*rules.outlines), answers_(answers), usual_(usual) {
    for (const auto& [key, said] : usual) {
      if (is_never_asked(key)) form_.complete[key] = said;
    }
  }

  Form go() {
    ask_names();
    ask_places();
    ask_kinds();
    ask_spares();
    ask_meter();
    ask_walking();
    ask_people();
    ask_numbers();
    return std::move(form_);
  }

 private:
  const Said& ask(Question question) {
    if (const auto found = usual_.find(question.key); found != usual_.end()) {
      if (const auto good = still_good(question, now(question, found->second))) {
        question.usual = good->value;
        question.usual_known = good->known;
      }
    }
    while (std::find(question.in_use.begin(), question.in_use.end(), question.usual) !=
           question.in_use.end()) {
      question.usual += " 2";
    }
    std::optional<Said> said;
    if (const auto found = answers_.find(question.key); found != answers_.end()) {
      said = still_good(question, now(question, found->second));
    }
    Said& complete = form_.complete[question.key];
    complete = said.value_or(Said{question.usual, question.usual_known});
    form_.questions.push_back(std::move(question));
    return complete;
  }

  /// Where a spare lies, by the name that the place has now.
  [[nodiscard]] Said now(const Question& question, const Said& said) const {
    if (question.ask != Ask::one || !question.key.ends_with(": " + kPlace)) return said;
    return {place_now(rules_, form_.complete, said.value), said.known};
  }

  [[nodiscard]] std::vector<std::string> hidden(const std::string& key) const {
    const auto found = usual_.find(key);
    return found == usual_.end() ? std::vector<std::string>{} : names_in(found->second.value);
  }

  void ask_names() {
    Question name;
    name.key = kName;
    name.asks = "What is it called?";
    name.because = "The name stands at the top of every page, and the record is kept under it.";
    name.usual = outlines_.called;
    name.longest = kLongestLine;
    ask(std::move(name));
    Question about;
    about.key = kAbout;
    about.asks = "A line about it, for whoever reads the file.";
    about.because = "Say what nobody can see: who looks after it, or what was changed last.";
    about.usual = "As answered, question by question.";
    about.longest = kLongestLine;
    ask(std::move(about));
  }

  void ask_places() {
    bool apart = false;
    if (!outlines_.apart_words.empty()) {
      Question question;
      question.key = kPlaces;
      question.asks = "How is it laid out?";
      question.because = "Each way between two places takes time, and a wall adds plugs.";
      question.ask = Ask::one;
      question.choices = {{kTogether, outlines_.together_words}, {kApart, outlines_.apart_words}};
      question.usual = outlines_.usual_apart ? kApart : kTogether;
      apart = ask(std::move(question)).value == kApart;
    }
    std::vector<std::string> in_use = hidden(kExtraPlaces);
    in_use.emplace_back("source");  // names nothing in a file
    if (!apart) {
      ask_place(kOnlyPlace, "What do you call the place?", outlines_.together_name, in_use);
      return;
    }
    for (const faults::OutlinePlace& place : outlines_.places) {
      ask_place(place_key(place.key), fmt::format("What do you call {}?", place.words), place.name,
                in_use);
    }
  }

  void ask_place(const std::string& key, const std::string& asks, const std::string& otherwise,
                 std::vector<std::string>& in_use) {
    Question question;
    question.key = key;
    question.asks = asks;
    question.because = "Moves are told by the place where you must be.";
    question.usual = otherwise;
    question.longest = kLongestName;
    question.in_use = in_use;
    in_use.push_back(ask(std::move(question)).value);
  }

  void ask_kinds() {
    const std::vector<std::string> taken = hidden(kTaken);
    Question question;
    question.key = kKinds;
    question.asks = "Which of these are there?";
    question.because = "Each brings its own ways for a signal. What is not there is left out.";
    question.ask = Ask::some;
    question.may_be_none = usual_.contains(kHasRoutes);
    std::vector<std::string> usual;
    for (const faults::Outline& outline : outlines_.kinds) {
      if (std::find(taken.begin(), taken.end(), outline.name) != taken.end()) continue;
      question.choices.push_back(
          {outline.name, outline.words == outline.name ? "" : outline.words});
      if (outline.usual) usual.push_back(outline.name);
    }
    if (question.choices.empty()) return;
    if (usual.empty() && !question.may_be_none) usual.push_back(question.choices.front().name);
    question.usual = value_of(usual);
    const std::vector<std::string> chosen = names_in(ask(std::move(question)).value);
    for (const faults::Outline& outline : outlines_.kinds) {
      if (std::find(chosen.begin(), chosen.end(), outline.name) != chosen.end()) ask_ways(outline);
    }
  }

  void ask_ways(const faults::Outline& outline) {
    const bool apart = is_apart(form_.complete);
    for (const faults::OutlineChoice& choice : outline.choices) {
      Question question;
      question.key = way_key(outline, choice);
      question.asks = choice.asks;
      question.because = choice.because;
      question.ask = Ask::one;
      for (const faults::OutlineWay& way : choice.ways) {
        if (apart || !way.needs_apart) question.choices.push_back({way.name, way.words});
      }
      question.usual = choice.ways[apart ? choice.usual_apart : choice.usual_together].name;
      if (question.choices.size() > 1) ask(std::move(question));
    }
  }

  /// What staff may change: the kinds of parts that are there.
  [[nodiscard]] std::vector<Choice> spare_kinds() const {
    std::set<std::string> there;
    for (const std::string& kind : hidden(kKeptKinds)) there.insert(kind);
    const std::vector<std::string> places = place_names(rules_, form_.complete);
    for (const faults::Outline& outline : outlines_.kinds) {
      if (!is_chosen(outline, form_.complete)) continue;
      const Sketch sketch = laid_out(rules_, outline, chosen_ways(outline, form_.complete), places);
      for (const Sketch::Part& part : sketch.parts) there.insert(part.kind);
    }
    std::vector<Choice> choices;
    for (const faults::PartKind& kind : rules_.part_kinds) {
      if (kind.exchangeable && there.contains(kind.name)) {
        choices.push_back({kind.name, kind.words == kind.name ? "" : kind.words});
      }
    }
    return choices;
  }

  void ask_spares() {
    if (rules_.spare_states.empty()) return;
    Question question;
    question.key = kSpares;
    question.asks = "Which spares are there?";
    question.because =
        "A spare tells in a minute whether a part is bad. Name one twice where there are two.";
    question.ask = Ask::some;
    question.repeats = true;
    question.choices = spare_kinds();
    if (question.choices.empty()) return;
    std::map<std::string, std::size_t> counts;
    for (const std::string& kind : names_in(ask(std::move(question)).value)) {
      ask_spare(kind, ++counts[kind]);
    }
  }

  void ask_spare(const std::string& kind, std::size_t number) {
    const std::string which =
        number == 1 ? "the spare " + kind : fmt::format("spare {} number {}", kind, number);
    Question state;
    state.key = spare_key(kind, number, kState);
    state.asks = fmt::format("In what state is {}?", which);
    state.because = "A spare that may be bad itself proves less.";
    state.ask = Ask::one;
    double worst = -1;
    for (const faults::SpareState& one : rules_.spare_states) {
      state.choices.push_back(
          {one.name, fmt::format("bad itself in {:g} of 100 (judged)", one.chance_bad * 100)});
      if (one.chance_bad > worst) state.usual = one.name;
      worst = std::max(worst, one.chance_bad);
    }
    ask(std::move(state));
    Question place;
    place.key = spare_key(kind, number, kPlace);
    place.asks = fmt::format("Where is {}?", which);
    place.because = "Fetching it takes the way there and back.";
    place.ask = Ask::one;
    for (const std::string& one : all_places(rules_, form_.complete)) {
      place.choices.push_back({one, ""});
    }
    place.usual = place.choices.front().name;
    if (place.choices.size() > 1) ask(std::move(place));
  }

  void ask_meter() {
    if (!rules_.meter) return;
    Question question;
    question.key = kMeter;
    question.asks =
        fmt::format("Is there a {} for unplugged parts?", rules_.senses[*rules_.meter].name);
    question.because = "Without one, no move is offered that needs it.";
    question.ask = Ask::one;
    question.choices = {{kYes, ""}, {kNo, ""}};
    question.usual = kYes;
    ask(std::move(question));
  }

  void ask_walking() {
    const std::vector<std::string> places = all_places(rules_, form_.complete);
    for (std::size_t a = 0; a < places.size(); ++a) {
      for (std::size_t b = a + 1; b < places.size(); ++b) {
        Question question;
        question.key = walk_key(rules_, form_.complete, a, b);
        question.asks =
            fmt::format("How many minutes from {} to {}, one way?", places[a], places[b]);
        question.because = "Walk it once with a watch: a short way to and fro is what costs time.";
        question.ask = Ask::number;
        question.high = kMostMinutes;
        question.unit = "minutes";
        question.usual = fmt::format("{}", outlines_.walking_minutes);
        ask(std::move(question));
      }
    }
  }

  void ask_people() {
    Question question;
    question.key = kPeople;
    question.asks = "How many people look for a fault together?";
    question.because = "With two, one can move a cord while the other listens.";
    question.ask = Ask::one;
    question.choices = {{"1", "one person alone"}, {"2", "one acts while another listens"}};
    question.usual = std::to_string(outlines_.people);
    ask(std::move(question));
  }

  void ask_number(const std::string& key, const std::string& asks, const std::string& because,
                  const std::string& unit, double high, double usual) {
    Question question;
    question.key = key;
    question.asks = asks;
    question.because = because;
    question.ask = Ask::number;
    question.high = high;
    question.unit = unit;
    question.usual = fmt::format("{}", usual);
    question.above_low = key == kDaysPerYear;
    ask(std::move(question));
  }

  void ask_numbers() {
    if (rules_.use) {
      ask_number(kSessions, "How many sessions on a day of use?",
                 "It decides how many are in doubt after a fault, and how often a check pays.",
                 "sessions a day", kMostSessions, rules_.use->sessions_per_day);
      ask_number(kDaysPerYear, "On how many days of the year is it used?",
                 "Faults come by the year, checks by the day of use.", "days a year", kDaysOfYear,
                 rules_.use->days_per_year);
    }
    ask_number(kPassed, "How many days ago did every route last pass a check?",
               "The longer ago, the more may have gone bad. It counts until a check is on record.",
               "days", kMostDays, rules_.handling.default_days_since_pass);
    ask_number(kService, "How many minutes does a call to service cost?",
               "The time until it works again, as you would count it. The lower, the sooner "
               "whichlink hands over.",
               "minutes", kMostMinutes, rules_.prices.service_minutes);
  }

  const faults::Rules& rules_;
  const faults::Outlines& outlines_;
  const Answers& answers_;
  const Answers& usual_;
  Form form_;
};

}  // namespace

std::string kinds_key() {
  return kKinds;
}

Form form_of(const faults::Rules& rules, const Answers& answers, const Answers& usual) {
  return Asking(rules, answers, usual).go();
}

}  // namespace whichlink::draft
