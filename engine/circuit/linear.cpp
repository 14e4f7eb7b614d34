#include "engine/circuit/linear.h"

#include <algorithm>
#include <cmath>

namespace leadline::circuit {
namespace {

using Index = Eigen::Index;

// The current of an element of little resistance is an unknown of its own: as conductances, milliohms and megohms at one node
// would be added up in one number, and the megohm lost in its rounding.
constexpr double little_ohm = 0.01;

struct Branch {
  double volt = 0, ohm = 0;
};

// V(from) - V(to) = volt + ohm * amp of a conductor; nothing for the others.
std::optional<Branch> branch_of(const Kind& kind) {
  if (!conducts(kind)) return std::nullopt;
  if (const auto* resistor = std::get_if<Resistor>(&kind)) return Branch{0, resistor->ohm};
  if (const auto* source = std::get_if<Source>(&kind)) return Branch{source->volt, source->internal_ohm};
  return Branch{};
}

bool is_load(const Kind& kind) {
  return std::holds_alternative<CurrentLoad>(kind) || std::holds_alternative<PowerLoad>(kind) || std::holds_alternative<MotorLoad>(kind);
}

}  // namespace

LinearSystem::LinearSystem(const Circuit& circuit, const Layout& layout) : circuit_(circuit), layout_(layout) {
  std::size_t columns = 0;
  for (std::size_t node = 0; node < layout.nodes.size(); ++node) {
    column_of_node_.push_back(layout.island[node] == node ? none : columns++);
  }
  for (const auto& element : circuit.elements) {
    const auto branch = branch_of(element.kind);
    column_of_current_.push_back(branch && branch->ohm < little_ohm ? columns++ : none);
  }
  matrix_ = Eigen::MatrixXd::Zero(static_cast<Index>(columns), static_cast<Index>(columns));
  for (std::size_t e = 0; e < circuit.elements.size(); ++e) stamp(e);
  for (const auto& element : circuit.elements) factored_ohm_.push_back(branch_of(element.kind).value_or(Branch{}).ohm);
  responses_.resize(circuit.elements.size());
  if (columns > 0) factors_.compute(matrix_);
}

LinearSystem::Correction LinearSystem::correction_of(std::size_t element) const {
  const double now = branch_of(circuit_.elements[element].kind)->ohm, then = factored_ohm_[element];
  const auto current = column_of_current_[element];
  Correction correction;
  if (current != none) correction = {current, none, then - now, nullptr};
  else correction = {column_of_node_[layout_.ends[element].from], column_of_node_[layout_.ends[element].to], 1 / now - 1 / then, nullptr};
  auto& response = responses_[element];
  if (response.size() == 0) {
    Eigen::VectorXd unit = Eigen::VectorXd::Zero(matrix_.rows());
    if (correction.plus != none) unit(static_cast<Index>(correction.plus)) += 1;
    if (correction.minus != none) unit(static_cast<Index>(correction.minus)) -= 1;
    response = factors_.solve(unit);
    response += factors_.solve(unit - matrix_ * response);
  }
  correction.response = &response;
  return correction;
}

double LinearSystem::along(const Correction& correction, const Eigen::VectorXd& unknowns) const {
  const double plus = correction.plus == none ? 0 : unknowns(static_cast<Index>(correction.plus));
  return plus - (correction.minus == none ? 0 : unknowns(static_cast<Index>(correction.minus)));
}

bool LinearSystem::follow() {
  constexpr std::size_t most_changed = 10;
  corrections_.clear();
  for (std::size_t e = 0; e < circuit_.elements.size(); ++e) {
    const auto branch = branch_of(circuit_.elements[e].kind);
    if (!branch || branch->ohm == factored_ohm_[e]) continue;
    if (corrections_.size() == most_changed) return false;
    corrections_.push_back(correction_of(e));
  }
  const auto count = static_cast<Index>(corrections_.size());
  Eigen::MatrixXd left(count, count);
  for (Index a = 0; a < count; ++a) {
    for (Index b = 0; b < count; ++b) left(a, b) = along(corrections_[static_cast<std::size_t>(a)], *corrections_[static_cast<std::size_t>(b)].response);
    left(a, a) += 1 / corrections_[static_cast<std::size_t>(a)].size;
  }
  if (count > 0) small_.compute(left);
  return true;
}

Eigen::VectorXd LinearSystem::corrected(const Eigen::VectorXd& right) const {
  Eigen::VectorXd unknowns = factors_.solve(right);
  if (corrections_.empty()) return unknowns;
  Eigen::VectorXd drops(static_cast<Index>(corrections_.size()));
  for (std::size_t c = 0; c < corrections_.size(); ++c) drops(static_cast<Index>(c)) = along(corrections_[c], unknowns);
  const Eigen::VectorXd pulls = small_.solve(drops);
  for (std::size_t c = 0; c < corrections_.size(); ++c) unknowns -= pulls(static_cast<Index>(c)) * *corrections_[c].response;
  return unknowns;
}

void LinearSystem::stamp(std::size_t element) {
  const auto branch = branch_of(circuit_.elements[element].kind);
  if (!branch) return;
  const auto add = [this](std::size_t row, std::size_t column, double value) {
    if (row != none && column != none) matrix_(static_cast<Index>(row), static_cast<Index>(column)) += value;
  };
  const auto from = column_of_node_[layout_.ends[element].from], to = column_of_node_[layout_.ends[element].to];
  const auto current = column_of_current_[element];
  if (current == none) {
    const double siemens = 1 / branch->ohm;
    add(from, from, siemens);
    add(to, to, siemens);
    add(from, to, -siemens);
    add(to, from, -siemens);
    return;
  }
  add(from, current, 1);
  add(to, current, -1);
  add(current, from, 1);
  add(current, to, -1);
  add(current, current, -branch->ohm);
}

Eigen::VectorXd LinearSystem::right_side(const std::vector<double>& load_amps, bool with_sources) const {
  Eigen::VectorXd right = Eigen::VectorXd::Zero(matrix_.rows());
  const auto leave = [&](std::size_t element, double amp) {  // a known current out of `from` and into `to`
    const auto from = column_of_node_[layout_.ends[element].from], to = column_of_node_[layout_.ends[element].to];
    if (from != none) right(static_cast<Index>(from)) -= amp;
    if (to != none) right(static_cast<Index>(to)) += amp;
  };
  for (std::size_t e = 0; e < circuit_.elements.size(); ++e) {
    const auto& kind = circuit_.elements[e].kind;
    if (is_load(kind)) leave(e, load_amps[e]);
    const auto branch = branch_of(kind);
    if (!branch || !with_sources) continue;
    if (column_of_current_[e] != none) {
      right(static_cast<Index>(column_of_current_[e])) = branch->volt;
    } else {
      leave(e, -branch->volt / branch->ohm);
    }
  }
  return right;
}

// With one step of refinement: the last digits for the price of a product.
Eigen::VectorXd LinearSystem::solved(const Eigen::VectorXd& right) const {
  Eigen::VectorXd unknowns = corrected(right);
  Eigen::VectorXd rest = right - matrix_ * unknowns;
  for (const auto& correction : corrections_) {
    const double pull = correction.size * along(correction, unknowns);
    if (correction.plus != none) rest(static_cast<Index>(correction.plus)) -= pull;
    if (correction.minus != none) rest(static_cast<Index>(correction.minus)) += pull;
  }
  unknowns += corrected(rest);
  return unknowns;
}

double LinearSystem::ohms(std::size_t a, std::size_t b) const {
  Eigen::VectorXd right = Eigen::VectorXd::Zero(matrix_.rows());
  const auto at_a = column_of_node_[a], at_b = column_of_node_[b];
  if (at_a != none) right(static_cast<Index>(at_a)) = 1;
  if (at_b != none) right(static_cast<Index>(at_b)) = -1;
  const auto unknowns = solved(right);
  const auto volts = [&](std::size_t column) { return column == none ? 0 : unknowns(static_cast<Index>(column)); };
  return volts(at_a) - volts(at_b);
}

State LinearSystem::at(const std::vector<double>& load_amps, bool with_sources) const {
  if (matrix_.rows() == 0) return state_of(Eigen::VectorXd{}, load_amps);
  auto state = state_of(solved(right_side(load_amps, with_sources)), load_amps);
  if (with_sources) return state;
  for (std::size_t e = 0; e < state.amps.size(); ++e) {  // state_of assumes live sources
    const auto branch = branch_of(circuit_.elements[e].kind);
    if (branch && column_of_current_[e] == none) state.amps[e] += branch->volt / branch->ohm;
  }
  return state;
}

State LinearSystem::state_of(const Eigen::VectorXd& unknowns, const std::vector<double>& load_amps) const {
  State state;
  for (const auto column : column_of_node_) state.volts.push_back(column == none ? 0 : unknowns(static_cast<Index>(column)));
  for (std::size_t e = 0; e < circuit_.elements.size(); ++e) {
    const auto& kind = circuit_.elements[e].kind;
    const auto branch = branch_of(kind);
    double amp = is_load(kind) ? load_amps[e] : 0;
    if (branch && column_of_current_[e] != none) amp = unknowns(static_cast<Index>(column_of_current_[e]));
    if (branch && column_of_current_[e] == none) {
      amp = (state.volts[layout_.ends[e].from] - state.volts[layout_.ends[e].to] - branch->volt) / branch->ohm;
    }
    state.amps.push_back(amp);
  }
  return state;
}

double LinearSystem::imbalance(const State& state) const {
  std::vector<double> sums(state.volts.size());
  double largest = 0, worst = 0;
  for (std::size_t e = 0; e < state.amps.size(); ++e) {
    sums[layout_.ends[e].from] += state.amps[e];
    sums[layout_.ends[e].to] -= state.amps[e];
    largest = std::max(largest, std::abs(state.amps[e]));
  }
  for (const double sum : sums) worst = std::isfinite(sum) ? std::max(worst, std::abs(sum)) : HUGE_VAL;
  return worst == 0 ? 0 : worst / largest;
}

}  // namespace leadline::circuit
