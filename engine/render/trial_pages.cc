#include "render/trial_pages.h"

#include <fmt/format.h>

#include <algorithm>

#include "render/svg.h"

namespace whichlink::render {
namespace {

std::string about(const TrialTitle& title, const trial::Outcome& outcome) {
  return fmt::format(
      "{} cases of {} on {}, {:g} days since the last pass; hidden faults by the {} rates; seed {}",
      outcome.cases, title.heard.empty() ? "any complaint" : "\"" + title.heard + "\"", title.route,
      title.days_since_pass, title.truth, title.seed);
}

std::string with_interval(const trial::Estimate& one, int digits) {
  const double half = std::max(one.high - one.value, one.value - one.low);
  return fmt::format("{:.{}f} ±{:.{}f}", one.value, digits, half, digits);
}

std::string share(const trial::Estimate& one) {
  return fmt::format("{:.1f} % ({:.1f}-{:.1f})", one.value * 100, one.low * 100, one.high * 100);
}

Json estimate_json(const trial::Estimate& one) {
  return {{"value", one.value}, {"low", one.low}, {"high", one.high}};
}

std::string policy_words(const std::string& policy) {
  for (const trial::PolicyKind& kind : trial::policy_kinds()) {
    if (kind.name == policy) return kind.words;
  }
  return "";
}

}  // namespace

std::string trial_page(const TrialTitle& title, const trial::Outcome& outcome, const Style& style) {
  std::string out = heading(title.installation, style);
  out += wrapped(about(title, outcome) + ".", "", style.width);
  out += "\n" +
         dim("                  priced min     minutes: mean  median  95 %   moves  most", style);
  out += "\n";
  for (const trial::Score& one : outcome.scores) {
    out += fmt::format("  {:<16}{:<15}{:>13}{:>8.1f}{:>6.0f}{:>8.1f}{:>6}\n", one.policy,
                       with_interval(one.mean_priced, 1), with_interval(one.mean_minutes, 1),
                       one.median_minutes.value, one.late_minutes.value, one.mean_moves.value,
                       one.most_moves);
  }
  out += "\n" +
         dim("                  closed, fault still in   service called        parts for nothing",
             style);
  out += "\n";
  for (const trial::Score& one : outcome.scores) {
    out += fmt::format("  {:<16}{:<25}{:<22}{:>5.2f} a case\n", one.policy, share(one.left_in),
                       share(one.service), one.needless_parts.value);
  }
  out += "\n";
  for (const trial::Score& one : outcome.scores) {
    out += wrapped(policy_words(one.policy), "  " + padded(one.policy, 16), style.width);
  }
  out += wrapped(
      "Intervals hold 95 %. Priced minutes count parts, a call for service, and a fault "
      "left in.",
      "", style.width);
  return out;
}

Json trial_json(const TrialTitle& title, const trial::Outcome& outcome) {
  Json json = {{"installation", title.installation},
               {"route", title.route},
               {"heard", title.heard.empty() ? Json(nullptr) : Json(title.heard)},
               {"truth", title.truth},
               {"seed", title.seed},
               {"days_since_pass", title.days_since_pass},
               {"cases", outcome.cases}};
  Json policies = Json::array();
  for (const trial::Score& one : outcome.scores) {
    policies.push_back({{"policy", one.policy},
                        {"mean_minutes", estimate_json(one.mean_minutes)},
                        {"median_minutes", estimate_json(one.median_minutes)},
                        {"late_minutes", estimate_json(one.late_minutes)},
                        {"mean_priced_minutes", estimate_json(one.mean_priced)},
                        {"mean_moves", estimate_json(one.mean_moves)},
                        {"most_moves", one.most_moves},
                        {"needless_parts", estimate_json(one.needless_parts)},
                        {"service", estimate_json(one.service)},
                        {"left_in", estimate_json(one.left_in)}});
  }
  json["policies"] = policies;
  return json;
}

std::string trial_plot(const TrialTitle& title, const trial::Outcome& outcome) {
  constexpr double kLeft = 150;
  constexpr double kTop = 70;
  constexpr double kRow = 34;
  constexpr double kPlotWidth = 520;
  constexpr double kBar = 16;
  double largest = 1;
  for (const trial::Score& one : outcome.scores) largest = std::max(largest, one.mean_priced.high);
  const double step = tick_step(largest);
  const auto x = [&](double value) { return kLeft + value / largest * kPlotWidth; };
  const double bottom = kTop + kRow * static_cast<double>(outcome.scores.size());
  std::string svg = svg_start(kLeft + kPlotWidth + 90, bottom + 50,
                              title.installation + ": mean priced minutes to the end of a case",
                              about(title, outcome));
  for (double tick = 0; tick <= largest; tick += step) {
    svg += fmt::format(
        "<path d=\"M{0:.1f} {1:.0f}V{2:.0f}\" stroke=\"#ddd\"/><text x=\"{0:.1f}\" y=\"{3:.0f}\" "
        "text-anchor=\"middle\" fill=\"#555\">{4:g}</text>\n",
        x(tick), kTop, bottom, bottom + 18, tick);
  }
  double y = kTop;
  for (const trial::Score& one : outcome.scores) {
    const double middle = y + kRow / 2;
    const trial::Estimate& priced = one.mean_priced;
    svg += fmt::format(
        "<text x=\"{:.0f}\" y=\"{:.0f}\" text-anchor=\"end\">{}</text>\n"
        "<rect x=\"{:.0f}\" y=\"{:.0f}\" width=\"{:.1f}\" height=\"{:.0f}\" fill=\"#5b7f95\"/>\n"
        "<path d=\"M{:.1f} {:.0f}H{:.1f}\" stroke=\"#222\" stroke-width=\"2\"/>\n"
        "<text x=\"{:.1f}\" y=\"{:.0f}\">{:.1f}</text>\n",
        kLeft - 10, middle + 5, escaped(one.policy), kLeft, middle - kBar / 2,
        x(priced.value) - kLeft, kBar, x(priced.low), middle, x(priced.high), x(priced.high) + 8,
        middle + 5, priced.value);
    y += kRow;
  }
  svg += fmt::format(
      "<text x=\"{:.0f}\" y=\"{:.0f}\" fill=\"#555\">minutes; the line is the interval "
      "of 95 %</text>\n</svg>\n",
      kLeft, bottom + 38);
  return svg;
}

}  // namespace whichlink::render
