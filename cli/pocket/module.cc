// The engine as the pocket page calls it. The page writes a text into the room that it was given,
// calls one of the functions with its length, and reads the answer: JSON in either direction.

#include <cstddef>
#include <memory>
#include <string>

#include "guide/case.h"
#include "load/load.h"
#include "pocket/rates.h"
#include "pocket/tree.h"
#include "render/pocket.h"

namespace whichlink::cli {
namespace {

/// All that lives on between two calls.
struct State {
  std::string text;    ///< what the page wrote
  std::string answer;  ///< what it is to read
  std::unique_ptr<moves::Installation> installation;
};

State& state() {
  static State one;
  return one;
}

Json problem_json(Problem problem) {
  problem.place = {};  // the page has no file to point into
  return {{"kind", "problem"}, {"line", to_line(problem)}};
}

// A value by its key, as the text of a tree; "null" where it is missing.
std::string tree_text(const Json& asked, const char* key) {
  return asked.contains(key) ? asked[key].dump() : "null";
}

Json installed(const Json& data) {
  const auto rules = load::rules_from(tree_text(data, "rules"), "rules");
  if (!rules) return problem_json(rules.error().front());
  auto installation =
      load::installation_from(tree_text(data, "installation"), "installation", *rules);
  if (!installation) return problem_json(installation.error().front());
  if (!data.contains("rates") || !put_rates(data["rates"], installation->rules)) {
    return problem_json({{}, "these are not the rates of these rules", "", ""});
  }
  state().installation = std::make_unique<moves::Installation>(std::move(*installation));
  return render::pocket_start(*state().installation);
}

// The advised move, or the candidate that was chosen.
moves::Move shown_move(const guide::Advice& advice, const Json& asked) {
  for (const plan::Candidate& one : advice.plan.candidates) {
    if (asked.contains("chosen") && asked["chosen"] == one.move.name) return one.move;
  }
  return *advice.move;
}

Json shown(const Json& asked) {
  if (!state().installation) return problem_json({{}, "there is no installation yet", "", ""});
  auto events = load::case_from(tree_text(asked, "case"), "case");
  if (!events) return problem_json(events.error().front());
  const auto one = guide::Case::open(*state().installation, std::move(*events));
  if (!one) return problem_json(one.error().front());
  const plan::Picture picture = (*one)->picture();
  const bool aside = asked.contains("aside") && asked["aside"] == true;
  const guide::Advice advice = aside ? guide::Advice{} : (*one)->advise();
  const bool goes_on = !aside && advice.stage == guide::Stage::under_way;
  Json json = goes_on ? render::pocket_step(**one, advice, picture, shown_move(advice, asked))
                      : render::pocket_ending(**one, advice.stage, picture);
  json["case"] = load::to_text((*one)->events());
  return json;
}

std::size_t answered(std::size_t length, Json (*answer)(const Json&)) {
  std::string& text = state().text;
  const Json asked =
      Json::parse(text.substr(0, length), nullptr, false);  // discarded: has no keys at all
  state().answer =
      (asked.is_object() ? answer(asked) : problem_json({{}, "this is no JSON", "", ""})).dump();
  return state().answer.size();
}

}  // namespace
}  // namespace whichlink::cli

// Not within the namespace: the page calls them by these names.
extern "C" {

/// Room for so many bytes of text.
char* whichlink_room(std::size_t bytes) {
  std::string& text = whichlink::cli::state().text;
  text.resize(bytes);
  return text.data();
}

/// Takes `{"rules": tree, "installation": tree, "rates": rates}`; answers with
/// render::pocket_start.
/// @return the answer's length in bytes
std::size_t whichlink_begin(std::size_t bytes) {
  return whichlink::cli::answered(bytes, whichlink::cli::installed);
}

/// Takes `{"case": tree of a case file, "chosen": name of a move, "aside": true}`, the last two
/// only where they are wanted; answers with a step, an ending, or `{"kind": "problem", "line":
/// text}`.
/// @return the answer's length in bytes
std::size_t whichlink_show(std::size_t bytes) {
  return whichlink::cli::answered(bytes, whichlink::cli::shown);
}

const char* whichlink_answer() {
  return whichlink::cli::state().answer.data();
}
}
