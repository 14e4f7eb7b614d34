#include "engine/circuit/battery.h"

#include <gtest/gtest.h>

namespace leadline::circuit {
namespace {

TEST(Battery, RefusesWhatNoBatteryIs) {
  struct { const char* name; Result<double> result; const char* what; } const rows[] = {
      {"no cranking current", healthy_internal_ohm_of_cca(0), "the cold cranking current is 0 A"},
      {"negative cranking current", most_cold_internal_ohm_of_cca(-700), "the cold cranking current is -700 A"},
      {"a power station", most_load_test_internal_ohm_of_cca(1e6), "the cold cranking current is 1000000 A"},
      {"a torch's battery", healthy_internal_ohm_of_capacity(2), "the capacity is 2 Ah"},
      {"percent where a share is due", emf_v(Chemistry::agm, 75), "the state of charge is 75"},
      {"less than empty", emf_v(Chemistry::flooded, -0.1), "the state of charge is -0.1"},
      {"no current", peukert_hours(100, 20, 0, 1.2), "the current is 0 A"},
      {"an exponent below one", peukert_hours(100, 20, 5, 0.9), "the exponent is 0.9"},
      {"no rating", peukert_hours(100, 0, 5, 1.2), "the rating is 0 h"},
      {"not yet made", ageing_factor(-1, 20), "the age is -1 years"},
      {"older than any", ageing_factor(31, 20), "the age is 31 years"},
      {"frozen through", ageing_factor(2, -31), "the temperature of a battery is -31 degC"},
      {"cooked", ageing_factor(2, 61), "the temperature of a battery is 61 degC"},
  };
  for (const auto& row : rows) {
    SCOPED_TRACE(row.name);
    ASSERT_NE(trouble_of(row.result), nullptr);
    EXPECT_EQ(trouble_of(row.result)->what, row.what);
  }
}

TEST(Battery, ElectromotiveForceRisesWithChargeWithoutJumps) {
  struct { Chemistry chemistry; double steepest; } const rows[] = {
      {Chemistry::flooded, 0.002}, {Chemistry::agm, 0.002}, {Chemistry::gel, 0.002}, {Chemistry::lithium, 0.006}};  // lithium falls off a cliff
  for (const auto& row : rows) {
    for (int step = 0; step < 1000; ++step) {
      const double rise = std::get<double>(emf_v(row.chemistry, (step + 1) / 1000.0)) - std::get<double>(emf_v(row.chemistry, step / 1000.0));
      EXPECT_GT(rise, 0) << step;
      EXPECT_LT(rise, row.steepest) << step;
    }
  }
}

TEST(Battery, RestsAtTheRowsOfItsTable) {  // 0, 25, 50, 75, 100 %: flooded READ, AGM common practice, gel and lithium from memory
  struct { const char* word; double volts[5]; } const rows[] = {{"flooded", {11.90, 12.00, 12.20, 12.40, 12.70}},
                                                                {"agm", {11.80, 12.00, 12.30, 12.60, 12.80}},
                                                                {"gel", {11.80, 12.00, 12.35, 12.65, 12.85}},
                                                                {"lithium", {11.60, 12.90, 13.05, 13.20, 13.50}}};
  for (const auto& row : rows) {
    const auto chemistry = chemistry_of(row.word);
    ASSERT_TRUE(chemistry.has_value()) << row.word;
    for (int quarter = 0; quarter < 5; ++quarter) EXPECT_DOUBLE_EQ(std::get<double>(emf_v(*chemistry, quarter / 4.0)), row.volts[quarter]) << row.word;
    EXPECT_DOUBLE_EQ(std::get<double>(emf_v(*chemistry, 0.875)), (row.volts[3] + row.volts[4]) / 2) << row.word;
  }
}

TEST(Battery, KindsAreTheWordsOfTheRecord) {
  for (const char* word : {"", "AGM", "wet", "lead", "lithium "}) EXPECT_FALSE(chemistry_of(word).has_value()) << word;
  EXPECT_EQ(chemistry_of("gel"), Chemistry::gel);
}

TEST(Battery, GrowsHarderToDrawFromWithYearsAndCold) {
  struct { const char* name; double years, temperature, factor; } const rows[] = {
      {"new and warm", 0, 20, 1}, {"new and hot", 0, 60, 1}, {"five years", 5, 20, 1.2}, {"new at freezing", 0, 0, 1.2},
      {"five years at freezing", 5, 0, 1.44}, {"the oldest in the deepest cold", 30, -30, 2.2 * 1.5}};
  for (const auto& row : rows) EXPECT_NEAR(std::get<double>(ageing_factor(row.years, row.temperature)), row.factor, 1e-12) << row.name;
}

TEST(Battery, SmallerIsSofter) {
  EXPECT_DOUBLE_EQ(std::get<double>(healthy_internal_ohm_of_capacity(50)), 2 * std::get<double>(healthy_internal_ohm_of_capacity(100)));
  EXPECT_LT(std::get<double>(healthy_internal_ohm_of_cca(800)), std::get<double>(most_cold_internal_ohm_of_cca(800)));
  EXPECT_LT(std::get<double>(most_cold_internal_ohm_of_cca(800)), std::get<double>(most_load_test_internal_ohm_of_cca(800)));
}

}  // namespace
}  // namespace leadline::circuit
