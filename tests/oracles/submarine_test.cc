// The game of submarine. D. MacKay, "Information Theory, Inference, and Learning Algorithms",
// section 4.1: seen, in study notes. One submarine in 64 equally likely squares; each shot is a hit
// or a miss. Published: the first miss gives .0227 bit, a hit with the first shot 6 bits, a hit
// with the 49th 4 bits, and the bits of all shots up to the hit always add up to 6. Derived:
// .022720 and .023084 for the first two misses, 1 bit after 32 misses, 2 bits after 48.

#include <gtest/gtest.h>

#include <cmath>

#include "belief/set_belief.h"

namespace whichlink {
namespace {

constexpr std::uint32_t kSquares = 64;

class Submarine : public testing::Test {
 protected:
  Submarine() : belief_(network(), 1, 0) {
    // "Exactly one": sets of at most one, and a first report that needs one.
    belief::Slice there;
    for (std::uint32_t square = 0; square < kSquares; ++square)
      there.hearing.path.push_back(square);
    there.hearing.leak_at_most = {1, 1};
    there.hearing.chance_of_report = {0, 1};
    belief_.apply(there);
  }

  static const belief::Network& network() {
    static const belief::Network network = [] {
      belief::Network made;
      made.prior.assign(kSquares, {.99, 0, .01});
      made.at_most = {std::vector<std::vector<double>>(kSquares, {0, 1})};
      return made;
    }();
    return network;
  }

  /// Bits that the outcome of a shot at this square gives, log2(1 / P(outcome)), and takes it in.
  double shoot(std::uint32_t square, bool hit) {
    const belief::Question shot{{}, {square}, 0, {1, 1}, {{1, 0}, {0, 1}}};
    const auto forecast = belief_.forecast(shot, std::vector<bool>(kSquares, true));
    const double chance = forecast.outcomes[hit ? 1 : 0].chance;
    // The mean of the bits is what the forecast calls bits: the square is known once the report is.
    double mean = 0;
    for (const auto& outcome : forecast.outcomes) {
      if (outcome.chance > 0) mean -= outcome.chance * std::log2(outcome.chance);
    }
    EXPECT_NEAR(forecast.bits, mean, 1e-12);
    belief_.apply(
        {{}, {{square}, 0, {1, 1}, hit ? std::vector<double>{0, 1} : std::vector<double>{1, 0}}});
    return -std::log2(chance);
  }

  belief::SetBelief belief_;
};

TEST_F(Submarine, FirstMissesGiveLittle) {
  const double first = shoot(0, false);
  EXPECT_NEAR(first, .0227, .5e-4);              // published
  EXPECT_NEAR(first, .022720, .5e-6);            // derived
  EXPECT_NEAR(shoot(1, false), .023084, .5e-6);  // derived
}

TEST_F(Submarine, HitWithTheFirstShotGivesSixBits) {
  EXPECT_NEAR(shoot(17, true), 6, 1e-12);
}

TEST_F(Submarine, HitWithTheFortyNinthShotGivesFourBits) {
  double bits = 0;
  for (std::uint32_t square = 0; square < 48; ++square) {
    bits += shoot(square, false);
    if (square == 31) {
      EXPECT_NEAR(bits, 1, 1e-12);
    }
  }
  EXPECT_NEAR(bits, 2, 1e-12);
  EXPECT_NEAR(shoot(48, true), 4, 1e-12);
}

// The invariant: the bits of all reports add up to log2(1 / prior) when it is found.
TEST_F(Submarine, BitsAlwaysAddUpToSix) {
  const double before = belief_.posterior().log_evidence;
  for (const std::uint32_t place : {0U, 1U, 5U, 40U, 63U}) {
    const belief::SetBelief start = belief_;
    double bits = 0;
    for (std::uint32_t square = 0; square < place; ++square) bits += shoot(square, false);
    bits += shoot(place, true);
    EXPECT_NEAR(bits, 6, 1e-11) << place;
    EXPECT_NEAR((before - belief_.posterior().log_evidence) / std::log(2.0), 6, 1e-11) << place;
    EXPECT_NEAR(belief_.posterior().marginal[place][belief::kShowing], 1, 1e-12);
    belief_ = start;
  }
}

}  // namespace
}  // namespace whichlink
