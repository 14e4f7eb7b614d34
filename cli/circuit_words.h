#pragma once
// What the circuits of the boat say about a call-out, as text: how big a fault is, and what a check should read. Pure. Tested by
// the golden runs.
#include "cli/layout.h"
#include "engine/callout/callout.h"

namespace leadline::cli {

// How big the faults of an explanation are, from the readings taken; empty when no reading speaks of a size.
Page sizes_page(const callout::Assessment& assessment, std::size_t explanation, std::size_t width);

// For each reading of a check that a circuit describes: what a sound boat like this shows, and what the leading explanations would.
Page expected_readings_page(const callout::Assessment& assessment, const knowledge::Check& check, std::size_t width);

}  // namespace leadline::cli
