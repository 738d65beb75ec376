// Four inverters in series, each faulty with chance .01; the input is right, the output is wrong.
// After J. de Kleer and B. Williams, "Diagnosing multiple faults", Artificial Intelligence 32
// (1987): title and abstract seen, their cascade figures not. All figures below are derived, for
// two kinds of fault; the best next probe is the middle node in both.
//
// A worst-of-independent-draws says these as follows.
//
// Random output (a faulty inverter gives 0 or 1 with even chance, and stays so): what is found at a
// node is decided by the *last* faulty inverter before it. So inverter i (from 1) gives two faults
// of the model, "stuck right" with severity 2 i - 1 and "stuck wrong" with severity 2 i, and the
// worst is the last. Their chances are such that, with "wrong" going before "right" when both are
// present, each is .005. A node after inverter j hears the faults of inverters 1 to j, and is wrong
// if the severity is even and above 0.
//
// Buffer (a faulty inverter does not invert): a node is wrong if an odd number is faulty. That is
// no function of a worst draw with one fault an inverter: inverters 1 and 2 alone surely give
// severities that mean "wrong", so the worse of the two means "wrong" too, but two faulty inverters
// together give "right". What can be said is the whole candidates: one fault of the model for each
// set of inverters that explains the output (four singles, four triples), and one for all sets that
// do not; the worst one present is the one that counts. So this variant tests evidence, entropy and
// choice, but no independent faults; the marginals follow from the candidates by addition.

#include <gtest/gtest.h>

#include <bit>
#include <cmath>
#include <map>

#include "belief/set_belief.h"

namespace whichlink {
namespace {

using belief::SetBelief;

constexpr double kDerived = .5e-6;  // the figures have six decimals

double entropy_bits(const std::vector<double>& chances) {
  double bits = 0;
  for (const double chance : chances) {
    if (chance > 1e-15) bits -= chance * std::log2(chance);
  }
  return bits;
}

std::vector<double> at_most_step(std::size_t severity, std::size_t severities) {
  std::vector<double> row(severities, 0);
  for (std::size_t s = severity; s < severities; ++s) row[s] = 1;
  return row;
}

/// One slice for each answer at a node: the first says right, the second wrong.
std::vector<belief::Slice> answers(const belief::Question& probe) {
  std::vector<belief::Slice> slices(2);
  for (std::size_t outcome = 0; outcome < 2; ++outcome) {
    slices[outcome].hearing = {probe.path, probe.sense, probe.leak_at_most, {}};
    for (const auto& row : probe.report) {
      slices[outcome].hearing.chance_of_report.push_back(row[outcome]);
    }
  }
  return slices;
}

/// Expected entropy of the candidates after a probe.
template <class Candidates>
double expected_entropy(const SetBelief& belief, const belief::Question& probe,
                        const Candidates& candidates) {
  const auto forecast =
      belief.forecast(probe, std::vector<bool>(belief.posterior().marginal.size()));
  double expected = 0;
  for (std::size_t outcome = 0; outcome < 2; ++outcome) {
    SetBelief after = belief;
    after.apply(answers(probe)[outcome]);
    expected += forecast.outcomes[outcome].chance * entropy_bits(candidates(after));
  }
  return expected;
}

// ---- random output

constexpr std::size_t kSeverities = 9;

belief::Network random_output() {
  belief::Network network;
  network.at_most.resize(1);
  for (std::size_t inverter = 1; inverter <= 4; ++inverter) {
    const double stuck_wrong = .005;
    const double stuck_right = .005 / (1 - stuck_wrong);  // and not stuck wrong: .005 together
    network.prior.push_back({1 - stuck_right, 0, stuck_right});
    network.prior.push_back({1 - stuck_wrong, 0, stuck_wrong});
    network.at_most[0].push_back(at_most_step(2 * inverter - 1, kSeverities));
    network.at_most[0].push_back(at_most_step(2 * inverter, kSeverities));
  }
  return network;
}

belief::Question after_inverter(std::uint32_t last) {
  belief::Question probe;
  for (std::uint32_t fault = 0; fault < 2 * last; ++fault) probe.path.push_back(fault);
  probe.leak_at_most.assign(kSeverities, 1);
  for (std::size_t severity = 0; severity < kSeverities; ++severity) {
    const bool wrong = severity > 0 && severity % 2 == 0;
    probe.report.push_back(wrong ? std::vector<double>{0, 1} : std::vector<double>{1, 0});
  }
  return probe;
}

/// Chance of each of the 16 sets of faulty inverters, from the chances that none of a set is
/// faulty.
std::vector<double> faulty_sets(const SetBelief& belief) {
  std::vector<double> none(16);
  for (unsigned set = 0; set < 16; ++set) {
    std::vector<bool> about(8);
    for (unsigned inverter = 0; inverter < 4; ++inverter) {
      about[2 * inverter] = about[2 * inverter + 1] = (set >> inverter & 1U) != 0;
    }
    none[set] = belief.none_of(about);
  }
  // Exactly `set`: none of the others, and by inclusion and exclusion each of its own.
  std::vector<double> exactly(16, 0);
  for (unsigned set = 0; set < 16; ++set) {
    for (unsigned part = 0; part < 16; ++part) {
      if ((part & ~set) != 0) continue;
      const double sign = std::popcount(part) % 2 == 0 ? 1 : -1;
      exactly[set] += sign * none[(15U & ~set) | part];
    }
  }
  return exactly;
}

class RandomOutput : public testing::Test {
 protected:
  RandomOutput() : network_(random_output()), belief_(network_, 8, 0) {
    belief_.apply(answers(after_inverter(4))[1]);
  }
  belief::Network network_;
  SetBelief belief_;
};

TEST_F(RandomOutput, SymptomAndCandidates) {
  EXPECT_NEAR(std::exp(belief_.posterior().log_evidence), .019701995, .5e-9);
  const auto sets = faulty_sets(belief_);
  for (unsigned inverter = 0; inverter < 4; ++inverter) {
    EXPECT_NEAR(sets[1U << inverter], .246244, kDerived);
    std::vector<bool> about(8);
    about[2 * inverter] = about[2 * inverter + 1] = true;
    EXPECT_NEAR(1 - belief_.none_of(about), .253781, kDerived);
  }
  EXPECT_NEAR(entropy_bits(sets), 2.122114, kDerived);
}

TEST_F(RandomOutput, MiddleNodeIsTheBestProbe) {
  const std::map<std::uint32_t, std::pair<double, double>> figures = {
      // after inverter: expected entropy, P(wrong)
      {1, {1.318353, .250013}},
      {2, {1.132164, .5}},
      {3, {1.318353, .749987}}};
  std::map<std::uint32_t, double> bits;
  for (const auto& [last, figure] : figures) {
    const auto probe = after_inverter(last);
    EXPECT_NEAR(expected_entropy(belief_, probe, faulty_sets), figure.first, kDerived) << last;
    const auto forecast = belief_.forecast(probe, std::vector<bool>(8));
    EXPECT_NEAR(forecast.outcomes[1].chance, figure.second, kDerived) << last;
    bits[last] = forecast.bits;
  }
  // The bits are about the model's faults, stuck right and stuck wrong apart: those decide the
  // answer.
  EXPECT_NEAR(bits[2], 1, 1e-9);
  EXPECT_GT(bits[2], bits[1] + .1);
  EXPECT_GT(bits[2], bits[3] + .1);
}

// ---- buffer

/// The sets that explain a wrong output, worst last; the ninth is every other set that is not
/// empty.
const std::vector<unsigned> kOddSets = {1, 2, 4, 8, 7, 11, 13, 14};

class Buffer : public testing::Test {
 protected:
  Buffer() : network_(candidates()), belief_(network_, 9, 0) {
    belief_.apply(answers(after(4))[1]);
  }

  static double chance_of(unsigned set) {
    const int faulty = std::popcount(set);
    return std::pow(.01, faulty) * std::pow(.99, 4 - faulty);
  }

  /// Fault i counts if it is present and no worse one is; its chance to be present makes that
  /// right.
  static belief::Network candidates() {
    belief::Network network;
    network.at_most.resize(1);
    std::vector<double> chances = {0};
    for (unsigned set = 1; set < 16; ++set) {
      if (std::popcount(set) % 2 == 0) chances[0] += chance_of(set);
    }
    for (const unsigned set : kOddSets) chances.push_back(chance_of(set));
    double worse = 0;  // chance that a worse one counts
    network.prior.resize(chances.size());
    for (std::size_t fault = chances.size(); fault-- > 0;) {
      const double present = chances[fault] / (1 - worse);
      network.prior[fault] = {1 - present, 0, present};
      worse += chances[fault];
    }
    for (std::size_t fault = 0; fault < chances.size(); ++fault) {
      network.at_most[0].push_back(at_most_step(fault + 1, chances.size() + 1));
    }
    return network;
  }

  /// The node after this many inverters. A set that does not explain the output says "right" at it
  /// and whatever elsewhere: it is out of the question once the output was wrong.
  static belief::Question after(unsigned inverters) {
    belief::Question probe;
    probe.leak_at_most.assign(kOddSets.size() + 2, 1);
    probe.report = {{1, 0}, {1, 0}};
    for (std::uint32_t fault = 0; fault <= kOddSets.size(); ++fault) probe.path.push_back(fault);
    for (const unsigned set : kOddSets) {
      const bool wrong = std::popcount(set & ((1U << inverters) - 1)) % 2 == 1;
      probe.report.push_back(wrong ? std::vector<double>{0, 1} : std::vector<double>{1, 0});
    }
    return probe;
  }

  /// Chance of each odd set: that it is present and no worse one is.
  static std::vector<double> counting(const SetBelief& belief) {
    std::vector<double> chances;
    std::vector<bool> worse(kOddSets.size() + 1, true);
    worse[0] = false;
    for (std::size_t fault = 1; fault < worse.size(); ++fault) {
      const double this_or_worse = 1 - belief.none_of(worse);
      worse[fault] = false;
      chances.push_back(this_or_worse - (1 - belief.none_of(worse)));
    }
    return chances;
  }

  belief::Network network_;
  SetBelief belief_;
};

TEST_F(Buffer, SymptomAndCandidates) {
  EXPECT_NEAR(std::exp(belief_.posterior().log_evidence), .03881592, .5e-8);
  const auto chances = counting(belief_);
  for (std::size_t single = 0; single < 4; ++single) EXPECT_NEAR(chances[single], .249974, .6e-6);
  EXPECT_NEAR(entropy_bits(chances), 2.0015, .5e-4);
}

TEST_F(Buffer, MiddleNodeIsTheBestProbe) {
  const std::map<unsigned, double> figures = {{1, 1.190141}, {2, 1.0015}, {3, 1.190141}};
  std::map<unsigned, double> bits;
  for (const auto& [inverters, figure] : figures) {
    EXPECT_NEAR(expected_entropy(belief_, after(inverters), counting), figure,
                inverters == 2 ? .5e-4 : kDerived)
        << inverters;
    bits[inverters] = belief_.forecast(after(inverters), std::vector<bool>(9)).bits;
  }
  EXPECT_NEAR(bits[2], 1, 1e-9);
  EXPECT_GT(bits[2], bits[1] + .1);
  EXPECT_GT(bits[2], bits[3] + .1);
}

// ---- at most one fault, where both variants are the same: exactly 2 bits, then 1.188722 or 1.

TEST(SingleInverter, MiddleNodeIsTheBestProbe) {
  belief::Network network;
  network.prior.assign(4, {.99, 0, .01});
  network.at_most = {std::vector<std::vector<double>>(4, {0, 1})};
  SetBelief belief(network, 1, 0);
  const auto node_after = [](std::uint32_t inverters) {
    belief::Question probe{{}, {}, 0, {1, 1}, {{1, 0}, {0, 1}}};
    for (std::uint32_t fault = 0; fault < inverters; ++fault) probe.path.push_back(fault);
    return probe;
  };
  belief.apply(answers(node_after(4))[1]);
  const auto present = [](const SetBelief& now) {
    std::vector<double> chances;
    for (const auto& marginal : now.posterior().marginal) chances.push_back(1 - marginal[0]);
    return chances;
  };
  EXPECT_NEAR(entropy_bits(present(belief)), 2, 1e-12);
  EXPECT_NEAR(expected_entropy(belief, node_after(1), present), 1.188722, kDerived);
  EXPECT_NEAR(expected_entropy(belief, node_after(2), present), 1, 1e-12);
  EXPECT_NEAR(expected_entropy(belief, node_after(3), present), 1.188722, kDerived);
  // Here the bits are the very drop in entropy.
  EXPECT_NEAR(belief.forecast(node_after(1), std::vector<bool>(4)).bits, 2 - 1.188722, kDerived);
  EXPECT_NEAR(belief.forecast(node_after(2), std::vector<bool>(4)).bits, 1, 1e-12);
}

}  // namespace
}  // namespace whichlink
