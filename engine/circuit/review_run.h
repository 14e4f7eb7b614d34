#pragma once
// Cables of a record as resistances. Internal to the review.
#include <optional>

#include "engine/circuit/conductor.h"
#include "engine/circuit/review_facts.h"

namespace leadline::circuit {

struct Run {
  Conductor conductor;
  double length_m = 0;  // out and back
  double temperature_c = 20;
};

// The heavy cable. Its length and cross-section are decisive, the rest details.
Run heavy_run(Facts& facts);

// As run_ohm; an area that is not nominal is taken as copper like the nearest nominal one, scaled.
// Nothing when the record lacks a fact.
std::optional<double> ohm_of(const Run& run);

// The least nominal area that keeps a current's drop within `drop_v`; nothing beyond 240 mm².
std::optional<double> area_for_drop(const Run& run, double current_a, double drop_v);

}  // namespace leadline::circuit
