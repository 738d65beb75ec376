#include "render/pomdp.h"

#include <array>
#include <charconv>

namespace whichlink::render {
namespace {

// Solvers want less than 1. A case of a hundred moves costs a hundredth of a per cent less by it.
constexpr double kDiscount = 0.999999;

// The format asks for a digit before and after the point, and its readers differ about exponents.
std::string decimal(double value) {
  if (value == 0) return "0.0";  // no sign
  std::array<char, 400> digits{};
  const auto [end, error] =
      std::to_chars(digits.begin(), digits.end(), value, std::chars_format::fixed);
  std::string text(digits.begin(), error == std::errc() ? end : digits.begin());
  if (text.find('.') == std::string::npos) text += ".0";
  return text;
}

// A comment ends with its line, whatever a name holds.
std::string on_one_line(std::string words) {
  for (char& letter : words) {
    if (static_cast<unsigned char>(letter) < ' ') letter = '?';
  }
  return words;
}

class Writer {
 public:
  Writer(const moves::Setting& setting, const flat::Process& process)
      : setting_(setting), chain_(setting.chain()), process_(process) {}

  std::string text() {
    about();
    preamble();
    for (std::size_t action = 0; action < process_.next.size(); ++action) numbers_of(action);
    return std::move(text_);
  }

 private:
  [[nodiscard]] std::string state(std::size_t index) const {
    return index == process_.end() ? "end" : "s" + std::to_string(index);
  }
  [[nodiscard]] std::string action(std::size_t index) const {
    if (index == process_.close()) return "close";
    return index == process_.service() ? "service" : "a" + std::to_string(index);
  }
  [[nodiscard]] std::string observation(std::size_t index) const {
    return index == process_.nothing() ? "nothing" : "o" + std::to_string(index);
  }

  void comment(const std::string& words) { text_ += "# " + on_one_line(words) + "\n"; }

  // Each plug that sits elsewhere than in `usual`.
  [[nodiscard]] std::string moved_plugs(const chain::Patching& patching,
                                        const chain::Patching& usual) const {
    std::string words;
    for (const ElementId plug : chain_.elements.ids()) {
      const auto jack = patching.plug_in[plug];
      if (jack == usual.plug_in[plug]) continue;
      words += "; " + chain_.elements[plug].name;
      words += jack ? " in " + chain_.elements[*jack].name : " hangs free";
    }
    return words;
  }

  void about() {
    comment(setting_.installation().name);
    comment("values: minutes, negative; what is not given is 0");
    for (std::size_t index = 0; index < process_.faults.size(); ++index) {
      comment("f" + std::to_string(index) + " = " + setting_.name_of(process_.faults[index]));
    }
    for (std::size_t index = 0; index < process_.grounds.standings.size(); ++index) {
      const moves::Standing& standing = process_.grounds.standings[index];
      const std::string to_go = standing.temporary ? "; to be put back" : "";
      comment("standing " + std::to_string(index) + " = at " + chain_.places[standing.place].name +
              to_go + moved_plugs(standing.patching, chain_.home));
    }
    for (std::size_t index = 0; index < process_.moves.size(); ++index) {
      comment(action(index) + " = " + process_.moves[index]);
    }
    for (std::size_t index = 0; index < process_.observations.size(); ++index) {
      comment(observation(index) + " = " + name_of(process_.observations[index]));
    }
    for (std::size_t index = 0; index < process_.states.size(); ++index) about_state(index);
  }

  [[nodiscard]] std::string name_of(const flat::Observation& observation) const {
    const faults::Sense& sense = setting_.rules().senses[observation.sense];
    return sense.name + "." + sense.outcome_name(observation.outcome);
  }

  void about_state(std::size_t index) {
    const flat::State& one = process_.states[index];
    const flat::Ground& ground = process_.grounds.grounds[one.ground];
    std::string words = state(index) + " = standing " + std::to_string(ground.standing);
    for (std::size_t fault = 0; fault < one.faults.size(); ++fault) {
      if (one.faults[fault] == belief::kAbsent) continue;
      words += "; f" + std::to_string(fault) +
               (one.faults[fault] == belief::kQuiet ? " quiet" : " showing");
    }
    const std::string otherwise =
        moved_plugs(ground.real, process_.grounds.standings[ground.standing].patching);
    if (!otherwise.empty()) words += "; really" + otherwise.substr(1);
    comment(words);
  }

  void preamble() {
    text_ += "discount: " + decimal(kDiscount) + "\nvalues: reward\nstates:";
    for (std::size_t index = 0; index <= process_.end(); ++index) text_ += " " + state(index);
    text_ += "\nactions:";
    for (std::size_t index = 0; index < process_.next.size(); ++index) {
      text_ += " " + action(index);
    }
    text_ += "\nobservations:";
    for (std::size_t index = 0; index <= process_.nothing(); ++index) {
      text_ += " " + observation(index);
    }
    text_ += "\nstart:";
    for (const double chance : process_.start) text_ += " " + decimal(chance);
    text_ += "\n";
  }

  void numbers_of(std::size_t index) {
    const std::string name = action(index);
    if (index == process_.close() || index == process_.service()) {
      text_ += "T: " + name + " : * : end 1.0\nO: " + name + " : * : nothing 1.0\n";
    } else {
      for (std::size_t from = 0; from <= process_.end(); ++from) {
        for (const flat::Entry& to : process_.next[index][from]) {
          text_ += "T: " + name + " : " + state(from) + " : " + state(to.index) + " " +
                   decimal(to.chance) + "\n";
        }
      }
      for (std::size_t to = 0; to <= process_.end(); ++to) {
        for (const flat::Entry& what : process_.reports[index][to]) {
          text_ += "O: " + name + " : " + state(to) + " : " + observation(what.index) + " " +
                   decimal(what.chance) + "\n";
        }
      }
    }
    for (std::size_t from = 0; from < process_.end(); ++from) {
      text_ += "R: " + name + " : " + state(from) + " : * : * " +
               decimal(-process_.minutes[index][from]) + "\n";
    }
  }

  const moves::Setting& setting_;
  const chain::Chain& chain_;
  const flat::Process& process_;
  std::string text_;
};

}  // namespace

std::string pomdp_text(const moves::Setting& setting, const flat::Process& process) {
  return Writer(setting, process).text();
}

}  // namespace whichlink::render
