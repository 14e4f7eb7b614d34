// The brushed motor on a propeller: its current falls with the volts (electrical.md § 6.1). The twin knows no closed form: it halves intervals.
#include <gtest/gtest.h>

#include <cmath>
#include <optional>

#include "engine/circuit/network.h"
#include "tests/circuit/random_networks.h"

namespace leadline::circuit {
namespace {

using testing::Draw;
using testing::node_name;
using testing::random_resistors;

constexpr MotorLoad worked{24, 300, 0.015, 1};  // the motor of the table: 300 A at 24 V, 15 mΩ, so 19.5 V of its own

MotorLoad with_load(double load) { return {worked.volt, worked.amp, worked.ohm, load}; }

// The speed by halving: E x + R I c x² = V.
double amps_by_halving(const MotorLoad& motor, double volts) {
  const double back = motor.volt - motor.amp * motor.ohm;
  double slow = 0, fast = std::abs(volts) / back + 1;
  for (int step = 0; step < 200; ++step) {
    const double x = (slow + fast) / 2;
    (back * x + motor.ohm * motor.amp * motor.load * x * x < std::abs(volts) ? slow : fast) = x;
  }
  return std::copysign(motor.amp * motor.load * slow * slow, volts);
}

TEST(Motor, DrawsWhatTheWorkedTableSays) {  // electrical.md § 6.1, DERIVED there
  struct { const char* name; double volts, load, amps; } const rows[] = {
      {"rated", 24, 1, 300.0}, {"some sag", 21.5, 1, 249.0}, {"more sag", 20, 1, 220.0}, {"a weak bank", 18, 1, 183.4}, {"fouled", 24, 1.5, 389.9}};
  for (const auto& row : rows) {
    EXPECT_NEAR(motor_amps(with_load(row.load), row.volts), row.amps, 0.05) << row.name;
    EXPECT_NEAR(amps_by_halving(with_load(row.load), row.volts), row.amps, 0.05) << row.name;
  }
}

TEST(Motor, StalledItIsAResistanceAndUnloadedItTakesNothing) {
  EXPECT_LT(motor_amps(with_load(1e6), 24), 1600);  // V / R: 1,600 A in the table
  EXPECT_GT(motor_amps(with_load(1e6), 24), 0.995 * 1600);
  EXPECT_EQ(motor_amps(with_load(0), 24), 0);
  EXPECT_EQ(motor_amps(worked, 0), 0);
  EXPECT_LT(motor_amps(with_load(1e-6), 24), 1e-3);
}

TEST(Motor, RisesWithVoltsAndLoadAndAgreesWithHalving) {
  Draw draw(21);
  for (int trial = 0; trial < 500; ++trial) {
    const double volt = draw.between(6, 60), amp = draw.between(1, 600);
    const MotorLoad motor{volt, amp, draw.between(0.01, 0.9) * volt / amp, draw.between(0.05, 20)};
    const double volts = draw.between(0.01, 1.5) * volt, taken = motor_amps(motor, volts);
    EXPECT_NEAR(taken, amps_by_halving(motor, volts), 1e-9 * taken);
    EXPECT_EQ(motor_amps(motor, -volts), -taken);
    EXPECT_GT(motor_amps(motor, 1.01 * volts), taken);
    EXPECT_GT(motor_amps({motor.volt, motor.amp, motor.ohm, 1.01 * motor.load}, volts), taken);
    EXPECT_LT(taken, volts / motor.ohm);
    EXPECT_NEAR(motor_amps({volt, amp, motor.ohm, 1}, volt), amp, 1e-9 * amp);  // what its plate says
  }
}

TEST(Motor, RefusesWhatNoMotorIs) {
  struct { const char* name; MotorLoad motor; const char *what, *hint; } const rows[] = {
      {"no volts", {0, 300, 0.015, 1}, "the volts of 'm' is 0 V", "expected 0.001 V to 10000 V"},
      {"volts that are no number", {std::nan(""), 300, 0.015, 1}, "the volts of 'm' is nan V", "expected 0.001 V to 10000 V"},
      {"no current", {24, 0, 0.015, 1}, "the current of 'm' is 0 A", "expected 0.001 A to 100000 A"},
      {"negative load", {24, 300, 0.015, -1}, "the load of 'm' is -1", "expected 0 to 1000000"},
      {"load beyond a stall", {24, 300, 0.015, 2e6}, "the load of 'm' is 2000000", "expected 0 to 1000000"},
      {"no resistance", {24, 300, 0, 1}, "the resistance of 'm' is 0 ohm", "expected 0.000000001 ohm to 0.0792 ohm"},
      {"all volts lost in the winding", {24, 300, 0.08, 1}, "the resistance of 'm' is 0.08 ohm", "expected 0.000000001 ohm to 0.0792 ohm"},
  };
  for (const auto& row : rows) {
    SCOPED_TRACE(row.name);
    const auto result = solve({{{"s", "a", "b", Source{24, 0.01}}, {"m", "a", "b", row.motor}}});
    ASSERT_NE(trouble_of(result), nullptr);
    EXPECT_EQ(trouble_of(result)->kind, Trouble::Kind::bad_value);
    EXPECT_EQ(trouble_of(result)->names, std::vector<std::string>{"m"});
    EXPECT_EQ(trouble_of(result)->what, row.what);
    EXPECT_EQ(trouble_of(result)->hint, row.hint);
  }
}

TEST(Motor, BehindAnOpenSwitchHasNoReturn) {
  const auto result = solve({{{"s", "a", "b", Source{24, 0.01}}, {"u", "a", "c", Switch{false}}, {"m", "c", "b", worked}}});
  ASSERT_NE(trouble_of(result), nullptr);
  EXPECT_EQ(trouble_of(result)->what, "the current of 'm' has no way back: no conductor joins 'c' and 'b'");
}

TEST(Motor, RunsBackwardsOnReversedVolts) {
  const Circuit forth{{{"s", "a", "b", Source{25, 0.01}}, {"m", "a", "b", worked}}}, back{{{"s", "a", "b", Source{25, 0.01}}, {"m", "b", "a", worked}}};
  const double ahead = std::get<double>(std::get<Solution>(solve(forth)).amps("m")), astern = std::get<double>(std::get<Solution>(solve(back)).amps("m"));
  EXPECT_GT(ahead, 200);
  EXPECT_NEAR(astern, -ahead, 1e-9 * ahead);
}

TEST(Motor, OnADeadCircuitStandsStill) {
  const auto result = solve({{{"r", "a", "b", Resistor{1}}, {"m", "a", "b", worked}}});
  ASSERT_NE(value_of(result), nullptr);
  EXPECT_EQ(std::get<double>(value_of(result)->amps("m")), 0);
}

// --- with constant power on one circuit ---

struct Shared {
  double volt, ohm, run, watt;
  MotorLoad motor;
  Circuit circuit() const {
    return {{{"bank", "a", "b", Source{volt, ohm}}, {"motor", "a", "b", motor}, {"run", "a", "c", Resistor{run}}, {"drive", "c", "b", PowerLoad{watt}}}};
  }
  // How far too high `a` is: 0 at an operating point. Nothing where the run cannot carry the power.
  std::optional<double> excess(double at_a) const {
    const double root = at_a * at_a / 4 - run * watt;
    if (root < 0) return std::nullopt;
    return at_a - volt + ohm * (amps_by_halving(motor, at_a) + watt / (at_a / 2 + std::sqrt(root)));
  }
};

// The highest volts that satisfy all laws: downward in small steps to a change of sign, then halving.
std::optional<double> highest_volts(const Shared& shared) {
  double high = shared.volt;
  for (int step = 1; step < 4000; ++step) {
    const double low = shared.volt * (1 - step / 4000.0);
    const auto excess = shared.excess(low);
    if (!excess) return std::nullopt;
    if (*excess > 0) {
      high = low;
      continue;
    }
    double under = low;
    for (int halving = 0; halving < 100; ++halving) {
      const double middle = (under + high) / 2;
      (*shared.excess(middle) > 0 ? high : under) = middle;
    }
    return high;
  }
  return std::nullopt;
}

TEST(MotorAndPower, OnOneCircuitAgreeWithHalving) {
  Draw draw(22);
  int solved = 0, refused = 0, differ = 0;
  for (int trial = 0; trial < 300; ++trial) {
    const double ohm = draw.between(0.002, 0.02);
    const Shared shared{draw.between(20, 28), ohm, draw.between(0.001, 0.02), draw.between(0.05, 0.8) * 600 / (4 * ohm), with_load(draw.between(0.2, 5))};
    const auto result = solve(shared.circuit());
    const auto twin = highest_volts(shared);
    if (twin && value_of(result)) {
      ++solved;
      EXPECT_NEAR(std::get<double>(value_of(result)->volts("a", "b")), *twin, 1e-8);
    } else if (!twin && !value_of(result)) {
      ++refused;
      EXPECT_EQ(trouble_of(result)->kind, Trouble::Kind::power_not_available);
      EXPECT_EQ(trouble_of(result)->names, std::vector<std::string>{"drive"});
      EXPECT_LT(trouble_of(result)->most_watt, shared.watt);
    } else {
      ++differ;  // within a step of the grid of having none
    }
  }
  EXPECT_GT(solved, 100);
  EXPECT_GT(refused, 30);
  EXPECT_LE(differ, 1);
}

TEST(MotorAndPower, TheMostBesideAMotorIsTheMost) {
  const auto asking = [](double watt) { return Shared{25, 0.01, 0.005, watt, worked}.circuit(); };
  const auto refused = solve(asking(20000));
  ASSERT_NE(trouble_of(refused), nullptr);
  const double most = trouble_of(refused)->most_watt;
  EXPECT_NE(value_of(solve(asking(0.999 * most))), nullptr);
  EXPECT_NE(trouble_of(solve(asking(1.001 * most))), nullptr);
}

TEST(Motor, SeveralOnRandomNetworksObeyTheirLaw) {
  Draw draw(23);
  for (int trial = 0; trial < 200; ++trial) {
    auto circuit = random_resistors(draw, 8);
    circuit.elements.push_back({"bank", "n0", "n7", Source{24, 0.01}});
    circuit.elements.push_back({"other", "n4", "n7", Source{12, 0.02}});
    for (std::size_t k = 1; k < 4; ++k) circuit.elements.push_back({"m" + std::to_string(k), node_name(k), "n7", with_load(draw.between(0.1, 10))});
    const auto result = solve(circuit);
    ASSERT_NE(value_of(result), nullptr) << trial << trouble_of(result)->what;
    for (std::size_t e = circuit.elements.size() - 3; e < circuit.elements.size(); ++e) {
      const auto& [id, from, to, kind] = circuit.elements[e];
      const double law = amps_by_halving(std::get<MotorLoad>(kind), std::get<double>(value_of(result)->volts(from, to)));
      EXPECT_NEAR(std::get<double>(value_of(result)->amps(id)), law, 1e-7 * (1e-3 + std::abs(law))) << trial;
    }
  }
}

}  // namespace
}  // namespace leadline::circuit
