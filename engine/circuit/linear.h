#pragma once
// Kirchhoff's laws as one dense linear system (modified nodal analysis). Internal to the room.
#include <Eigen/Dense>
#include <vector>

#include "engine/circuit/layout.h"

namespace leadline::circuit {

struct State {
  std::vector<double> volts;  // by node, against the first of its island
  std::vector<double> amps;   // by element, from `from` to `to`
};

// Factored once, solved for any currents of the loads. Requires: no ring of ideals, no missing return.
class LinearSystem {
 public:
  LinearSystem(const Circuit& circuit, const Layout& layout);

  // `load_amps` by element, looked at only where the element is a load. Without sources their volts are 0.
  State at(const std::vector<double>& load_amps, bool with_sources) const;
  // How far the currents at the nodes are from adding up to nothing, relative to the largest current. Sources of error only.
  double imbalance(const State& state) const;

 private:
  static constexpr std::size_t none = static_cast<std::size_t>(-1);
  void stamp(std::size_t element);
  Eigen::VectorXd right_side(const std::vector<double>& load_amps, bool with_sources) const;
  State state_of(const Eigen::VectorXd& unknowns, const std::vector<double>& load_amps) const;

  const Circuit& circuit_;
  const Layout& layout_;
  std::vector<std::size_t> column_of_node_;     // none: the first node of an island
  std::vector<std::size_t> column_of_current_;  // by element; none: its current follows from the volts, or is given
  Eigen::MatrixXd matrix_;
  Eigen::PartialPivLU<Eigen::MatrixXd> factors_;
};

}  // namespace leadline::circuit
