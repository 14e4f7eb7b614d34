// Scores of forecasts: § 17 of the reference sheet with its tags, R 4.2.2 with the command beside the numbers, and the definitions. Invented data.
#include "engine/trial/scores.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "engine/trial/dice.h"

namespace leadline::trial {
namespace {

void add(std::vector<Forecast>& forecasts, double chance, int happened, int of) {
  for (int i = 0; i < of; ++i) forecasts.push_back({chance, i < happened});
}

// § 17: forecasts 0.1, 0.3, 0.7, 0.9, ten each; events 1, 4, 6, 9.
std::vector<Forecast> forty() {
  std::vector<Forecast> forecasts;
  add(forecasts, 0.1, 1, 10);
  add(forecasts, 0.3, 4, 10);
  add(forecasts, 0.7, 6, 10);
  add(forecasts, 0.9, 9, 10);
  return forecasts;
}

std::vector<Forecast> paired(const std::vector<double>& chances, const std::vector<int>& happened) {
  std::vector<Forecast> forecasts;
  for (std::size_t i = 0; i < chances.size(); ++i) forecasts.push_back({chances[i], happened[i] != 0});
  return forecasts;
}

// Chances anywhere from 0 to 1 or, with `grid`, on tenths; what happened leans on them but is not theirs.
std::vector<Forecast> invented_forecasts(std::uint64_t number, std::size_t n, bool grid) {
  Dice dice(17, number);
  std::vector<Forecast> forecasts;
  for (std::size_t i = 0; i < n; ++i) {
    const double u = dice.uniform(), chance = grid ? std::floor(u * 11) / 10 : u;
    forecasts.push_back({chance, dice.uniform() < 0.2 + 0.6 * chance});
  }
  return forecasts;
}

// COMPUTED x2 in § 17.
TEST(Scores, FortyForecastsOfTheSheet) {
  const auto forecasts = forty();
  const auto parts = *brier_parts(bins_by_value(forecasts));
  EXPECT_NEAR(*brier(forecasts), 0.17, 1e-15);
  EXPECT_NEAR(parts.brier, 0.17, 1e-15);
  EXPECT_NEAR(parts.reliability, 0.005, 1e-15);
  EXPECT_NEAR(parts.resolution, 0.085, 1e-15);
  EXPECT_NEAR(parts.uncertainty, 0.25, 1e-15);
  EXPECT_NEAR(*parts.skill, 0.32, 1e-14);
  EXPECT_EQ(parts.within_spread, 0);
  EXPECT_EQ(parts.within_joint_spread, 0);
  EXPECT_NEAR(*log_loss(forecasts), 0.510338530742531, 1e-14);
  EXPECT_NEAR(*log_loss(forecasts) / std::log(2.0), 0.736262867, 5e-10);
  for (const auto& bins : {bins_by_value(forecasts), bins_of_width(forecasts, 5), bins_of_width(forecasts, 10)}) {
    EXPECT_NEAR(calibration_error(bins)->expected, 0.05, 1e-15);
    EXPECT_NEAR(calibration_error(bins)->worst, 0.1, 1e-15);
  }
}

// READ in § 17 (published example; its page prints the mean confidence of each bin, so here all of a bin have the mean).
TEST(Scores, PublishedCalibrationErrorOfTenItems) {
  std::vector<Forecast> forecasts;
  add(forecasts, 0.5500, 1, 1);
  add(forecasts, 0.6675, 2, 4);
  add(forecasts, 0.8960, 5, 5);
  const auto bins = bins_of_width(forecasts, 5);
  ASSERT_EQ(bins.size(), 3U);  // the two empty ones are left out and so count 0
  EXPECT_NEAR(calibration_error(bins)->expected, 0.1640, 1e-14);
  EXPECT_NEAR(calibration_error(bins)->worst, 0.4500, 1e-14);
}

// COMPUTED x2 in § 17.
TEST(Scores, ThreeOutcomesOfTheSheet) {
  const std::vector chances{0.7, 0.2, 0.1};
  EXPECT_NEAR(brier_sum(chances, 0), 0.14, 1e-15);
  EXPECT_NEAR(log_score(chances, 0), 0.356674944, 5e-10);
  EXPECT_NEAR(spherical_score(chances, 0), 0.952579344, 5e-10);
}

TEST(Bins, CloseOnTheirLeftAndTheLastOnBoth) {
  const auto bins = bins_of_width(paired({0, 0.2, 0.19999999, 0.4, 0.8, 1}, {0, 0, 1, 0, 1, 1}), 5);
  ASSERT_EQ(bins.size(), 4U);
  EXPECT_EQ(bins[0].low, 0);
  EXPECT_EQ(bins[0].high, 0.2);
  EXPECT_EQ(bins[0].forecasts, 2U);  // 0 and 0.19999999
  EXPECT_EQ(bins[1].low, 0.2);
  EXPECT_EQ(bins[1].forecasts, 1U);
  EXPECT_EQ(bins[2].low, 0.4);
  EXPECT_EQ(bins[3].high, 1);
  EXPECT_EQ(bins[3].forecasts, 2U);  // 0.8 and 1
  EXPECT_EQ(bins[3].happened, 2U);
}

// 0.29 * 100 is 28.999999999999996: an edge must still open its own bin, and the double below it end the one before.
TEST(Bins, NoEdgeIsMissedByRounding) {
  for (std::size_t bins = 1; bins <= 200; ++bins) {
    for (std::size_t k = 1; k < bins; ++k) {
      const double edge = static_cast<double>(k) / static_cast<double>(bins);
      ASSERT_EQ(bins_of_width(std::vector{Forecast{edge, true}}, bins)[0].low, edge) << k << " of " << bins;
      ASSERT_EQ(bins_of_width(std::vector{Forecast{std::nextafter(edge, 0), true}}, bins)[0].high, edge) << k << " of " << bins;
    }
  }
}

TEST(Bins, ByValueHoldEqualChancesWhateverTheirOrder) {
  const auto bins = bins_by_value(paired({0.7, 0.1, 0.7, 0.1, 0.7}, {1, 0, 0, 1, 1}));
  ASSERT_EQ(bins.size(), 2U);
  EXPECT_EQ(bins[0].mean_chance, 0.1);
  EXPECT_EQ(bins[0].happened, 1U);
  EXPECT_EQ(bins[1].mean_chance, 0.7);
  EXPECT_EQ(bins[1].forecasts, 3U);
  EXPECT_EQ(bins[1].spread, 0);
}

// With one value in each bin Murphy's three add up; with wide bins only all five do.
TEST(BrierParts, AddUpToTheScore) {
  double most_missing = 0;
  for (std::uint64_t number = 0; number < 200; ++number) {
    const auto forecasts = invented_forecasts(number, 1 + number, number % 2 == 0);
    const double whole = *brier(forecasts);
    const auto sharp = *brier_parts(bins_by_value(forecasts));
    EXPECT_NEAR(sharp.reliability - sharp.resolution + sharp.uncertainty, whole, 1e-14) << number;
    for (const std::size_t count : {1U, 2U, 5U, 10U}) {
      const auto wide = *brier_parts(bins_of_width(forecasts, count));
      EXPECT_NEAR(wide.brier, whole, 1e-14) << number << " in " << count;
      EXPECT_GE(wide.within_spread, 0);
      most_missing = std::max(most_missing, std::abs(wide.reliability - wide.resolution + wide.uncertainty - whole));
    }
  }
  EXPECT_GT(most_missing, 0.01);  // the two terms within bins matter
}

// R 4.2.2, after  f <- rep(c(.1,.3,.7,.9), each=10); e <- c(rep(1:0,c(1,9)), rep(1:0,c(4,6)), rep(1:0,c(6,4)), rep(1:0,c(9,1))):
//   s <- summary(glm(e ~ qlogis(f), family=binomial, control=list(epsilon=1e-15, maxit=100)))$coefficients
//   s[,1]; s[,2]; s[,1] - qnorm(.975)*s[,2]; s[,1] + qnorm(.975)*s[,2]
TEST(CalibrationLine, OfTheFortyForecastsInR) {
  const auto line = *calibration_line(forty());
  EXPECT_NEAR(line.intercept, 0, 1e-10);
  EXPECT_NEAR(line.intercept_error, 0.38830267239276, 1e-9);
  EXPECT_NEAR(line.intercept_interval.low, -0.76105925299046, 1e-9);
  EXPECT_NEAR(line.intercept_interval.high, 0.76105925299046, 1e-9);
  EXPECT_NEAR(line.slope, 0.86796576674796, 1e-9);
  EXPECT_NEAR(line.slope_error, 0.26711228627865, 1e-9);
  EXPECT_NEAR(line.slope_interval.low, 0.34443530581365, 1e-9);
  EXPECT_NEAR(line.slope_interval.high, 1.39149622768227, 1e-9);
}

// The same commands in R 4.2.2 on f and e as they stand here.
TEST(CalibrationLine, OfTwentyForecastsInR) {
  const auto line = *calibration_line(paired({.02, .05, .08, .12, .2, .25, .33, .4, .45, .5, .55, .6, .7, .75, .8, .88, .9, .95, .97, .99},
                                             {0, 0, 1, 0, 0, 0, 1, 0, 1, 0, 1, 0, 1, 1, 0, 1, 1, 1, 1, 0}));
  EXPECT_NEAR(line.intercept, -0.069883219652109, 1e-9);
  EXPECT_NEAR(line.intercept_error, 0.478529792947701, 1e-9);
  EXPECT_NEAR(line.slope, 0.35906759193504, 1e-9);
  EXPECT_NEAR(line.slope_error, 0.24585666587793, 1e-9);
  EXPECT_NEAR(line.slope_interval.low, -0.12280261854481, 1e-9);
  EXPECT_NEAR(line.slope_interval.high, 0.84093780241488, 1e-9);
}

// After the same, in R 4.2.2:  g <- c(1,1,1,2,2,3,3,3,3,4,4,5,5,5,6,6,6,7,7,7); X <- model.matrix(m); U <- rowsum(X * (e - fitted(m)), g);
//   sqrt(diag(vcov(m) %*% (crossprod(U) * 7/6) %*% vcov(m)))
TEST(CalibrationLine, HasErrorsByGroupsAsInR) {
  const auto forecasts = paired({.02, .05, .08, .12, .2, .25, .33, .4, .45, .5, .55, .6, .7, .75, .8, .88, .9, .95, .97, .99},
                                {0, 0, 1, 0, 0, 0, 1, 0, 1, 0, 1, 0, 1, 1, 0, 1, 1, 1, 1, 0});
  const std::vector<std::size_t> group{1, 1, 1, 2, 2, 3, 3, 3, 3, 4, 4, 5, 5, 5, 6, 6, 6, 7, 7, 7};
  const auto line = *calibration_line(forecasts, group);
  EXPECT_NEAR(line.slope, 0.35906759193504, 1e-9);
  EXPECT_NEAR(line.intercept_error, 0.227710824235809, 1e-9);
  EXPECT_NEAR(line.slope_error, 0.171236130214286, 1e-9);
}

// Forecasts given twice are no more than given once.
TEST(CalibrationLine, LearnsNothingFromARepetition) {
  const auto once = paired({.1, .3, .4, .6, .8, .9}, {0, 1, 0, 1, 0, 1});
  std::vector<Forecast> twice;
  std::vector<std::size_t> alone, pairs;
  for (std::size_t f = 0; f < once.size(); ++f) {
    alone.push_back(f);
    twice.insert(twice.end(), 2, once[f]);
    pairs.insert(pairs.end(), 2, f);
  }
  EXPECT_NEAR(calibration_line(twice, pairs)->slope_error, calibration_line(once, alone)->slope_error, 1e-9);
}

// Chances of 0 and 1, one of each wrong. The same commands after  f <- pmin(pmax(f, 1e-9), 1 - 1e-9);
//   -mean(e*log(f) + (1-e)*log(1-f))
TEST(CalibrationLine, OfCertaintiesInR) {
  const auto forecasts = paired({0, 0, .2, .4, .6, .8, 1, 1}, {0, 1, 0, 1, 0, 1, 1, 1});
  const auto line = *calibration_line(forecasts);
  EXPECT_NEAR(line.intercept, 0.60285364118701, 1e-9);
  EXPECT_NEAR(line.intercept_error, 0.80877164545312, 1e-9);
  EXPECT_NEAR(line.slope, 0.060522162687562, 1e-9);
  EXPECT_NEAR(line.slope_error, 0.059547904840718, 1e-9);
  EXPECT_NEAR(*log_loss(forecasts), 2.87526680079039, 1e-9);
}

// A whole Newton step from the flat line overshoots here, and the next ones never come back. The same commands.
TEST(CalibrationLine, IsFoundWhereWholeStepsDiverge) {
  auto forecasts = paired({.3, .49, .999, .999, .999}, {1, 0, 1, 1, 1});
  add(forecasts, 0.55, 300, 300);
  const auto line = calibration_line(forecasts);
  ASSERT_TRUE(line);
  EXPECT_NEAR(line->intercept, 5.0602371678478, 1e-8);
  EXPECT_NEAR(line->intercept_error, 1.0281664724632, 1e-8);
  EXPECT_NEAR(line->slope, 4.5322653397711, 1e-8);
  EXPECT_NEAR(line->slope_error, 2.5234380577632, 1e-8);
}

// At the likeliest line what it expects and what happened agree in sum, and in sum weighted by the log odds.
TEST(CalibrationLine, SolvesItsEquations) {
  int solved = 0;
  for (std::uint64_t number = 0; number < 300; ++number) {
    const auto forecasts = invented_forecasts(number, 4 + number, number % 3 == 0);
    const auto line = calibration_line(forecasts);
    if (!line) continue;
    ++solved;
    double off = 0, off_by_odds = 0;
    for (const auto& forecast : forecasts) {
      const double chance = std::min(std::max(forecast.chance, 1e-9), 1 - 1e-9), odds = std::log(chance / (1 - chance));
      const double expected = 1 / (1 + std::exp(-line->intercept - line->slope * odds));
      off += (forecast.happened ? 1 : 0) - expected;
      off_by_odds += ((forecast.happened ? 1 : 0) - expected) * odds;
    }
    EXPECT_NEAR(off, 0, 1e-8) << number;
    EXPECT_NEAR(off_by_odds, 0, 1e-7) << number;
  }
  EXPECT_GT(solved, 280);
}

// Outcomes drawn from the very chances stated: about 95 of 100 intervals hold slope 1 and intercept 0. 1000 trials: 2.3 % is 3.3 standard errors.
TEST(CalibrationLine, OfHonestForecastsIsTheDiagonal) {
  int slopes = 0, intercepts = 0;
  for (std::uint64_t number = 0; number < 1000; ++number) {
    Dice dice(99, number);
    std::vector<Forecast> forecasts;
    for (int i = 0; i < 300; ++i) {
      const double chance = dice.uniform();
      forecasts.push_back({chance, dice.uniform() < chance});
    }
    const auto line = *calibration_line(forecasts);
    slopes += line.slope_interval.low <= 1 && 1 <= line.slope_interval.high ? 1 : 0;
    intercepts += line.intercept_interval.low <= 0 && 0 <= line.intercept_interval.high ? 1 : 0;
  }
  EXPECT_NEAR(slopes, 950, 23);
  EXPECT_NEAR(intercepts, 950, 23);
}

// Log odds doubled: the slope halves, the intercept stays.
TEST(CalibrationLine, OverconfidenceHalvesTheSlope) {
  const auto honest = invented_forecasts(7, 400, false);
  auto too_sure = honest;
  for (auto& forecast : too_sure) {
    const double odds = std::pow(forecast.chance / (1 - forecast.chance), 2);
    forecast.chance = odds / (1 + odds);
  }
  EXPECT_NEAR(calibration_line(too_sure)->slope, calibration_line(honest)->slope / 2, 1e-9);
  EXPECT_NEAR(calibration_line(too_sure)->intercept, calibration_line(honest)->intercept, 1e-9);
}

// Nearly separated: one pair of neighbours out of order among far ones. The likeliest line is steep, but finite.
TEST(CalibrationLine, IsFoundWhenSteep) {
  const auto line = calibration_line(paired({1e-9, 1e-6, 0.4999, 0.5, 0.5001, 1 - 1e-6, 1 - 1e-9}, {0, 0, 0, 1, 0, 1, 1}));
  ASSERT_TRUE(line);
  EXPECT_GT(line->slope, 1);
  EXPECT_TRUE(std::isfinite(line->slope_error));
}

struct UntoldRow {
  std::string_view name;
  std::vector<Forecast> forecasts;
};

class Untold : public testing::TestWithParam<UntoldRow> {};

TEST_P(Untold, HasNoLine) { EXPECT_FALSE(calibration_line(GetParam().forecasts)); }

INSTANTIATE_TEST_SUITE_P(CalibrationLine, Untold,
                         testing::Values(UntoldRow{"nothing", {}}, UntoldRow{"one", {{0.4, true}}},
                                         UntoldRow{"all_happened", {{0.2, true}, {0.7, true}, {0.9, true}}},
                                         UntoldRow{"none_happened", {{0.2, false}, {0.7, false}, {0.9, false}}},
                                         UntoldRow{"one_chance", {{0.6, true}, {0.6, false}, {0.6, true}}},
                                         UntoldRow{"separated", {{0.1, false}, {0.2, false}, {0.7, true}}},
                                         UntoldRow{"separated_the_wrong_way", {{0.1, true}, {0.2, true}, {0.7, false}}},
                                         UntoldRow{"meeting_in_one_chance", {{0.1, false}, {0.5, false}, {0.5, true}, {0.7, true}}},
                                         UntoldRow{"certain_and_right", {{0, false}, {1, true}}}),
                         [](const auto& row) { return std::string(row.param.name); });

TEST(Scores, WithoutForecastsThereIsNothingToTell) {
  EXPECT_FALSE(brier({}));
  EXPECT_FALSE(log_loss({}));
  EXPECT_TRUE(bins_of_width({}, 10).empty());
  EXPECT_TRUE(bins_by_value({}).empty());
  EXPECT_FALSE(brier_parts({}));
  EXPECT_FALSE(calibration_error({}));
}

TEST(Scores, WhenAllOutcomesAreEqualOnlySkillIsUntold) {
  const auto forecasts = paired({0.5, 0.9, 1}, {1, 1, 1});
  const auto parts = *brier_parts(bins_of_width(forecasts, 10));
  EXPECT_FALSE(parts.skill);
  EXPECT_EQ(parts.uncertainty, 0);
  EXPECT_NEAR(parts.brier, *brier(forecasts), 1e-15);
}

TEST(Scores, ACertaintyThatProvesWrongCostsMuchButNotAll) {
  EXPECT_EQ(*brier(paired({1}, {0})), 1);
  EXPECT_NEAR(*log_loss(paired({0}, {1})), 20.72326583694641, 1e-12);  // R 4.2.2: -log(1e-9)
  EXPECT_NEAR(*log_loss(paired({1}, {0})), 20.72326583694641, 1e-7);
  EXPECT_NEAR(*log_loss(paired({1}, {1})), 1e-9, 1e-15);
  EXPECT_NEAR(log_score(std::vector{1.0, 0.0}, 1), 20.72326583694641, 1e-12);
}

TEST(Scores, OfTwoOutcomesAreThoseOfOneEvent) {
  for (const double chance : {0.0, 0.2, 0.5, 0.83, 1.0}) {
    for (const bool happened : {false, true}) {
      const std::vector both{chance, 1 - chance};
      const std::vector event{Forecast{chance, happened}};
      EXPECT_NEAR(brier_sum(both, happened ? 0 : 1), 2 * *brier(event), 1e-15);
      EXPECT_NEAR(log_score(both, happened ? 0 : 1), *log_loss(event), 1e-7);
    }
  }
}

// Proper scores: whoever believes `truth` can expect no better than by saying so.
TEST(Scores, RewardSayingWhatOneBelieves) {
  Dice dice(41, 0);
  const auto some_chances = [&dice] {
    std::vector<double> chances;
    double sum = 0;
    for (int i = 0; i < 4; ++i) sum += chances.emplace_back(0.01 + dice.uniform());
    for (auto& chance : chances) chance /= sum;
    return chances;
  };
  const auto expected = [](double (*score)(std::span<const double>, std::size_t), const std::vector<double>& said, const std::vector<double>& truth) {
    double sum = 0;
    for (std::size_t i = 0; i < truth.size(); ++i) sum += truth[i] * score(said, i);
    return sum;
  };
  for (int i = 0; i < 1000; ++i) {
    const auto truth = some_chances(), said = some_chances();
    EXPECT_GT(expected(brier_sum, said, truth), expected(brier_sum, truth, truth));
    EXPECT_GT(expected(log_score, said, truth), expected(log_score, truth, truth));
    EXPECT_LT(expected(spherical_score, said, truth), expected(spherical_score, truth, truth));
  }
}

TEST(Scores, RefuseWhatIsNoChance) {
  for (const double bad : {-0.1, 1.1, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    const std::vector<Forecast> forecasts{{0.5, true}, {bad, false}};
    EXPECT_THROW((void)brier(forecasts), std::invalid_argument);
    EXPECT_THROW((void)log_loss(forecasts), std::invalid_argument);
    EXPECT_THROW((void)bins_of_width(forecasts, 10), std::invalid_argument);
    EXPECT_THROW((void)bins_by_value(forecasts), std::invalid_argument);
    EXPECT_THROW((void)calibration_line(forecasts), std::invalid_argument);
    EXPECT_THROW((void)brier_sum(std::vector{bad, 1 - bad}, 0), std::invalid_argument);
  }
  EXPECT_THROW((void)bins_of_width(forty(), 0), std::invalid_argument);
  EXPECT_THROW((void)log_score(std::vector{0.5, 0.4}, 0), std::invalid_argument);
  EXPECT_THROW((void)spherical_score(std::vector{0.5, 0.5}, 2), std::invalid_argument);
  EXPECT_THROW((void)brier_sum({}, 0), std::invalid_argument);
}

}  // namespace
}  // namespace leadline::trial
