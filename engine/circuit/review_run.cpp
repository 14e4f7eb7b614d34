#include "engine/circuit/review_run.h"


namespace leadline::circuit {

Run heavy_run(Facts& facts) {
  Run run;
  run.length_m = 2 * facts.number("power/@length");
  run.conductor.area_mm2 = facts.number("power/@area");
  run.conductor.stranding = facts.detail_word("power/@class") == "class-2" ? Stranding::class_2 : Stranding::class_5;
  run.conductor.surface = facts.detail_word("power/@tinned") == "no" ? Surface::plain : Surface::tinned;
  run.temperature_c = facts.detail("power/@temperature");
  return run;
}

std::optional<double> ohm_of(const Run& run) {
  const auto ohm = run_ohm_of_any_area(run.conductor, run.length_m, run.temperature_c);
  return trouble_of(ohm) ? std::nullopt : std::optional(*value_of(ohm));
}

std::optional<double> area_for_drop(const Run& run, double current_a, double drop_v) {
  for (const double area : nominal_areas_mm2()) {
    auto thicker = run;
    thicker.conductor.area_mm2 = area;
    const auto ohm = ohm_of(thicker);
    if (ohm && *ohm * current_a <= drop_v) return area;
  }
  return std::nullopt;
}

}  // namespace leadline::circuit
