#pragma once

#include <boost/random/mersenne_twister.hpp>
#include <cstdint>

namespace whichlink {

/// Seeded random numbers, the same on every machine: the engine is fixed by the C++ standard to the
/// bit, the standard's distributions are not, so the draw is ours. Boost's engine, for it takes two
/// fifths of the time that the standard library's takes for the same numbers.
class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}
  /// Uniform in [0, 1), 53 bits.
  double uniform() { return static_cast<double>(engine_() >> 11U) * 0x1.0p-53; }
  /// Uniform in {0, ..., count - 1}. Precondition: count > 0.
  std::uint32_t below(std::uint32_t count) {
    return static_cast<std::uint32_t>(uniform() * static_cast<double>(count));
  }
  bool chance(double probability) { return uniform() < probability; }

 private:
  boost::random::mt19937_64 engine_;
};

}  // namespace whichlink
