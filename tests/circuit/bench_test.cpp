// The probes of one boat's circuit: what each take makes of them, what sleeps, what stands still, what an open end reads.
#include "engine/circuit/bench.h"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/circuit/fault.h"
#include "tests/circuit/small_book.h"

namespace leadline::circuit {
namespace {

using testing::Reading;
using testing::SmallBoat;

// A boat's bench; `numbers` are its healthy ones, to be changed.
struct Tried {
  SmallBoat boat;
  Bench bench;
  std::vector<PartNumbers> numbers;

  Tried(const std::string& circuit, std::vector<Reading> readings, const std::string& record = "")
      : boat({circuit, std::move(readings)}, record), bench(bench_of(boat)), numbers(numbers_of(bench.healthy())) {}

  static Bench bench_of(const SmallBoat& boat) {
    auto bench = Bench::of(boat.base, std::get<FittedCircuit>(fit(boat.base, 0, boat.evaluation)), boat.evaluation);
    if (const auto* trouble = trouble_of(bench)) throw std::logic_error(trouble->what);
    return *value_of(bench);
  }

  PartNumbers& operator[](const std::string& id) {
    for (std::size_t i = 0; i < numbers.size(); ++i) {
      if (bench.healthy().parts[i].id == id) return numbers[i];
    }
    throw std::logic_error("no part " + id);
  }

  double read(const std::string& finding) const {
    const auto probes = bench.probed(numbers, std::vector<bool>(boat.base.circuits[0].conditions.size(), true), bench.probed_healthy());
    return value(finding, probes);
  }
  double value(const std::string& finding, const std::vector<double>& probes) const {
    for (std::size_t m = 0; m < bench.measures().size(); ++m) {
      if (boat.base.findings[bench.measures()[m].finding].id == finding) return bench.measured(probes)[m];
    }
    throw std::logic_error("not measured here: " + finding);
  }
  bool measures(const std::string& finding) const {
    const auto& all = bench.measures();
    return std::any_of(all.begin(), all.end(), [&](const auto& m) { return boat.base.findings[m.finding].id == finding; });
  }
};

std::string circuit(const std::string& parts) {
  return "<circuit id=\"c\" reference=\"minus\"><title>t</title><condition id=\"rest\">r</condition><condition id=\"push\">p</condition>" + parts + "</circuit>";
}

Reading reading(const std::string& id, const std::string& probes, const std::string& attributes = "", const std::string& unit = "V") {
  return {id, "<measure circuit=\"c\" " + attributes + ">" + probes + "</measure>", unit};
}

// --- what is taken ---

// Three rungs from a 12 V source: 1, 2 and 3 ohm, so 2, 4 and 6 V across them at 2 A.
const std::string ladder = circuit(R"(<part kind="source" id="bank" from="a" to="minus" volt="12" ohm="0.000001">b</part>
    <part kind="resistor" id="one" from="a" to="b" ohm="1">1</part><part kind="resistor" id="two" from="b" to="c" ohm="2">2</part>
    <part kind="resistor" id="three" from="c" to="minus" ohm="3">3</part>)");
constexpr const char* three_volts = R"(<volts in="rest" from="a" to="b"/><volts in="rest" from="b" to="c"/><volts in="rest" from="c" to="minus"/>)";

TEST(Take, MakesOneNumberOfSeveral) {
  struct { const char* take; double wanted; } const rows[] = {{"sum", 12}, {"largest", 6}, {"least", 2}, {"spread", 4}, {"average", 4}};
  for (const auto& row : rows) {
    const Tried tried(ladder, {reading("v", three_volts, "take=\"" + std::string(row.take) + "\"")});
    EXPECT_NEAR(tried.read("v"), row.wanted, 1e-5) << row.take;
  }
}

TEST(Take, WeighsItsProbes) {
  const Tried tried(ladder, {reading("v", R"(<volts in="rest" from="a" to="minus"/><volts in="rest" from="c" to="minus" weight="-0.5"/>)")});
  EXPECT_NEAR(tried.read("v"), 12 - 3, 1e-5);
}

TEST(Take, DividesVoltsByAmps) {
  const std::string probes = R"(<volts in="rest" from="b" to="minus"/><amps in="rest" of="one"/>)";
  Tried tried(ladder, {reading("ratio", probes, "take=\"ratio\"", "ohm"), reading("amps", R"(<amps in="rest" of="one"/>)", "", "A")});
  EXPECT_NEAR(tried.read("ratio"), 5, 1e-6);
  tried["three"].ohm = 9.5;  // 0.96 A: a clamp cannot tell it from nothing
  EXPECT_NEAR(tried.read("amps"), 12 / 12.5, 1e-5);
  EXPECT_TRUE(std::isnan(tried.read("ratio")));
  tried["bank"].volt = -12, tried["three"].ohm = 3;
  EXPECT_NEAR(tried.read("ratio"), 5, 1e-6);  // reversed both ways
}

TEST(Take, AVoltmeterAndAnAmmeterHaveTwoLeads) {
  const Tried tried(ladder, {reading("v", R"(<volts in="rest" from="minus" to="b"/>)"), reading("i", R"(<amps in="rest" of="bank"/>)", "", "A"),
                             reading("none", R"(<volts in="rest" from="a" to="a"/>)")});
  EXPECT_NEAR(tried.read("v"), -10, 1e-5);
  EXPECT_NEAR(tried.read("i"), -2, 1e-5);  // it delivers
  EXPECT_EQ(tried.read("none"), 0);
}

TEST(Take, OhmsAreReadWithTheSourcesDead) {
  const Tried tried(ladder, {reading("r", R"(<ohms in="rest" from="b" to="minus"/>)", "", "ohm"),
                             reading("zero", R"(<ohms in="rest" from="b" to="b"/>)", "", "ohm")});
  EXPECT_NEAR(tried.read("r"), 5 * 1 / 6.0, 1e-6);  // 2 + 3 beside 1
  EXPECT_EQ(tried.read("zero"), 0);
}

// --- measurements that have no place here ---

const std::string string_circuit = circuit(R"(<part kind="source" id="bank" from="H at bow" to="minus" volt="12" ohm="0.1">b</part>
    <part kind="resistor" id="H-{@from}" each="segment" from="H at {@from}" to="H at {@to}" ohm="$segment-length">h</part>
    <part kind="resistor" id="end" from="H at wing" to="minus" ohm="0.9" when="count(segment) > 0">e</part>)");
constexpr const char* each_volts = R"(<volts in="rest" each="segment" from="H at {@from}" to="H at {@to}"/>)";

TEST(Measures, AreRepeatedForEveryElement) {
  const Tried tried(string_circuit, {reading("sum", each_volts), reading("most", each_volts, "take=\"largest\"")},
                    R"(<segment from="bow" to="helm" length="8"/><segment from="helm" to="wing" length="2"/>)");
  EXPECT_NEAR(tried.read("sum"), 12 * 10 / 11.0, 1e-6);
  EXPECT_NEAR(tried.read("most"), 12 * 8 / 11.0, 1e-6);
}

TEST(Measures, WithoutAPlaceAreLeftOut) {
  const std::string at_bow = R"(<volts in="rest" from="H at bow" to="minus"/>)", at_wing = R"(<volts in="rest" from="H at wing" to="minus"/>)";
  const Tried tried(string_circuit, {reading("bank", at_bow), reading("wing", at_wing),
                                     reading("clamp", R"(<amps in="rest" of="end"/>)", "", "A"), reading("sum-over-no-segment", each_volts),
                                     reading("most-of-no-segment", each_volts, "take=\"largest\""),
                                     reading("some-of-a-sum", at_bow + at_wing),
                                     reading("least-of-those-there", at_bow + at_wing, "take=\"least\"")});
  EXPECT_TRUE(tried.measures("bank"));
  EXPECT_FALSE(tried.measures("wing"));
  EXPECT_FALSE(tried.measures("clamp"));
  EXPECT_FALSE(tried.measures("sum-over-no-segment"));
  EXPECT_FALSE(tried.measures("most-of-no-segment"));
  EXPECT_FALSE(tried.measures("some-of-a-sum"));
  EXPECT_TRUE(tried.measures("least-of-those-there"));
  EXPECT_NEAR(tried.read("least-of-those-there"), 12, 1e-6);
}

// --- conditions ---

const std::string two_conditions = circuit(R"(<part kind="source" id="bank" from="a" to="minus" volt="12" ohm="0.1">b</part>
    <part kind="current" id="motor" in="push" from="a" to="minus" amp="20">m</part>
    <part kind="resistor" id="lamp" in="rest" from="a" to="minus" ohm="5.9">l</part>)");
const std::vector<Reading> both_volts = {reading("rest", R"(<volts in="rest" from="a" to="minus"/>)"),
                                         reading("push", R"(<volts in="push" from="a" to="minus"/>)")};

TEST(Conditions, LeftOutKeepWhatTheyReadBefore) {
  Tried tried(two_conditions, both_volts);
  EXPECT_NEAR(tried.read("rest"), 11.8, 1e-6);
  EXPECT_NEAR(tried.read("push"), 10, 1e-6);
  tried["bank"].volt = 10;
  const auto probes = tried.bench.probed(tried.numbers, {true, false}, tried.bench.probed_healthy());
  EXPECT_NEAR(tried.value("rest", probes), 10 * 5.9 / 6, 1e-6);
  EXPECT_NEAR(tried.value("push", probes), 10, 1e-6);  // 8 when read anew
  EXPECT_NEAR(tried.value("push", tried.bench.probed(tried.numbers, {false, true}, probes)), 8, 1e-6);
  EXPECT_EQ(tried.bench.probed(tried.numbers, {false, false}, {1, 2}), (std::vector<double>{1, 2}));
}

TEST(Conditions, AreThoseInWhichAPartIsThere) {
  const Tried tried(two_conditions, both_volts);
  EXPECT_EQ(tried.bench.conditions_of({0}), (std::vector<bool>{true, true}));
  EXPECT_EQ(tried.bench.conditions_of({1}), (std::vector<bool>{false, true}));
  EXPECT_EQ(tried.bench.conditions_of({1, 2}), (std::vector<bool>{true, true}));
  EXPECT_EQ(tried.bench.conditions_of({}), (std::vector<bool>{false, false}));
  EXPECT_EQ(tried.bench.condition_of(tried.bench.measures()[1]), 1U);
}

TEST(Conditions, ReadingsDoNotDependOnWhatWasReadBefore) {
  Tried tried(two_conditions, both_volts);
  tried["bank"].volt = 3;
  (void)tried.read("push");
  tried["bank"].volt = 12;
  EXPECT_NEAR(tried.read("push"), 10, 1e-6);
}

TEST(PartReadings, AreTheVoltsAndAmperesOfEachPart) {
  const Tried tried(two_conditions, both_volts);
  const auto rest = tried.bench.part_readings(0, tried.numbers), push = tried.bench.part_readings(1, tried.numbers);
  EXPECT_NEAR(rest[0].volt, 11.8, 1e-6);
  EXPECT_NEAR(rest[0].amp, -2, 1e-6);
  EXPECT_EQ(rest[1].amp, 0);
  EXPECT_EQ(rest[1].volt, 0);
  EXPECT_NEAR(push[1].volt, 10, 1e-6);
  EXPECT_EQ(push[1].amp, 20);
}

// --- a step-up charger ---

// A house battery feeds it over a thin wire; it charges the other bank with what it takes.
const std::string charger = circuit(R"(<part kind="source" id="house" from="h" to="minus" volt="13.8" ohm="0.02">h</part>
    <part kind="resistor" id="wire" from="h" to="in" ohm="0.05">w</part>
    <part kind="step-up" id="input" from="in" to="minus" watt="260" wake="13.2">i</part>
    <part kind="source" id="bank" from="b" to="minus" volt="25" ohm="0.01">b</part>
    <part kind="current" id="output" from="minus" to="b" amp="10" awake-with="input">o</part>)");
const std::vector<Reading> charger_readings = {reading("in", R"(<volts in="rest" from="in" to="minus"/>)"),
                                               reading("taken", R"(<amps in="rest" of="input"/>)", "", "A"),
                                               reading("given", R"(<amps in="rest" of="output"/>)", "", "A"),
                                               reading("bank", R"(<volts in="rest" from="b" to="minus"/>)")};

TEST(StepUp, WorksAboveItsWakingVolts) {
  const Tried tried(charger, charger_readings);
  const double volts = 13.8 / 2 + std::sqrt(13.8 * 13.8 / 4 - 0.07 * 260);
  EXPECT_NEAR(tried.read("in"), volts, 1e-6);  // 12.3 V: below waking, but it looked before it drew
  EXPECT_NEAR(tried.read("taken"), 260 / volts, 1e-6);
  EXPECT_EQ(tried.read("given"), 10);
  EXPECT_NEAR(tried.read("bank"), 25.1, 1e-6);
}

TEST(StepUp, SleepsBelowThem) {
  Tried tried(charger, charger_readings);
  tried["house"].volt = 13.1;
  EXPECT_NEAR(tried.read("in"), 13.1, 1e-6);
  EXPECT_EQ(tried.read("taken"), 0);
  EXPECT_EQ(tried.read("given"), 0);
  EXPECT_NEAR(tried.read("bank"), 25, 1e-6);
  tried["input"].wake = 13;
  EXPECT_EQ(tried.read("given"), 10);
}

TEST(StepUp, GoesBackToSleepWhenItsOwnDrawPullsTheVoltsAway) {
  Tried tried(charger, charger_readings);
  tried["wire"].ohm = 1;  // a poor joint: at most 47 W get through
  EXPECT_NEAR(tried.read("in"), 13.8, 1e-6);
  EXPECT_EQ(tried.read("taken"), 0);
  EXPECT_EQ(tried.read("given"), 0);
}

TEST(StepUp, BackAsleepLeavesTheNextOneAlone) {
  const std::string two = circuit(R"(<part kind="source" id="house" from="h" to="minus" volt="13.8" ohm="0.02">h</part>
      <part kind="resistor" id="wire" from="h" to="in" ohm="1">w</part>
      <part kind="step-up" id="starved" from="in" to="minus" watt="260" wake="13.2">s</part>
      <part kind="step-up" id="fed" from="h" to="minus" watt="100" wake="13.2">f</part>)");
  const Tried tried(two, {reading("starved", R"(<amps in="rest" of="starved"/>)", "", "A"), reading("fed", R"(<amps in="rest" of="fed"/>)", "", "A")});
  EXPECT_EQ(tried.read("starved"), 0);
  EXPECT_NEAR(tried.read("fed"), 100 / (6.9 + std::sqrt(6.9 * 6.9 - 2)), 1e-6);
}

TEST(StepUp, WithNoFeedGivesNothing) {
  Tried tried(charger, charger_readings);
  tried["wire"].ohm = open_ohm;
  EXPECT_NEAR(tried.read("in"), 0, 0.05);
  EXPECT_EQ(tried.read("given"), 0);
}

TEST(StepUp, ASourceWorksWithItToo) {
  const std::string with_source = circuit(R"(<part kind="source" id="house" from="h" to="minus" volt="13.8" ohm="0.02">h</part>
      <part kind="step-up" id="input" from="h" to="minus" watt="100" wake="13.2">i</part>
      <part kind="source" id="output" from="b" to="minus" volt="28" ohm="0.1" awake-with="input">o</part>
      <part kind="resistor" id="bank" from="b" to="minus" ohm="2.7">b</part>)");
  Tried tried(with_source, {reading("bank", R"(<volts in="rest" from="b" to="minus"/>)")});
  EXPECT_NEAR(tried.read("bank"), 27, 1e-6);
  tried["input"].wake = 14;
  EXPECT_NEAR(tried.read("bank"), 0, 1e-6);
}

// --- constant power ---

const std::string drive = circuit(R"(<part kind="source" id="bank" from="a" to="minus" volt="24" ohm="0.01">b</part>
    <part kind="resistor" id="run" from="a" to="m" ohm="0.01">r</part><part kind="power" id="drive" from="m" to="minus" watt="5000">d</part>
    <part kind="resistor" id="lamp" from="a" to="minus" ohm="24">l</part>)");

TEST(Power, ThatCannotBeHadStandsStill) {
  Tried tried(drive, {reading("amps", R"(<amps in="rest" of="drive"/>)", "", "A"), reading("volts", R"(<volts in="rest" from="m" to="minus"/>)")});
  EXPECT_GT(tried.read("amps"), 5000 / 24.0);
  EXPECT_LT(tried.read("volts"), 20);
  tried["run"].ohm = 0.05;  // at most 2,400 W
  EXPECT_EQ(tried.read("amps"), 0);
  EXPECT_NEAR(tried.read("volts"), 24 * 24 / 24.01, 1e-5);  // the lamp is still lit
  tried["drive"].watt = 2000;
  EXPECT_GT(tried.read("amps"), 2000 / 24.0);
}

TEST(Power, OnADeadBankStandsStillAndTheRestReadsNothing) {
  Tried tried(drive, {reading("amps", R"(<amps in="rest" of="drive"/>)", "", "A"), reading("volts", R"(<volts in="rest" from="a" to="minus"/>)")});
  tried["bank"].volt = 0;
  EXPECT_EQ(tried.read("amps"), 0);
  EXPECT_NEAR(tried.read("volts"), 0, 1e-9);
}

TEST(Idle, CountsWhatStandsStillByCondition) {
  const std::string both = circuit(R"(<part kind="source" id="bank" from="a" to="minus" volt="24" ohm="0.01">b</part>
      <part kind="resistor" id="run" from="a" to="m" ohm="0.01">r</part><part kind="power" id="drive" in="push" from="m" to="minus" watt="5000">d</part>
      <part kind="step-up" id="input" in="rest" from="a" to="minus" watt="100" wake="13">i</part>
      <part kind="current" id="output" in="rest" from="minus" to="b" amp="1" awake-with="input">o</part>
      <part kind="resistor" id="b" from="b" to="minus" ohm="5">b</part>)");
  Tried tried(both, {reading("v", R"(<volts in="rest" from="a" to="minus"/>)")});
  const auto idle = [&](const std::vector<bool>& conditions) {
    auto count = tried.bench.idle_healthy();
    (void)tried.bench.probed(tried.numbers, conditions, tried.bench.probed_healthy(), &count);
    return count;
  };
  const auto healthy = idle({true, true});
  EXPECT_EQ(healthy, tried.bench.idle_healthy());
  tried["run"].ohm = 0.1;  // the drive cannot get its power: one more stands still in the push
  EXPECT_EQ(idle({true, true}), (std::vector<std::size_t>{healthy[0], healthy[1] + 1}));
  EXPECT_EQ(idle({true, false}), healthy);  // not read anew
  tried["input"].wake = 30;  // the input and what works with it
  EXPECT_EQ(idle({true, false}), (std::vector<std::size_t>{healthy[0] + 2, healthy[1]}));
}

// --- open ends ---

TEST(OpenEnds, ReadNextToNothing) {
  const std::string loose = circuit(R"(<part kind="source" id="bank" from="a" to="minus" volt="24" ohm="0.01">b</part>
      <part kind="resistor" id="run" from="a" to="end" ohm="0.01">r</part>)");
  Tried tried(loose, {reading("volts", R"(<volts in="rest" from="end" to="minus"/>)"),
                      reading("ohms", R"(<ohms in="rest" from="a" to="end"/>)", "", "ohm")});
  EXPECT_NEAR(tried.read("volts"), 24, 1e-6);
  EXPECT_NEAR(tried.read("ohms"), 0.01, 1e-8);
  tried["run"].ohm = open_ohm;
  EXPECT_NEAR(tried.read("volts"), 24 * leak_ohm / (leak_ohm + open_ohm), 0.005);  // 0.024 V
  EXPECT_GT(tried.read("ohms"), over_range_ohm);
}

// --- what is refused ---

TEST(BenchOf, RefusesAPartGivenTwiceInOneBoat) {
  const SmallBoat boat({circuit(R"(<part kind="source" id="bank" from="a" to="minus" volt="24" ohm="0.01">b</part>
      <part kind="resistor" id="r" when="bank/@volts = 24" from="a" to="minus" ohm="1">r</part>
      <part kind="resistor" id="r" when="bank/@volts > 12" from="a" to="minus" ohm="2">r</part>)"), {}});
  const auto bench = Bench::of(boat.base, std::get<FittedCircuit>(fit(boat.base, 0, boat.evaluation)), boat.evaluation);
  ASSERT_NE(trouble_of(bench), nullptr);
  EXPECT_EQ(trouble_of(bench)->what, "two elements have the id 'r'");
}

TEST(BenchOf, LeavesOutFindingsThatDoNotApply) {
  const SmallBoat boat({ladder, {reading("v", three_volts)}});
  auto base = boat.base;
  base.findings[boat.finding("v")].applies = knowledge::Expression{"bank/@volts = 48", {}};
  const auto bench = Bench::of(base, std::get<FittedCircuit>(fit(base, 0, boat.evaluation)), boat.evaluation);
  EXPECT_TRUE(value_of(bench)->measures().empty());
}

}  // namespace
}  // namespace leadline::circuit
