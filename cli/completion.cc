#include "completion.h"

#include <algorithm>
#include <map>

#include "drill/lesson.h"
#include "faults/rules.h"
#include "plan/aim.h"
#include "record/entries.h"
#include "shell.h"
#include "tree.h"
#include "trial/draw.h"
#include "trial/policy.h"

namespace whichlink::cli {
namespace {

using Words = std::vector<std::string>;

/// What stands before the word that is completed.
struct Typed {
  const CLI::App* app = nullptr;             ///< the innermost command
  const CLI::Option* waiting = nullptr;      ///< takes the word as its value
  std::map<std::string, std::string> given;  ///< values by option
};

const CLI::Option* option_called(const CLI::App& app, const std::string& name) {
  for (const CLI::Option* option : options_of(app)) {
    const Words names = names_of(*option);
    if (std::find(names.begin(), names.end(), name) != names.end()) return option;
  }
  return nullptr;
}

Typed typed(const CLI::App& program, const Words& words) {
  Typed found{&program, nullptr, {}};
  for (std::size_t index = 0; index + 1 < words.size(); ++index) {
    const std::string& word = words[index];
    if (word == "=") continue;  // bash parts --model=NAME
    if (found.waiting != nullptr) {
      found.given[names_of(*found.waiting).back()] = word;
      found.waiting = nullptr;
      continue;
    }
    if (const CLI::Option* option = option_called(*found.app, word)) {
      if (takes_value(*option)) found.waiting = option;
      continue;
    }
    for (const CLI::App* command : commands_of(*found.app)) {
      if (command->get_name() == word) found.app = command;
    }
  }
  return found;
}

moves::Installation model_in(const Typed& before) {
  const auto model = before.given.find("--model");
  return load_installation(model == before.given.end() ? "" : model->second);
}

Words routes_in(const Typed& before) {
  Words names;
  for (const chain::Route& route : model_in(before).chain.routes) names.push_back(route.name);
  return names;
}

// Of the route that was chosen, or of all.
Words symptoms_in(const Typed& before) {
  const moves::Installation installation = model_in(before);
  const auto asked = before.given.find("--route");
  Words names;
  for (const chain::Route& route : installation.chain.routes) {
    if (asked != before.given.end() && asked->second != route.name) continue;
    const faults::Sense& sense =
        installation.rules.senses[installation.rules.signals[route.signal].sense];
    for (const faults::Symptom& symptom : sense.symptoms) names.push_back(symptom.name);
    if (sense.elsewhere) names.push_back(sense.elsewhere->name);
  }
  return names;
}

Words listeners_in(const Typed& before) {
  Words names;
  for (const faults::Sense& sense : model_in(before).rules.senses) {
    for (const faults::Listener& listener : sense.listeners) names.push_back(listener.name);
  }
  return names;
}

Words lists_in(const Typed& before) {
  const moves::Installation installation = model_in(before);
  Words names;
  if (!installation.rules.routine) return names;
  for (const faults::RoutineList& list : installation.rules.routine->lists) {
    names.push_back(list.name);
  }
  return names;
}

Words couplers_in(const Typed& before) {
  const moves::Installation installation = model_in(before);
  Words names;
  if (!installation.rules.routine) return names;
  for (const faults::ReferenceLevels& one : installation.rules.routine->levels) {
    names.push_back(one.name);
  }
  return names;
}

Words lessons_in(const Typed& before) {
  const auto file = before.given.find("--lessons");
  Words names;
  for (const drill::Lesson& one :
       load_lessons(file == before.given.end() ? "" : file->second).lessons) {
    names.push_back(one.name);
  }
  return names;
}

Words policies() {
  Words names;
  for (const trial::PolicyKind& one : trial::policy_kinds()) names.push_back(one.name);
  return names;
}

/// Values by the name of what takes them; any other is a file's, or nothing that can be known.
Words values_of(const CLI::Option& option, const Typed& before) {
  const std::string name = names_of(option).back();
  if (name == "--model" || name == "MODEL") return known_models();
  if (name == "--route") return routes_in(before);
  if (name == "--heard") return symptoms_in(before);
  if (name == "--listener") return listeners_in(before);
  if (name == "--list") return lists_in(before);
  if (name == "--coupler") return couplers_in(before);
  if (name == "--lesson") return lessons_in(before);
  if (name == "--rules") return known_rules();
  if (name == "--aim") return plan::aim_names();
  if (name == "--policy") return policies();
  if (name == "--truth") return trial::rates_names();
  if (name == "--format") return {"json", "pomdp"};
  if (name == "--ending") return record::ending_names();
  return {};
}

Words names_in(const CLI::App& app, bool options) {
  Words names;
  if (options) {
    for (const CLI::Option* option : options_of(app)) {
      if (option->nonpositional()) names.push_back(names_of(*option).back());
    }
  } else {
    for (const CLI::App* command : commands_of(app)) names.push_back(command->get_name());
  }
  return names;
}

Words candidates(const Typed& before, const std::string& begun) {
  if (before.waiting != nullptr) return values_of(*before.waiting, before);
  if (begun.rfind('-', 0) == 0) return names_in(*before.app, true);
  Words names = names_in(*before.app, false);
  for (const CLI::Option* option : options_of(*before.app)) {
    if (option->nonpositional()) continue;
    const Words values = values_of(*option, before);
    names.insert(names.end(), values.begin(), values.end());
  }
  return names;
}

const char* const kBash = R"sh(# Completion of whichlink for bash: asks the program.
_whichlink() {
  local current=${COMP_WORDS[COMP_CWORD]} candidate
  local -a words=() candidates=()
  for candidate in "${COMP_WORDS[@]:1:COMP_CWORD}"; do
    words+=("${candidate//[\\\"\']/}")
  done
  mapfile -t candidates < <("${COMP_WORDS[0]}" complete "${words[@]}" 2>/dev/null)
  COMPREPLY=()
  for candidate in "${candidates[@]}"; do
    if [[ $current == [\"\']* ]]; then
      COMPREPLY+=("$candidate")
    else
      COMPREPLY+=("$(printf %q "$candidate")")
    fi
  done
}
complete -o default -F _whichlink whichlink
)sh";

const char* const kZsh = R"sh(#compdef whichlink
# Completion of whichlink for zsh: asks the program.
_whichlink() {
  local -a candidates
  candidates=("${(@f)$("${words[1]}" complete "${(@Q)words[2,CURRENT]}" 2>/dev/null)}")
  if [[ -n ${candidates[1]} ]]; then
    compadd -- "${candidates[@]}"
  else
    _files
  fi
}
if [[ ${funcstack[1]} == _whichlink ]]; then _whichlink "$@"; else compdef _whichlink whichlink; fi
)sh";

const char* const kFish = R"sh(# Completion of whichlink for fish: asks the program.
function __whichlink
  set -l words (commandline -opc) (commandline -ct)
  $words[1] complete $words[2..-1] 2>/dev/null
end
complete -c whichlink -a '(__whichlink)'
)sh";

}  // namespace

std::vector<std::string> completions(const CLI::App& program, const Words& words) {
  const std::string begun = words.empty() || words.back() == "=" ? "" : words.back();
  Words fitting;
  for (const std::string& name : candidates(typed(program, words), begun)) {
    const bool fits = name.rfind(begun, 0) == 0;
    if (fits && std::find(fitting.begin(), fitting.end(), name) == fitting.end()) {
      fitting.push_back(name);
    }
  }
  return fitting;
}

std::string completion_script(const std::string& shell) {
  if (shell == "bash") return kBash;
  if (shell == "zsh") return kZsh;
  return shell == "fish" ? kFish : "";
}

}  // namespace whichlink::cli
