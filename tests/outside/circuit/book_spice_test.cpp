// ngspice as judge of the circuits in the book (issue 3): invented boats, healthy and under every cause that has an effect, every measurement.
// 0.1 % where all is linear, 0.5 % where a motor or a constant power stands in the circuit. Needs the package ngspice; without it this fails.
#include <gtest/gtest.h>

#include <cstdio>

#include "tests/outside/circuit/boats.h"
#include "tests/outside/circuit/spice_bench.h"

namespace leadline {
namespace {

using namespace testing;

// Readings smaller than this agree whatever they are: a tenth of what the last digit of the finest hand instruments shows (0.1 mV, 1 mA,
// 1 mohm). What lies below is a meter on a loose end, behind a gigaohm.
constexpr double floor_volt = 1e-5, floor_amp = 1e-4, floor_ohm = 1e-4;

struct Tally {
  std::size_t boats = 0, faults = 0, compared = 0, over_range = 0, stopped = 0, unanswered = 0;
  double worst_linear = 0, worst_following = 0;
};

double floor_of(const knowledge::Finding& finding) {
  if (*finding.unit == knowledge::Unit::ohm) return floor_ohm;
  return *finding.unit == knowledge::Unit::ampere ? floor_amp : floor_volt;
}

void compare(const circuit::Bench& bench, const SpiceBench& spice, const std::vector<double>& ours, const SpiceReadings& theirs, Tally& tally) {
  for (std::size_t m = 0; m < ours.size(); ++m) {
    const auto& finding = shipped_base().findings[bench.measures()[m].finding];
    const bool follows = spice.follows_volts(m);
    ++tally.compared;
    if (bench.measures()[m].ohms && theirs.values[m] > 1.001 * circuit::over_range_ohm) {
      EXPECT_GT(ours[m], circuit::over_range_ohm) << finding.id;
      ++tally.over_range;
      continue;
    }
    if (std::isnan(theirs.values[m])) {  // no current: ohms cannot be worked out
      EXPECT_TRUE(std::isnan(ours[m])) << finding.id << ": ours " << ours[m];
      continue;
    }
    const double off = std::max(0.0, std::abs(ours[m] - theirs.values[m]) - floor_of(finding)) / std::max(1e-12, std::abs(theirs.values[m]));
    EXPECT_LE(off, follows ? 0.005 : 0.001) << finding.id << ": ours " << ours[m] << ", ngspice " << theirs.values[m];
    auto& worst = follows ? tally.worst_following : tally.worst_linear;
    worst = std::max(worst, off);
  }
}

struct Ours {
  std::vector<double> values;
  std::vector<std::size_t> idle;   // by condition: how many loads and chargers stand still
};

Ours ours_healthy(const circuit::Bench& bench) { return {bench.measured(bench.probed_healthy()), bench.idle_healthy()}; }

// As the engine does: only the conditions that the fault touches are solved anew.
Ours ours_under(const circuit::Expectation& expectation, const Injected& fault) {
  const auto& bench = *expectation.bench(fault.circuit);
  std::vector<std::size_t> changed;
  for (const auto& change : expectation.faults(fault.circuit, fault.cause)[fault.alternative].changes) changed.push_back(change.part);
  Ours ours{{}, bench.idle_healthy()};
  ours.values = bench.measured(bench.probed(numbers_under(expectation, fault), bench.conditions_of(changed), bench.probed_healthy(), &ours.idle));
  return ours;
}

// A constant power for which ngspice finds no stable point must stand still with us too.
void check_stopped(const circuit::Bench& bench, const Ours& ours, const SpiceReadings& theirs, const std::string& name, Tally& tally) {
  for (const auto condition : theirs.stopped) {
    ++tally.stopped;
    std::printf("  collapsed: %s, %s\n", name.c_str(), shipped_base().circuits[bench.healthy().page].conditions[condition].id.c_str());
    EXPECT_GT(ours.idle[condition], 0U) << name;
  }
}

void judge_circuit(const circuit::Expectation& expectation, const installation::Evaluation& evaluation, std::size_t circuit, Tally& tally) {
  const auto& bench = *expectation.bench(circuit);
  const SpiceBench spice(shipped_base(), bench, evaluation);
  const auto faults = faults_of_circuit(expectation, circuit);
  std::vector<std::vector<PartNumbers>> states = {circuit::numbers_of(bench.healthy())};
  for (const auto& fault : faults) states.push_back(numbers_under(expectation, fault));
  const auto theirs = spice.read(states);
  for (std::size_t f = 0; f < states.size(); ++f) {
    const auto name = f == 0 ? "healthy" : name_of(expectation, faults[f - 1]);
    SCOPED_TRACE(name);
    if (!theirs[f]) {
      ++tally.unanswered;
      ADD_FAILURE() << "ngspice is missing or found no operating point: apt-get install ngspice";
      continue;
    }
    const auto ours = f == 0 ? ours_healthy(bench) : ours_under(expectation, faults[f - 1]);
    compare(bench, spice, ours.values, *theirs[f], tally);
    check_stopped(bench, ours, *theirs[f], name, tally);
  }
  tally.faults += faults.size();
}

TEST(BookSpice, EveryMeasurementHealthyAndUnderEveryCause) {
  Tally tally;
  for (const auto& boat : invented_boats) {
    SCOPED_TRACE(boat.name);
    const installation::Evaluation evaluation(shipped_base(), installation_of(boat));
    const circuit::Expectation expectation(shipped_base(), evaluation);
    EXPECT_TRUE(expectation.troubles().empty());
    std::printf("%s\n", boat.name.c_str());
    for (std::size_t circuit = 0; circuit < expectation.circuits(); ++circuit) {
      if (expectation.bench(circuit)) judge_circuit(expectation, evaluation, circuit, tally);
    }
    ++tally.boats;
  }
  std::printf("ngspice: %zu boats, %zu faults, %zu readings compared (%zu of them over range on both sides), %zu collapsed, %zu unanswered\n",
              tally.boats, tally.faults, tally.compared, tally.over_range, tally.stopped, tally.unanswered);
  std::printf("farthest apart beyond the floor: linear %.2g, with motor or constant power %.2g\n", tally.worst_linear, tally.worst_following);
  RecordProperty("readings_compared", std::to_string(tally.compared));
  EXPECT_GE(tally.boats, 12U);
  EXPECT_GT(tally.compared, 10000U);
}

}  // namespace
}  // namespace leadline
