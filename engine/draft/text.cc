#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "draft/draft.h"
#include "draft/keys.h"

namespace whichlink::draft {
namespace {

constexpr std::size_t kColumns = 100;

/// A name or a text as YAML takes it, between brackets too.
std::string quoted(const std::string& text) {
  static constexpr const char* kPlain =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789 ._-";
  const auto is_letter = [](char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= 'A' && letter <= 'Z');
  };
  std::string lower;
  for (const char letter : text) {
    lower += (letter >= 'A' && letter <= 'Z') ? static_cast<char>(letter - 'A' + 'a') : letter;
  }
  static const std::vector<std::string> kOther = {"null", "true", "false", "yes", "no",
                                                  "on",   "off",  "y",     "n"};
  const bool is_plain = !text.empty() && is_letter(text.front()) && text.back() != ' ' &&
                        text.find_first_not_of(kPlain) == std::string::npos &&
                        std::find(kOther.begin(), kOther.end(), lower) == kOther.end();
  if (is_plain) return text;
  std::string out = "\"";
  for (const char letter : text) {
    if (letter == '"' || letter == '\\') out += '\\';
    out += letter;
  }
  return out + "\"";
}

std::string comment(const std::string& text, const std::string& indent) {
  std::istringstream words(text);
  std::string out;
  std::string line = indent + "#";
  for (std::string word; words >> word;) {
    if (line.size() + 1 + word.size() > kColumns && line.size() > indent.size() + 1) {
      out += line + "\n";
      line = indent + "#";
    }
    line += " " + word;
  }
  return out + line + "\n";
}

class Writing {
 public:
  Writing(const Draft& draft, const std::string& rules_name)
      : draft_(draft), sketch_(draft.sketch), rules_name_(rules_name) {}

  std::string go() {
    write_head();
    write_walking();
    write_parts();
    write_joints("fixed", "Soldered, screwed or built in: nobody unplugs these.", &Sketch::fixed);
    write_joints("switched", "The source connects the first with the second when it selects it.",
                 &Sketch::switched);
    write_joints("plugged", "What staff can unplug: the plug first, then its jack.",
                 &Sketch::plugged);
    write_routes();
    write_spares();
    write_numbers();
    write_find_out();
    return std::move(out_);
  }

 private:
  /// "  # not known: taken as 10", where somebody did not know.
  [[nodiscard]] std::string guess(const std::string& key) const {
    for (const Guess& one : draft_.unknown) {
      if (one.question.key != key) continue;
      const std::string value = typed(one.question, one.said);
      return "  # not known: taken as " + value;
    }
    return "";
  }

  /// Ways of connecting it that nobody knew, a line each.
  [[nodiscard]] std::string guesses(const Block& block) const {
    std::string lines;
    for (const Guess& one : draft_.unknown) {
      const bool is_way = !block.name.empty() && one.question.key.rfind(block.name + ": ", 0) == 0;
      if (is_way) lines += comment("not known how: taken as " + one.said.value, "    ");
    }
    return lines;
  }

  void write_head() {
    out_ +=
        "# What is where, and how it is plugged. A line that begins with # is for people only.\n";
    out_ += fmt::format("installation: {}{}\n", quoted(sketch_.name), guess(kName));
    out_ += fmt::format("about: {}{}\n", quoted(sketch_.about), guess(kAbout));
    out_ += fmt::format("rules: {}\n", quoted(rules_name_));
    out_ += "source: said by whoever made this file; what nobody knew is marked\n";
    out_ += fmt::format("people: {}{}\n", sketch_.people, guess(kPeople));
    out_ += fmt::format("start: {}\n", quoted(sketch_.start));
    std::string places;
    for (const std::string& place : sketch_.places) {
      places += (places.empty() ? "" : ", ") + quoted(place);
    }
    out_ += fmt::format("places: [{}]{}\n", places, guess(kPlaces));
  }

  void write_walking() {
    if (sketch_.walking.empty()) return;
    out_ += "# One way, walked with a watch.\nwalking:\n";
    for (const Sketch::Walk& walk : sketch_.walking) {
      std::string unknown;
      for (const Guess& one : draft_.unknown) {
        if (one.question.asks.find(walk.from + " to " + walk.to) != std::string::npos) {
          unknown = guess(one.question.key);
        }
      }
      out_ += fmt::format("  - {{between: [{}, {}], minutes: {}}}{}\n", quoted(walk.from),
                          quoted(walk.to), walk.minutes, unknown);
    }
  }

  static std::string part_text(const Sketch::Part& part) {
    if (part.piece_places.empty()) {
      return fmt::format("    {}: {}\n", quoted(part.name), quoted(part.kind));
    }
    std::string places;
    for (const auto& [piece, place] : part.piece_places) {
      places += fmt::format("{}{}: {}", places.empty() ? "" : ", ", quoted(piece), quoted(place));
    }
    return fmt::format("    {}:\n      kind: {}\n      place of: {{{}}}\n", quoted(part.name),
                       quoted(part.kind), places);
  }

  void write_parts() {
    out_ += "\n# Every part by the place where it is.\nparts:\n";
    for (const std::string& place : sketch_.places) {
      std::string here;
      for (const Block& block : draft_.blocks) {
        std::string text;
        for (const Sketch::Part& part : block.own.parts) {
          if (part.place == place) text += part_text(part);
        }
        if (!text.empty()) here += comment(block.words, "    ") + guesses(block) + text;
      }
      if (!here.empty()) out_ += fmt::format("  {}:\n{}", quoted(place), here);
    }
  }

  void write_joints(const std::string& key, const std::string& words,
                    std::vector<Sketch::Joint> Sketch::*joints) {
    if ((sketch_.*joints).empty()) return;
    out_ += "\n" + comment(words, "") + key + ":\n";
    for (const Block& block : draft_.blocks) {
      if ((block.own.*joints).empty()) continue;
      out_ += comment(block.words, "  ");
      const bool is_plugged = key == "plugged";
      if (is_plugged && !block.look.empty()) out_ += comment("Look: " + block.look, "  ");
      for (const auto& [a, b] : block.own.*joints) {
        out_ += fmt::format("  - [{}, {}]\n", quoted(a), quoted(b));
      }
    }
  }

  void write_routes() {
    out_ += "\n# The ways that a signal takes, from its source to where it is noticed.\nroutes:\n";
    for (const Sketch::Route& route : sketch_.routes) {
      out_ += fmt::format("  {}:\n    from: {}\n    to: {}\n", quoted(route.name),
                          quoted(route.from), quoted(route.to));
      if (!route.selects.empty()) out_ += fmt::format("    selects: {}\n", quoted(route.selects));
      out_ += fmt::format("    signal: {}\n", quoted(route.signal));
      if (!route.side.empty()) out_ += fmt::format("    side: {}\n", route.side);
      if (!route.pair.empty()) out_ += fmt::format("    pair: {}\n", quoted(route.pair));
    }
  }

  void write_spares() {
    if (sketch_.spares.empty()) return;
    out_ += "\n# What can be put in to find out, and what is known of it.\nspares:\n";
    std::map<std::string, std::size_t> counts;
    for (const Sketch::Spare& spare : sketch_.spares) {
      const std::size_t number = ++counts[spare.kind];
      out_ += fmt::format("  {}: {{kind: {}, state: {}, place: {}}}{}\n", quoted(spare.name),
                          quoted(spare.kind), quoted(spare.state), quoted(spare.place),
                          guess(spare_key(spare.kind, number, kState)));
    }
  }

  void write_numbers() {
    out_ += "\n";
    if (!sketch_.has_meter) {
      out_ += "# No meter: no move is offered that needs one.\nmeter: false" + guess(kMeter) + "\n";
    }
    out_ += "# Counts for a route until a check of it is on record.\n";
    out_ += fmt::format("days since pass: {}{}\n", sketch_.days_since_pass, guess(kPassed));
    if (sketch_.sessions_per_day) {
      out_ += "use:\n";
      out_ += fmt::format("  sessions a day: {}{}\n", *sketch_.sessions_per_day, guess(kSessions));
      out_ += fmt::format("  days a year: {}{}\n", *sketch_.days_per_year, guess(kDaysPerYear));
      out_ += fmt::format("  spoilt session minutes: {}\n", *sketch_.spoilt_minutes);
      out_ +=
          "  source: as said; what is marked, and minutes of a spoilt session, as in the rules\n";
    }
    out_ += "prices:\n";
    out_ += fmt::format("  miss minutes: {}\n", sketch_.miss_minutes);
    out_ += fmt::format("  service minutes: {}{}\n", sketch_.service_minutes, guess(kService));
    out_ += "  source: service as said, if not marked; a miss as in the rules\n";
  }

  void write_find_out() {
    if (draft_.unknown.empty()) return;
    out_ += "\n# Find out:\n";
    for (const Guess& one : draft_.unknown) {
      out_ += comment(
          fmt::format("- {} (taken as: {})", one.question.asks, typed(one.question, one.said)), "");
    }
  }

  const Draft& draft_;
  const Sketch& sketch_;
  const std::string& rules_name_;
  std::string out_;
};

}  // namespace

std::string to_text(const Draft& draft, const std::string& rules_name) {
  return Writing(draft, rules_name).go();
}

}  // namespace whichlink::draft
