// Every measurement of one boat, sound and under one and two causes: against the circuit solved directly with the changes made in it.
#include "engine/circuit/expectation.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/circuit/small_book.h"

namespace leadline::circuit {
namespace {

using testing::Fault;
using testing::Reading;
using testing::SmallBoat;

Reading tied(const std::string& id, const std::string& probes, const std::string& attributes = "", const std::string& unit = "V") {
  return {id, "<measure circuit=\"c\" " + attributes + ">" + probes + "</measure>", unit};
}

Fault fault(const std::string& id, const std::string& changes, const std::string& applies = "1 = 1") {
  return {id, "<effect circuit=\"c\"><words>" + id + "</words>" + changes + "</effect>", applies};
}

// Two cables side by side from the bank to a load of constant power, a lamp beside it.
const std::string twin_cables = R"(<circuit id="c" reference="minus"><title>t</title><condition id="rest">r</condition><condition id="push">p</condition>
    <part kind="source" id="bank" from="plus" to="minus" volt="25" ohm="0.01">b</part>
    <part kind="resistor" id="cable-one" from="plus" to="stud" ohm="0.02">1</part>
    <part kind="resistor" id="cable-two" from="plus" to="stud" ohm="0.03">2</part>
    <part kind="power" id="drive" in="push" from="stud" to="minus" watt="2500">d</part>
    <part kind="resistor" id="lamp" from="stud" to="minus" ohm="12">l</part></circuit>)";
const std::vector<Reading> twin_readings = {tied("volts", R"(<volts in="push" from="stud" to="minus"/>)"),
                                            tied("at-rest", R"(<volts in="rest" from="stud" to="minus"/>)"),
                                            tied("ohms", R"(<ohms in="rest" from="plus" to="stud"/>)", "", "ohm")};
const std::vector<Fault> twin_faults = {fault("one-open", R"(<open part="cable-one"/>)"),
                                        fault("two-poor", R"(<set part="cable-two" of="ohm" from="0.2"/>)"),
                                        fault("bank-low", R"(<add part="bank" of="volt" from="-3"/>)"), {"elsewhere", ""},
                                        fault("never", R"(<open part="lamp"/>)", "bank/@volts = 48")};

// What a boat with these numbers reads: straight from solve().
struct Direct {
  double one = 0.02, two = 0.03, volt = 25;
  Circuit circuit(bool push) const {
    Circuit direct{{{"bank", "plus", "minus", Source{volt, 0.01}}, {"one", "plus", "stud", Resistor{one}}, {"two", "plus", "stud", Resistor{two}},
                    {"lamp", "stud", "minus", Resistor{12}}}};
    if (push) direct.elements.push_back({"drive", "stud", "minus", PowerLoad{2500}});
    return direct;
  }
  double volts(bool push) const {
    const auto solution = solve(circuit(push));
    if (trouble_of(solution)) return volts(false);  // a controller that cannot get its power stops
    return std::get<double>(value_of(solution)->volts("stud", "minus"));
  }
  double ohms() const { return std::get<double>(ohms_between(circuit(false), "plus", "stud")); }
};

struct UnderRow {
  const char* name;
  std::vector<const char*> causes;
  Direct direct;
};

class Under : public ::testing::TestWithParam<UnderRow> {};

TEST_P(Under, ItReadsWhatTheChangedCircuitReads) {
  const SmallBoat boat({twin_cables, twin_readings, twin_faults});
  const Expectation expectation(boat.base, boat.evaluation);
  std::vector<std::size_t> causes;
  for (const auto* id : GetParam().causes) causes.push_back(boat.cause(id));
  const auto& outlook = expectation.under(0, causes);
  ASSERT_EQ(outlook.cells.size(), 1U);  // nothing varies, nothing has a size
  const auto mean = [&](const char* id) { return outlook.cells[0].mean(static_cast<Eigen::Index>(expectation.tie_of(boat.finding(id))->measure)); };
  EXPECT_NEAR(mean("volts"), GetParam().direct.volts(true), 1e-6);
  EXPECT_NEAR(mean("at-rest"), GetParam().direct.volts(false), 1e-6);
  EXPECT_NEAR(mean("ohms"), judged_scale(GetParam().direct.ohms(), true), 1e-6);
}

const UnderRow unders[] = {
    {"sound", {}, {}},
    {"one_open", {"one-open"}, {open_ohm, 0.03, 25}},
    {"two_poor", {"two-poor"}, {0.02, 0.2, 25}},
    {"bank_low", {"bank-low"}, {0.02, 0.03, 22}},
    {"one_open_and_two_poor", {"one-open", "two-poor"}, {open_ohm, 0.2, 25}},  // the drive stops: neither alone stops it
    {"two_poor_and_bank_low", {"two-poor", "bank-low"}, {0.02, 0.2, 22}},
    {"one_open_and_bank_low", {"one-open", "bank-low"}, {open_ohm, 0.03, 22}},
};

INSTANTIATE_TEST_SUITE_P(Causes, Under, ::testing::ValuesIn(unders), [](const auto& row) { return std::string(row.param.name); });

TEST(TwoCauses, AreNotASumOfEach) {  // the table above would hold of a sum when nothing bent; here it bends
  const Direct sound{}, one{open_ohm, 0.03, 25}, two{0.02, 0.2, 25}, both{open_ohm, 0.2, 25};
  const double sum = one.volts(true) + two.volts(true) - sound.volts(true);
  EXPECT_GT(std::abs(both.volts(true) - sum), 1);
}

TEST(Governs, WhereACauseHasAnEffectHere) {
  const SmallBoat boat({twin_cables, twin_readings, twin_faults});
  const Expectation expectation(boat.base, boat.evaluation);
  struct { const char* cause; bool governs; } const rows[] = {{"one-open", true}, {"bank-low", true}, {"elsewhere", false}, {"never", false}};
  for (const auto& row : rows) EXPECT_EQ(expectation.governs(boat.cause(row.cause), 0), row.governs) << row.cause;
  EXPECT_EQ(expectation.faults(0, boat.cause("one-open")).size(), 1U);
}

TEST(TieOf, IsWhereAFindingIsMeasured) {
  const SmallBoat boat({twin_cables, twin_readings, twin_faults});
  const Expectation expectation(boat.base, boat.evaluation);
  EXPECT_EQ(expectation.tie_of(boat.finding("volts"))->measure, 0U);
  EXPECT_EQ(expectation.tie_of(boat.finding("ohms"))->measure, 2U);
  EXPECT_FALSE(expectation.tie_of(boat.finding("symptom")).has_value());
  EXPECT_EQ(expectation.circuits(), 1U);
  ASSERT_NE(expectation.bench(0), nullptr);
  EXPECT_TRUE(expectation.troubles().empty());
}

TEST(Troubles, LeaveACircuitOutAndSayWhy) {
  const std::string circuit = R"(<circuit id="c" reference="minus"><title>t</title><condition id="on">r</condition>
      <part kind="source" id="bank" from="plus" to="minus" volt="24" ohm="0.01">b</part>
      <part kind="cable" id="run" from="plus" to="stud" length="run/@length" area="50">plus run</part></circuit>)";
  const Reading volts = tied("v", R"(<volts in="on" from="stud" to="minus"/>)");
  const SmallBoat boat({circuit, {volts}, {fault("poor", R"(<add part="run" of="ohm" from="1"/>)")}}, R"(<run length="4000"/>)");
  const Expectation expectation(boat.base, boat.evaluation);
  EXPECT_EQ(expectation.bench(0), nullptr);
  EXPECT_FALSE(expectation.tie_of(boat.finding("v")).has_value());
  EXPECT_FALSE(expectation.governs(0, 0));
  ASSERT_EQ(expectation.troubles().size(), 1U);
  EXPECT_EQ(expectation.troubles()[0].what, "the length is 4000 m (plus run)");
}

TEST(ACircuit, WithoutPartsInThisBoatIsNoTrouble) {
  const std::string circuit = R"(<circuit id="c" reference="minus"><title>t</title><condition id="on">r</condition>
      <part kind="source" id="bank" from="plus" to="minus" volt="48" ohm="0.01" when="bank/@volts = 48">b</part></circuit>)";
  const SmallBoat boat({circuit, {tied("v", R"(<volts in="on" from="plus" to="minus"/>)")}});
  const Expectation expectation(boat.base, boat.evaluation);
  EXPECT_EQ(expectation.bench(0), nullptr);
  EXPECT_TRUE(expectation.troubles().empty());
}

// --- sizes, places, tolerances ---

const std::string one_cable = R"(<circuit id="c" reference="minus"><title>t</title><condition id="on">r</condition>
    <part kind="source" id="bank" from="plus" to="minus" volt="24" ohm="0.01" spread-volt="0.2">b</part>
    <part kind="resistor" id="joint-a" from="plus" to="a" ohm="0.5" spread="0.1" shared="copper">joint a</part>
    <part kind="resistor" id="joint-b" from="a" to="b" ohm="0.5" spread="0.1" shared="copper">joint b</part>
    <part kind="resistor" id="lamp" from="b" to="minus" ohm="8">l</part></circuit>)";
const Reading lamp_volts = tied("v", R"(<volts in="on" from="b" to="minus"/>)");

TEST(Cells, StandForSizesAndPlacesAndAddUpToOne) {
  const Fault poor = fault("poor", R"(<add part="joint-*" of="ohm" from="0.1" to="4"/>)"), gone = fault("gone", R"(<open part="lamp"/>)");
  const SmallBoat boat({one_cable, {lamp_volts}, {poor, gone}});
  const Expectation expectation(boat.base, boat.evaluation);
  struct { std::vector<std::size_t> causes; std::size_t cells; } const rows[] = {{{}, 1}, {{0}, 20}, {{1}, 1}, {{0, 1}, 6}};  // 8 sizes and 2 beyond, of 2 joints
  for (const auto& row : rows) {
    const auto& outlook = expectation.under(0, row.causes);
    double sum = 0;
    for (const auto& cell : outlook.cells) {
      sum += cell.weight;
      EXPECT_EQ(cell.sizes.size(), row.causes.size());
      EXPECT_EQ(cell.alternatives.size(), row.causes.size());
    }
    EXPECT_NEAR(sum, 1, 1e-12);
    EXPECT_EQ(outlook.cells.size(), row.cells);
  }
  EXPECT_EQ(expectation.under(0, {0}).alternatives[0][1].struck, "joint b");
  EXPECT_EQ(expectation.under(0, {0}).alternatives[0][1].words, "poor");
}

TEST(Cells, WeighWhatTheirEffectsShare) {
  const Fault either{"either", R"(<effect circuit="c" share="3"><words>a</words><add part="joint-*" of="ohm" from="0.1" to="4"/></effect>
      <effect circuit="c" share="1"><words>b</words><open part="lamp"/></effect>)"};
  const SmallBoat boat({one_cable, {lamp_volts}, {either}});
  const Expectation expectation(boat.base, boat.evaluation);
  std::vector<double> weights(3);
  for (const auto& cell : expectation.under(0, {0}).cells) weights[cell.alternatives[0]] += cell.weight;
  EXPECT_NEAR(weights[0], 0.375, 1e-12);  // three quarters divided between two joints
  EXPECT_NEAR(weights[1], 0.375, 1e-12);
  EXPECT_NEAR(weights[2], 0.25, 1e-12);
}

TEST(Cells, HoldTheMeanOverTheirSizes) {
  const SmallBoat boat({one_cable, {lamp_volts}, {fault("poor", R"(<add part="joint-a" of="ohm" from="0.1" to="4"/>)")}});
  const Expectation expectation(boat.base, boat.evaluation);
  const auto& cells = expectation.under(0, {0}).cells;
  ASSERT_EQ(cells.size(), 10U);
  const auto place_of = [](std::size_t c) { return c < 8 ? static_cast<double>(c) : c == 8 ? -1.0 : 8.0; };  // the last two beyond the ends
  for (std::size_t c = 0; c < cells.size(); ++c) {
    double mean = 0;
    for (int k = 0; k < 100; ++k) {
      const double size = (place_of(c) + (k + 0.5) / 100) / 8;
      mean += 24 * 8 / (0.01 + 1 + 0.1 * std::pow(40, size) + 8) / 100;
    }
    EXPECT_NEAR(cells[c].mean(0), mean, c < 8 ? 0.01 : 0.3) << c;  // beyond: told on as the sizes bend there
    EXPECT_NEAR(cells[c].sizes[0], (place_of(c) + 0.5) / 8, 1e-12);
    const double share = c >= 8 ? 0.159 : c == 0 || c == 7 ? 0.841 : c == 1 || c == 6 ? 0.9987 : 1;  // of a normal: Phi(-1), Phi(1), Phi(3)
    EXPECT_NEAR(cells[c].weight * 8, share, 1e-3) << c;
  }
}

// The joint density of the cells is as flat at the ends of the sizes as in their middle, and nothing beyond.
TEST(Cells, EndWhereTheirSizesEnd) {
  const std::string meter = R"(<circuit id="c" reference="minus"><title>t</title><condition id="on">r</condition>
      <part kind="source" id="bank" from="plus" to="minus" volt="1" ohm="0.001">b</part></circuit>)";
  const SmallBoat boat({meter, {tied("v", R"(<volts in="on" from="plus" to="minus"/>)")}, {fault("low", R"(<set part="bank" of="volt" from="0" to="1"/>)")}});
  const Expectation expectation(boat.base, boat.evaluation);
  const auto& outlook = expectation.under(0, {0});
  for (const double volts : {0.02, 0.1, 0.5, 0.9, 0.98}) {
    EXPECT_NEAR(inform(outlook, {{0, volts, 0.002, 0, 0}}).log_density, 0, 0.03) << volts;
    EXPECT_NEAR(quantile(outlook, inform(outlook, {{0, volts, 0.002, 0, 0}}), 0, 0.5), volts, 0.002) << volts;
  }
  EXPECT_LT(inform(outlook, {{0, 1.06, 0.002, 0, 0}}).log_density, -4);
  EXPECT_NEAR(chances_between(outlook, expectation.unread(0, {0}), 0, {0.5})[0], 0.5, 1e-3);
}

TEST(Untold, IsWhatHasNoCurrentToBeWorkedOutFrom) {
  const Fault gone = fault("gone", R"(<open part="lamp"/>)");
  const Reading ratio{"ratio", R"(<measure circuit="c" take="ratio"><volts in="on" from="plus" to="minus"/><amps in="on" of="lamp"/></measure>)", "ohm"};
  const SmallBoat boat({one_cable, {lamp_volts, ratio}, {gone}});
  const Expectation expectation(boat.base, boat.evaluation);
  const auto tie = *expectation.tie_of(boat.finding("ratio"));
  EXPECT_EQ(chance_untold(expectation.under(0, {}), expectation.unread(0, {}), tie.measure), 0);
  const auto& without = expectation.under(0, {0});
  const auto& unread = expectation.unread(0, {0});
  EXPECT_EQ(chance_untold(without, unread, tie.measure), 1);
  EXPECT_TRUE(std::isnan(quantile(without, unread, tie.measure, 0.5)));
  EXPECT_EQ(chances_between(without, unread, tie.measure, {0.0}), (std::vector<double>{0, 0}));
  EXPECT_NEAR(quantile(without, unread, 0, 0.5), 24, 1e-3);  // the volts are told all the same
  const Taken ohms{tie.measure, judged_scale(9, true), 0.01, 0.02, 0.5};  // a number was read all the same: a slip, and nothing learnt
  EXPECT_NEAR(inform(without, {ohms}).log_density, std::log(0.02 * 0.5), 1e-9);
}

TEST(Sway, MovesTogetherWhatIsShared) {
  const SmallBoat boat({one_cable, {lamp_volts}});
  const Expectation expectation(boat.base, boat.evaluation);
  const auto& sway = *expectation.under(0, {}).cells[0].sway.parts[0].at;
  ASSERT_EQ(sway.cols(), 2);  // volts of the bank, and both joints as one
  const auto volts = [](double source, double deviations) { return source * 8 / (0.01 + std::exp(0.1 * deviations) + 8); };
  EXPECT_NEAR(sway(0, 0), volts(24.2, 0) - volts(24, 0), 1e-3);
  EXPECT_NEAR(sway(0, 1), volts(24, 0.5) - volts(24, -0.5), 1e-6);  // a step to each side
}

// A drive that just gets its power, and does not when it asks half a deviation more.
std::string strained(const std::string& watt) {
  return R"(<circuit id="c" reference="minus"><title>t</title><condition id="on">r</condition>
      <part kind="source" id="bank" from="plus" to="minus" volt="24" ohm="0.01">b</part>
      <part kind="resistor" id="run" from="plus" to="stud" ohm="0.001">r</part>
      <part kind="power" id="drive" from="stud" to="minus" spread="0.1" watt=")" + watt + R"(">d</part></circuit>)";
}

TEST(Sway, IsThatOfADriveThatRuns) {  // the step that would stop it is taken the other way
  const SmallBoat boat({strained("12900"), {tied("v", R"(<volts in="on" from="stud" to="minus"/>)")}});
  const Expectation expectation(boat.base, boat.evaluation);
  const auto volts = [](double watt) { return 12 + std::sqrt(144 - 0.011 * watt); };
  ASSERT_LT(144, 0.011 * 12900 * std::exp(0.05));
  const auto& cell = expectation.under(0, {}).cells[0];
  EXPECT_NEAR(cell.mean(0), volts(12900), 1e-5);
  EXPECT_NEAR((*cell.sway.parts[0].at)(0, 0), (volts(12900) - volts(12900 * std::exp(-0.05))) / 0.5, 1e-4);
}

TEST(Sway, IsOfWhatStillRunsAtThatSize) {
  const Fault poor = fault("poor", R"(<add part="run" of="ohm" from="0.001" to="1"/>)");
  const SmallBoat boat({strained("2000"), {tied("i", R"(<amps in="on" of="drive"/>)", "", "A")}, {poor}});
  const Expectation expectation(boat.base, boat.evaluation);
  const auto& cells = expectation.under(0, {0}).cells;
  EXPECT_GT((*cells.front().sway.parts[0].at)(0, 0), 5);   // 2,000 W a tenth up or down
  EXPECT_NEAR((*cells.back().sway.parts[0].at)(0, 0), 0, 1e-9);  // it stands still: nothing it asks for is to be seen
  EXPECT_NEAR(cells.back().mean(0), 0, 1e-9);
}

TEST(Doubt, HasALeast) {
  const Reading said = tied("said", R"(<volts in="on" from="b" to="minus"/>)", "doubt=\"0.3\"");
  const SmallBoat boat({one_cable, {lamp_volts, said, tied("r", R"(<ohms in="on" from="b" to="minus"/>)", "", "ohm")}});
  const Expectation expectation(boat.base, boat.evaluation);
  const auto& doubt = expectation.under(0, {}).doubt;
  EXPECT_EQ(doubt(0), 0.005);  // V
  EXPECT_EQ(doubt(1), 0.3);
  EXPECT_EQ(doubt(2), 0.01);   // of the ohms
}

TEST(Outlooks, AreKeptAndDoNotDependOnWhatWasAskedBefore) {
  const Fault poor = fault("poor", R"(<add part="joint-a" of="ohm" from="0.1" to="4"/>)"), gone = fault("gone", R"(<open part="lamp"/>)");
  const SmallBoat boat({one_cable, {lamp_volts}, {poor, gone}});
  const Expectation fresh(boat.base, boat.evaluation), asked(boat.base, boat.evaluation);
  (void)asked.under(0, {1});
  (void)asked.under(0, {0, 1});
  for (std::size_t c = 0; c < 8; ++c) EXPECT_NEAR(asked.under(0, {0}).cells[c].mean(0), fresh.under(0, {0}).cells[c].mean(0), 1e-9);
  EXPECT_EQ(&asked.under(0, {0}), &asked.under(0, {0}));
}

}  // namespace
}  // namespace leadline::circuit
