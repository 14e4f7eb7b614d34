// Intervals and comparisons: § 18 of the reference sheet (tag COMPUTED, R 4.2.2), more numbers from R 4.2.2 with the command beside them, and
// each formula against its definition. Invented counts and minutes.
#include "engine/trial/interval.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string_view>
#include <vector>

#include "engine/trial/dice.h"

namespace leadline::trial {
namespace {

// Minutes of two policies on the same ten call-outs.
const std::vector<double> shorter{31, 18, 55, 42, 27, 90, 12, 38, 61, 24}, longer{44, 21, 70, 40, 39, 131, 15, 52, 66, 37};

struct CountedRow {
  std::string_view name;
  Proportion counted;
  Interval wilson, exact;
  double tolerance;
};

class Counted : public testing::TestWithParam<CountedRow> {};

TEST_P(Counted, HasTheIntervalsOfR) {
  const auto& row = GetParam();
  EXPECT_NEAR(wilson(row.counted)->low, row.wilson.low, row.tolerance);
  EXPECT_NEAR(wilson(row.counted)->high, row.wilson.high, row.tolerance);
  EXPECT_NEAR(clopper_pearson(row.counted)->low, row.exact.low, row.tolerance);
  EXPECT_NEAR(clopper_pearson(row.counted)->high, row.exact.high, row.tolerance);
}

// First row: § 18 as printed there, but for the last digit of Wilson's lower bound: it reads ...974, 40-digit arithmetic gives ...9732.
// The others, R 4.2.2: prop.test(x, n, correct=FALSE)$conf.int and binom.test(x, n)$conf.int.
INSTANTIATE_TEST_SUITE_P(
    Interval, Counted,
    testing::Values(CountedRow{"nine_of_ten_sheet", {9, 10}, {0.595849973, 0.982123787}, {0.554983883, 0.997471421}, 5.1e-10},
                    CountedRow{"nine_of_ten", {9, 10}, {0.595849973204762, 0.982123786904927}, {0.554983882971805, 0.997471421455538}, 1e-12},
                    CountedRow{"none_of_twenty", {0, 20}, {0, 0.161125158052819}, {0, 0.168433470983085}, 1e-12},
                    CountedRow{"all_of_twenty", {20, 20}, {1 - 0.161125158052819, 1}, {0.831566529016915, 1}, 1e-12},
                    CountedRow{"many", {437, 500}, {0.842032282280136, 0.900264711054623}, {0.841686005700994, 0.901803882215277}, 1e-12}),
    [](const auto& row) { return std::string(row.param.name); });

TEST(ClopperPearson, NoFailureInTwentyStillAllowsSeventeenPercent) { EXPECT_NEAR(clopper_pearson({0, 20})->high, 0.168433470983, 5e-13); }

// § 18, COMPUTED; R 4.2.2: qbeta(c(.025, .975), 2.5, 98.5).
TEST(Jeffreys, TwoFailuresInAHundred) {
  const auto posterior = jeffreys({2, 100});
  EXPECT_NEAR(posterior.value, 0.024752475, 5e-10);
  EXPECT_NEAR(posterior.interval->low, 0.004178812, 5e-10);
  EXPECT_NEAR(posterior.interval->high, 0.062605849, 5e-10);
  EXPECT_NEAR(posterior.interval->low, 0.00417881244747181, 1e-13);
  EXPECT_NEAR(posterior.interval->high, 0.06260584878481135, 1e-13);
}

// The prior beta(1/2, 1/2) is the arcsine distribution: quantile sin^2(pi p / 2).
TEST(Jeffreys, WithoutTrialsIsThePrior) {
  const auto prior = jeffreys({0, 0});
  EXPECT_DOUBLE_EQ(prior.value, 0.5);
  EXPECT_NEAR(prior.interval->low, std::pow(std::sin(std::acos(-1.0) * 0.0125), 2), 1e-14);
  EXPECT_NEAR(prior.interval->high, 1 - prior.interval->low, 1e-14);
}

TEST(Proportions, ZeroAndOneAreReachedExactly) {
  for (const std::size_t n : {1U, 3U, 7U, 20U, 1000U, 100000U}) {
    EXPECT_EQ(wilson({0, n})->low, 0) << n;
    EXPECT_EQ(wilson({n, n})->high, 1) << n;
    EXPECT_EQ(clopper_pearson({0, n})->low, 0) << n;
    EXPECT_EQ(clopper_pearson({n, n})->high, 1) << n;
  }
}

TEST(Proportions, WithoutTrialsThereIsNothingToTell) {
  EXPECT_FALSE(share({0, 0}));
  EXPECT_FALSE(wilson({0, 0}));
  EXPECT_FALSE(clopper_pearson({0, 0}));
}

TEST(Proportions, MoreSuccessesThanTrialsAreRefused) {
  EXPECT_THROW(share({2, 1}), std::invalid_argument);
  EXPECT_THROW(wilson({2, 1}), std::invalid_argument);
  EXPECT_THROW(clopper_pearson({2, 1}), std::invalid_argument);
  EXPECT_THROW(jeffreys({2, 1}), std::invalid_argument);
}

// P(at most k of n) with chance p, term by term.
double at_most(std::size_t k, std::size_t n, double p) {
  double sum = 0;
  for (std::size_t i = 0; i <= k; ++i) {
    const auto count = static_cast<double>(i), rest = static_cast<double>(n - i);
    sum += std::exp(std::lgamma(count + rest + 1) - std::lgamma(count + 1) - std::lgamma(rest + 1) + count * std::log(p) + rest * std::log1p(-p));
  }
  return sum;
}

// By definition: at the upper bound so few successes have chance 2.5 %, at the lower one so many.
TEST(ClopperPearson, BoundsAreWhereTheTailIsTwoAndAHalfPercent) {
  for (const auto& [x, n] : {Proportion{1, 4}, {3, 17}, {16, 17}, {40, 90}, {371, 400}}) {
    const auto bounds = *clopper_pearson({x, n});
    EXPECT_NEAR(at_most(x, n, bounds.high), 0.025, 1e-10) << x << " of " << n;
    EXPECT_NEAR(1 - at_most(x - 1, n, bounds.low), 0.025, 1e-10) << x << " of " << n;
  }
}

// By definition: at a bound the share seen lies 1.96 of the bound's own standard errors away.
TEST(Wilson, BoundsAreWhereTheScoreTestTurns) {
  for (const auto& [x, n] : {Proportion{1, 4}, {3, 17}, {16, 17}, {40, 90}, {371, 400}}) {
    const auto bounds = *wilson({x, n});
    for (const double bound : {bounds.low, bounds.high}) {
      const double error = std::sqrt(bound * (1 - bound) / static_cast<double>(n));
      EXPECT_NEAR(std::abs(*share({x, n}) - bound) / error, 1.959963984540054, 1e-10) << x << " of " << n;  // R 4.2.2: qnorm(.975)
    }
  }
}

// The promise of the exact interval, summed and not drawn: whatever the true share, at least 95 % of the counts that it makes hold it.
TEST(ClopperPearson, HoldsTheTruthInAtLeastNinetyFivePercent) {
  for (int hundredths = 1; hundredths < 100; ++hundredths) {
    const double p = hundredths / 100.0;
    double exact = 0, score = 0, before = 0;
    for (std::size_t x = 0; x <= 40; ++x) {
      const double up_to = at_most(x, 40, p), chance = up_to - before;
      before = up_to;
      const auto holds = [p](const Interval& bounds) { return bounds.low <= p && p <= bounds.high; };
      exact += holds(*clopper_pearson({x, 40})) ? chance : 0;
      score += holds(*wilson({x, 40})) ? chance : 0;
    }
    EXPECT_GE(exact, 0.95 - 1e-12) << p;
    EXPECT_GE(score, 0.83) << p;  // Wilson promises it on average only
  }
}

// R 4.2.2: a <- c(31,18,55,42,27,90,12,38,61,24); mean(a); t.test(a)$conf.int
TEST(MeanOf, HasTheIntervalOfR) {
  const auto mean = *mean_of(shorter);
  EXPECT_NEAR(mean.value, 39.8, 1e-13);
  EXPECT_NEAR(mean.interval->low, 23.0274610209075, 1e-11);
  EXPECT_NEAR(mean.interval->high, 56.5725389790925, 1e-11);
}

TEST(MeanOf, SaysWhatFewSamplesCannotTell) {
  EXPECT_FALSE(mean_of({}));
  EXPECT_EQ(mean_of(std::vector{7.0})->value, 7);
  EXPECT_FALSE(mean_of(std::vector{7.0})->interval);
  const auto level = *mean_of(std::vector{7.0, 7.0, 7.0});
  EXPECT_EQ(level.interval->low, 7);
  EXPECT_EQ(level.interval->high, 7);
}

TEST(MeanOf, LargeMinutesKeepTheirSpread) {
  const auto near = *mean_of(std::vector{1.0, 2.0, 4.0}), far = *mean_of(std::vector{1e9 + 1, 1e9 + 2, 1e9 + 4});
  EXPECT_NEAR(far.interval->high - far.interval->low, near.interval->high - near.interval->low, 1e-6);
}

// R 4.2.2: b <- c(44,21,70,40,39,131,15,52,66,37); f <- function(r) t.test(a - r*b)$p.value - 0.05
//          mean(a)/mean(b); uniroot(f, c(.572, .772), tol=1e-14)$root; uniroot(f, c(.773, .972), tol=1e-14)$root
TEST(RatioOfMeans, HasTheBoundsOfR) {
  const auto ratio = *ratio_of_means(shorter, longer);
  EXPECT_NEAR(ratio.value, 0.772815533980582, 1e-14);
  EXPECT_NEAR(ratio.interval->low, 0.688471372591612, 1e-12);
  EXPECT_NEAR(ratio.interval->high, 0.90050782430856, 1e-12);
}

// |t| of the paired test that mean(of - r to) is 0.
double paired_t(const std::vector<double>& of, const std::vector<double>& to, double r) {
  double mean = 0, squares = 0;
  const auto n = static_cast<double>(of.size());
  for (std::size_t i = 0; i < of.size(); ++i) mean += (of[i] - r * to[i]) / n;
  for (std::size_t i = 0; i < of.size(); ++i) squares += std::pow(of[i] - r * to[i] - mean, 2);
  return std::abs(mean) / std::sqrt(squares / (n - 1) / n);
}

struct Paired {
  std::vector<double> of, to;
};

// Call-outs of unlike length, as they are: the two policies share it.
Paired invented_pairs(std::uint64_t number, std::size_t n) {
  Dice dice(18, number);
  Paired pairs;
  for (std::size_t i = 0; i < n; ++i) {
    const double length = 10 - 40 * std::log1p(-dice.uniform());
    pairs.of.push_back(length * (0.5 + dice.uniform()) + 5 * dice.uniform());
    pairs.to.push_back(length * (0.7 + dice.uniform()));
  }
  return pairs;
}

TEST(RatioOfMeans, BoundsAreWhereThePairedTestTurns) {
  for (std::uint64_t number = 0; number < 50; ++number) {
    const auto n = 5 + static_cast<std::size_t>(number);
    const auto [of, to] = invented_pairs(number, n);
    const auto ratio = *ratio_of_means(of, to);
    const double turning = quantile(boost::math::students_t(static_cast<double>(n - 1)), 0.975);
    EXPECT_NEAR(paired_t(of, to, ratio.interval->low), turning, 1e-8) << number;
    EXPECT_NEAR(paired_t(of, to, ratio.interval->high), turning, 1e-8) << number;
    EXPECT_LT(paired_t(of, to, ratio.value), 1e-8) << number;
    EXPECT_LT(ratio.interval->low, ratio.value);
    EXPECT_LT(ratio.value, ratio.interval->high);
  }
}

TEST(RatioOfMeans, TurnedRoundIsTheReciprocal) {
  const auto there = *ratio_of_means(shorter, longer), back = *ratio_of_means(longer, shorter);
  EXPECT_NEAR(there.value * back.value, 1, 1e-14);
  EXPECT_NEAR(there.interval->low * back.interval->high, 1, 1e-12);
  EXPECT_NEAR(there.interval->high * back.interval->low, 1, 1e-12);
}

// The same twenty numbers in another pairing say far less: the interval does use the pairs.
TEST(RatioOfMeans, PairingNarrowsTheInterval) {
  auto shuffled = longer;
  std::rotate(shuffled.begin(), shuffled.begin() + 3, shuffled.end());
  const auto paired = *ratio_of_means(shorter, longer)->interval, unpaired = *ratio_of_means(shorter, shuffled)->interval;
  EXPECT_LT(4 * (paired.high - paired.low), unpaired.high - unpaired.low);
}

// The two roots fall together: rounding must not put the one below the other, or part them from the ratio.
TEST(RatioOfMeans, AFixedRatioHasNoWidth) {
  for (int tenths = 1; tenths <= 50; ++tenths) {
    const std::vector to{4.1, 6.2, 8.3, 6.4};
    std::vector<double> of;
    for (const double minutes : to) of.push_back(minutes * tenths / 10);
    const auto ratio = ratio_of_means(of, to);
    ASSERT_TRUE(ratio->interval);
    EXPECT_NEAR(ratio->interval->low, tenths / 10.0, 1e-6);
    EXPECT_NEAR(ratio->interval->high, tenths / 10.0, 1e-6);
  }
}

TEST(RatioOfMeans, SaysWhatThePairsCannotTell) {
  EXPECT_FALSE(ratio_of_means({}, {}));
  EXPECT_FALSE(ratio_of_means(std::vector{1.0, 2.0}, std::vector{0.0, 0.0}));
  EXPECT_FALSE(ratio_of_means(std::vector{1.0}, std::vector{2.0})->interval);
  const auto unbounded = *ratio_of_means(std::vector{1.0, 2.0, 3.0}, std::vector{-5.0, 6.0, 2.0});  // the divisor may well be 0
  EXPECT_DOUBLE_EQ(unbounded.value, 2);
  EXPECT_FALSE(unbounded.interval);
}

TEST(Samples, ThatCannotBePairedOrAreNoNumbersAreRefused) {
  EXPECT_THROW((void)ratio_of_means(std::vector{1.0}, std::vector{1.0, 2.0}), std::invalid_argument);
  for (const double bad : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    EXPECT_THROW((void)mean_of(std::vector{1.0, bad}), std::invalid_argument);
    EXPECT_THROW((void)ratio_of_means(std::vector{1.0, bad}, std::vector{1.0, 2.0}), std::invalid_argument);
    EXPECT_THROW((void)ratio_of_means(std::vector{1.0, 2.0}, std::vector{bad, 2.0}), std::invalid_argument);
  }
}

// First: § 18, COMPUTED. The others, R 4.2.2: binom.test(41, 100)$p.value, binom.test(7, 14)$p.value.
TEST(Mcnemar, HasTheValuesOfR) {
  EXPECT_NEAR(mcnemar_exact(3, 12), 0.03515625, 1e-15);
  EXPECT_NEAR(mcnemar_exact(12, 3), 0.03515625, 1e-15);
  EXPECT_NEAR(mcnemar_exact(41, 59), 0.0886260801140677, 1e-14);
  EXPECT_EQ(mcnemar_exact(7, 7), 1);
  EXPECT_EQ(mcnemar_exact(0, 0), 1);
}

// All 2^n ways in which n coins may fall, counted.
TEST(Mcnemar, CountsWaysAtLeastAsUneven) {
  for (unsigned n = 1; n <= 12; ++n) {
    for (unsigned first = 0; first <= n; ++first) {
      const auto apart = [n](unsigned heads) { return std::abs(2 * static_cast<int>(heads) - static_cast<int>(n)); };
      unsigned ways = 0;
      for (unsigned coins = 0; coins < (1U << n); ++coins) ways += apart(static_cast<unsigned>(__builtin_popcount(coins))) >= apart(first) ? 1 : 0;
      EXPECT_NEAR(mcnemar_exact(first, n - first), ways / std::pow(2.0, n), 1e-13) << first << " of " << n;
    }
  }
}

}  // namespace
}  // namespace leadline::trial
