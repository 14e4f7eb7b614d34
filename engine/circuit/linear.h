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

  // After numbers of the circuit have changed: solves for them from the factors there are (Sherman, Morrison, Woodbury: each changed resistance
  // is a change of rank one). False when too many have changed for that to pay; then a new system must be made.
  bool follow();

  // `load_amps` by element, looked at only where the element is a load. Without sources their volts are 0.
  State at(const std::vector<double>& load_amps, bool with_sources) const;
  // Volts between two nodes of one island for an ampere sent in at `a` and out at `b`, sources dead and loads away.
  double ohms(std::size_t a, std::size_t b) const;
  // How far the currents at the nodes are from adding up to nothing, relative to the largest current. Sources of error only.
  double imbalance(const State& state) const;

 private:
  static constexpr std::size_t none = static_cast<std::size_t>(-1);
  // A resistance that differs from the one that was factored: matrix += size * u u^T, with u at one row, or at two with opposite signs.
  struct Correction {
    std::size_t plus = none, minus = none;
    double size = 0;
    const Eigen::VectorXd* response = nullptr;  // of the factored matrix to u
  };
  Correction correction_of(std::size_t element) const;
  Eigen::VectorXd corrected(const Eigen::VectorXd& right) const;
  double along(const Correction& correction, const Eigen::VectorXd& unknowns) const;
  void stamp(std::size_t element);
  Eigen::VectorXd solved(const Eigen::VectorXd& right) const;
  Eigen::VectorXd right_side(const std::vector<double>& load_amps, bool with_sources) const;
  State state_of(const Eigen::VectorXd& unknowns, const std::vector<double>& load_amps) const;

  const Circuit& circuit_;
  const Layout& layout_;
  std::vector<std::size_t> column_of_node_;     // none: the first node of an island
  std::vector<std::size_t> column_of_current_;  // by element; none: its current follows from the volts, or is given
  Eigen::MatrixXd matrix_;
  Eigen::PartialPivLU<Eigen::MatrixXd> factors_;
  std::vector<double> factored_ohm_;                 // by element; 0 for what is no conductor
  mutable std::vector<Eigen::VectorXd> responses_;   // by element, made when first needed
  std::vector<Correction> corrections_;
  Eigen::PartialPivLU<Eigen::MatrixXd> small_;       // what the corrections leave to be solved
};

}  // namespace leadline::circuit
