#pragma once
// How long a control network may be at its bit rate: trunk, one branch, all branches. Values and tags: control-network.md § 3.1, § 3.3.
// Tested by tests/outside/circuit/review_rules_test.cpp.
#include "engine/circuit/trouble.h"

namespace leadline::circuit {

// CiA 303-1 (formula MEMORY): a branch below t / (50 t_line), all together below t / (10 t_line), with the line's delay of 5 ns/m (READ) and
// the propagation segment of the bit. Requires 1 … 1e6 ns.
Result<double> longest_branch_m(double propagation_segment_ns);
Result<double> longest_branches_together_m(double propagation_segment_ns);

struct BusLimits {
  double trunk_m = 0;        // CiA, READ
  double usual_trunk_m = 0;  // stricter lists of the trade, READ (control-network.md S24); as trunk_m where there is none
  double branch_m = 0, branches_together_m = 0;
};
// Bit rates of 125, 250, 500 and 1,000 kbit/s.
Result<BusLimits> bus_limits(double kbit_per_s);

// IEC 61162-3 style networks: 6 m a branch, whatever the rate (READ, secondary guides).
constexpr double marine_branch_m = 6;

}  // namespace leadline::circuit
