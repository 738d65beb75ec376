// The signed sum of products (docs/mathematics.md 3). Applies to every network; cheap where few
// thresholds of each hearing matter, since the terms multiply from hearing to hearing.

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>
#include <utility>

#include "base/double_double.h"
#include "belief/belief.h"
#include "belief/possible.h"

namespace whichlink::belief {
namespace {

constexpr std::uint32_t kNotCarried = std::numeric_limits<std::uint32_t>::max();
constexpr int kRescaleBits = 128;  // a vector smaller than 2^-128 is scaled up by as much

/// One threshold of a hearing: every fault on the path, and the leak, stays at or below `severity`.
template <class Number>
struct Threshold {
  std::size_t severity = 0;
  Number weight;
};

bool act_alike(const Hearing& hearing, const std::vector<std::vector<double>>& at_most,
               std::size_t severity, std::size_t next) {
  if (hearing.leak_at_most[severity] != hearing.leak_at_most[next]) return false;
  return std::all_of(hearing.path.begin(), hearing.path.end(), [&](std::uint32_t fault) {
    return at_most[fault][severity] == at_most[fault][next];
  });
}

/// The thresholds that matter: neighbours that act alike are one, weight 0 and chance 0 drop out.
template <class Number>
std::vector<Threshold<Number>> thresholds_of(const Hearing& hearing,
                                             const std::vector<std::vector<double>>& at_most) {
  std::vector<Threshold<Number>> thresholds;
  const std::size_t severities = hearing.leak_at_most.size();
  std::size_t first = 0;
  for (std::size_t severity = 0; severity < severities; ++severity) {
    const bool last = severity + 1 == severities;
    if (!last && act_alike(hearing, at_most, severity, severity + 1)) continue;
    const double above = last ? 0 : hearing.chance_of_report[severity + 1];
    const Number weight = Number(hearing.chance_of_report[first]) - Number(above);
    if (to_double(weight) != 0 && hearing.leak_at_most[severity] > 0) {
      thresholds.push_back({severity, weight * Number(hearing.leak_at_most[severity])});
    }
    first = severity + 1;
  }
  return thresholds;
}

/// The belief as a signed sum: in each term the carried faults are independent.
template <class Number>
class SignedSum {
 public:
  using Vector = std::array<Number, kStates>;

  SignedSum(const Network& network, const std::vector<std::uint32_t>& carried)
      : carried_(carried), place_(network.faults(), kNotCarried), weight_{Number(1)}, exponent_{0} {
    for (std::uint32_t place = 0; place < carried.size(); ++place) {
      place_[carried[place]] = place;
      Vector vector;
      for (std::size_t state = 0; state < kStates; ++state) {
        vector[state] = Number(network.prior[carried[place]][state]);
      }
      vectors_.push_back(vector);
    }
  }

  [[nodiscard]] std::size_t terms() const { return weight_.size(); }

  void move(const std::vector<Transition>& transitions) {
    for (const Transition& transition : transitions) {
      const std::uint32_t place = place_[transition.fault];
      if (place == kNotCarried) continue;
      for (std::size_t term = 0; term < terms(); ++term) move(at(term, place), transition.matrix);
    }
  }

  /// False, and nothing done, if there would be more than `most_terms`.
  bool hear(const Hearing& hearing, const std::vector<std::vector<double>>& at_most,
            std::size_t most_terms) {
    const auto thresholds = thresholds_of<Number>(hearing, at_most);
    if (thresholds.size() * terms() > most_terms) return false;
    const SignedSum old(std::move(*this));
    carried_ = old.carried_;
    place_ = old.place_;
    weight_.clear();
    exponent_.clear();
    vectors_.clear();
    vectors_.reserve(old.vectors_.size() * thresholds.size());
    for (std::size_t term = 0; term < old.terms(); ++term) {
      for (const auto& threshold : thresholds) {
        add_term(old, term, threshold, hearing.path, at_most);
      }
    }
    return true;
  }

  /// Adds everything up into `result`, whose marginals of faults not carried are already right.
  /// @return log10(sum of sizes / size of sum); infinite where the sum is not positive
  double finish(Posterior& result);

 private:
  Vector& at(std::size_t term, std::size_t place) {
    return vectors_[term * carried_.size() + place];
  }

  static void move(Vector& vector, const StateMatrix& matrix) {
    Vector result{};
    for (std::size_t from = 0; from < kStates; ++from) {
      for (std::size_t to = 0; to < kStates; ++to) {
        result[to] += vector[from] * Number(matrix[from][to]);
      }
    }
    vector = result;
  }

  void add_term(const SignedSum& old, std::size_t term, const Threshold<Number>& threshold,
                const std::vector<std::uint32_t>& path,
                const std::vector<std::vector<double>>& at_most) {
    const auto begin = static_cast<std::ptrdiff_t>(term * carried_.size());
    const auto end = begin + static_cast<std::ptrdiff_t>(carried_.size());
    const std::size_t start = vectors_.size();
    vectors_.insert(vectors_.end(), old.vectors_.begin() + begin, old.vectors_.begin() + end);
    std::int64_t exponent = old.exponent_[term];
    for (const std::uint32_t fault : path) {
      Vector& vector = vectors_[start + place_[fault]];
      vector[kShowing] *= Number(at_most[fault][threshold.severity]);
      const double total = to_double(vector[kAbsent] + vector[kQuiet] + vector[kShowing]);
      if (total == 0) {  // this threshold is impossible for what the term already holds
        vectors_.resize(start);
        return;
      }
      if (total < std::ldexp(1.0, -kRescaleBits)) {
        for (Number& entry : vector) entry = scaled(entry, kRescaleBits);
        exponent -= kRescaleBits;
      }
    }
    Number weight = old.weight_[term] * threshold.weight;
    if (std::abs(to_double(weight)) < std::ldexp(1.0, -kRescaleBits)) {
      weight = scaled(weight, kRescaleBits);
      exponent -= kRescaleBits;
    }
    weight_.push_back(weight);
    exponent_.push_back(exponent);
  }

  std::vector<std::uint32_t> carried_;
  std::vector<std::uint32_t> place_;  // by fault: place among the carried, or kNotCarried
  std::vector<Number> weight_;        // by term, to be multiplied by 2^exponent
  std::vector<std::int64_t> exponent_;
  std::vector<Vector> vectors_;  // [term][carried fault]
};

template <class Number>
double SignedSum<Number>::finish(Posterior& result) {
  // Each term: its vectors are divided by their sums, and its weight multiplied by them.
  for (std::size_t term = 0; term < terms(); ++term) {
    for (std::size_t place = 0; place < carried_.size(); ++place) {
      Vector& vector = at(term, place);
      const Number total = vector[kAbsent] + vector[kQuiet] + vector[kShowing];
      for (Number& entry : vector) entry = entry / total;
      weight_[term] *= total;
      if (std::abs(to_double(weight_[term])) < std::ldexp(1.0, -kRescaleBits)) {
        weight_[term] = scaled(weight_[term], kRescaleBits);
        exponent_[term] -= kRescaleBits;
      }
    }
  }
  const std::int64_t largest = *std::max_element(exponent_.begin(), exponent_.end());
  Number sum(0);
  Number none(0);
  double sizes = 0;
  std::vector<Vector> marginal(carried_.size(), Vector{});
  for (std::size_t term = 0; term < terms(); ++term) {
    const std::int64_t below = std::max<std::int64_t>(exponent_[term] - largest, -4000);
    const Number weight = scaled(weight_[term], static_cast<int>(below));
    sum += weight;
    sizes += std::abs(to_double(weight));
    Number absent = weight;
    for (std::size_t place = 0; place < carried_.size(); ++place) {
      const Vector& vector = at(term, place);
      absent *= vector[kAbsent];
      for (std::size_t state = 0; state < kStates; ++state) {
        marginal[place][state] += weight * vector[state];
      }
    }
    none += absent;
  }
  if (to_double(sum) <= 0) return std::numeric_limits<double>::infinity();
  result.log_evidence =
      std::log(to_double(sum)) + static_cast<double>(largest) * 0.69314718055994530942;
  double none_alone = 1;
  for (std::size_t fault = 0; fault < place_.size(); ++fault) {
    if (place_[fault] == kNotCarried) none_alone *= result.marginal[fault][kAbsent];
  }
  result.none_present = std::clamp(to_double(none / sum), 0.0, 1.0) * none_alone;
  for (std::size_t place = 0; place < carried_.size(); ++place) {
    for (std::size_t state = 0; state < kStates; ++state) {
      const double chance = to_double(marginal[place][state] / sum);
      result.marginal[carried_[place]][state] = std::clamp(chance, 0.0, 1.0);
    }
  }
  return std::log10(sizes / to_double(sum));
}

std::vector<std::uint32_t> carried_faults(const Network& network, std::span<const Slice> slices) {
  std::vector<bool> on_a_path(network.faults(), false);
  for (const Slice& slice : slices) {
    for (const std::uint32_t fault : slice.hearing.path) on_a_path[fault] = true;
  }
  std::vector<std::uint32_t> carried;
  for (std::uint32_t fault = 0; fault < on_a_path.size(); ++fault) {
    if (on_a_path[fault]) carried.push_back(fault);
  }
  return carried;
}

struct Run {
  Posterior posterior;
  std::size_t terms = 0;
};

/// Nothing if there would be too many terms; `taken` then counts the slices that went in before.
template <class Number>
std::optional<Run> run(const Network& network, std::span<const Slice> slices,
                       const std::vector<std::uint32_t>& carried, std::size_t most_terms,
                       std::size_t& taken) {
  SignedSum<Number> belief(network, carried);
  taken = 0;
  for (const Slice& slice : slices) {
    belief.move(slice.transitions);
    const auto& at_most = network.at_most[slice.hearing.sense];
    if (!belief.hear(slice.hearing, at_most, most_terms)) return std::nullopt;
    ++taken;
  }
  Run result{moved_prior(network, slices), belief.terms()};
  if (result.terms == 0) {
    result.posterior.log_evidence = -std::numeric_limits<double>::infinity();
  } else {
    result.posterior.digits_lost = belief.finish(result.posterior);
  }
  return result;
}

}  // namespace

double terms_at_most(const Network& network, std::span<const Slice> slices) {
  double terms = 1;
  for (const Slice& slice : slices) {
    const auto& at_most = network.at_most[slice.hearing.sense];
    terms *= static_cast<double>(thresholds_of<double>(slice.hearing, at_most).size());
  }
  return terms;
}

ThresholdResult by_thresholds(const Network& network, std::span<const Slice> slices,
                              std::size_t most_terms) {
  if (!may_be_possible(network, slices)) {
    ThresholdResult result{moved_prior(network, slices), true, 0, slices.size()};
    result.posterior.log_evidence = -std::numeric_limits<double>::infinity();
    return result;
  }
  const std::vector<std::uint32_t> carried = carried_faults(network, slices);
  // Each vector passes a rounding or two per slice; independent roundings grow as a square root.
  const auto operations = static_cast<double>((carried.size() + 1) * (slices.size() + 1));
  const double rounding_digits = std::log10(operations) / 2;

  std::size_t taken = 0;
  const auto gave_up = [&] { return ThresholdResult{{}, false, 0, taken}; };
  std::optional<Run> result = run<double>(network, slices, carried, most_terms, taken);
  if (!result) return gave_up();
  constexpr double kDoubleDigits = 15.95;
  const double trusted = kDoubleDigits - rounding_digits - result->posterior.digits_lost;
  if (trusted < kTrustedDigits) {
    result = run<DoubleDouble>(network, slices, carried, most_terms, taken);
    if (!result) return gave_up();
    // 106 bits are 31.9 digits; products and quotients leave the last few bits open.
    constexpr double kDoubleDoubleDigits = 30.5;
    if (kDoubleDoubleDigits - rounding_digits - result->posterior.digits_lost < kTrustedDigits) {
      taken = 0;
      return gave_up();
    }
  }
  return {std::move(result->posterior), true, result->terms, taken};
}

}  // namespace whichlink::belief
