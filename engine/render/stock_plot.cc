#include <fmt/format.h>

#include <algorithm>

#include "render/stock_pages.h"
#include "render/svg.h"

namespace whichlink::render {
namespace {

/// Days lost a year over money, a step for each part bought, the first of them named.
class SparesPlot {
 public:
  SparesPlot(const StockTitle& title, const stock::Curve& curve, const stock::Answer& answer)
      : title_(title), curve_(curve), answer_(answer) {
    most_money_ = curve.steps.empty() ? 1 : std::max(1e-9, curve.steps.back().money);
    // Where next to nothing is left to save, the picture ends.
    for (const upkeep::Step& step : curve.steps) {
      if (step.lost > curve.steps.back().lost + .005 * curve.lost_at_first) continue;
      most_money_ = std::max(1e-9, step.money);
      break;
    }
    most_lost_ = std::max(1e-9, curve.lost_at_first * 1.05);
  }

  std::string draw() {
    svg_ = svg_start(kLeft + kWidth + 40, kTop + kHeight + 60 + legend_height(),
                     title_.name + ": days lost a year, by money spent on spares",
                     fmt::format("On top of what is there; money in {}", title_.money));
    axes();
    steps();
    legend();
    return svg_ + "</svg>\n";
  }

 private:
  static constexpr double kLeft = 70, kTop = 80, kWidth = 560, kHeight = 300;
  static constexpr std::size_t kMostNamed = 12;

  [[nodiscard]] double x(double money) const { return kLeft + kWidth * money / most_money_; }
  [[nodiscard]] double y(double lost) const { return kTop + kHeight * (1 - lost / most_lost_); }
  [[nodiscard]] std::vector<upkeep::Step> shown() const {
    std::vector<upkeep::Step> shown;
    for (const upkeep::Step& step : curve_.steps) {
      if (step.money <= most_money_ * (1 + 1e-12)) shown.push_back(step);
    }
    return shown;
  }
  [[nodiscard]] double legend_height() const {
    return 18.0 * static_cast<double>(std::min(kMostNamed, shown().size())) + 20;
  }

  // Ticks of a number that may be far below one.
  static double step_of(double largest) {
    double unit = 1;
    while (largest / unit < 1) unit /= 10;
    return tick_step(largest / unit) * unit;
  }

  void axes() {
    const double lost_step = step_of(most_lost_);
    for (double tick = 0; tick <= most_lost_; tick += lost_step) {
      svg_ += fmt::format(
          "<path d=\"M{:.0f} {:.1f}H{:.0f}\" stroke=\"#ddd\"/><text x=\"{:.0f}\" y=\"{:.1f}\" "
          "text-anchor=\"end\" fill=\"#555\">{:.3g}</text>\n",
          kLeft, y(tick), kLeft + kWidth, kLeft - 8, y(tick) + 4, tick);
    }
    const double money_step = step_of(most_money_);
    for (double tick = 0; tick <= most_money_; tick += money_step) {
      svg_ += fmt::format(
          "<path d=\"M{0:.1f} {1:.0f}V{2:.0f}\" stroke=\"#ddd\"/><text x=\"{0:.1f}\" "
          "y=\"{3:.0f}\" text-anchor=\"middle\" fill=\"#555\">{4:.4g}</text>\n",
          x(tick), kTop, kTop + kHeight, kTop + kHeight + 18, tick);
    }
  }

  void steps() {
    std::string path = fmt::format("M{:.1f} {:.1f}", x(0), y(curve_.lost_at_first));
    for (const upkeep::Step& step : shown()) {
      path += fmt::format("H{:.1f}V{:.1f}", x(step.money), y(step.lost));
    }
    svg_ += "<path d=\"" + path + "\" fill=\"none\" stroke=\"#222\" stroke-width=\"2\"/>\n";
    std::size_t number = 0;
    double last = -100;
    for (const upkeep::Step& step : shown()) {
      if (++number > kMostNamed) break;
      if (x(step.money) - last < 18) continue;  // a number on another would be read by nobody
      last = x(step.money);
      svg_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\">{}</text>\n", last + 4, y(step.lost) - 5,
                          number);
    }
    if (answer_.bought && answer_.bought->budget <= most_money_) {
      svg_ += fmt::format(
          "<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"5\" fill=\"none\" stroke=\"#222\" "
          "stroke-width=\"2\"/>\n",
          x(answer_.bought->list.money), y(answer_.bought->list.lost));
    }
  }

  void legend() {
    double at = kTop + kHeight + 48;
    std::size_t number = 0;
    for (const upkeep::Step& step : shown()) {
      if (++number > kMostNamed) break;
      svg_ += fmt::format(
          "<text x=\"{:.0f}\" y=\"{:.0f}\">{}: {}, {} of it: {:.4g} {} in all, {:.3g} days "
          "lost</text>\n",
          kLeft, at, number, escaped(curve_.parts[step.choice]), step.held, step.money,
          escaped(title_.money), step.lost);
      at += 18;
    }
  }

  const StockTitle& title_;
  const stock::Curve& curve_;
  const stock::Answer& answer_;
  double most_money_ = 1;
  double most_lost_ = 1;
  std::string svg_;
};

}  // namespace

std::string stock_plot(const StockTitle& title, const stock::Answer& answer) {
  return SparesPlot(title, *answer.curve, answer).draw();
}

}  // namespace whichlink::render
