#include "sheets/wall_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <set>

#include "moves/words.h"
#include "render/pages.h"

namespace whichlink::sheets {
namespace {

using chart::Blame;
using chart::End;
using chart::EndKind;
using chart::Row;
using chart::Step;

// A part is named beside an answer from this chance on; two at most, so that a row stays short
// (judged).
constexpr double kWorthNaming = 0.15;
constexpr std::size_t kMostNamed = 2;
// A chance that changes by less is no news (judged).
constexpr double kNews = 0.05;
// Answers that leave the chart in fewer of all cases share a line (judged).
constexpr double kOwnLine = 0.05;

const std::string kStop = "STOP";
const std::string kAsTold = "Stress the whole route, as told below.";
const std::string kService = "SERVICE";
const std::string kMended = "MENDED";
const std::string kNothing = "NOTHING FOUND";

std::string with_capital(std::string text) {
  if (!text.empty()) {
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  }
  return text;
}

double blame_of(const std::vector<Blame>& blame, const std::string& what) {
  for (const Blame& one : blame) {
    if (one.what == what) return one.chance;
  }
  return 0;
}

/// With blanks at which no line is broken.
std::string kept_whole(std::string text) {
  for (std::size_t at = text.find(' '); at != std::string::npos; at = text.find(' ', at)) {
    text.replace(at, 1, "\xC2\xA0");
  }
  return text;
}

std::string listed(const std::vector<std::string>& lines, const std::string& between) {
  std::string all;
  for (const std::string& line : lines) all += (all.empty() ? "" : between) + line;
  return all;
}

/// Several reports in one: levels that follow each other by their ends.
std::string reports(const moves::Setting& setting, RouteId route, SenseId sense_id,
                    const std::vector<std::size_t>& outcomes) {
  const faults::Rules& rules = setting.rules();
  const faults::Sense& sense = rules.senses[sense_id];
  const faults::Signal& signal = rules.signals[setting.chain().routes[route].signal];
  const auto level = [&](std::size_t outcome) {
    return outcome < sense.severities() ? sense.symptoms[outcome].drop_db : std::nullopt;
  };
  std::vector<std::string> words;
  for (std::size_t at = 0; at < outcomes.size();) {
    std::size_t last = at;
    while (level(outcomes[at]) && last + 1 < outcomes.size() &&
           outcomes[last + 1] == outcomes[last] + 1 && level(outcomes[last + 1])) {
      ++last;
    }
    words.push_back(last == at ? render::report_words(rules, signal, sense_id, outcomes[at])
                               : fmt::format("weak by about {:g} to {:g} dB", *level(outcomes[at]),
                                             *level(outcomes[last])));
    at = last + 1;
  }
  return listed(words, " / ");
}

/// Puts the words of one chart together.
class Wording {
 public:
  Wording(const moves::Setting& setting, const chart::Chart& chart)
      : setting_(setting), chart_(chart), runs_(chart::runs_of(chart)) {
    for (std::size_t run = 0; run < runs_.size(); ++run) {
      for (const std::size_t step : runs_[run]) box_of_[step] = run;
    }
  }

  WallChart put() {
    words_.route = setting_.chain().routes[chart_.complaint.route].name;
    words_.heard = words_of(setting_, chart_.complaint);
    words_.comes_to = comes_to();
    if (chart_.at_once) end_name(*chart_.at_once);
    if (!chart_.steps.empty()) {
      find_common();
      for (const auto& run : runs_) words_.boxes.push_back(box(run));
    }
    // Every chart can be left, whatever is heard.
    end_name(End{EndKind::program, 0, {}});
    std::stable_sort(words_.ends.begin(), words_.ends.end(),
                     [](const auto& a, const auto& b) { return rank(a.name) < rank(b.name); });
    const RouteId route = chart_.complaint.route;
    const SignalId signal = setting_.chain().routes[route].signal;
    words_.if_not_sure = "Listen once more. Still not sure: take the nearest answer, but not \"" +
                         reports(setting_, route, setting_.rules().signals[signal].sense, {0}) +
                         "\".";
    return std::move(words_);
  }

 private:
  [[nodiscard]] std::string comes_to() const {
    const chart::Numbers& numbers = chart_.numbers;
    std::string text =
        fmt::format("Of 100 such cases {} end on this page", of_hundred(1 - numbers.program));
    std::vector<std::string> kinds;
    if (numbers.mended > 0) kinds.push_back(of_hundred(numbers.mended) + " mended");
    if (numbers.nothing_found > 0) {
      kinds.push_back(of_hundred(numbers.nothing_found) + " with nothing found");
    }
    if (numbers.service > 0) kinds.push_back(of_hundred(numbers.service) + " at service");
    if (!kinds.empty()) text += " (" + listed(kinds, ", ") + ")";
    text += fmt::format("; a case takes {} here on average.", render::minutes(numbers.minutes));
    if (numbers.mended + numbers.nothing_found > 0) {
      text += fmt::format(" In {} of 100 the page says \"use it\" and the fault is still there.",
                          of_hundred(numbers.left_in));
    }
    return text;
  }

  // What all steps share is said once.
  void find_common() {
    std::map<std::string, std::size_t> listening;
    std::map<std::size_t, std::size_t> cautions;
    std::map<std::string, std::size_t> whole;
    for (const Step& step : chart_.steps) {
      ++listening[moves::attending(setting_, step.move)];
      for (const std::size_t caution : step.move.cautions) ++cautions[caution];
      if (std::holds_alternative<moves::StressRoute>(step.move.action)) ++whole[step.words];
      one_place_ = one_place_ && step.move.acts_at == chart_.steps.front().move.acts_at &&
                   step.move.ends_at == step.move.acts_at;
    }
    std::size_t most = 0;
    for (const auto& [words, count] : listening) {
      if (count <= most || words.empty()) continue;
      most = count;
      words_.listening = words;
    }
    for (const auto& [caution, count] : cautions) {
      if (count == chart_.steps.size()) {
        words_.every_time.push_back(setting_.rules().cautions[caution].words);
      } else {
        number_of_[caution] = words_.cautions.size();
        words_.cautions.push_back(setting_.rules().cautions[caution].words);
      }
    }
    most = 0;
    for (const auto& [words, count] : whole) {
      if (count <= most) continue;
      most = count;
      words_.whole_route = words;
    }
  }

  [[nodiscard]] std::string how(const Step& step) const {
    std::string text = step.words;
    if (std::holds_alternative<moves::Listen>(step.move.action)) {
      text = "Change nothing and listen again.";
    } else if (text == words_.whole_route) {
      text = kAsTold;
    }
    const std::string listening = moves::attending(setting_, step.move);
    if (!listening.empty() && listening != words_.listening) text += " Then: " + listening + ".";
    return text;
  }

  [[nodiscard]] WallBox box(const std::vector<std::size_t>& run) {
    const Step& first = chart_.steps[run.front()];
    const Step& last = chart_.steps[run.back()];
    WallBox box;
    if (run.size() == 1) {
      const std::string words = how(first);
      const std::size_t sentence = std::min(words.find(". "), words.size());
      box.title = words.substr(0, sentence + 1);
      if (sentence < words.size()) box.how = with_capital(words.substr(sentence + 2));
    } else {
      box.title = "One after the other:";
      box.series = series(run);
    }
    box.beside = beside(run);
    box.rows = rows(last, run.size() > 1);
    return box;
  }

  [[nodiscard]] std::string beside(const std::vector<std::size_t>& run) const {
    const Step& first = chart_.steps[run.front()];
    std::string text = kept_whole(
        fmt::format("{}, {} of 100.", render::minutes(first.minutes), of_hundred(first.chance)));
    if (!one_place_) text += " " + where(run) + ".";
    std::set<std::size_t> minds;
    for (const std::size_t step : run) {
      for (const std::size_t caution : chart_.steps[step].move.cautions) {
        const auto number = number_of_.find(caution);
        if (number != number_of_.end()) minds.insert(number->second + 1);
      }
    }
    std::string numbers;
    for (const std::size_t mind : minds) {
      numbers += (numbers.empty() ? "" : ", ") + std::to_string(mind);
    }
    if (!numbers.empty()) text += " Mind " + numbers + ".";
    return text;
  }

  // The same thing several times is one line.
  [[nodiscard]] std::vector<std::string> series(const std::vector<std::size_t>& run) const {
    std::vector<std::pair<std::string, std::size_t>> lines;
    for (const std::size_t step : run) {
      const std::string line = how(chart_.steps[step]);
      if (!lines.empty() && lines.back().first == line) {
        ++lines.back().second;
      } else {
        lines.emplace_back(line, 1);
      }
    }
    std::vector<std::string> words;
    for (auto& [line, times] : lines) {
      if (times > 1) line += fmt::format(" Do it {} times.", times);
      words.push_back(line);
    }
    return words;
  }
  [[nodiscard]] std::string where(const std::vector<std::size_t>& run) const {
    const chain::Chain& chain = setting_.chain();
    std::vector<std::string> places;
    for (const std::size_t step : run) {
      const moves::Move& move = chart_.steps[step].move;
      std::string place = chain.places[move.acts_at].name;
      if (move.ends_at != move.acts_at) {
        place += "; listen: " + chain.places[move.ends_at].name;
      }
      if (places.empty() || places.back() != place) places.push_back(place);
    }
    return with_capital(listed(places, "; then "));
  }

  // Where it goes on, only what is news; where it leaves the chart, whom to blame.
  [[nodiscard]] static std::string means(const Step& step, const Row& row) {
    const bool leaves =
        row.end && (row.end->kind == EndKind::program || row.end->kind == EndKind::service);
    if (row.end && !leaves) return "";
    std::vector<std::string> named;
    for (const Blame& one : row.blame) {
      if (one.chance < kWorthNaming || named.size() == kMostNamed) break;
      if (!leaves && std::abs(one.chance - blame_of(step.blame, one.what)) < kNews) continue;
      named.push_back(one.what + " " + kept_whole(render::percent(one.chance)));
    }
    std::string text = named.empty() ? "" : "likely " + listed(named, ", ");
    if (!row.cleared.empty()) {
      const std::size_t most = std::min(row.cleared.size(), kMostNamed);
      text += (text.empty() ? "not " : "; not ") +
              listed({row.cleared.begin(), row.cleared.begin() + static_cast<std::ptrdiff_t>(most)},
                     ", ");
    }
    return text;
  }

  // Answers that lead to the same box, or end alike and blame the same part first, are one line;
  // those that leave the chart and hardly ever come, too.
  [[nodiscard]] static std::vector<Row> fewer(const Step& step) {
    std::vector<Row> fewer;
    Row other;
    other.is_remnant = true;
    const auto first_blamed = [](const Row& row) {
      return row.blame.empty() || row.blame.front().chance < kWorthNaming ? ""
                                                                          : row.blame.front().what;
    };
    for (const Row& row : step.rows) {
      const bool leaves = row.end && row.end->kind == EndKind::program;
      if (row.is_remnant || (leaves && row.chance * step.chance < kOwnLine)) {
        other.outcomes.insert(other.outcomes.end(), row.outcomes.begin(), row.outcomes.end());
        continue;
      }
      const auto same = std::find_if(fewer.begin(), fewer.end(), [&](const Row& one) {
        if (one.outcomes.front() == 0 || row.outcomes.front() == 0) return false;
        if (row.next || one.next) return row.next == one.next;
        return one.end->kind == row.end->kind && (leaves || row.end->kind == EndKind::service) &&
               first_blamed(one) == first_blamed(row);
      });
      if (same == fewer.end()) {
        fewer.push_back(row);
      } else {
        add(row, *same);
      }
    }
    if (!other.outcomes.empty()) fewer.push_back(std::move(other));
    return fewer;
  }

  static void add(const Row& row, Row& to) {
    const double total = row.chance + to.chance;
    to.outcomes.insert(to.outcomes.end(), row.outcomes.begin(), row.outcomes.end());
    std::sort(to.outcomes.begin(), to.outcomes.end());
    chart::Mixture mixture;
    mixture.add(to.chance, to.blame);
    mixture.add(row.chance, row.blame);
    to.blame = mixture.blame();
    to.cleared.clear();
    to.chance = total;
  }

  [[nodiscard]] std::vector<WallRow> rows(const Step& step, bool is_run) {
    std::vector<WallRow> rows;
    for (const Row& row : fewer(step)) {
      WallRow words;
      if (row.is_remnant) {
        words.heard = "anything else";
        words.ends = end_name(End{EndKind::program, 0, {}});
        rows.push_back(std::move(words));
        continue;
      }
      words.heard = reports(setting_, step.move.heard_on, step.move.sense, row.outcomes);
      if (is_run && row.outcomes.front() == 0) words.heard += " each time";
      words.means = means(step, row);
      if (row.next) {
        words.box = box_of_.at(*row.next);
      } else {
        words.ends = end_name(*row.end);
      }
      rows.push_back(std::move(words));
    }
    return rows;
  }

  // The name of an end; ends of one kind that ask for different things have numbers.
  std::string end_name(const End& end) {
    const std::string words = end_words(end);
    for (const WallEnd& one : words_.ends) {
      if (one.words == words) return one.name;
    }
    const std::string kind = end_kind(end.kind);
    const auto before = std::count_if(words_.ends.begin(), words_.ends.end(), [&](const auto& one) {
      return one.name.compare(0, kind.size(), kind) == 0;
    });
    words_.ends.push_back({before == 0 ? kind : kind + " " + std::to_string(before + 1), words});
    return words_.ends.back().name;
  }

  static int rank(const std::string& name) {
    const std::vector<std::string> order{kMended, kNothing, kService, kStop};
    int rank = 0;
    for (const std::string& one : order) {
      if (name.compare(0, one.size(), one) == 0) break;
      ++rank;
    }
    return rank;
  }

  static const std::string& end_kind(EndKind kind) {
    switch (kind) {
      case EndKind::mended:
        return kMended;
      case EndKind::nothing_found:
        return kNothing;
      case EndKind::service:
        return kService;
      case EndKind::program:
        break;
    }
    return kStop;
  }

  [[nodiscard]] std::string end_words(const End& end) const {
    const std::string route = setting_.chain().routes[chart_.complaint.route].name;
    switch (end.kind) {
      case EndKind::mended:
        return "Sound, as far as can be heard." + chores(end) + " Then use " + route + " again.";
      case EndKind::nothing_found:
        return with_capital(route) + " stands every stress." + chores(end) +
               " Use it. If it comes back, start here again.";
      case EndKind::service:
        return "Put test plugs back. Keep " + route +
               " out of use. Tell service what was heard and done, which spares are in, and the "
               "likely "
               "parts beside your last answer.";
      case EndKind::program:
        break;
    }
    return "Put test plugs back. Keep " + route +
           " out of use. Go on with the program: give it your answers so far. Or call service.";
  }

  static std::string chores(const End& end) {
    std::string text;
    const auto add = [&](const std::string& title, const std::vector<std::string>& lines) {
      if (!lines.empty()) text += " " + title + ": " + listed(lines, "; ") + ".";
    };
    add("Put back", end.chores.put_back);
    add("Before use", end.chores.needs_after);
    add("Bad, label it and throw it out", end.chores.throw_out);
    add("Back to the drawer", end.chores.return_to_drawer);
    return text;
  }

  const moves::Setting& setting_;
  const chart::Chart& chart_;
  std::vector<std::vector<std::size_t>> runs_;
  std::map<std::size_t, std::size_t> box_of_;
  std::map<std::size_t, std::size_t> number_of_;
  bool one_place_ = true;
  WallChart words_;
};

}  // namespace

std::string of_hundred(double share) {
  const double hundred = share * 100;
  if (share <= 0) return "none";
  if (share >= 1) return "all";
  if (hundred < 0.5) return "under 1";
  if (hundred > 99.5) return "over 99";
  return std::to_string(std::lround(hundred));
}

std::string words_of(const moves::Setting& setting, const chart::Complaint& complaint) {
  const SignalId signal = setting.chain().routes[complaint.route].signal;
  return reports(setting, complaint.route, setting.rules().signals[signal].sense,
                 complaint.outcomes);
}

WallChart words_of(const moves::Setting& setting, const chart::Chart& chart) {
  return Wording(setting, chart).put();
}

}  // namespace whichlink::sheets
