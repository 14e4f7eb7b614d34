// Conductors against published tables. Values and their tags: shared reference electrical.md § 1, § 2; READ there means seen on
// public pages, not in the paid standards.
#include <gtest/gtest.h>

#include <cmath>

#include "engine/circuit/conductor.h"

namespace leadline::circuit {
namespace {

template <class T>
T of(const Result<T>& result) { return std::get<T>(result); }

// --- IEC 60228, largest resistance at 20 °C in ohm/km: the whole table of § 1.1, READ [S1][S2][S3] ---

TEST(Iec60228, WholeTable) {
  struct { double area, plain_2, tinned_2, plain_5, tinned_5; } const rows[] = {
      {1.5, 12.1, 12.2, 13.3, 13.7},      {2.5, 7.41, 7.56, 7.98, 8.21},      {4, 4.61, 4.70, 4.95, 5.09},
      {6, 3.08, 3.11, 3.30, 3.39},        {10, 1.83, 1.84, 1.91, 1.95},       {16, 1.15, 1.16, 1.21, 1.24},
      {25, 0.727, 0.734, 0.780, 0.795},   {35, 0.524, 0.529, 0.554, 0.565},   {50, 0.387, 0.391, 0.386, 0.393},
      {70, 0.268, 0.270, 0.272, 0.277},   {95, 0.193, 0.195, 0.206, 0.210},   {120, 0.153, 0.154, 0.161, 0.164},
      {150, 0.124, 0.126, 0.129, 0.132},  {185, 0.0991, 0.100, 0.106, 0.108}, {240, 0.0754, 0.0762, 0.0801, 0.0817}};
  ASSERT_EQ(std::size(rows), nominal_areas_mm2().size());
  for (const auto& row : rows) {
    EXPECT_EQ(of(most_ohm_per_km({row.area, Stranding::class_2, Surface::plain})), row.plain_2) << row.area;
    EXPECT_EQ(of(most_ohm_per_km({row.area, Stranding::class_2, Surface::tinned})), row.tinned_2) << row.area;
    EXPECT_EQ(of(most_ohm_per_km({row.area, Stranding::class_5, Surface::plain})), row.plain_5) << row.area;
    EXPECT_EQ(of(most_ohm_per_km({row.area, Stranding::class_5, Surface::tinned})), row.tinned_5) << row.area;
  }
}

// A slip in the table would stand out: resistance times area of class 5 plain, 16 … 240 mm² (DERIVED, § 1.1).
TEST(Iec60228, ClassFiveHoldsTheBandOfItsOwnProducts) {
  for (const double area : nominal_areas_mm2()) {
    if (area < 16) continue;
    const double product = of(most_ohm_per_km({area, Stranding::class_5, Surface::plain})) * area / 1000;
    EXPECT_GE(product, 0.01904 - 5e-6) << area;
    EXPECT_LE(product, 0.01961 + 5e-6) << area;
  }
}

// --- temperature, § 1.2 ---

TEST(CopperTemperature, BothFormsAreOne) {  // 234.5 form and 0.00393 per kelvin: READ [S30]
  for (double t = -30; t <= 120; t += 5) EXPECT_NEAR(of(copper_temperature_factor(t)), 1 + 0.00393 * (t - 20), 1e-4) << t;
}

TEST(CopperTemperature, CorrectionTable) {  // R20 = kt Rt, READ [S3]: a simplified table on 0.004 per kelvin, hence 0.5 %
  struct { double t, kt; } const rows[] = {{5, 1.064}, {10, 1.042}, {30, 0.962}, {40, 0.926}, {50, 0.893}, {70, 0.833}, {90, 0.781}};
  for (const auto& row : rows) EXPECT_NEAR(of(copper_temperature_factor(row.t)) * row.kt, 1, 0.005) << row.t;
}

TEST(Runs, WorkedExamples) {  // DERIVED, § 1.2
  struct { const char* name; Conductor conductor; double length, t, milliohm, amp, volt, volt_digits; } const rows[] = {
      {"class 5 plain", {70, Stranding::class_5, Surface::plain}, 16, 20, 4.352, 300, 1.3056, 5e-5},
      {"tinned", {70, Stranding::class_5, Surface::tinned}, 16, 20, 4.432, 300, 1.3296, 5e-5},
      {"warm", {70, Stranding::class_5, Surface::plain}, 16, 50, 4.352 * 1.1179, 300, 1.4595, 5e-5},
      {"class 2", {70, Stranding::class_2, Surface::plain}, 16, 20, 4.288, 300, 1.2864, 5e-5},
      {"thin", {6, Stranding::class_5, Surface::plain}, 10, 20, 33.0, 30, 0.990, 5e-4}};
  for (const auto& row : rows) {
    const double ohm = of(run_ohm(row.conductor, row.length, row.t));
    EXPECT_NEAR(1000 * ohm, row.milliohm, 5e-4) << row.name;
    EXPECT_NEAR(ohm * row.amp, row.volt, row.volt_digits) << row.name;
  }
}

// --- AWG (ASTM B258), the table of § 1.3 ---

TEST(AmericanWireGauge, WholeTable) {
  struct { const char* gauge; double d_mm, mm2, cmil, ohm_per_km, ohm_per_1000_ft; } const rows[] = {
      // d, mm², CM and ohm/km DERIVED with 0.017241 ohm mm²/m (READ [S4]); the last column READ [S6]
      {"4/0", 11.684, 107.22, 211600, 0.1608, 0.049}, {"3/0", 10.405, 85.03, 167806, 0.2028, 0.0618},
      {"2/0", 9.266, 67.43, 133077, 0.2557, 0.078},   {"1/0", 8.252, 53.48, 105535, 0.3224, 0.0983},
      {"1", 7.348, 42.41, 83693, 0.4066, 0.124},      {"2", 6.544, 33.63, 66371, 0.5127, 0.1563},
      {"4", 5.189, 21.15, 41741, 0.8152, 0.2485},     {"6", 4.115, 13.30, 26251, 1.296, 0.3951},
      {"8", 3.264, 8.366, 16510, 2.061, 0.6282},      {"10", 2.588, 5.261, 10383, 3.277, 0.9989},
      {"12", 2.053, 3.309, 6530, 5.211, 1.588},       {"14", 1.628, 2.081, 4107, 8.285, 2.525},
      {"16", 1.291, 1.309, 2583, 13.17, 4.016},       {"18", 1.024, 0.823, 1624, 20.95, 6.385}};
  for (const auto& row : rows) {
    SCOPED_TRACE(row.gauge);
    const int gauge = of(gauge_of(row.gauge));
    const double area = of(awg_area_mm2(gauge));
    EXPECT_NEAR(of(awg_diameter_mm(gauge)), row.d_mm, 6e-4);  // 1/0 computes to 8.2515 and stands as 8.252
    EXPECT_NEAR(area, row.mm2, 5e-4 * row.mm2);
    EXPECT_NEAR(of(awg_area_cmil(gauge)), row.cmil, 0.51);
    EXPECT_NEAR(17.241 / area, row.ohm_per_km, 5e-4 * row.ohm_per_km);
    EXPECT_NEAR(17.241 / area * 0.3048, row.ohm_per_1000_ft, 6e-3 * row.ohm_per_1000_ft);  // 4/0 stands with two digits
  }
}

TEST(AmericanWireGauge, RulesOfThumb) {  // +3 gauges half the area, +10 ten times the resistance: READ [S9]
  for (int gauge = -3; gauge <= 26; ++gauge) {
    EXPECT_NEAR(of(awg_area_mm2(gauge)) / of(awg_area_mm2(gauge + 3)), 2, 0.01);
    EXPECT_NEAR(of(awg_area_mm2(gauge)) / of(awg_area_mm2(gauge + 10)), 10, 0.2);
  }
}

// --- drop, § 2 ---

TEST(DropRules, OneRunFiveRules) {  // 300 A, 8 m out and 8 m back, 70 mm²: DERIVED; constants READ [S10] [S11], 0.0225 from memory
  const double round_trip_ft = 52.493, cmil = 138147;  // as printed; 1.22545 with more digits
  EXPECT_NEAR(of(iso_drop_v_over_total_length(300, 16, 70)), 1.1246, 5e-5);
  EXPECT_NEAR(of(abyc_drop_v_over_round_trip(300, round_trip_ft, cmil)), 1.2254, 5e-5);
  EXPECT_NEAR(300 * of(run_ohm({70, Stranding::class_5, Surface::plain}, 16, 20)), 1.3056, 5e-5);
  EXPECT_NEAR(300 * of(run_ohm({70, Stranding::class_5, Surface::plain}, 16, 50)), 1.4595, 5e-5);
  EXPECT_NEAR(of(iec_drop_v_over_one_way_length(300, 8, 70)), 1.5429, 5e-5);
}

TEST(DropRules, Inverse) {  // DERIVED: 3 % and 10 % of 24 V on the same run
  EXPECT_NEAR(of(iso_area_mm2_over_total_length(300, 16, 0.72)), 109.33, 5e-3);
  EXPECT_NEAR(of(iso_area_mm2_over_total_length(300, 16, 2.4)), 32.8, 5e-3);
  EXPECT_NEAR(of(abyc_area_cmil_over_round_trip(300, 16 / 0.3048, 0.72)), 235127, 1);
  EXPECT_NEAR(of(abyc_area_cmil_over_round_trip(300, 16 / 0.3048, 2.4)), 70538, 0.6);
}

// Every published cell the reference holds, and no more: 11, not the 89 its author compared. SAE least areas, 12 or 24 V.
TEST(SizingTable, PublishedCells) {
  struct { const char* source; double amp, feet, volt, share; const char* gauge; double cmil; } const rows[] = {
      {"[S11], by SAE", 10, 21, 12, 0.03, "10", 6270.8}, {"[S16]", 10, 21, 12, 0.03, "10", 6270.8},
      {"[S17]", 10, 21, 12, 0.10, "16", 1881.2},         {"[S13]", 10, 20, 12, 0.03, "10", 5972},
      {"[S13]", 10, 50, 12, 0.03, "6", 14931},           {"[S13]", 5, 10, 12, 0.03, "18", 1493},
      {"[S13]", 25, 15, 12, 0.03, "8", 11198},           {"[S13]", 20, 170, 12, 0.03, "2/0", 101528},
      {"[S18]", 100, 10, 24, 0.03, "6", 14931}};
  for (const auto& row : rows) {
    const double cmil = of(abyc_area_cmil_over_round_trip(row.amp, row.feet, row.share * row.volt));
    EXPECT_NEAR(cmil, row.cmil, 0.6) << row.source << row.feet;
    EXPECT_EQ(gauge_name(of(sae_gauge_for(cmil))), row.gauge) << row.source << ' ' << row.feet;
  }
}

// Two cells of [S13] print 6 where the rule gives 4, and one of [S18] fits the AWG area only: we follow the rule, not the print.
TEST(SizingTable, CellsThatDisagreeWithTheirOwnRule) {
  EXPECT_EQ(of(sae_gauge_for(of(abyc_area_cmil_over_round_trip(5, 170, 0.36)))), 4);
  EXPECT_EQ(of(sae_gauge_for(of(abyc_area_cmil_over_round_trip(15, 60, 0.36)))), 4);
  const double needed = of(abyc_area_cmil_over_round_trip(45, 40, 1.2));
  EXPECT_NEAR(needed, 16125, 0.6);
  EXPECT_LE(needed, of(awg_area_cmil(8)));
  EXPECT_EQ(of(sae_gauge_for(needed)), 6);
}

}  // namespace
}  // namespace leadline::circuit
