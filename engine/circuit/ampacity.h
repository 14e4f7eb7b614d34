#pragma once
// Amperes a single conductor may carry for ever, and the largest fuse before it: 33 CFR 183.425 Table 5 and 183.455, a United States rule
// for recreational boats, used here as a yardstick. Values: electrical.md § 5.2. Tested by tests/outside/circuit/review_rules_test.cpp.
#include <optional>

#include "engine/circuit/trouble.h"

namespace leadline::circuit {

// Table 5, air of 30 °C outside engine spaces, continuous. READ in a copy of the primary text. Gauges 16 … 4/0 (as gauge_of), insulation
// of 60, 75, 90 or 105 °C.
Result<double> table_5_amps(int gauge, double insulation_c);

// By which the table falls in engine spaces (50 °C): 0.85 at 105 °C READ, 0.58, 0.75 and 0.82 at 60, 75 and 90 °C MEMORY.
Result<double> engine_space_factor(double insulation_c);

// 183.455 (c)(1): a fuse of a circuit below 50 V may be rated at most at 150 % of the table. READ, primary text.
constexpr double most_fuse_share = 1.5;

// A metric area lies between two gauges of the table; within 1 % of one it is that one. `thicker` is empty beyond 4/0.
struct GaugesAround {
  int thinner;
  std::optional<int> thicker;
};
// Requires nothing; refuses areas below 16 AWG (1.31 mm²).
Result<GaugesAround> gauges_around(double area_mm2);

}  // namespace leadline::circuit
