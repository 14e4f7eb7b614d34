#include "engine/circuit/battery.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leadline::circuit {
namespace {

using Quarters = std::array<double, 5>;  // volts at 0, 25, 50, 75, 100 %

// READ on a forum page (electrical.md § 3.1, S23: 20 °C, ± 0.05 V). Other pages differ by up to 0.3 V at the bottom.
constexpr Quarters flooded_v = {11.90, 12.00, 12.20, 12.40, 12.70};
// Common practice, no source: the lower edges of a usual band. Below 25 % from memory.
constexpr Quarters agm_v = {11.80, 12.00, 12.30, 12.60, 12.80};

// From memory (electrical.md § 3.1); gel.
constexpr Quarters gel_v = {11.80, 12.00, 12.35, 12.65, 12.85};
// Four cells, rested: between the READ bands of one page (electrical.md § 3.4) and what is remembered of rested curves; pages disagree by a
// quarter of charge on the flat part. From memory.
constexpr Quarters lithium_v = {11.60, 12.90, 13.05, 13.20, 13.50};

const Quarters& table_of(Chemistry chemistry) {
  switch (chemistry) {
    case Chemistry::flooded: return flooded_v;
    case Chemistry::agm: return agm_v;
    case Chemistry::gel: return gel_v;
    case Chemistry::lithium: return lithium_v;
  }
  return agm_v;
}

Result<double> volts_over_cca(double volts, double cold_cranking_a) {
  if (auto bad = outside("the cold cranking current", cold_cranking_a, 50, 3000, "A")) return *bad;
  return volts / cold_cranking_a;
}

std::optional<Trouble> bad_capacity(double capacity_ah) { return outside("the capacity", capacity_ah, 10, 5000, "Ah"); }

}  // namespace

Result<double> healthy_internal_ohm_of_cca(double cold_cranking_a) { return volts_over_cca(3.0, cold_cranking_a); }
Result<double> most_cold_internal_ohm_of_cca(double cold_cranking_a) { return volts_over_cca(12.6 - 7.2, cold_cranking_a); }
Result<double> most_load_test_internal_ohm_of_cca(double cold_cranking_a) {
  return volts_over_cca((12.6 - 9.6) / 0.5, cold_cranking_a);
}

Result<double> healthy_internal_ohm_of_capacity(double capacity_ah) {
  if (auto bad = bad_capacity(capacity_ah)) return *bad;
  return 0.005 * 100 / capacity_ah;
}

std::optional<Chemistry> chemistry_of(std::string_view word) {
  if (word == "flooded") return Chemistry::flooded;
  if (word == "agm") return Chemistry::agm;
  if (word == "gel") return Chemistry::gel;
  if (word == "lithium") return Chemistry::lithium;
  return std::nullopt;
}

Result<double> ageing_factor(double age_years, double temperature_c) {
  if (auto bad = outside("the age", age_years, 0, 30, "years")) return *bad;
  if (auto bad = outside("the temperature of a battery", temperature_c, -30, 60, "degC")) return *bad;
  return (1 + 0.04 * age_years) * (1 + 0.01 * std::max(0.0, 20 - temperature_c));
}

Result<double> emf_v(Chemistry chemistry, double state_of_charge) {
  if (auto bad = outside("the state of charge", state_of_charge, 0, 1, "")) return *bad;
  const Quarters& table = table_of(chemistry);
  const auto row = std::min<std::size_t>(3, static_cast<std::size_t>(state_of_charge * 4));
  return std::lerp(table[row], table[row + 1], state_of_charge * 4 - static_cast<double>(row));
}

Result<double> peukert_hours(double capacity_ah, double rating_h, double current_a, double exponent) {
  if (auto bad = bad_capacity(capacity_ah)) return *bad;
  if (auto bad = outside("the rating", rating_h, 1, 200, "h")) return *bad;
  if (auto bad = outside("the current", current_a, 0.001, 1e5, "A")) return *bad;
  if (auto bad = outside("the exponent", exponent, 1, 2, "")) return *bad;
  return rating_h * std::pow(capacity_ah / (current_a * rating_h), exponent);
}

}  // namespace leadline::circuit
