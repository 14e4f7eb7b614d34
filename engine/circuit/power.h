#pragma once
// The currents of loads that follow their volts: constant power, motors. Internal to the room; the method: docs/circuit.md § power.
#include "engine/circuit/linear.h"

namespace leadline::circuit {

// The current of every load, by element (0 for conductors), or power_not_available.
Result<std::vector<double>> load_currents(const Circuit& circuit, const LinearSystem& system);

}  // namespace leadline::circuit
