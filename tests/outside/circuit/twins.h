#pragma once
// What a pocket meter can tell apart, and which causes it cannot: found by computing, not listed by hand.
#include <limits>
#include <map>

#include "engine/circuit/expected.h"
#include "engine/diagnosis/reading.h"
#include "tests/outside/circuit/boats.h"

namespace leadline::testing {

using Readings = std::map<std::size_t, double>;   // by finding, in its unit

// The last digit a person writes down. Milliohms worked out from volts and amperes are written as such.
inline double resolution_of(std::size_t finding) {
  const auto& page = shipped_base().findings[finding];
  if (*page.unit == knowledge::Unit::ohm) return page.measure->take == knowledge::Take::ratio ? 0.0001 : 0.1;
  return *page.unit == knowledge::Unit::ampere ? 0.1 : 0.01;
}

inline bool over_range(std::size_t finding, double value) {
  return *shipped_base().findings[finding].unit == knowledge::Unit::ohm && value > circuit::over_range_ohm;
}

// The limit of error of the pocket instrument at this value: the uncertainty is the limit by sqrt(3), see diagnosis/reading.h.
inline double meter_limit(std::size_t finding, double value) {
  const diagnosis::Reading reading{value, resolution_of(finding), ""};
  const auto instrument = diagnosis::instrument_of(diagnosis::InstrumentClass::pocket);
  return std::sqrt(3.0) * diagnosis::standard_uncertainty(reading, *shipped_base().findings[finding].unit, instrument);
}

inline bool agree(std::size_t finding, double a, double b) {
  if (over_range(finding, a) || over_range(finding, b)) return over_range(finding, a) && over_range(finding, b);
  return std::abs(a - b) <= meter_limit(finding, a);
}

// How far the readings of this circuit stand from those of a fault, in meter limits: the farthest of them.
inline double apart(const circuit::Expectation& expectation, const Injected& fault, const Readings& readings) {
  const auto& bench = *expectation.bench(fault.circuit);
  const std::vector<bool> all(shipped_base().circuits[fault.circuit].conditions.size(), true);
  const auto values = bench.measured(bench.probed(numbers_under(expectation, fault), all, bench.probed_healthy()));
  double farthest = 0;
  for (std::size_t m = 0; m < values.size(); ++m) {
    const auto found = readings.find(bench.measures()[m].finding);
    if (found == readings.end()) continue;
    const auto [finding, read] = *found;
    const bool over = over_range(finding, read) || over_range(finding, values[m]);
    const double distance = over ? (agree(finding, read, values[m]) ? 0.0 : HUGE_VAL) : std::abs(read - values[m]) / meter_limit(finding, read);
    farthest = std::max(farthest, distance);
  }
  return farthest;
}

// Can this cause, of some size in some way, give all readings of one circuit within the meter's limits?
inline bool gives_in(const circuit::Expectation& expectation, std::size_t circuit, std::size_t cause, const Readings& readings) {
  const auto& alternatives = expectation.faults(circuit, cause);
  for (std::size_t at = 0; at < alternatives.size(); ++at) {
    double middle = 0.5, step = 0.05;   // a grid over all sizes, then finer ones about the nearest
    for (int round = 0; round < 3; ++round, step /= 10) {
      double nearest = HUGE_VAL, best = middle;
      for (int k = -10; k <= 10; ++k) {
        const double size = std::clamp(middle + k * step, 0.0, 1.0);
        const double distance = apart(expectation, {circuit, cause, at, size}, readings);
        if (distance < nearest) nearest = distance, best = size;
      }
      if (nearest <= 1) return true;
      middle = best;
      if (!alternatives[at].sized()) break;
    }
  }
  return false;
}

// The same in all circuits; in those it leaves alone the readings must be those of a sound boat.
inline bool gives(const circuit::Expectation& expectation, std::size_t cause, const Readings& healthy, const Readings& readings) {
  for (std::size_t circuit = 0; circuit < expectation.circuits(); ++circuit) {
    if (!expectation.bench(circuit)) continue;
    if (expectation.governs(cause, circuit)) {
      if (!gives_in(expectation, circuit, cause, readings)) return false;
      continue;
    }
    for (const auto& [finding, value] : readings) {
      if (expectation.tie_of(finding)->circuit == circuit && !agree(finding, value, healthy.at(finding))) return false;
    }
  }
  return true;
}

}  // namespace leadline::testing
