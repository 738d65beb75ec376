#include "manual.h"

#include <vector>

#include "tree.h"

namespace whichlink::cli {
namespace {

/// As it stands, for a line of text.
std::string roff(const std::string& text) {
  std::string out;
  for (const char letter : text) {
    if (letter == '\\') {
      out += "\\e";
    } else if (letter == '-') {
      out += "\\-";
    } else {
      out += letter;
    }
  }
  const bool like_a_request = !out.empty() && (out.front() == '.' || out.front() == '\'');
  return (like_a_request ? "\\&" : "") + out;
}

std::string line(const std::string& text) {
  return roff(text) + "\n";
}

std::string section(const std::string& name) {
  return ".SH " + name + "\n";
}

std::string item(const std::string& tag, const std::string& text) {
  return ".TP\n" + tag + "\n" + line(text);
}

std::string bold(const std::string& text) {
  return "\\fB" + roff(text) + "\\fR";
}

std::string option_item(const CLI::Option& option) {
  std::string tag;
  for (const std::string& name : names_of(option)) tag += (tag.empty() ? "" : ", ") + bold(name);
  if (option.nonpositional() && takes_value(option))
    tag += " \\fI" + roff(value_name(option)) + "\\fR";
  std::string text = option.get_description();
  if (option.get_required()) text += " (needed)";
  return item(tag, text);
}

std::string command_part(const CLI::App& command, const std::string& before) {
  const std::string name = before + command.get_name();
  std::string usage = name;
  for (const CLI::Option* option : options_of(command)) {
    if (!option->nonpositional()) usage += " " + value_name(*option);
  }
  if (!commands_of(command).empty()) usage += " COMMAND";
  std::string out = ".SS " + roff(usage) + "\n" + line(command.get_description() + ".");
  for (const CLI::Option* option : options_of(command)) out += option_item(*option);
  for (const CLI::App* inner : commands_of(command)) out += command_part(*inner, name + " ");
  return out;
}

std::string example(const std::string& text, const std::string& command) {
  return line(text) + ".RS 4\n.nf\n" + line(command) + ".fi\n.RE\n.sp\n";
}

std::string fixed_parts() {
  return section("EXIT STATUS") + item("\\fB0\\fR", "Done.") +
         item("\\fB2\\fR", "Bad input: one line for each thing that is wrong, on standard error.") +
         section("ENVIRONMENT") +
         item(bold("XDG_DATA_HOME"),
              "The user's data folder, in which the record is; otherwise .local/share in HOME.") +
         item(bold("HOME"), "Where that folder is looked for.") +
         item(bold("NO_COLOR"), "No colour, whatever it is set to.") +
         item(bold("TERM"), "No colour where it is \"dumb\".") +
         item(bold("LC_ALL") + ", " + bold("LC_CTYPE") + ", " + bold("LANG"),
              "The first that is set: lines and bars are drawn with more than ASCII where it names "
              "UTF-8. Nothing else depends on it.") +
         section("FILES") +
         item(R"(\fIwhichlink/record.db\fR)",
              "The record, in the user's data folder: an SQLite file, its writing aid beside it.") +
         item(R"(\fI../share/whichlink/rules\fR, \fI../share/whichlink/models\fR)",
              "Rules, lessons and installations that come with whichlink, as seen from the "
              "program.") +
         section("EXAMPLES") +
         example("What an installation has, and what can be done there:",
                 "whichlink survey screening-set") +
         example("A guided case, from complaint to verified repair or hand-over:",
                 "whichlink isolate --model screening-set --route \"left phone\" --heard \"drops "
                 "out\"") +
         example("The check of every route:", "whichlink check --model screening-set") +
         example("A drill:", "whichlink drill --lesson 1 --against") + section("SEE ALSO") +
         line(
             "The folder doc/whichlink of the installation: file formats, the record, drills, "
             "spares, mathematics and sources.");
}

}  // namespace

std::string manual_of(const CLI::App& program) {
  std::string out = ".TH WHICHLINK 1 \"\" \"whichlink " WHICHLINK_VERSION "\" \"User commands\"\n";
  out += ".nh\n.ad l\n";
  out += section("NAME") + line("whichlink - find the bad link of an intermittent signal path");
  out += section("SYNOPSIS") + ".B whichlink\n" + line("[OPTION...] COMMAND [OPTION...]");
  out += section("DESCRIPTION") + line(program.get_description()) +
         line(
             "From a description of an installation it works out what a person there can do now, "
             "asks for the step that leads soonest to a verified repair, takes in what was heard, "
             "and keeps a chance for every possible fault.");
  out += section("OPTIONS");
  for (const CLI::Option* option : options_of(program)) out += option_item(*option);
  out += section("COMMANDS");
  for (const CLI::App* command : commands_of(program)) out += command_part(*command, "");
  return out + fixed_parts();
}

}  // namespace whichlink::cli
