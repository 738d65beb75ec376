#pragma once

#include <boost/math/distributions/negative_binomial.hpp>
#include <cmath>
#include <cstddef>
#include <vector>

#include "upkeep/demand.h"
#include "upkeep/support.h"

/// Second ways to a demand: each count looked up, each stream folded in, each rate drawn.
namespace whichlink::upkeep {

/// Chances of 0, 1, ... last by convolution of the library's negative binomial distributions, each
/// up to where its chances fall below 1e-40.
inline std::vector<double> convolved(const std::vector<Stream>& streams, double years,
                                     std::size_t last) {
  std::vector<double> sum(last + 1);
  sum[0] = 1;
  for (const Stream& stream : streams) {
    const double odds = stream.takes * years / stream.rate.exposure;
    if (odds <= 0) continue;
    const boost::math::negative_binomial count(stream.rate.shape, 1 / (1 + odds));
    std::vector<double> chance;
    for (std::size_t n = 0; n <= last; ++n) {
      chance.push_back(boost::math::pdf(count, static_cast<double>(n)));
      if (static_cast<double>(n) > boost::math::mean(count) && chance.back() < 1e-40) break;
    }
    std::vector<double> next(last + 1);
    for (std::size_t n = 0; n <= last; ++n) {
      for (std::size_t part = 0; part <= n && part < chance.size(); ++part)
        next[n] += chance[part] * sum[n - part];
    }
    sum = next;
  }
  return sum;
}

/// A count of events that come at this rate, one after the other.
inline std::size_t drawn_count(Random& random, double mean) {
  std::size_t count = 0;
  for (double at = days_until(random, 1); at < mean; at += days_until(random, 1)) ++count;
  return count;
}

inline double drawn_rate(Random& random, const Gamma& rate) {
  return rate.quantile((random.uniform() + 0x1.0p-60) / (1 + 0x1.0p-59));
}

inline double between(Random& random, double low, double high) {
  return low * std::pow(high / low, random.uniform());
}

/// One to `most` streams of any width.
inline std::vector<Stream> random_streams(Random& random, std::uint32_t most) {
  std::vector<Stream> streams(1 + random.below(most));
  for (Stream& stream : streams) {
    stream.rate = {between(random, .2, 30), between(random, .5, 300)};
    stream.takes = between(random, .05, 5);
  }
  return streams;
}

}  // namespace whichlink::upkeep
