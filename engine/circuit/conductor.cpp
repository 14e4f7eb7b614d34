#include "engine/circuit/conductor.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "engine/text/number.h"

namespace leadline::circuit {
namespace {

struct TableRow {
  double area_mm2, class_2_plain, class_2_tinned, class_5_plain, class_5_tinned;
};

// IEC 60228, largest resistance at 20 °C in ohm/km. READ on three public pages that agree (electrical.md § 1.1, S1 S2 S3);
// the standard itself was not opened. 50 mm² of class 5 below class 2 is no slip of the pen: all pages show it.
constexpr std::array<TableRow, 15> iec_60228 = {{{1.5, 12.1, 12.2, 13.3, 13.7},
                                                 {2.5, 7.41, 7.56, 7.98, 8.21},
                                                 {4, 4.61, 4.70, 4.95, 5.09},
                                                 {6, 3.08, 3.11, 3.30, 3.39},
                                                 {10, 1.83, 1.84, 1.91, 1.95},
                                                 {16, 1.15, 1.16, 1.21, 1.24},
                                                 {25, 0.727, 0.734, 0.780, 0.795},
                                                 {35, 0.524, 0.529, 0.554, 0.565},
                                                 {50, 0.387, 0.391, 0.386, 0.393},
                                                 {70, 0.268, 0.270, 0.272, 0.277},
                                                 {95, 0.193, 0.195, 0.206, 0.210},
                                                 {120, 0.153, 0.154, 0.161, 0.164},
                                                 {150, 0.124, 0.126, 0.129, 0.132},
                                                 {185, 0.0991, 0.100, 0.106, 0.108},
                                                 {240, 0.0754, 0.0762, 0.0801, 0.0817}}};

constexpr auto areas = [] {
  std::array<double, iec_60228.size()> column{};
  for (std::size_t row = 0; row < column.size(); ++row) column[row] = iec_60228[row].area_mm2;
  return column;
}();

// Least areas of SAE wire, circular mils. READ (electrical.md § 1.3, S7; 3/0: S8); the numbers of the standards are from memory.
struct SaeRow {
  int gauge;
  double least_cmil;
};
constexpr std::array<SaeRow, 14> sae_wires = {{{18, 1537}, {16, 2336}, {14, 3702}, {12, 5833}, {10, 9343},
                                               {8, 14810}, {6, 24538}, {4, 37360}, {2, 62450}, {1, 77790},
                                               {0, 98980}, {-1, 125100}, {-2, 158600}, {-3, 205500}}};

constexpr double iso_ohm_mm2_per_m = 0.0164;
constexpr double abyc_ohm_cmil_per_ft = 10.75;
constexpr double iec_ohm_mm2_per_m = 0.0225;

double of_kind(const TableRow& row, const Conductor& conductor) {
  const bool tinned = conductor.surface == Surface::tinned;
  if (conductor.stranding == Stranding::class_2) return tinned ? row.class_2_tinned : row.class_2_plain;
  return tinned ? row.class_5_tinned : row.class_5_plain;
}

Trouble not_nominal(double area_mm2) {
  const auto shown = [](double area) { return text::format_number(area, 3) + " mm2"; };
  Trouble trouble{Trouble::Kind::bad_value, {}, "no conductor of " + shown(area_mm2) + " in IEC 60228"};
  const auto above = std::upper_bound(areas.begin(), areas.end(), area_mm2);
  if (above == areas.begin() || above == areas.end() || std::isnan(area_mm2)) {
    trouble.hint = "nominal areas run from " + shown(areas.front()) + " to " + shown(areas.back());
  } else {
    trouble.hint = "the nearest are " + shown(*(above - 1)) + " and " + shown(*above);
  }
  return trouble;
}

std::optional<Trouble> bad_current(double current_a) { return outside("the current", current_a, 0, 1e5, "A"); }

// The three forms of one rule: constant * current * length / divisor, the divisor an area or the drop allowed.
Result<double> proportion(double constant, double current_a, double length, double divisor, std::string_view length_unit,
                          std::string_view divisor_name, std::string_view divisor_unit, double least, double most) {
  if (auto bad = bad_current(current_a)) return *bad;
  if (auto bad = outside("the length", length, 0.01, 1e4, std::string(length_unit))) return *bad;
  if (auto bad = outside(std::string(divisor_name), divisor, least, most, std::string(divisor_unit))) return *bad;
  return constant * current_a * length / divisor;
}

Result<double> over_area_mm2(double constant, double current_a, double length_m, double area_mm2) {
  return proportion(constant, current_a, length_m, area_mm2, "m", "the area", "mm2", 0.05, 2500);
}

}  // namespace

std::span<const double> nominal_areas_mm2() { return areas; }

Result<double> most_ohm_per_km(const Conductor& conductor) {
  for (const auto& row : iec_60228) {
    if (row.area_mm2 == conductor.area_mm2) return of_kind(row, conductor);
  }
  return not_nominal(conductor.area_mm2);
}

Result<double> copper_temperature_factor(double temperature_c) {
  if (auto bad = outside("the temperature", temperature_c, -60, 250, "degC")) return *bad;
  return (234.5 + temperature_c) / 254.5;
}

Result<double> run_ohm(const Conductor& conductor, double length_m, double temperature_c) {
  if (auto bad = outside("the length", length_m, 0.01, 1000, "m")) return *bad;
  const auto factor = copper_temperature_factor(temperature_c);
  if (trouble_of(factor)) return factor;
  const auto at_20 = most_ohm_per_km(conductor);
  if (trouble_of(at_20)) return at_20;
  return *value_of(at_20) / 1000 * length_m * *value_of(factor);
}

Result<double> run_ohm_of_any_area(const Conductor& conductor, double length_m, double temperature_c) {
  if (auto bad = outside("a cross-section", conductor.area_mm2, 0.05, 1000, "mm²")) return *bad;
  const auto areas = nominal_areas_mm2();
  const auto nearer = [&](double a, double b) { return std::abs(std::log(a / conductor.area_mm2)) < std::abs(std::log(b / conductor.area_mm2)); };
  auto nearest = conductor;
  nearest.area_mm2 = *std::min_element(areas.begin(), areas.end(), nearer);
  const auto ohm = run_ohm(nearest, length_m, temperature_c);
  if (trouble_of(ohm)) return ohm;
  return *value_of(ohm) * nearest.area_mm2 / conductor.area_mm2;
}

Result<int> gauge_of(std::string_view written) {
  const Trouble unknown{Trouble::Kind::bad_value, {}, "'" + std::string(written) + "' is no wire gauge", "write 4/0 … 1/0 or 1 … 40"};
  if (written.size() == 3 && written.substr(1) == "/0" && written[0] >= '1' && written[0] <= '4') return 1 - (written[0] - '0');
  const auto number = text::parse_number(written);
  if (!number || *number < 1 || *number > 40 || *number != std::floor(*number)) return unknown;
  return static_cast<int>(*number);
}

std::string gauge_name(int gauge) { return gauge > 0 ? std::to_string(gauge) : std::to_string(1 - gauge) + "/0"; }

// d = 0.005 inch * 92^((36 - n) / 39). The form READ (S5), the 0.005 inch from memory, confirmed by diameters READ (S6).
Result<double> awg_diameter_mm(int gauge) {
  if (auto bad = outside("the gauge", gauge, -3, 40, "")) return *bad;
  return 25.4 * 0.005 * std::pow(92.0, (36 - gauge) / 39.0);
}

Result<double> awg_area_mm2(int gauge) {
  const auto diameter = awg_diameter_mm(gauge);
  if (trouble_of(diameter)) return diameter;
  return std::numbers::pi / 4 * *value_of(diameter) * *value_of(diameter);
}

Result<double> awg_area_cmil(int gauge) {
  const auto diameter = awg_diameter_mm(gauge);
  if (trouble_of(diameter)) return diameter;
  const double mils = *value_of(diameter) / 0.0254;
  return mils * mils;
}

Result<int> sae_gauge_for(double area_cmil) {
  if (auto bad = outside("the area", area_cmil, 0, sae_wires.back().least_cmil, "circular mils")) return *bad;
  for (const auto& wire : sae_wires) {
    if (wire.least_cmil >= area_cmil) return wire.gauge;
  }
  return sae_wires.back().gauge;
}

Result<double> iso_drop_v_over_total_length(double current_a, double total_length_m, double area_mm2) {
  return over_area_mm2(iso_ohm_mm2_per_m, current_a, total_length_m, area_mm2);
}

Result<double> iso_area_mm2_over_total_length(double current_a, double total_length_m, double drop_v) {
  return proportion(iso_ohm_mm2_per_m, current_a, total_length_m, drop_v, "m", "the drop", "V", 0.001, 1000);
}

Result<double> abyc_drop_v_over_round_trip(double current_a, double round_trip_ft, double area_cmil) {
  return proportion(abyc_ohm_cmil_per_ft, current_a, round_trip_ft, area_cmil, "ft", "the area", "circular mils", 100, 5e6);
}

Result<double> abyc_area_cmil_over_round_trip(double current_a, double round_trip_ft, double drop_v) {
  return proportion(abyc_ohm_cmil_per_ft, current_a, round_trip_ft, drop_v, "ft", "the drop", "V", 0.001, 1000);
}

Result<double> iec_drop_v_over_one_way_length(double current_a, double one_way_length_m, double area_mm2) {
  return over_area_mm2(2 * iec_ohm_mm2_per_m, current_a, one_way_length_m, area_mm2);
}

}  // namespace leadline::circuit
