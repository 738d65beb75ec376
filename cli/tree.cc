#include "tree.h"

#include <algorithm>
#include <cctype>

namespace whichlink::cli {

std::vector<const CLI::App*> commands_of(const CLI::App& app) {
  std::vector<const CLI::App*> commands;
  for (const CLI::App* command : app.get_subcommands({})) commands.push_back(command);
  return commands;
}

std::vector<const CLI::Option*> options_of(const CLI::App& app) {
  std::vector<const CLI::Option*> options;
  for (const CLI::Option* option : app.get_options({})) options.push_back(option);
  return options;
}

std::vector<std::string> names_of(const CLI::Option& option) {
  std::vector<std::string> names;
  for (const std::string& name : option.get_snames()) names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) names.push_back("--" + name);
  if (names.empty()) names.push_back(value_name(option));
  return names;
}

bool takes_value(const CLI::Option& option) {
  return option.get_items_expected_max() > 0;
}

std::string value_name(const CLI::Option& option) {
  std::string name = option.get_lnames().empty() ? option.get_name() : option.get_lnames().front();
  std::transform(name.begin(), name.end(), name.begin(),
                 [](unsigned char letter) { return static_cast<char>(std::toupper(letter)); });
  return name;
}

}  // namespace whichlink::cli
