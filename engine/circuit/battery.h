#pragma once
// Batteries as a source behind a resistance. Tables, rules and what they rest on: docs/circuit.md § batteries.
// All per block of six cells (12 V nominal). Tested by tests/circuit/battery_test.cpp, tests/outside/circuit/battery_tables_test.cpp.
#include <string_view>

#include "engine/circuit/trouble.h"

namespace leadline::circuit {

enum class Chemistry { flooded, agm, gel, lithium };  // lithium: iron phosphate, four cells in a block
std::optional<Chemistry> chemistry_of(std::string_view word);  // the words of the record

// Healthy, warm and charged: 3 V / CCA (common practice, no source). cold_cranking_a: 50 … 3,000 A.
Result<double> healthy_internal_ohm_of_cca(double cold_cranking_a);
// What the definition of CCA allows at -18 °C after 30 s: (12.6 - 7.2) V / CCA. Derived, an upper bound.
Result<double> most_cold_internal_ohm_of_cca(double cold_cranking_a);
// The worst that still passes half of CCA for 15 s at 21 °C with 9.6 V: 6.0 V / CCA. Derived.
Result<double> most_load_test_internal_ohm_of_cca(double cold_cranking_a);

// 5 mΩ at 100 Ah, falling as 1 / Ah: the middle of common practice for AGM, no source. capacity_ah: 10 … 5,000 Ah.
Result<double> healthy_internal_ohm_of_capacity(double capacity_ah);

// How much the resistance of a healthy battery grows with its years and the cold: 4 % a year, 1 % for each degree below 20 °C (estimates).
// age_years: 0 … 30; temperature_c: -30 … 60.
Result<double> ageing_factor(double age_years, double temperature_c);

// Rested volts at a state of charge of 0 … 1, straight lines between the rows of the table, 20 °C.
Result<double> emf_v(Chemistry chemistry, double state_of_charge);

// Hours to empty at a steady current: t = H (C / (I H))^k, with C the capacity over H hours. k: 1 … 2.
// Overstates what high currents leave; the short form t = C / I^k means another C.
Result<double> peukert_hours(double capacity_ah, double rating_h, double current_a, double exponent);

}  // namespace leadline::circuit
