#pragma once

#include <cmath>

namespace whichlink {

/// An unevaluated sum of two doubles, about 31 decimal digits, for sums whose terms nearly cancel.
/// Error-free sums and products by Knuth and Dekker (T. J. Dekker, "A floating-point technique for
/// extending the available precision", Numerische Mathematik 18, 1971, from memory). Products are
/// split by hand instead of fused, so the result is the same with and without fused hardware.
/// Right only if the compiler keeps the order of operations: -ffp-contract=off, no -ffast-math.
/// Range: sizes from about 1e-290 to 1e300; beyond, digits or the number itself are lost.
/// Invariant: high is the double nearest to the value, |low| is at most half a last digit of high.
class DoubleDouble {
 public:
  constexpr DoubleDouble() = default;
  // Implicit, so that formulas read the same for both number types.
  constexpr DoubleDouble(double value) : high_(value) {}  // NOLINT(google-explicit-constructor)

  [[nodiscard]] constexpr double high() const { return high_; }
  [[nodiscard]] constexpr double low() const { return low_; }

  /// The exact sum of two doubles.
  static constexpr DoubleDouble sum(double a, double b) {
    const double total = a + b;
    const double b_part = total - a;
    return {total, (a - (total - b_part)) + (b - b_part)};
  }
  /// The exact product of two doubles.
  static constexpr DoubleDouble product(double a, double b) {
    const double total = a * b;
    const DoubleDouble halves_a = halves(a);
    const DoubleDouble halves_b = halves(b);
    const double error = ((halves_a.high_ * halves_b.high_ - total) +
                          halves_a.high_ * halves_b.low_ + halves_a.low_ * halves_b.high_) +
                         halves_a.low_ * halves_b.low_;
    return {total, error};
  }

  friend constexpr DoubleDouble operator-(const DoubleDouble& a) { return {-a.high_, -a.low_}; }
  friend constexpr DoubleDouble operator+(const DoubleDouble& a, const DoubleDouble& b) {
    const DoubleDouble highs = sum(a.high_, b.high_);
    const DoubleDouble lows = sum(a.low_, b.low_);
    const DoubleDouble once = ordered_sum(highs.high_, highs.low_ + lows.high_);
    return ordered_sum(once.high_, once.low_ + lows.low_);
  }
  friend constexpr DoubleDouble operator-(const DoubleDouble& a, const DoubleDouble& b) {
    return a + (-b);
  }
  friend constexpr DoubleDouble operator*(const DoubleDouble& a, const DoubleDouble& b) {
    const DoubleDouble highs = product(a.high_, b.high_);
    return ordered_sum(highs.high_, highs.low_ + (a.high_ * b.low_ + a.low_ * b.high_));
  }
  friend constexpr DoubleDouble operator/(const DoubleDouble& a, const DoubleDouble& b) {
    const double first = a.high_ / b.high_;
    const DoubleDouble rest = a - b * DoubleDouble(first);
    return ordered_sum(first, rest.high_ / b.high_);
  }
  constexpr DoubleDouble& operator+=(const DoubleDouble& other) { return *this = *this + other; }
  constexpr DoubleDouble& operator*=(const DoubleDouble& other) { return *this = *this * other; }
  friend constexpr bool operator==(const DoubleDouble&, const DoubleDouble&) = default;

  /// value * 2^exponent, exactly.
  [[nodiscard]] DoubleDouble scaled(int exponent) const {
    return {std::ldexp(high_, exponent), std::ldexp(low_, exponent)};
  }

 private:
  constexpr DoubleDouble(double high, double low) : high_(high), low_(low) {}

  // Precondition: |a| >= |b| or a is 0.
  static constexpr DoubleDouble ordered_sum(double a, double b) {
    const double total = a + b;
    return {total, b - (total - a)};
  }
  // Two halves of 26 bits each, so that their products are exact.
  static constexpr DoubleDouble halves(double a) {
    const double shifted = 134217729.0 * a;  // 2^27 + 1
    const double high = shifted - (shifted - a);
    return {high, a - high};
  }

  double high_ = 0;
  double low_ = 0;
};

[[nodiscard]] constexpr double to_double(const DoubleDouble& value) {
  return value.high();
}
[[nodiscard]] constexpr double to_double(double value) {
  return value;
}
[[nodiscard]] inline DoubleDouble scaled(const DoubleDouble& value, int exponent) {
  return value.scaled(exponent);
}
[[nodiscard]] inline double scaled(double value, int exponent) {
  return std::ldexp(value, exponent);
}

}  // namespace whichlink
