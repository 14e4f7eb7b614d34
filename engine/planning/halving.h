#pragma once
// Where to part an ordered run (a cable with its joints, a network in a row) to find the one faulty piece: the line search of the trade, "halve
// it", with unequal chances and unequal minutes. Derivation: docs/planning.md. Tested by tests/planning/halving_test.cpp.
#include "engine/planning/repair_problem.h"

namespace leadline::planning {

struct OrderedRun {
  std::vector<double> chance;            // by piece, from one end to the other: that the fault sits there; only their proportions matter
  std::vector<Doing> cuts;               // cut i parts pieces 0 … i from the rest: one fewer than pieces
  double error = 0;                      // chance that a cut's test points to the wrong side; below 0.5
  Terrain terrain;
  Standing standing;
};

struct Cut {
  std::size_t index = 0;                 // of the cut: between pieces `index` and `index` + 1
  double before = 0, after = 0;          // chance that the fault sits on that side
  double minutes = 0;                    // of this test from where one stands
  double expected_minutes = 0;           // to the piece, when this is tested first, with its own minutes
};

// All cuts that part what is in doubt, least expected minutes first (ties: nearer to even halves, then the lower index); none when the piece is
// known. Without trips and errors this is exact: the best alphabetic tree. With trips the later tests cost what they would from where the first
// one leaves us. With errors each test counts as the 1 / (1 - h(error)) tests that carry as much as one without (channel capacity):
// fewer than it really takes, by a third for eight pieces and one wrong answer in 20. The chances of the next call should be those after the answer, p * (1 - error) on the side it names and p * error on the other.
// Time grows with the fourth power of the pieces: 40 pieces take some milliseconds.
// Throws std::invalid_argument with a sentence when the run is not as said above.
std::vector<Cut> cuts_by_minutes(const OrderedRun& run);

}  // namespace leadline::planning
