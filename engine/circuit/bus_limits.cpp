#include "engine/circuit/bus_limits.h"

#include <algorithm>
#include <array>

#include "engine/text/number.h"

namespace leadline::circuit {

namespace {

constexpr double line_ns_per_m = 5;

struct Row {
  double kbit_per_s, trunk_m, usual_trunk_m, propagation_segment_ns;
};
// The propagation segments are those with which the formula gives the published branch lengths (DERIVED, control-network.md § 3.3).
constexpr std::array<Row, 4> rows = {{{125, 500, 500, 5500}, {250, 250, 200, 2750}, {500, 100, 75, 1375}, {1000, 25, 25, 375}}};

Result<double> share_of_segment(double propagation_segment_ns, double divisor) {
  if (auto bad = outside("the propagation segment", propagation_segment_ns, 1, 1e6, "ns")) return *bad;
  return propagation_segment_ns / (divisor * line_ns_per_m);
}

}  // namespace

Result<double> longest_branch_m(double propagation_segment_ns) { return share_of_segment(propagation_segment_ns, 50); }
Result<double> longest_branches_together_m(double propagation_segment_ns) { return share_of_segment(propagation_segment_ns, 10); }

Result<BusLimits> bus_limits(double kbit_per_s) {
  const auto row = std::find_if(rows.begin(), rows.end(), [&](const Row& r) { return r.kbit_per_s == kbit_per_s; });
  if (row == rows.end()) {
    return Trouble{Trouble::Kind::bad_value, {}, "no limits for " + text::format_number(kbit_per_s, 3) + " kbit/s", "125, 250, 500 or 1000"};
  }
  return BusLimits{row->trunk_m, row->usual_trunk_m, *value_of(longest_branch_m(row->propagation_segment_ns)),
                   *value_of(longest_branches_together_m(row->propagation_segment_ns))};
}

}  // namespace leadline::circuit
