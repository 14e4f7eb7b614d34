// The numbers behind the review against published ones. Sources and tags: shared reference electrical.md and control-network.md; READ there
// means seen on public pages (33 CFR: in copies of the primary text), not in the paid standards.
#include <gtest/gtest.h>

#include <cmath>

#include "engine/circuit/ampacity.h"
#include "engine/circuit/bus_limits.h"
#include "engine/circuit/conductor.h"
#include "engine/circuit/review.h"
#include "engine/text/number.h"
#include "tests/circuit/quiet_boat.h"

namespace leadline::circuit {
namespace {

using testing::boat_with;
using testing::Change;

template <class T>
T of(const Result<T>& result) {
  return std::get<T>(result);
}

std::string number(double value) { return text::format_number(value, 6); }

const Remark* find(const std::vector<Remark>& remarks, const std::string& rule) {
  for (const auto& remark : remarks) {
    if (remark.rule == rule) return &remark;
  }
  return nullptr;
}

std::vector<Remark> reviewed(const Change& change) { return review(testing::shipped_base(), boat_with(change)); }

double figure(const Remark& remark, const std::string& what) {
  for (const auto& f : remark.figures) {
    if (f.what == what) return f.value;
  }
  return std::nan("");
}

// --- 33 CFR 183.425 Table 5, electrical.md § 5.2: whole, READ [S81] (primary text); the engine-space column READ [S8] ---

TEST(Cfr183Table5, WholeTable) {
  struct {
    const char* gauge;
    double at_60, at_75, at_90, at_105, engine_space_105;
  } const rows[] = {{"16", 15, 15, 25, 25, 21},       {"14", 20, 20, 30, 35, 30},       {"12", 25, 25, 40, 45, 38},
                    {"10", 40, 40, 55, 60, 51},       {"8", 55, 65, 70, 80, 68},        {"6", 80, 95, 100, 120, 102},
                    {"4", 105, 125, 135, 160, 136},   {"2", 140, 170, 180, 210, 178},   {"1", 165, 195, 210, 245, 208},
                    {"1/0", 195, 230, 245, 285, 242}, {"2/0", 225, 265, 285, 330, 280}, {"3/0", 260, 310, 330, 385, 327},
                    {"4/0", 300, 360, 385, 445, 378}};
  for (const auto& row : rows) {
    const int gauge = of(gauge_of(row.gauge));
    EXPECT_EQ(of(table_5_amps(gauge, 60)), row.at_60) << row.gauge;
    EXPECT_EQ(of(table_5_amps(gauge, 75)), row.at_75) << row.gauge;
    EXPECT_EQ(of(table_5_amps(gauge, 90)), row.at_90) << row.gauge;
    EXPECT_EQ(of(table_5_amps(gauge, 105)), row.at_105) << row.gauge;
    EXPECT_NEAR(of(table_5_amps(gauge, 105)) * of(engine_space_factor(105)), row.engine_space_105, 0.75) << row.gauge;  // printed in whole amperes
  }
  EXPECT_NE(trouble_of(table_5_amps(18, 60)), nullptr);
  EXPECT_NE(trouble_of(table_5_amps(2, 80)), nullptr);
}

// 2/0 of 105 °C at 24 V: largest fuse 495 A in open space, 420 A in an engine space (420.75 by 0.85). DERIVED from 33 CFR 183.455 (c)(1), READ [S76].
TEST(Cfr183Fuse, WorkedExamplesOfTwoNoughtCable) {
  const std::string area = number(of(awg_area_mm2(-1)));
  struct {
    const char *engine_space, *fuse;
    bool remarked;
    double largest;
  } const rows[] = {{"no", "495", false, 0}, {"no", "496", true, 495}, {"yes", "420", false, 0}, {"yes", "421", true, 420.75}};
  for (const auto& row : rows) {
    const auto remarks = reviewed({{{"power/@area", area}, {"power/@fuse", row.fuse}, {"power/@engine-space", row.engine_space}}});
    const auto* made = find(remarks, "fuse-above-cable");
    ASSERT_EQ(made != nullptr, row.remarked) << row.fuse;
    if (made == nullptr) continue;
    EXPECT_EQ(made->severity, Severity::wrong) << row.fuse;  // the area is the gauge's own
    EXPECT_NEAR(figure(*made, "largest fuse"), row.largest, 1e-9) << row.fuse;
  }
}

TEST(Gauges, MetricSizesLieBetweenThem) {  // areas of ASTM B258, electrical.md § 1.3
  struct {
    double area;
    const char *thinner, *thicker;
  } const rows[] = {{10, "8", "6"},     {16, "6", "4"},     {25, "4", "2"},   {35, "2", "1"},       {50, "1", "1/0"},
                    {70, "2/0", "3/0"}, {95, "3/0", "4/0"}, {120, "4/0", ""}, {53.48, "1/0", "1/0"}};
  for (const auto& row : rows) {
    const auto around = of(gauges_around(row.area));
    EXPECT_EQ(gauge_name(around.thinner), row.thinner) << row.area;
    EXPECT_EQ(around.thicker ? gauge_name(*around.thicker) : "", row.thicker) << row.area;
  }
  EXPECT_NE(trouble_of(gauges_around(1.0)), nullptr);
}

// --- control-network.md § 3.1: trunk READ [S20][S21], branches READ [S20]; the formula of § 3.3 from memory ---

TEST(BusLimits, PublishedTable) {
  struct {
    double kbit, trunk, branch, together;
  } const rows[] = {{1000, 25, 1.5, 7.5}, {500, 100, 5.5, 27.5}, {250, 250, 11, 55}, {125, 500, 22, 110}};
  for (const auto& row : rows) {
    const auto limits = of(bus_limits(row.kbit));
    EXPECT_EQ(limits.trunk_m, row.trunk) << row.kbit;
    EXPECT_DOUBLE_EQ(limits.branch_m, row.branch) << row.kbit;
    EXPECT_DOUBLE_EQ(limits.branches_together_m, row.together) << row.kbit;
  }
  EXPECT_NE(trouble_of(bus_limits(300)), nullptr);
}

TEST(BusLimits, FormulaGivesTheTableAtEveryPublishedRate) {  // § 3.3, DERIVED propagation segments; 800 and 50 kbit/s are in no record
  struct {
    double segment_ns, branch, together;
  } const rows[] = {{375, 1.5, 7.5}, {625, 2.5, 12.5}, {1375, 5.5, 27.5}, {2750, 11, 55}, {5500, 22, 110}, {13750, 55, 275}};
  for (const auto& row : rows) {
    EXPECT_DOUBLE_EQ(of(longest_branch_m(row.segment_ns)), row.branch);
    EXPECT_DOUBLE_EQ(of(longest_branches_together_m(row.segment_ns)), row.together);
  }
}

// Branches from the middle of a trunk of 60 m.
Change branches(const std::string& kbit, const std::vector<std::string>& metres) {
  Change change{{{"segment[1]/@to", "tee"},
                 {"segment[1]/@length", "30"},
                 {"segment[2]/@from", "tee"},
                 {"segment[2]/@length", "30"},
                 {"network/@length", "60"},
                 {"network/@bit-rate", kbit}}};
  for (std::size_t b = 0; b < metres.size(); ++b) {
    change.add +=
        "<segment from='tee' to='" + (b == 0 ? std::string("helm") : "joint " + std::to_string(b)) + "' length='" + metres[b] + "' kind='branch'/>";
  }
  return change;
}

TEST(Branches, WorkedExamples) {  // § 3.3, the rows below its table, DERIVED
  EXPECT_TRUE(reviewed(branches("250", {"3", "4", "6", "2"})).empty());
  const auto long_one = reviewed(branches("250", {"14"}));
  ASSERT_NE(find(long_one, "branch-length"), nullptr);
  EXPECT_EQ(find(long_one, "branch-length")->severity, Severity::wrong);
  const auto six = reviewed(branches("500", {"5", "5", "5", "5", "5", "5"}));
  EXPECT_EQ(find(six, "branch-length"), nullptr);
  ASSERT_NE(find(six, "branch-sum"), nullptr);
  EXPECT_DOUBLE_EQ(figure(*find(six, "branch-sum"), "branches together"), 30);
}

// --- electrical.md § 2: the drop of one run, 300 A, 8 m out + 8 m back, 70 mm², 24 V, DERIVED from IEC 60228 (READ [S1][S2][S3]) ---

Change run_of_70(const std::string& tinned, const std::string& celsius) {
  return {{{"power/@length", "8"}, {"power/@area", "70"}, {"power/@tinned", tinned}, {"power/@temperature", celsius}, {"thruster/@amps", "300"}}};
}

TEST(CableDrop, TheRunOfTheReferenceSheet) {
  struct {
    const char *tinned, *celsius;
    double milliohm, drop;
  } const rows[] = {{"no", "20", 4.352, 1.3056}, {"yes", "20", 4.432, 1.3296}, {"no", "50", 4.865, 1.4595}};
  for (const auto& row : rows) {
    const auto remarks = reviewed(run_of_70(row.tinned, row.celsius));
    const auto* made = find(remarks, "cable-drop");
    ASSERT_NE(made, nullptr);
    EXPECT_NEAR(figure(*made, "its resistance"), row.milliohm, 5e-4);
    EXPECT_NEAR(figure(*made, "drop"), row.drop, 5e-5);
    EXPECT_DOUBLE_EQ(figure(*made, "limit"), 0.72);
  }
}

// The small-craft formula asks 109 mm² for 3 % of that run, the sizing rule of ABYC E-11 119 mm² (READ [S10], [S11]): 120 mm². Ours counts with
// the largest resistance of a sound cable and so names that size or the next: never a thinner one.
TEST(CableDrop, NamesNoThinnerCableThanTheSizingRules) {
  const auto remarks = reviewed(run_of_70("no", "20"));
  const double named = std::stod(find(remarks, "cable-drop")->way_out);
  EXPECT_GE(named, of(iso_area_mm2_over_total_length(300, 16, 0.72)));
  EXPECT_GE(named, of(abyc_area_cmil_over_round_trip(300, 16 / 0.3048, 0.72)) * 5.0671e-4);
  EXPECT_TRUE(named == 120 || named == 150) << named;
}

// Published 3 % sizing examples (READ [S13], the last [S18]): the printed gauge passes, the next thinner does not. Least areas of SAE wire (READ
// [S7]), few thick wires, plain, 20 °C.
TEST(CableDrop, PublishedSizingExamples) {
  struct {
    const char* name;
    const char *amps, *volts;
    double feet, printed_cmil, thinner_cmil;
  } const rows[] = {{"10 A, 50 ft, 12 V: 6", "10", "12", 50, 24538, 14810},
                    {"25 A, 15 ft, 12 V: 8", "25", "12", 15, 14810, 9343},
                    {"20 A, 170 ft, 12 V: 2/0", "20", "12", 170, 125100, 98980},
                    {"100 A, 10 ft, 24 V: 6", "100", "24", 10, 24538, 14810}};
  for (const auto& row : rows) {
    const auto judged = [&](double cmil) {
      const auto remarks = reviewed({{{"power/@length", number(row.feet * 0.3048 / 2)},
                                      {"power/@area", number(cmil * 5.0671e-4)},
                                      {"power/@class", "class-2"},
                                      {"power/@tinned", "no"},
                                      {"bank/@volts", row.volts},
                                      {"thruster/@amps", row.amps}}});
      return find(remarks, "cable-drop") != nullptr;
    };
    EXPECT_FALSE(judged(row.printed_cmil)) << row.name;
    EXPECT_TRUE(judged(row.thinner_cmil)) << row.name;
  }
}

// --- control-network.md § 4.2: five devices of 0.2 A at 5 … 25 m, 5.3 ohm/100 m, fed at one end: 1.59 V; ngspice 1.590 V (§ 8). DERIVED, SIM ---

TEST(SupplyDrop, WorkedExampleOfFiveDevices) {
  Change change{{{"network/@device-amps", "0.2"},
                 {"network/@supply-area", number(0.0175 / 0.053)},
                 {"network/@length", "25"},
                 {"network/@feed", "source"},
                 {"segment[1]", "-"},
                 {"segment[1]", "-"},
                 {"terminator[1]/@at", "source"},
                 {"terminator[2]/@at", "mast"}}};
  change.add =
      "<station name='fly' number='3'/><station name='mast' number='4'/>"
      "<segment from='source' to='bow' length='5'/><segment from='bow' to='helm' length='5'/><segment from='helm' to='wing' length='5'/>"
      "<segment from='wing' to='fly' length='5'/><segment from='fly' to='mast' length='5'/>";
  const auto remarks = reviewed(change);
  const auto* made = find(remarks, "supply-drop");
  ASSERT_NE(made, nullptr);
  EXPECT_NEAR(figure(*made, "drop"), 1.59, 1e-5);  // the area is written with six decimals
}

// --- control-network.md § 1.2: three terminators read 40 ohm, four 30, one 120 (READ [S4][S5], DERIVED) ---

TEST(Terminators, ReadWhatTheirNumberGives) {
  struct {
    Change change;
    double ohm;
  } const rows[] = {{{{{"terminator[2]", "-"}, {"network/@terminators", "one"}}}, 120},
                    {{{{"network/@terminators", "more"}}, "<terminator at='helm'/>"}, 40},
                    {{{{"network/@terminators", "more"}}, "<terminator at='helm'/><terminator at='helm'/>"}, 30}};
  for (const auto& row : rows) {
    const auto remarks = reviewed(row.change);
    ASSERT_NE(find(remarks, "terminator-count"), nullptr);
    EXPECT_NEAR(figure(*find(remarks, "terminator-count"), "H to L, supply off"), row.ohm, 1e-9);
  }
}

// --- electrical.md § 4.1, the worked inputs of a step-up charger: common practice and DERIVED ---

TEST(StepUp, WorkedInputs) {
  EXPECT_NE(find(reviewed({{{"charging/@source-volts", "13.05"}}}), "step-up-wake"), nullptr);
  EXPECT_EQ(find(reviewed({{{"charging/@source-volts", "13.6"}}}), "step-up-wake"), nullptr);
  // 13.4 V, 10 m of 6 mm² in all, 30 A drawn: 33 mΩ (plain; ours is tinned, 33.9 mΩ) and so 12.4 V at the terminals.
  const double amps_out = 30 * 13.4 * 0.9 / 28.8;
  const auto remarks = reviewed({{{"charging/@source-volts", "13.4"},
                                  {"charging/@step-up-length", "5"},
                                  {"charging/@step-up-area", "6"},
                                  {"charging/@step-up-amps", number(amps_out)}}});
  const auto* made = find(remarks, "step-up-on-load");
  ASSERT_NE(made, nullptr);
  EXPECT_NEAR(figure(*made, "input current"), 30, 1e-3);
  EXPECT_NEAR(figure(*made, "at its terminals"), 12.41, 0.03);
}

}  // namespace
}  // namespace leadline::circuit
