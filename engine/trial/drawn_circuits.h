#pragma once
// A boat's circuits with every tolerance and every size of a fault drawn: whatever is read on one circuit fits whatever else is. Tested by
// tests/trial/drawn_circuits_test.cpp.
#include "engine/diagnosis/model.h"
#include "engine/trial/dice.h"

namespace leadline::trial {

class DrawnCircuits {
 public:
  // Draws the same number of times for every boat of a book. Requires: a model with circuits, which outlives it.
  DrawnCircuits(const diagnosis::CircuitLink& link, Dice& dice);

  // What is read there, in the finding's unit, under these causes of the model (the first two with an effect on the circuit, as the diagnosis solves them);
  // infinite: over range. None: there is nothing to read it from. The same causes, the same reading.
  std::optional<double> reading(const circuit::Tie& tie, const std::vector<std::size_t>& causes) const;

 private:
  struct Drawn {
    double cell = 0;                    // where among the sizes of the faults, as a share of their weights
    std::vector<double> within;         // of each of two faults: where within its cell, in standard deviations
    std::vector<double> tolerances;     // in standard deviations
  };
  const diagnosis::CircuitLink& link_;
  std::vector<Drawn> by_circuit_;
};

}  // namespace leadline::trial
