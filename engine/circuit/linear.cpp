#include "engine/circuit/linear.h"

#include <algorithm>
#include <cmath>
#include <limits>

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
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(static_cast<Index>(columns), static_cast<Index>(columns));
  for (std::size_t e = 0; e < circuit.elements.size(); ++e) stamp(e, matrix);
  for (const auto& element : circuit.elements) factored_ohm_.push_back(branch_of(element.kind).value_or(Branch{}).ohm);
  responses_.resize(circuit.elements.size());
  if (columns > 0) factors_.compute(matrix);
  matrix_ = matrix.sparseView();
}

LinearSystem::Unit LinearSystem::unit_of(std::size_t element) const {
  if (column_of_current_[element] != none) return {column_of_current_[element], none};
  return {column_of_node_[layout_.ends[element].from], column_of_node_[layout_.ends[element].to]};
}

double LinearSystem::along(const Unit& unit, const Eigen::VectorXd& unknowns) {
  const double plus = unit.plus == none ? 0 : unknowns(static_cast<Index>(unit.plus));
  return plus - (unit.minus == none ? 0 : unknowns(static_cast<Index>(unit.minus)));
}

void LinearSystem::put(const Unit& unit, double amount, Eigen::VectorXd& right) {
  if (unit.plus != none) right(static_cast<Index>(unit.plus)) += amount;
  if (unit.minus != none) right(static_cast<Index>(unit.minus)) -= amount;
}

// With one step of refinement: the last digits for the price of a product.
const Eigen::VectorXd& LinearSystem::respond(Eigen::VectorXd& known, const Unit& unit) const {
  if (known.size() > 0) return known;
  Eigen::VectorXd right = Eigen::VectorXd::Zero(matrix_.rows());
  put(unit, 1, right);
  known = factors_.solve(right);
  known += factors_.solve(right - matrix_ * known);
  return known;
}

const Eigen::VectorXd& LinearSystem::response_of(std::size_t element) const { return respond(responses_[element], unit_of(element)); }

LinearSystem::Correction LinearSystem::correction_of(std::size_t element) const {
  const double now = branch_of(circuit_.elements[element].kind)->ohm, then = factored_ohm_[element];
  const bool own_unknown = column_of_current_[element] != none;
  return {unit_of(element), own_unknown ? then - now : 1 / now - 1 / then, &response_of(element)};
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
    for (Index b = 0; b < count; ++b) left(a, b) = along(corrections_[static_cast<std::size_t>(a)].unit, *corrections_[static_cast<std::size_t>(b)].response);
    left(a, a) += 1 / corrections_[static_cast<std::size_t>(a)].amount;
  }
  if (count > 0) small_.compute(left);
  return true;
}

// From what the factored matrix answers to what the changed one does.
void LinearSystem::correct(Eigen::VectorXd& unknowns) const {
  if (corrections_.empty()) return;
  Eigen::VectorXd drops(static_cast<Index>(corrections_.size()));
  for (std::size_t c = 0; c < corrections_.size(); ++c) drops(static_cast<Index>(c)) = along(corrections_[c].unit, unknowns);
  const Eigen::VectorXd pulls = small_.solve(drops);
  for (std::size_t c = 0; c < corrections_.size(); ++c) unknowns -= pulls(static_cast<Index>(c)) * *corrections_[c].response;
}

void LinearSystem::stamp(std::size_t element, Eigen::MatrixXd& matrix) const {
  const auto branch = branch_of(circuit_.elements[element].kind);
  if (!branch) return;
  const auto add = [&matrix](std::size_t row, std::size_t column, double value) {
    if (row != none && column != none) matrix(static_cast<Index>(row), static_cast<Index>(column)) += value;
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

std::vector<LinearSystem::Push> LinearSystem::pushes_of(const std::vector<double>& load_amps) const {
  std::vector<Push> pushes;
  for (std::size_t e = 0; e < circuit_.elements.size(); ++e) {
    const auto& kind = circuit_.elements[e].kind;
    const auto branch = branch_of(kind);
    double amount = is_load(kind) ? -load_amps[e] : 0;  // a known current out of `from` and into `to`
    if (branch) amount = column_of_current_[e] != none ? branch->volt : branch->volt / branch->ohm;
    if (amount != 0) pushes.push_back({unit_of(e), amount, &response_of(e)});
  }
  return pushes;
}

// Refined once more, from the factors, where a row does not add up to a few roundings of its own terms: large changes of resistance take
// away digits.
Eigen::VectorXd LinearSystem::solved(const std::vector<Push>& pushes) const {
  constexpr double few_roundings = 16 * std::numeric_limits<double>::epsilon();
  Eigen::VectorXd unknowns = Eigen::VectorXd::Zero(matrix_.rows()), rest = unknowns, terms = unknowns;
  for (const auto& push : pushes) {
    unknowns += push.amount * *push.response;
    put(push.unit, push.amount, rest);
  }
  correct(unknowns);
  for (Index row = 0; row < matrix_.rows(); ++row) {
    terms(row) = std::abs(rest(row));
    for (decltype(matrix_)::InnerIterator entry(matrix_, row); entry; ++entry) {
      const double term = entry.value() * unknowns(entry.col());
      rest(row) -= term;
      terms(row) += std::abs(term);
    }
  }
  for (const auto& correction : corrections_) put(correction.unit, -correction.amount * along(correction.unit, unknowns), rest);
  if ((rest.array().abs() <= few_roundings * terms.array()).all()) return unknowns;
  Eigen::VectorXd more = factors_.solve(rest);
  correct(more);
  return unknowns + more;
}

double LinearSystem::ohms(std::size_t a, std::size_t b) const {
  const Unit unit{column_of_node_[a], column_of_node_[b]};
  return along(unit, solved({{unit, 1, &respond(probe_responses_[{unit.plus, unit.minus}], unit)}}));
}

Eigen::VectorXd LinearSystem::volts_over(const std::vector<std::size_t>& elements, const Eigen::VectorXd& unknowns) const {
  Eigen::VectorXd volts(static_cast<Index>(elements.size()));
  for (std::size_t k = 0; k < elements.size(); ++k) {
    const auto [from, to] = layout_.ends[elements[k]];
    volts(static_cast<Index>(k)) = along({column_of_node_[from], column_of_node_[to]}, unknowns);
  }
  return volts;
}

Eigen::VectorXd LinearSystem::volts_over(const std::vector<std::size_t>& elements, const std::vector<double>& load_amps) const {
  return volts_over(elements, solved(pushes_of(load_amps)));
}

Eigen::VectorXd LinearSystem::volts_over_for_an_ampere(const std::vector<std::size_t>& elements, std::size_t load) const {
  return volts_over(elements, solved({{unit_of(load), -1, &response_of(load)}}));
}

State LinearSystem::at(const std::vector<double>& load_amps) const { return state_of(solved(pushes_of(load_amps)), load_amps); }

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
