#pragma once
// Kirchhoff's laws as one dense linear system (modified nodal analysis). Internal to the room.
#include <Eigen/Dense>
#include <Eigen/SparseCore>
#include <map>
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

  // `load_amps` by element, looked at only where the element is a load.
  State at(const std::vector<double>& load_amps) const;
  // Volts over these elements, from `from` to `to`: with those currents, and for an ampere through one load alone with the sources dead.
  Eigen::VectorXd volts_over(const std::vector<std::size_t>& elements, const std::vector<double>& load_amps) const;
  Eigen::VectorXd volts_over_for_an_ampere(const std::vector<std::size_t>& elements, std::size_t load) const;
  // Volts between two nodes of one island for an ampere sent in at `a` and out at `b`, sources dead and loads away.
  double ohms(std::size_t a, std::size_t b) const;
  // How far the currents at the nodes are from adding up to nothing, relative to the largest current. Sources of error only.
  double imbalance(const State& state) const;

 private:
  static constexpr std::size_t none = static_cast<std::size_t>(-1);
  // A right side of 1 at one row, or of 1 and -1 at two: what an element, or a probe of ohms, can put into the system.
  struct Unit {
    std::size_t plus = none, minus = none;
  };
  // What is put in, and how the factored matrix responds to one of it. A right side is a few of these: their responses add up, for a
  // hundredth of the work of solving for it.
  struct Push {
    Unit unit;
    double amount = 0;
    const Eigen::VectorXd* response = nullptr;
  };
  // A resistance that differs from the one that was factored: matrix += amount * u u^T.
  using Correction = Push;
  Unit unit_of(std::size_t element) const;
  const Eigen::VectorXd& response_of(std::size_t element) const;
  const Eigen::VectorXd& respond(Eigen::VectorXd& known, const Unit& unit) const;
  Correction correction_of(std::size_t element) const;
  static double along(const Unit& unit, const Eigen::VectorXd& unknowns);
  static void put(const Unit& unit, double amount, Eigen::VectorXd& right);
  void stamp(std::size_t element, Eigen::MatrixXd& matrix) const;
  std::vector<Push> pushes_of(const std::vector<double>& load_amps) const;
  void correct(Eigen::VectorXd& unknowns) const;
  Eigen::VectorXd solved(const std::vector<Push>& pushes) const;
  State state_of(const Eigen::VectorXd& unknowns, const std::vector<double>& load_amps) const;
  Eigen::VectorXd volts_over(const std::vector<std::size_t>& elements, const Eigen::VectorXd& unknowns) const;

  const Circuit& circuit_;
  const Layout& layout_;
  std::vector<std::size_t> column_of_node_;     // none: the first node of an island
  std::vector<std::size_t> column_of_current_;  // by element; none: its current follows from the volts, or is given
  Eigen::SparseMatrix<double, Eigen::RowMajor> matrix_;
  Eigen::PartialPivLU<Eigen::MatrixXd> factors_;
  std::vector<double> factored_ohm_;                 // by element; 0 for what is no conductor
  mutable std::vector<Eigen::VectorXd> responses_;   // by element, made when first needed
  mutable std::map<std::pair<std::size_t, std::size_t>, Eigen::VectorXd> probe_responses_;  // by columns of two nodes
  std::vector<Correction> corrections_;
  Eigen::PartialPivLU<Eigen::MatrixXd> small_;       // what the corrections leave to be solved
};

}  // namespace leadline::circuit
