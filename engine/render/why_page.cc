// Why this move, what else was close, and what the search says of the rest.

#include <fmt/format.h>

#include "render/pages.h"

namespace whichlink::render {
namespace {

// What would turn the choice over.
std::string turning_words(const plan::Plan& plan, const plan::Candidate& chosen,
                          const plan::Candidate& next, const Style& style) {
  const double margin = next.expected_minutes - chosen.expected_minutes;
  std::string turn = "If it cannot be done (k), the next best comes first.";
  if (margin >= 0) {
    turn = "The next best comes first if this takes " + minutes(margin) +
           " more than reckoned, or cannot be done (k).";
  } else if (plan.ahead && plan.ahead->move && plan.ahead->move->name == chosen.move.name) {
    turn = "One step ahead the next best looks " + minutes(-margin) +
           " cheaper; searched to the end it is not. " + turn;
  }
  return wrapped(turn, "  ", style.width);
}

}  // namespace

std::string bounds_words(const plan::Ahead& ahead, const Style& style) {
  return wrapped(
      fmt::format("Searched to the end among the {} likeliest faults ({} of what may be wrong) and "
                  "the {} nearest ways of plugging: this plan {}, no plan can be under {}.",
                  ahead.faults, percent(ahead.kept), ahead.standings, minutes(ahead.upper),
                  minutes(ahead.lower)),
      "  ", style.width);
}

std::string why_page(const guide::Case& one, const guide::Advice& advice, const moves::Move& move,
                     const Style& style) {
  const moves::Setting& setting = one.setting();
  std::string out;
  const auto describe = [&](const plan::Candidate& candidate) {
    const faults::Signal& signal =
        setting.rules().signals[setting.chain().routes[candidate.move.heard_on].signal];
    out += wrapped(moves::short_words(setting, candidate.move) + ": " +
                       minutes(candidate.move.minutes) + " now, " +
                       minutes(candidate.expected_minutes) + " to the end, " +
                       fmt::format("{:.2f} bit", one.belief().bits(one.standing(), candidate.move)),
                   "  ", style.width);
    // A spare in the drawer may be likelier to be bad than anything on the route.
    const std::vector<bool> matters =
        plan::faults_that_matter(setting, moves::after(setting, one.standing(), candidate.move));
    for (std::size_t index = 0; index < candidate.prediction.size(); ++index) {
      const plan::PredictedOutcome& outcome = candidate.prediction[index];
      if (outcome.chance < 0.01) continue;
      std::size_t best = setting.unlisted_of(one.standing().route).value;
      for (std::size_t fault = 0; fault < outcome.present.size(); ++fault) {
        if (matters[fault] && outcome.present[fault] > outcome.present[best]) best = fault;
      }
      const bool crossed = outcome.crossed > outcome.present[best];
      const std::string suspect = crossed
                                      ? setting.rules().crossing->words
                                      : setting.words_of(FaultId{static_cast<std::uint32_t>(best)});
      const double chance = crossed ? outcome.crossed : outcome.present[best];
      out += wrapped(fmt::format("{}: something still wrong {}, first suspect {} {}",
                                 report_words(setting.rules(), signal, candidate.move.sense, index),
                                 percent(outcome.something_wrong), suspect, percent(chance)),
                     "    " + padded(percent(outcome.chance), 6), style.width);
    }
  };
  const plan::Candidate* chosen = nullptr;
  const plan::Candidate* next = nullptr;
  for (const plan::Candidate& candidate : advice.plan.candidates) {
    if (candidate.move.name == move.name) {
      chosen = &candidate;
    } else if (next == nullptr) {
      next = &candidate;
    }
  }
  if (chosen != nullptr) {
    out += heading("This move", style);
    describe(*chosen);
  }
  if (next != nullptr) {
    out += heading("The next best", style);
    describe(*next);
  }
  if (advice.plan.ahead) out += bounds_words(*advice.plan.ahead, style);
  if (chosen != nullptr && next != nullptr) {
    out += turning_words(advice.plan, *chosen, *next, style);
  }
  out += wrapped("Closing now would stand at " + minutes(advice.plan.close_minutes) +
                     " (the price of a fault left in, by its chance), calling service at " +
                     minutes(advice.plan.service_minutes) + ".",
                 "  ", style.width);
  return out;
}

}  // namespace whichlink::render
