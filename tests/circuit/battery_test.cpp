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
  };
  for (const auto& row : rows) {
    SCOPED_TRACE(row.name);
    ASSERT_NE(trouble_of(row.result), nullptr);
    EXPECT_EQ(trouble_of(row.result)->what, row.what);
  }
}

TEST(Battery, ElectromotiveForceRisesWithChargeWithoutJumps) {
  for (const auto chemistry : {Chemistry::flooded, Chemistry::agm}) {
    for (int step = 0; step < 1000; ++step) {
      const double rise = std::get<double>(emf_v(chemistry, (step + 1) / 1000.0)) - std::get<double>(emf_v(chemistry, step / 1000.0));
      EXPECT_GT(rise, 0) << step;
      EXPECT_LT(rise, 0.002) << step;
    }
  }
}

TEST(Battery, SmallerIsSofter) {
  EXPECT_DOUBLE_EQ(std::get<double>(healthy_internal_ohm_of_capacity(50)), 2 * std::get<double>(healthy_internal_ohm_of_capacity(100)));
  EXPECT_LT(std::get<double>(healthy_internal_ohm_of_cca(800)), std::get<double>(most_cold_internal_ohm_of_cca(800)));
  EXPECT_LT(std::get<double>(most_cold_internal_ohm_of_cca(800)), std::get<double>(most_load_test_internal_ohm_of_cca(800)));
}

}  // namespace
}  // namespace leadline::circuit
