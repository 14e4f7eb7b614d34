#include "engine/circuit/conductor.h"

#include <gtest/gtest.h>

#include <limits>

namespace leadline::circuit {
namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

TEST(Conductor, RefusesWhatNoRunCanBe) {
  struct { const char* name; double area, length, temperature; const char *what, *hint; } const rows[] = {
      {"no length", 70, 0, 20, "the length is 0 m", "expected 0.01 m to 1000 m"},
      {"negative length", 70, -8, 20, "the length is -8 m", "expected 0.01 m to 1000 m"},
      {"length in millimetres", 70, 8000, 20, "the length is 8000 m", "expected 0.01 m to 1000 m"},
      {"a length that is no number", 70, not_a_number, 20, "the length is nan m", "expected 0.01 m to 1000 m"},
      {"between two sizes", 60, 8, 20, "no conductor of 60 mm2 in IEC 60228", "the nearest are 50 mm2 and 70 mm2"},
      {"no area", 0, 8, 20, "no conductor of 0 mm2 in IEC 60228", "nominal areas run from 1.5 mm2 to 240 mm2"},
      {"negative area", -70, 8, 20, "no conductor of -70 mm2 in IEC 60228", "nominal areas run from 1.5 mm2 to 240 mm2"},
      {"as thick as an arm", 7000, 8, 20, "no conductor of 7000 mm2 in IEC 60228", "nominal areas run from 1.5 mm2 to 240 mm2"},
      {"an area that is no number", not_a_number, 8, 20, "no conductor of nan mm2 in IEC 60228",
       "nominal areas run from 1.5 mm2 to 240 mm2"},
      {"molten", 70, 8, 1085, "the temperature is 1085 degC", "expected -60 degC to 250 degC"},
  };
  for (const auto& row : rows) {
    SCOPED_TRACE(row.name);
    const auto result = run_ohm({row.area, Stranding::class_5, Surface::plain}, row.length, row.temperature);
    ASSERT_NE(trouble_of(result), nullptr);
    EXPECT_EQ(trouble_of(result)->kind, Trouble::Kind::bad_value);
    EXPECT_EQ(trouble_of(result)->what, row.what);
    EXPECT_EQ(trouble_of(result)->hint, row.hint);
  }
}

TEST(Conductor, GrowsWithLengthAndHeatAndFallsWithAreaInEveryKind) {
  for (const auto stranding : {Stranding::class_2, Stranding::class_5}) {
    double previous = std::numeric_limits<double>::infinity();
    for (const double area : nominal_areas_mm2()) {
      const double plain = std::get<double>(run_ohm({area, stranding, Surface::plain}, 1, 20));
      EXPECT_LT(plain, previous) << area;
      EXPECT_GT(std::get<double>(run_ohm({area, stranding, Surface::tinned}, 1, 20)), plain) << area;
      EXPECT_DOUBLE_EQ(std::get<double>(run_ohm({area, stranding, Surface::plain}, 3, 20)), 3 * plain) << area;
      EXPECT_GT(std::get<double>(run_ohm({area, stranding, Surface::plain}, 1, 21)), plain) << area;
      previous = plain;
    }
  }
}

TEST(Gauge, IsReadAndNamed) {
  struct { const char* written; int gauge; } const rows[] = {{"4/0", -3}, {"3/0", -2}, {"2/0", -1}, {"1/0", 0}, {"1", 1}, {"10", 10}, {"40", 40}};
  for (const auto& row : rows) {
    EXPECT_EQ(std::get<int>(gauge_of(row.written)), row.gauge) << row.written;
    EXPECT_EQ(gauge_name(row.gauge), row.written);
  }
  for (const char* wrong : {"", "0", "5/0", "0/0", "1/1", "-1", "41", "2.5", "1/00", "ten"}) {
    const auto result = gauge_of(wrong);
    ASSERT_NE(trouble_of(result), nullptr) << wrong;
    EXPECT_EQ(trouble_of(result)->what, "'" + std::string(wrong) + "' is no wire gauge");
  }
  EXPECT_NE(trouble_of(awg_area_mm2(-4)), nullptr);
  EXPECT_NE(trouble_of(awg_area_cmil(41)), nullptr);
  const auto beyond = sae_gauge_for(205501);
  ASSERT_NE(trouble_of(beyond), nullptr);
  EXPECT_EQ(trouble_of(beyond)->what, "the area is 205501 circular mils");
}

TEST(DropRules, RefuseAbsurdNumbers) {
  struct { const char* name; Result<double> result; const char* what; } const rows[] = {
      {"negative current", iso_drop_v_over_total_length(-1, 16, 70), "the current is -1 A"},
      {"no length", iso_drop_v_over_total_length(300, 0, 70), "the length is 0 m"},
      {"no area", iso_drop_v_over_total_length(300, 16, 0), "the area is 0 mm2"},
      {"no drop allowed", iso_area_mm2_over_total_length(300, 16, 0), "the drop is 0 V"},
      {"area in mm2 where mils are due", abyc_drop_v_over_round_trip(300, 52, 70), "the area is 70 circular mils"},
      {"negative length", abyc_area_cmil_over_round_trip(300, -52, 0.72), "the length is -52 ft"},
      {"negative area", iec_drop_v_over_one_way_length(300, 8, -70), "the area is -70 mm2"},
  };
  for (const auto& row : rows) {
    SCOPED_TRACE(row.name);
    ASSERT_NE(trouble_of(row.result), nullptr);
    EXPECT_EQ(trouble_of(row.result)->what, row.what);
  }
}

}  // namespace
}  // namespace leadline::circuit
