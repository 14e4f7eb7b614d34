#pragma once
// The explanations a planner looks at, as numbers, and what each would show. Internal to the room.
#include "engine/diagnosis/after_remedy.h"

namespace leadline::planning {

// What each explanation would show now.
using Predictor = diagnosis::StatesNow;

// Chances that add up to one, and the distributions of findings under each; each worked out once.
class Predictions {
 public:
  // Of so many explanations that they hold the share of what is listed. Requires: `diagnosis` and what `predict` refers to outlive it.
  Predictions(const diagnosis::Diagnosis& diagnosis, std::size_t findings, Predictor predict, double share_looked_at);

  std::size_t size() const { return chance_.size(); }
  double chance(std::size_t h) const { return chance_[h]; }
  const std::vector<double>& chances() const { return chance_; }
  const std::vector<std::size_t>& causes(std::size_t h) const { return diagnosis_.explanations[h].causes; }

  // [state][explanation]: the chance of each state of the finding under each explanation.
  using ByState = std::vector<std::vector<double>>;
  const ByState& distributions(std::size_t finding) { return shown(finding).by_state; }
  std::vector<double> expected(std::size_t finding);                                // by state
  double information(const std::vector<std::size_t>& findings);                     // bits about which explanation is true, of all together

 private:
  struct Shown {
    ByState by_state;
    double noise = 0;   // bits in the outcome once the explanation is known
  };
  const Shown& shown(std::size_t finding);
  bool swayed(std::size_t finding, std::size_t h) const;
  double bits_of_outcomes(const std::vector<std::size_t>& findings, std::size_t at, const std::vector<double>& joint);

  const diagnosis::Diagnosis& diagnosis_;
  Predictor predict_;
  std::vector<double> chance_;
  std::vector<Shown> by_finding_;
};

}  // namespace leadline::planning
