#pragma once
// Copper conductors: resistance, gauges, drops. Formulas, sources and their tags: docs/circuit.md § conductors.
// A length is always the copper the current runs through: out and back counted both. Where a rule counts otherwise its
// function says so in its name. Tested by tests/circuit/conductor_test.cpp, tests/outside/circuit/conductor_tables_test.cpp.
#include <span>
#include <string>
#include <string_view>

#include "engine/circuit/trouble.h"

namespace leadline::circuit {

enum class Stranding { class_2, class_5 };  // IEC 60228: stranded for fixed installation; flexible
enum class Surface { plain, tinned };

struct Conductor {
  double area_mm2 = 0;  // nominal
  Stranding stranding = Stranding::class_5;
  Surface surface = Surface::tinned;
};

// The nominal areas of the table, ascending: 1.5 … 240.
std::span<const double> nominal_areas_mm2();

// The largest resistance IEC 60228 allows at 20 °C. Refuses areas that are not nominal, naming the neighbours.
Result<double> most_ohm_per_km(const Conductor& conductor);

// R(t) / R(20 °C) = (234.5 + t) / 254.5 of copper. Requires -60 … 250 °C.
Result<double> copper_temperature_factor(double temperature_c);

// Resistance of `length_m` of conductor (0.01 … 1,000 m): the largest that a sound one may have.
Result<double> run_ohm(const Conductor& conductor, double length_m, double temperature_c);
// The same of an area that no row of the table has: as much copper for each mm² as the nearest row. 0.05 … 1,000 mm².
Result<double> run_ohm_of_any_area(const Conductor& conductor, double length_m, double temperature_c);

// --- American wire gauge (ASTM B258); gauges 1/0, 2/0, 3/0, 4/0 are 0, -1, -2, -3 ---

Result<int> gauge_of(std::string_view written);  // "4/0", "10"; refuses what is not 4/0 … 40
std::string gauge_name(int gauge);
Result<double> awg_diameter_mm(int gauge);       // of the solid wire
Result<double> awg_area_mm2(int gauge);
Result<double> awg_area_cmil(int gauge);         // circular mils

// SAE wire of a gauge may hold less copper than AWG. The thinnest whose least area is at least `area_cmil`; refuses above 4/0.
Result<int> sae_gauge_for(double area_cmil);

// --- rules for the drop, each with its own length and its own copper ---

// E = 0.0164 I L / S: the small-craft formula (ISO 10133, now ISO 13297). Its copper is better than any table allows.
Result<double> iso_drop_v_over_total_length(double current_a, double total_length_m, double area_mm2);
Result<double> iso_area_mm2_over_total_length(double current_a, double total_length_m, double drop_v);
// E = 10.75 I L / CM (ABYC E-11): L out and back, in feet.
Result<double> abyc_drop_v_over_round_trip(double current_a, double round_trip_ft, double area_cmil);
Result<double> abyc_area_cmil_over_round_trip(double current_a, double round_trip_ft, double drop_v);
// dU = 2 * 0.0225 I L / S (IEC 60364-5-52 annex G, direct current): L one way.
Result<double> iec_drop_v_over_one_way_length(double current_a, double one_way_length_m, double area_mm2);

}  // namespace leadline::circuit
