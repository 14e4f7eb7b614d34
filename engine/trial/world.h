#pragma once
// One simulated call-out: what is truly wrong, and what everybody would see of it. Drawn from the model of a boat, so that the program's
// forecasts can be held against a truth. Tested by tests/trial/world_test.cpp.
#include "engine/diagnosis/model.h"
#include "engine/trial/dice.h"

namespace leadline::trial {

// What is wrong in one boat, down to how each cause pushes each finding. The pushes stay as they were drawn when a remedy takes a cause away.
class World {
 public:
  // Draws causes by their priors until something is wrong, then every push and leak. Requires: `model` outlives it.
  World(const diagnosis::Model& model, Dice& dice);

  const std::vector<std::size_t>& causes() const { return causes_; }     // at the start, ascending
  std::vector<std::size_t> present() const;                              // now
  std::size_t state_of(std::size_t finding) const;                       // now

  std::size_t state_without_causes(std::size_t finding) const { return leaked_to_[finding]; }   // were nothing wrong

  // Each cause it mends goes with its chance. The same remedy fails the same way again: `remedy` names it.
  void mend(const std::vector<std::pair<std::size_t, double>>& mends, std::size_t remedy, Dice& dice);

 private:
  const diagnosis::Model& model_;
  std::vector<std::size_t> causes_;
  std::vector<bool> mended_;                              // by causes_
  std::vector<std::vector<std::size_t>> pushed_to_;       // by causes_, by push of the model
  std::vector<std::size_t> leaked_to_;                    // by finding
  std::vector<bool> tried_;                               // by remedy
};

// The state whose turn it is when at_most[s] = P(s or weaker).
std::size_t draw_state(const std::vector<double>& at_most, Dice& dice);

}  // namespace leadline::trial
