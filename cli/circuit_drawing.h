#pragma once
// One boat's circuit in plain characters: places one below the other, the parts between them, branches set in. Tested by
// tests/cli/expect_test.cpp.
#include "cli/layout.h"
#include "engine/circuit/expectation.h"

namespace leadline::cli {

// The healthy circuit under one condition, with what lies over each part there.
Page circuit_drawing(const circuit::Bench& bench, std::size_t condition, std::size_t width);

}  // namespace leadline::cli
