// Draws that repeat. Bits: the C++ standard's own check value, and streams recomputed outside by a Python program written from the text of
// [rand.util.seedseq] and [rand.eng.mers] (no shared code; tag COMPUTED).
#include "engine/trial/dice.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>
#include <set>
#include <stdexcept>
#include <vector>

namespace leadline::trial {
namespace {

std::vector<double> first_draws(std::uint64_t seed, std::uint64_t number, std::size_t count) {
  Dice dice(seed, number);
  std::vector<double> draws;
  for (std::size_t i = 0; i < count; ++i) draws.push_back(dice.uniform());
  return draws;
}

// Sum of (seen - expected)^2 / expected.
double chi_square(const std::vector<int>& seen, const std::vector<double>& chances) {
  double draws = 0, sum = 0;
  for (const int count : seen) draws += count;
  for (std::size_t i = 0; i < seen.size(); ++i) sum += std::pow(seen[i] - draws * chances[i], 2) / (draws * chances[i]);
  return sum;
}

// The standard, [rand.predef]: the 10000th call of a default one.
TEST(Dice, TheLibrarysBitsAreTheStandards) {
  std::mt19937_64 bits;
  bits.discard(9999);
  EXPECT_EQ(bits(), 9981545732273789042ULL);
}

TEST(Dice, StreamsAreThoseRecomputedOutside) {
  const std::uint64_t largest = std::numeric_limits<std::uint64_t>::max();
  EXPECT_EQ(first_draws(1, 4711, 3), (std::vector{0.8558577040200056, 0.0850653466632828, 0.6344409851192855}));
  EXPECT_EQ(first_draws(1, 4712, 3), (std::vector{0.5118709550399645, 0.6079878423421669, 0.613629938581956}));
  EXPECT_EQ(first_draws(2, 4711, 3), (std::vector{0.5568985894501427, 0.6732419195933176, 0.5560635597052661}));
  EXPECT_EQ(first_draws(largest, (1ULL << 40) + 5, 3), (std::vector{0.2166581180062237, 0.7622537011110941, 0.553173173044443}));
}

TEST(Dice, OneCallOutIsPlayedAgainAlone) {
  std::vector<std::vector<double>> all;
  for (std::uint64_t number = 0; number < 50; ++number) all.push_back(first_draws(1, number, 20));
  EXPECT_EQ(first_draws(1, 47, 20), all[47]);
}

// Neighbours, seed and number exchanged, and halves beyond 32 bits: no two streams begin alike.
TEST(Dice, StreamsDiffer) {
  std::set<double> firsts;
  std::size_t streams = 0;
  for (const std::uint64_t seed : {0ULL, 1ULL, 2ULL, 1ULL << 32, (1ULL << 32) + 1, 1ULL << 63}) {
    for (std::uint64_t number = 0; number < 500; ++number, ++streams) firsts.insert(first_draws(seed, number, 1)[0]);
    firsts.insert(first_draws(seed, 1ULL << 32, 1)[0]);
    ++streams;
  }
  EXPECT_EQ(firsts.size(), streams);
}

TEST(Dice, UniformLiesWithinZeroAndOne) {
  for (const double u : first_draws(5, 0, 100000)) {
    ASSERT_GE(u, 0);
    ASSERT_LT(u, 1);
  }
}

// Limits: R 4.2.2, qchisq(.999, 99) and qchisq(.999, 3). Within one stream, and over the first draws of many.
TEST(Dice, UniformFillsAHundredBinsEvenly) {
  std::vector<int> along(100), across(100);
  for (const double u : first_draws(1, 0, 100000)) ++along[static_cast<std::size_t>(u * 100)];
  for (std::uint64_t number = 0; number < 20000; ++number) ++across[static_cast<std::size_t>(first_draws(1, number, 1)[0] * 100)];
  const std::vector<double> even(100, 0.01);
  EXPECT_LT(chi_square(along, even), 148.2303592);
  EXPECT_LT(chi_square(across, even), 148.2303592);
}

TEST(Dice, NeighbouringStreamsAreNotCorrelated) {
  const auto a = first_draws(1, 0, 10000), b = first_draws(1, 1, 10000);
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += (a[i] - 0.5) * (b[i] - 0.5);
  EXPECT_LT(std::abs(sum / 10000 * 12), 0.0329);  // 3.29 standard errors of 1/100: 1 in 1000
}

TEST(Dice, DrawsByWeight) {
  Dice dice(1, 0);
  std::vector<int> seen(4);
  for (int i = 0; i < 100000; ++i) ++seen[dice.draw(std::vector{1.0, 0.5, 6.0, 2.5})];  // weights need not add up to 1
  EXPECT_LT(chi_square(seen, {0.1, 0.05, 0.6, 0.25}), 16.2662362);
}

TEST(Dice, DrawsNeverWhatHasNoWeight) {
  Dice dice(1, 0);
  for (int i = 0; i < 10000; ++i) {
    const auto drawn = dice.draw(std::vector{0.0, 0.1, 0.0, 0.2, 0.7, 0.0, 0.0});
    ASSERT_TRUE(drawn == 1 || drawn == 3 || drawn == 4) << drawn;
  }
  EXPECT_EQ(dice.draw(std::vector{0.0, 1e-300}), 1U);
}

// The draw by definition: the first whose cumulated share exceeds the uniform number.
TEST(Dice, OneDrawTakesOneUniform) {
  Dice dice(3, 9), twin(3, 9);
  for (int i = 0; i < 1000; ++i) {
    const double u = twin.uniform();
    EXPECT_EQ(dice.draw(std::vector{0.25, 0.25, 0.5}), u < 0.25 ? 0U : u < 0.5 ? 1U : 2U);
  }
  EXPECT_EQ(dice.uniform(), twin.uniform());
}

TEST(Dice, RefusesWeightsThatAreNone) {
  Dice dice(1, 0);
  const double none = std::numeric_limits<double>::quiet_NaN(), endless = std::numeric_limits<double>::infinity();
  for (const auto& weights : std::vector<std::vector<double>>{{}, {0, 0}, {1, -0.5}, {none, 1}, {endless, 1}, {1e308, 1e308}}) {
    EXPECT_THROW((void)dice.draw(weights), std::invalid_argument);
  }
}

}  // namespace
}  // namespace leadline::trial
