#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>

namespace whichlink::belief {

/// Two numbers at a time, by the vector extension that g++ and clang share. For rows of even
/// length, padded with zeros; the order of all additions is fixed.
using TwoDoubles = double __attribute__((vector_size(16)));
using TwoWords = std::uint64_t __attribute__((vector_size(16)));

[[nodiscard]] constexpr std::size_t even(std::size_t count) {
  return count + count % 2;
}

[[nodiscard]] inline TwoDoubles load(const double* from) {
  TwoDoubles pair;
  std::memcpy(&pair, from, sizeof pair);
  return pair;
}
inline void store(TwoDoubles pair, double* to) {
  std::memcpy(to, &pair, sizeof pair);
}

/// to[i] += from[i]
inline void add(const double* from, std::size_t even_count, double* to) {
  for (std::size_t index = 0; index < even_count; index += 2) {
    store(load(to + index) + load(from + index), to + index);
  }
}

/// to[i] += from[i] * factor
inline void add_times(const double* from, double factor, std::size_t even_count, double* to) {
  const TwoDoubles factors{factor, factor};
  for (std::size_t index = 0; index < even_count; index += 2) {
    store(load(to + index) + load(from + index) * factors, to + index);
  }
}

[[nodiscard]] inline double sum(const double* from, std::size_t even_count) {
  TwoDoubles total{0, 0};
  for (std::size_t index = 0; index < even_count; index += 2) total += load(from + index);
  return total[0] + total[1];
}

/// Twice x log2(x); 0 for every x below the normal doubles. Plain arithmetic in a fixed order, so
/// the last digit is the same on every machine, which the library's logarithm does not promise.
/// Absolute error below 1e-15 for x in [0, 1].
/// Method: x = 2^e m with m between sqrt(1/2) and sqrt(2), t = (m - 1) / (m + 1), and
/// ln m = 2 (t + t^3/3 + t^5/5 + ...), whose terms beyond t^19 are below 3e-17.
[[nodiscard]] inline TwoDoubles times_log2(TwoDoubles x) {
  constexpr std::uint64_t kRootHalf = 0x3fe6a09e667f3bcdU;  // the bits of sqrt(1/2)
  constexpr std::uint64_t kExponentBias = std::uint64_t{1023} << 52U;
  constexpr std::uint64_t kTwoTo52 = 0x4330000000000000U;  // the bits of 2^52
  constexpr double kTwoOverLn2 = 2.8853900817779268;
  const auto bits = std::bit_cast<TwoWords>(x);
  const TwoWords biased = (bits - kRootHalf + kExponentBias) >> 52;
  const TwoDoubles exponent = std::bit_cast<TwoDoubles>(biased | kTwoTo52) - (0x1p52 + 1023);
  const auto mantissa = std::bit_cast<TwoDoubles>(bits - (biased << 52) + kExponentBias);
  const TwoDoubles t = (mantissa - 1) / (mantissa + 1);
  const TwoDoubles z = t * t;
  TwoDoubles series = z * (1.0 / 19) + 1.0 / 17;
  series = series * z + 1.0 / 15;
  series = series * z + 1.0 / 13;
  series = series * z + 1.0 / 11;
  series = series * z + 1.0 / 9;
  series = series * z + 1.0 / 7;
  series = series * z + 1.0 / 5;
  series = series * z + 1.0 / 3;
  series = series * z + 1.0;
  const TwoDoubles value = x * (exponent + t * kTwoOverLn2 * series);
  const auto normal = std::bit_cast<TwoWords>(x >= 0x1p-1022);
  return std::bit_cast<TwoDoubles>(std::bit_cast<TwoWords>(value) & normal);
}

[[nodiscard]] inline double times_log2(double x) {
  return times_log2(TwoDoubles{x, 0})[0];
}

/// The sum of x log2(x).
[[nodiscard]] inline double sum_times_log2(const double* x, std::size_t even_count) {
  TwoDoubles total{0, 0};
  for (std::size_t index = 0; index < even_count; index += 2) total += times_log2(load(x + index));
  return total[0] + total[1];
}

}  // namespace whichlink::belief
