#include "upkeep/demand.h"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <cstdint>
#include <numeric>

namespace whichlink::upkeep {

struct Demand::Sources {
  /// A negative binomial count: chance of none (1 + odds)^-shape.
  struct Unsure {
    double shape;
    double odds;  ///< mean count for each unit of shape, above 0
  };
  std::vector<Unsure> unsure;
  double sure = 0;  ///< mean of what is Poisson

  [[nodiscard]] double widest() const {
    double widest = 0;
    for (const Unsure& one : unsure) widest = std::max(widest, one.odds);
    return widest;
  }
  /// Logarithm of E (1 + x)^X, which is finite for x below 1 / widest(). At -1, of the chance of
  /// none.
  [[nodiscard]] double log_generating(double x) const {
    double sum = sure * x;
    for (const Unsure& one : unsure) sum -= one.shape * std::log1p(-one.odds * x);
    return sum;
  }
  [[nodiscard]] std::size_t last_term() const;
  [[nodiscard]] std::vector<double> weights(std::size_t last) const;
};

/// The count that is exceeded with a chance below 1e-25, by Chernoff's bound P(X > n) <= E (1 +
/// x)^X / (1 + x)^(n + 1): true for each x, and best at the one valley of the n that it asks for.
std::size_t Demand::Sources::last_term() const {
  constexpr double kLogRest = 57.6;
  constexpr double kInside = 1 - 1e-9;
  constexpr double kLowest = 1e-6;
  constexpr double kHighest = 1e6;
  const double highest = std::min(kHighest, kInside / widest());
  const auto asked_for = [&](double log_x) {
    const double x = std::exp(log_x);
    return (log_generating(x) + kLogRest) / std::log1p(x);
  };
  constexpr int kBits = 10;
  std::uintmax_t most_steps = 20;
  const double least =
      boost::math::tools::brent_find_minima(asked_for, std::log(std::min(kLowest, highest / 2)),
                                            std::log(highest), kBits, most_steps)
          .second;
  return least < kMostAskedFor ? static_cast<std::size_t>(std::ceil(least)) : kMostAskedFor;
}

/// Coefficients of G'(z) / G(z), G being the generating function of the count: sum over streams of
/// shape q^(j + 1) with q = odds / (1 + odds). Those of no account are left out.
std::vector<double> Demand::Sources::weights(std::size_t last) const {
  constexpr double kNothing = 1e-200;
  std::vector<double> powers;
  std::vector<double> ratios;
  for (const Unsure& one : unsure) {
    ratios.push_back(one.odds / (1 + one.odds));
    powers.push_back(one.shape);
  }
  std::vector<double> weights;
  while (weights.size() < last) {
    double sum = weights.empty() ? sure : 0;
    for (std::size_t index = 0; index < powers.size(); ++index) {
      powers[index] *= ratios[index];
      if (powers[index] < kNothing) powers[index] = 0;
      sum += powers[index];
    }
    if (sum <= 0) break;
    weights.push_back(sum);
  }
  return weights;
}

namespace {

struct Terms {
  std::vector<double> value;  ///< P(X = n), all divided by one number
  double log_scale;           ///< its logarithm
};

/// (n + 1) P(n + 1) = sum over j of weights[j] P(n - j), from the chance of none on. Whatever that
/// is, the numbers stay between what a double can hold.
Terms recurrence(const std::vector<double>& weights, std::size_t last, double log_none) {
  constexpr double kLarge = 0x1p300;
  Terms terms{{1}, log_none};
  for (std::size_t n = 0; n < last; ++n) {
    const auto used = static_cast<std::ptrdiff_t>(std::min(n + 1, weights.size()));
    const double sum =
        std::inner_product(weights.begin(), weights.begin() + used, terms.value.rbegin(), 0.0);
    terms.value.push_back(sum / static_cast<double>(n + 1));
    if (terms.value.back() > kLarge) {
      for (double& term : terms.value) term /= kLarge;
      terms.log_scale += std::log(kLarge);
    }
  }
  return terms;
}

}  // namespace

Demand::Demand(const Sources& sources) : mean_(sources.sure), variance_(sources.sure) {
  for (const Sources::Unsure& one : sources.unsure) {
    const double mean = one.shape * one.odds;
    mean_ += mean;
    variance_ += mean * (1 + one.odds);
  }
  const std::size_t last = mean_ > 0 ? sources.last_term() : 0;
  Terms terms = recurrence(sources.weights(last), last, sources.log_generating(-1));
  const bool whole = last < kMostAskedFor;
  // What is left out weighs nothing, so the sum tells the scale best, unless the rest was cut off.
  const double scale = whole ? 1 / std::accumulate(terms.value.begin(), terms.value.end(), 0.0)
                             : std::exp(terms.log_scale);
  for (double& term : terms.value) term *= scale;
  chance_ = std::move(terms.value);

  at_most_.resize(last + 1);
  std::partial_sum(chance_.begin(), chance_.end(), at_most_.begin());
  for (double& chance : at_most_) chance = std::min(1.0, chance);
  left_.resize(last + 1);
  for (std::size_t n = 0; n < last; ++n) left_[n + 1] = left_[n] + at_most_[n];
  more_.resize(last + 1);
  short_.resize(last + 1);
  if (!whole) {
    more_[last] = 1 - at_most_[last];
    short_[last] = std::max(0.0, mean_ - static_cast<double>(last) + left_[last]);
  }
  for (std::size_t n = last; n > 0; --n) {
    more_[n - 1] = std::min(1.0, more_[n] + chance_[n]);
    short_[n - 1] = short_[n] + more_[n - 1];
  }
}

Demand::Demand(const std::vector<Stream>& streams, double years)
    : Demand([&] {
        Sources sources;
        for (const Stream& stream : streams) {
          const double odds = stream.takes * years / stream.rate.exposure;
          if (odds > 0) sources.unsure.push_back({stream.rate.shape, odds});
        }
        return sources;
      }()) {}

Demand Demand::poisson(double mean) {
  Sources sources;
  sources.sure = mean;
  return Demand(sources);
}

double Demand::chance_of(std::size_t count) const {
  return count < chance_.size() ? chance_[count] : 0;
}

double Demand::chance_of_at_most(std::size_t count) const {
  return at_most_[std::min(count, most())];
}

double Demand::chance_of_more(std::size_t count) const {
  return more_[std::min(count, most())];
}

double Demand::expected_short(std::size_t stock) const {
  return short_[std::min(stock, most())];
}

double Demand::expected_left(std::size_t stock) const {
  const std::size_t kept = std::min(stock, most());
  return left_[kept] + static_cast<double>(stock - kept);
}

std::size_t Demand::least_for(double chance) const {
  std::size_t low = 0;
  std::size_t high = most();
  while (low < high) {
    const std::size_t middle = low + (high - low) / 2;
    // By the smaller of the two, whose digits are all there.
    const bool enough = chance < .5 ? at_most_[middle] >= chance : more_[middle] <= 1 - chance;
    if (enough) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  return low;
}

}  // namespace whichlink::upkeep
