#include "engine/circuit/ampacity.h"

#include <algorithm>
#include <array>

#include "engine/circuit/conductor.h"

namespace leadline::circuit {

namespace {

constexpr std::array<double, 4> insulations_c = {60, 75, 90, 105};
constexpr std::array<double, 4> engine_factors = {0.58, 0.75, 0.82, 0.85};

struct Row {
  int gauge;
  std::array<double, 4> amps;
};
constexpr std::array<Row, 13> table_5 = {{{16, {15, 15, 25, 25}},
                                          {14, {20, 20, 30, 35}},
                                          {12, {25, 25, 40, 45}},
                                          {10, {40, 40, 55, 60}},
                                          {8, {55, 65, 70, 80}},
                                          {6, {80, 95, 100, 120}},
                                          {4, {105, 125, 135, 160}},
                                          {2, {140, 170, 180, 210}},
                                          {1, {165, 195, 210, 245}},
                                          {0, {195, 230, 245, 285}},
                                          {-1, {225, 265, 285, 330}},
                                          {-2, {260, 310, 330, 385}},
                                          {-3, {300, 360, 385, 445}}}};

Result<std::size_t> column_of(double insulation_c) {
  const auto found = std::find(insulations_c.begin(), insulations_c.end(), insulation_c);
  if (found == insulations_c.end()) return Trouble{Trouble::Kind::bad_value, {}, "no column for this insulation", "60, 75, 90 or 105 degC"};
  return static_cast<std::size_t>(found - insulations_c.begin());
}

double area_of(int gauge) { return *value_of(awg_area_mm2(gauge)); }

}  // namespace

Result<double> table_5_amps(int gauge, double insulation_c) {
  const auto column = column_of(insulation_c);
  if (const auto* trouble = trouble_of(column)) return *trouble;
  const auto row = std::find_if(table_5.begin(), table_5.end(), [&](const Row& r) { return r.gauge == gauge; });
  if (row == table_5.end()) return Trouble{Trouble::Kind::bad_value, {}, "gauge " + gauge_name(gauge) + " is not in Table 5", "16 to 4/0"};
  return row->amps[*value_of(column)];
}

Result<double> engine_space_factor(double insulation_c) {
  const auto column = column_of(insulation_c);
  if (const auto* trouble = trouble_of(column)) return *trouble;
  return engine_factors[*value_of(column)];
}

Result<GaugesAround> gauges_around(double area_mm2) {
  if (auto bad = outside("the area", area_mm2, area_of(table_5.front().gauge), 1e4, "mm2")) return *bad;
  for (std::size_t row = table_5.size(); row-- > 0;) {
    const double area = area_of(table_5[row].gauge);
    if (area_mm2 >= area * 0.99 && area_mm2 <= area * 1.01) return GaugesAround{table_5[row].gauge, table_5[row].gauge};
    if (area_mm2 > area) {
      return GaugesAround{table_5[row].gauge, row + 1 < table_5.size() ? std::optional(table_5[row + 1].gauge) : std::nullopt};
    }
  }
  return GaugesAround{table_5.front().gauge, table_5.front().gauge};
}

}  // namespace leadline::circuit
