#include "upkeep/onset.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "upkeep/decay.h"

namespace whichlink::upkeep {
namespace {

// Integral of e^(-rate s) over s from 0 to `length`.
double decayed(double rate, double length) {
  return length * mean_decay(rate * length);
}

}  // namespace

Onset::Onset(double rate_per_day, double start_day, double found_day,
             std::vector<PassedCheck> passed)
    : rate_(rate_per_day), found_(found_day) {
  std::erase_if(passed, [&](const PassedCheck& check) {
    return !(check.day > start_day && check.day < found_day);
  });
  std::sort(passed.begin(), passed.end(),
            [](const PassedCheck& a, const PassedCheck& b) { return a.day < b.day; });

  // From the last piece to the first, in logarithms: neither a thousand passes nor a large rate
  // makes all of them 0.
  std::vector<double> log_mass;
  double end = found_day;
  double log_passed = 0;
  const auto add = [&](double begin) {
    if (begin < end) {
      pieces_.push_back({begin, end - begin});
      log_mass.push_back(log_passed - rate_ * (begin - start_day) +
                         std::log(decayed(rate_, end - begin)));
    }
    end = begin;
  };
  for (; !passed.empty(); passed.pop_back()) {
    add(passed.back().day);
    // After a pass that could not but fail, minus infinity: what lies before it has no mass.
    log_passed += std::log1p(-std::min(1.0, passed.back().chance_found));
  }
  add(start_day);

  double most = -std::numeric_limits<double>::infinity();
  for (const double one : log_mass) most = std::max(most, one);
  double sum = 0;
  for (std::size_t index = 0; index < pieces_.size(); ++index) {
    pieces_[index].mass = std::exp(log_mass[index] - most);
    sum += pieces_[index].mass;
  }
  std::reverse(pieces_.begin(), pieces_.end());
  double before = 0;
  for (Piece& piece : pieces_) {
    piece.mass /= sum;
    piece.before = before;
    before += piece.mass;
  }
}

double Onset::begun_by(double day) const {
  if (day >= found_) return 1;
  const auto next =
      std::upper_bound(pieces_.begin(), pieces_.end(), day,
                       [](double value, const Piece& piece) { return value < piece.begin; });
  if (next == pieces_.begin()) return 0;
  const Piece& piece = *std::prev(next);
  const double share = decayed(rate_, day - piece.begin) / decayed(rate_, piece.length);
  return std::min(1.0, piece.before + piece.mass * share);
}

double Onset::mean() const {
  if (pieces_.empty()) return found_;
  double sum = 0;
  for (const Piece& piece : pieces_)
    sum += piece.mass * (piece.begin + mean_onset(rate_, piece.length));
  return sum;
}

double Onset::quantile(double chance) const {
  if (pieces_.empty() || chance >= 1) return found_;
  const auto next =
      std::upper_bound(pieces_.begin(), pieces_.end(), chance,
                       [](double value, const Piece& piece) { return value < piece.before; });
  const Piece& piece = next == pieces_.begin() ? pieces_.front() : *std::prev(next);
  const double share =
      piece.mass > 0 ? std::clamp((chance - piece.before) / piece.mass, 0.0, 1.0) : 0;
  const double x = rate_ * piece.length;
  // The share of the piece's mass that lies in its first d days is (1 - e^(-rate d)) / (1 - e^-x).
  const double part = x > 0 ? -std::log1p(share * std::expm1(-x)) / x : share;
  return piece.begin + piece.length * std::min(1.0, part);
}

double mean_onset(double rate_per_day, double window) {
  const double x = rate_per_day * window;
  // Two forms of the same number, each where it loses no digits.
  if (x < 1) return window * (1 - mean_loss(x) / mean_decay(x));
  return window * (1 / x - 1 / std::expm1(x));
}

}  // namespace whichlink::upkeep
