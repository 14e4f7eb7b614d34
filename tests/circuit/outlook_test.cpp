// What readings make of an outlook, against the same integral taken the slow way: over every size and every tolerance on a fine grid, the
// circuit solved by hand at each. And what must hold of it: the same thing told twice counts once, a drop is judged at its current.
#include "engine/circuit/outlook.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "tests/circuit/small_book.h"

namespace leadline::circuit {
namespace {

using testing::Fault;
using testing::Reading;
using testing::SmallBoat;
using testing::SmallBook;

Reading tied(const std::string& id, const std::string& probes, double doubt, const std::string& attributes = "", const std::string& unit = "V") {
  return {id, "<measure circuit=\"c\" doubt=\"" + std::to_string(doubt) + "\" " + attributes + ">" + probes + "</measure>", unit};
}

// --- a source, a wire, a joint that may corrode, a lamp of 4 ohm: volts and the wire vary among sound boats ---

constexpr double source_v = 24, spread_v = 0.3, wire_ohm = 0.5, spread_wire = 0.1, joint_ohm = 0.05, lamp_ohm = 4, least_add = 0.05, most_add = 3;

const std::string lamp_circuit = R"(<circuit id="c" reference="minus"><title>t</title><condition id="on">r</condition>
    <part kind="source" id="bank" from="plus" to="minus" volt="24" ohm="0.000001" spread-volt="0.3">b</part>
    <part kind="resistor" id="wire" from="plus" to="joint" ohm="0.5" spread="0.1">w</part>
    <part kind="resistor" id="joint" from="joint" to="top" ohm="0.05">j</part>
    <part kind="resistor" id="lamp" from="top" to="minus" ohm="4">l</part></circuit>)";

enum Meter : std::size_t { lamp_v, bank_v, wire_v, amps };
constexpr double doubts[] = {0.05, 0.02, 0.03, 0.05};

const std::vector<Reading> lamp_readings = {tied("lamp-v", R"(<volts in="on" from="top" to="minus"/>)", doubts[lamp_v]),
                                            tied("bank-v", R"(<volts in="on" from="plus" to="minus"/>)", doubts[bank_v]),
                                            tied("wire-v", R"(<volts in="on" from="plus" to="joint"/>)", doubts[wire_v]),
                                            tied("amps", R"(<amps in="on" of="lamp"/>)", doubts[amps], "", "A")};
const Fault corroded{"corroded", R"(<effect circuit="c"><words>w</words><add part="joint" of="ohm" from="0.05" to="3"/></effect>)"};

struct Lamp {
  SmallBoat boat{{lamp_circuit, lamp_readings, {corroded}}};
  Expectation expectation{boat.base, boat.evaluation};
  const Outlook& sound = expectation.under(0, {});
  const Outlook& faulty = expectation.under(0, {boat.cause("corroded")});
};
const Lamp& lamp() {
  static const Lamp one;
  return one;
}

// One boat on the grid, and how likely it is.
struct Point {
  double reading[4], weight;
};

std::vector<Point> grid_of(bool faulty) {
  constexpr int sizes = 400, deviations = 32;
  std::vector<Point> points;
  for (int s = 0; s < (faulty ? sizes : 1); ++s) {
    const double added = faulty ? least_add * std::pow(most_add / least_add, (s + 0.5) / sizes) : 0;
    for (int i = -deviations; i <= deviations; ++i) {
      for (int k = -deviations; k <= deviations; ++k) {
        const double a = 4.0 * i / deviations, b = 4.0 * k / deviations;
        const double volt = source_v + spread_v * a, wire = wire_ohm * std::exp(spread_wire * b), amp = volt / (wire + joint_ohm + added + lamp_ohm);
        points.push_back({{amp * lamp_ohm, volt, amp * wire, amp}, std::exp(-0.5 * (a * a + b * b))});
      }
    }
  }
  double sum = 0;
  for (const auto& point : points) sum += point.weight;
  for (auto& point : points) point.weight /= sum;
  return points;
}

const std::vector<Point>& grid(bool faulty) {
  static const auto sound_points = grid_of(false), faulty_points = grid_of(true);
  return faulty ? faulty_points : sound_points;
}

double normal(double x, double deviation) { return std::exp(-0.5 * x * x / deviation / deviation) / deviation / std::sqrt(2 * std::numbers::pi); }

struct Brute {
  double density = 0;
  std::function<double(std::size_t, double)> below;  // chance that a measurement, its doubt included, lies below
};

Brute brute(bool faulty, const std::vector<Taken>& readings) {
  std::vector<double> weights;
  double sum = 0;
  for (const auto& point : grid(faulty)) {
    double weight = point.weight;
    for (const auto& [measure, value, uncertainty, slip, slip_density] : readings) {
      weight *= normal(value - point.reading[measure], std::hypot(doubts[measure], uncertainty));
    }
    weights.push_back(weight);
    sum += weight;
  }
  return {sum, [weights, sum, faulty](std::size_t measure, double limit) {
            double below = 0;
            for (std::size_t i = 0; i < weights.size(); ++i) {
              below += weights[i] * 0.5 * std::erfc((grid(faulty)[i].reading[measure] - limit) / doubts[measure] / std::sqrt(2.0));
            }
            return below / sum;
          }};
}

TEST(InformAgainstBruteIntegration, OneReading) {
  for (const bool faulty : {false, true}) {
    for (const auto measure : {lamp_v, bank_v, wire_v, amps}) {
      double largest = 0;
      std::vector<std::array<double, 3>> rows;
      for (double share = 0.02; share < 1; share += 0.06) {
        const auto& outlook = faulty ? lamp().faulty : lamp().sound;
        const double value = quantile(outlook, inform(outlook, {}), measure, share);
        const std::vector<Taken> told = {{measure, value, 0.04, 0, 0}};
        rows.push_back({value, std::exp(inform(outlook, told).log_density), brute(faulty, told).density});
        largest = std::max(largest, rows.back()[2]);
      }
      for (const auto& [value, density, wanted] : rows) {  // a tenth where it is likely; on the slopes, a fifteenth of the peak
        const double bound = wanted > 0.6 * largest ? 0.1 * wanted : largest / 15;
        EXPECT_NEAR(density, wanted, bound) << "faulty " << faulty << " measure " << measure << " at " << value;
      }
    }
  }
}

// Readings of boats that there are: a size and two tolerances each. The bounds are what was found, a little rounded up. What is left comes of
// boats that sway along straight lines: two deviations out, a sixth; judged as sound though they are hardly that, half.
struct BoatRow {
  const char* name;
  bool faulty;
  double added, volt, wire;
  std::vector<std::size_t> told;
  double log_bound, chance_bound;
};

const BoatRow boats[] = {
    {"sound", false, 0, 24, 0.5, {lamp_v, amps}, 0.06, 0.035},
    {"sound_low_bank", false, 0, 23.5, 0.5, {lamp_v, bank_v}, 0.08, 0.07},
    {"sound_thin_wire", false, 0, 24.1, 0.55, {lamp_v, bank_v, wire_v}, 0.05, 0.01},
    {"sound_very_thin_wire", false, 0, 24.1, 0.61, {lamp_v, bank_v, wire_v}, 0.18, 0.03},
    {"hardly_corroded", true, 0.06, 24, 0.5, {lamp_v, bank_v}, 0.03, 0.02},
    {"a_little_corroded", true, 0.15, 24, 0.5, {lamp_v, bank_v}, 0.42, 0.08},
    {"half_corroded", true, 0.4, 24.2, 0.45, {lamp_v, bank_v, wire_v}, 0.06, 0.01},
    {"much_corroded", true, 1.2, 23.7, 0.55, {lamp_v, amps}, 0.03, 0.015},
    {"very_much_corroded", true, 2, 24, 0.5, {lamp_v, bank_v, wire_v, amps}, 0.04, 0.01},
    {"wholly_corroded", true, 2.8, 24, 0.5, {lamp_v, bank_v, wire_v, amps}, 0.15, 0.015},
};

std::vector<Taken> told_by(const BoatRow& row) {
  const double amp = row.volt / (row.wire + joint_ohm + row.added + lamp_ohm);
  const double readings[] = {amp * lamp_ohm, row.volt, amp * row.wire, amp};
  std::vector<Taken> told;
  for (const auto measure : row.told) told.push_back({measure, readings[measure], 0.05, 0, 0});
  return told;
}

class SeveralReadings : public ::testing::TestWithParam<BoatRow> {};

TEST_P(SeveralReadings, AgainstBruteIntegration) {
  const auto told = told_by(GetParam());
  for (const bool faulty : {false, true}) {
    const auto& outlook = faulty ? lamp().faulty : lamp().sound;
    const auto informed = inform(outlook, told);
    const auto slow = brute(faulty, told);
    const bool believed = faulty == GetParam().faulty || slow.density > 0.05 * brute(!faulty, told).density;
    if (!believed) continue;  // what is next to ruled out foretells nothing
    EXPECT_NEAR(informed.log_density, std::log(slow.density), GetParam().log_bound) << "faulty " << faulty;
    for (const auto measure : {lamp_v, bank_v, wire_v, amps}) {
      const double middle = quantile(outlook, informed, measure, 0.5), low = quantile(outlook, informed, measure, 0.1);
      const auto chances = chances_between(outlook, informed, measure, {low, middle});
      EXPECT_NEAR(chances[0], slow.below(measure, low), GetParam().chance_bound) << "faulty " << faulty << " measure " << measure;
      EXPECT_NEAR(chances[0] + chances[1], slow.below(measure, middle), GetParam().chance_bound) << "faulty " << faulty << " measure " << measure;
      EXPECT_NEAR(chances[0] + chances[1] + chances[2], 1, 1e-12);
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Boats, SeveralReadings, ::testing::ValuesIn(boats), [](const auto& row) { return std::string(row.param.name); });

TEST(ChancesBetween, UninformedAgreeWithBruteIntegration) {
  for (const bool faulty : {false, true}) {
    const auto& outlook = faulty ? lamp().faulty : lamp().sound;
    const auto slow = brute(faulty, {});
    for (double limit = 11; limit < 25; limit += 0.25) {
      EXPECT_NEAR(chances_between(outlook, inform(outlook, {}), lamp_v, {limit})[0], slow.below(lamp_v, limit), 0.02) << faulty << " at " << limit;
    }
  }
}

TEST(ChancesBetween, OverlappingLimitsLeaveNothingBetween) {  // limits that a record turns over
  const auto& outlook = lamp().sound;
  const auto chances = chances_between(outlook, inform(outlook, {}), lamp_v, {21, 20, 22});
  EXPECT_EQ(chances[1], 0);
  EXPECT_NEAR(chances[0] + chances[2] + chances[3], 1, 1e-12);
}

TEST(Quantile, IsWhatLiesBelow) {
  const auto& outlook = lamp().faulty;
  const auto informed = inform(outlook, told_by(boats[4]));
  for (const double share : {0.01, 0.05, 0.5, 0.95, 0.99}) {
    EXPECT_NEAR(chances_between(outlook, informed, lamp_v, {quantile(outlook, informed, lamp_v, share)})[0], share, 1e-6);
  }
}

TEST(Inform, WeighsTheCellsByWhatWasRead) {
  const auto& outlook = lamp().faulty;
  const auto middle_size = [&](double added) {
    const auto informed = inform(outlook, told_by({"", true, added, 24, 0.5, {lamp_v, bank_v, wire_v}, 0, 0}));
    double size = 0, sum = 0;
    for (std::size_t c = 0; c < outlook.cells.size(); ++c) {
      size += informed.cells[c].weight * outlook.cells[c].sizes[0];
      sum += informed.cells[c].weight;
    }
    EXPECT_NEAR(sum, 1, 1e-12);
    return size;
  };
  for (const double size : {0.3, 0.5, 0.8, 0.95}) EXPECT_NEAR(middle_size(least_add * std::pow(most_add / least_add, size)), size, 0.07) << size;
}

TEST(Inform, OrderHardlyMatters) {
  auto told = told_by(boats[4]);
  const double forth = inform(lamp().faulty, told).log_density;
  std::reverse(told.begin(), told.end());
  EXPECT_NEAR(inform(lamp().faulty, told).log_density, forth, 1e-9);  // within a cell all is linear and normal
}

TEST(Inform, PutsAReadingFarOffDownToItsSlip) {
  const auto& outlook = lamp().sound;
  const Taken good{lamp_v, 21.1, 0.05, 0.01, 0.05}, wild{lamp_v, 3, 0.05, 0.01, 0.05};
  const auto informed = inform(outlook, {wild});
  EXPECT_NEAR(informed.log_density, std::log(0.01 * 0.05), 1e-6);
  EXPECT_NEAR(quantile(outlook, informed, lamp_v, 0.5), quantile(outlook, inform(outlook, {}), lamp_v, 0.5), 1e-9);  // and tells nothing
  EXPECT_NEAR(inform(outlook, {good, wild}).log_density, inform(outlook, {good}).log_density + std::log(0.01 * 0.05), 1e-6);
}

TEST(Inform, KeepsItsDigitsWhereNothingFits) {  // a reading that no boat gives, and no slip to put it down to: still a number
  for (const double volts : {-40.0, 3.0, 1000.0}) {
    const double sound = inform(lamp().sound, {{lamp_v, volts, 0.05, 0, 0}}).log_density, faulty = inform(lamp().faulty, {{lamp_v, volts, 0.05, 0, 0}}).log_density;
    EXPECT_TRUE(std::isfinite(sound)) << volts;
    EXPECT_LT(sound, -500) << volts;
    if (volts < 11) { EXPECT_GT(faulty, sound) << volts; }  // nearer, if not near
  }
}

TEST(Inform, WithoutReadingsChangesNothing) {
  const auto informed = inform(lamp().faulty, {});
  EXPECT_NEAR(informed.log_density, 0, 1e-12);
  for (std::size_t c = 0; c < informed.cells.size(); ++c) EXPECT_NEAR(informed.cells[c].weight, lamp().faulty.cells[c].weight, 1e-12);
}

// --- the judged scale ---

TEST(JudgedScale, IsThereAndBack) {
  for (const double volt : {-30.0, 0.0, 0.7, 25.4}) {
    EXPECT_EQ(judged_scale(volt, false), volt);
    EXPECT_EQ(reading_of(volt, false), volt);
    EXPECT_EQ(judged_scale_slope(volt, false), 1);
  }
  for (const double ohm : {0.0, 0.01, 0.5, 60.0, 120.0, 1e5, 9e6}) {
    EXPECT_NEAR(reading_of(judged_scale(ohm, true), true), ohm, 1e-9 * (1 + ohm));
    const double step = 1e-6 * (0.1 + ohm);
    const double slope = (judged_scale(ohm + step, true) - judged_scale(ohm, true)) / step;
    EXPECT_NEAR(judged_scale_slope(ohm, true), slope, 1e-5 * slope);
  }
  EXPECT_EQ(judged_scale(HUGE_VAL, true), judged_scale(over_range_ohm, true));
  EXPECT_EQ(judged_scale(-1, true), judged_scale(0, true));
  EXPECT_TRUE(std::isinf(reading_of(judged_scale(1e12, true), true)));
}

// --- the same thing told twice ---

// How much more the readings speak for the fault than for a sound boat.
double evidence(const Expectation& expectation, std::size_t cause, const std::vector<Taken>& readings) {
  return inform(expectation.under(0, {cause}), readings).log_density - inform(expectation.under(0, {}), readings).log_density;
}

TEST(TheSameThing, ReadTwiceCountsOnce) {
  const std::string probe = R"(<volts in="on" from="top" to="minus"/>)";
  const SmallBoat boat({lamp_circuit, {tied("once", probe, 0.001), tied("again", probe, 0.001)}, {corroded}});
  const Expectation expectation(boat.base, boat.evaluation);
  double strongest = 0;
  for (double volts = 12.5; volts < 21.5; volts += 0.25) {
    const Taken once{0, volts, 0.01, 0, 0}, again{1, volts, 0.01, 0, 0};
    const double one = evidence(expectation, 0, {once}), two = evidence(expectation, 0, {once, again});
    // Twice is a better meter, by 1/sqrt 2 of 0.01 V: nothing beside the 0.3 V by which sound boats differ. But where only a tail of the sound
    // boats reaches, even a hair counts: four thousandths of what was said.
    EXPECT_NEAR(two, one, 0.03 + 0.004 * std::abs(one)) << volts;
    strongest = std::max(strongest, std::abs(one));
  }
  EXPECT_GT(strongest, 5);
}

// Volts at the bank, at the motor, and between them.
const SmallBook three_meters = [] {
  const std::string bank = R"(<volts in="on" from="plus" to="minus"/>)", motor = R"(<volts in="on" from="top" to="minus"/>)";
  const std::string between = bank + R"(<volts in="on" from="top" to="minus" weight="-1"/>)";
  return SmallBook{lamp_circuit, {tied("bank-volts", bank, 0.001), tied("motor-volts", motor, 0.001), tied("drop", between, 0.001)}, {corroded}};
}();

TEST(TheSameThing, AsADifferenceOfTwoReadingsCountsOnce) {
  const SmallBoat boat(three_meters);
  const Expectation expectation(boat.base, boat.evaluation);
  constexpr double noise = 0.02;
  for (double added = 0; added < 3; added += 0.2) {
    const double top = 24 * lamp_ohm / (wire_ohm + joint_ohm + added + lamp_ohm);
    const Taken at_bank{0, 24, noise, 0, 0}, at_motor{1, top, noise, 0, 0}, across{2, 24 - top, noise, 0, 0};
    const double two = evidence(expectation, 0, {at_bank, at_motor}), three = evidence(expectation, 0, {at_bank, at_motor, across});
    EXPECT_NEAR(three, two, 0.1 + 0.01 * std::abs(two)) << added;
    const double drop_first = evidence(expectation, 0, {across, at_bank, at_motor});
    EXPECT_NEAR(drop_first, three, 1e-6 * (1 + std::abs(three))) << added;
  }
}

TEST(TheSameThing, IsForetoldByTheOtherTwo) {  // bank and motor volts leave nothing open about their difference but the noise
  const SmallBoat boat(three_meters);
  const Expectation expectation(boat.base, boat.evaluation);
  const auto& outlook = expectation.under(0, {0});
  const auto informed = inform(outlook, {{0, 24.1, 0.01, 0, 0}, {1, 17.0, 0.01, 0, 0}});
  EXPECT_NEAR(quantile(outlook, informed, 2, 0.5), 7.1, 0.02);
  EXPECT_LT(quantile(outlook, informed, 2, 0.95) - quantile(outlook, informed, 2, 0.05), 2 * 1.645 * 0.02 * std::sqrt(2.0));
}

// --- a drop is judged at the current that flowed ---

// 280 A in the middle, but a tired motor or a lighter propeller makes it less; a cable of 4 mOhm whose joint may add to it.
const std::string push_circuit = R"(<circuit id="c" reference="minus"><title>t</title><condition id="push">p</condition>
    <part kind="source" id="bank" from="plus" to="minus" volt="25" ohm="0.004" spread-volt="0.2">b</part>
    <part kind="resistor" id="cable" from="plus" to="stud" ohm="0.004" spread="0.06">c</part>
    <part kind="current" id="motor" from="stud" to="minus" amp="280" spread="0.25">m</part></circuit>)";
const Fault poor_joint{"poor-joint", R"(<effect circuit="c"><words>w</words><add part="cable" of="ohm" from="0.001" to="0.01"/></effect>)"};

struct Push {
  SmallBoat boat{{push_circuit,
                  {tied("clamp", R"(<amps in="push" of="motor"/>)", 2, "", "A"), tied("drop", R"(<volts in="push" from="plus" to="stud"/>)", 0.02)},
                  {poor_joint}}};
  Expectation expectation{boat.base, boat.evaluation};
};

TEST(ADrop, IsForetoldFromTheCurrentThatWasRead) {
  const Push push;
  const auto& sound = push.expectation.under(0, {});
  EXPECT_NEAR(quantile(sound, inform(sound, {}), 1, 0.5), 0.004 * 280, 0.02);
  const auto informed = inform(sound, {{0, 180, 3, 0, 0}});
  EXPECT_NEAR(quantile(sound, informed, 1, 0.5), 0.004 * 180, 0.02);
  const double unread = quantile(sound, inform(sound, {}), 1, 0.95) - quantile(sound, inform(sound, {}), 1, 0.05);
  EXPECT_LT(quantile(sound, informed, 1, 0.95) - quantile(sound, informed, 1, 0.05), 0.4 * unread);
}

TEST(ADrop, OfASoundCableAt180AmperesIsBelievedHealthy) {
  const Push push;
  struct { const char* name; double amps, drop; bool healthy; } const rows[] = {{"as expected", 280, 0.004 * 280, true},
                                                                                {"less current, less drop", 180, 0.004 * 180, true},
                                                                                {"less current, the drop of 280 A", 180, 0.004 * 280, false},
                                                                                {"more current, more drop", 350, 0.004 * 350, true},
                                                                                {"a joint of 3 mOhm", 280, 0.007 * 280, false}};
  for (const auto& row : rows) {
    const double speaks_for_fault = evidence(push.expectation, 0, {{0, row.amps, 3, 0, 0}, {1, row.drop, 0.02, 0, 0}});
    if (row.healthy) EXPECT_LT(speaks_for_fault, -1.5) << row.name;
    else EXPECT_GT(speaks_for_fault, 5) << row.name;
  }
  // Alone, the drop of a sound cable at 350 A is a poor joint's at 280.
  const Taken clamp{0, 350, 3, 0, 0}, drop{1, 0.004 * 350, 0.02, 0, 0};
  const double alone = evidence(push.expectation, 0, {drop}), with_clamp = evidence(push.expectation, 0, {clamp, drop});
  EXPECT_LT(with_clamp, alone - 1);
}

// --- a spread is never below nothing ---

TEST(AFoldedMeasurement, IsJudgedOnOneSideOfZero) {
  const std::string pair = R"(<circuit id="c" reference="minus"><title>t</title><condition id="on">r</condition>
      <part kind="source" id="upper" from="plus" to="middle" volt="12.7" ohm="0.01" spread-volt="0.1">u</part>
      <part kind="source" id="lower" from="middle" to="minus" volt="12.7" ohm="0.01" spread-volt="0.1">l</part></circuit>)";
  const std::string each = R"(<volts in="on" from="plus" to="middle"/><volts in="on" from="middle" to="minus"/>)";
  const SmallBoat boat({pair, {tied("spread", each, 0.02, "take=\"spread\"")}});
  const Expectation expectation(boat.base, boat.evaluation);
  const auto& outlook = expectation.under(0, {});
  const auto informed = inform(outlook, {});
  EXPECT_TRUE(outlook.folded[0]);
  EXPECT_EQ(chances_between(outlook, informed, 0, {-0.5})[0], 0);
  EXPECT_EQ(chances_between(outlook, informed, 0, {0})[0], 0);
  EXPECT_GE(quantile(outlook, informed, 0, 0.05), 0);
  // |N(0, s)| with s² = 0.1² + 0.1² + 0.02²: half of it below 0.6745 s
  const double deviation = std::sqrt(0.0204);
  EXPECT_NEAR(quantile(outlook, informed, 0, 0.5), 0.6745 * deviation, 0.05 * deviation);
  for (const double read : {0.0, 0.05, 0.2, 0.35}) {  // the density of |N|: both sides of it
    EXPECT_NEAR(std::exp(inform(outlook, {{0, read, 0, 0, 0}}).log_density), 2 * normal(read, deviation), 0.05 * 2 * normal(read, deviation)) << read;
  }
}

}  // namespace
}  // namespace leadline::circuit
