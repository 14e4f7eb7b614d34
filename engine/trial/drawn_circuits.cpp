#include "engine/trial/drawn_circuits.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leadline::trial {

namespace {

constexpr std::size_t most_faults = 2;

// Box and Muller; 1 - u is never 0.
double normal(Dice& dice) {
  const double radius = std::sqrt(-2 * std::log(1 - dice.uniform()));
  return radius * std::cos(2 * std::numbers::pi * dice.uniform());
}

const circuit::Cell& cell_at(const circuit::Outlook& outlook, double share) {
  for (const auto& cell : outlook.cells) {
    share -= cell.weight;
    if (share < 0) return cell;
  }
  return outlook.cells.back();
}

}  // namespace

DrawnCircuits::DrawnCircuits(const diagnosis::CircuitLink& link, Dice& dice) : link_(link), by_circuit_(link.expectation->circuits()) {
  for (std::size_t c = 0; c < by_circuit_.size(); ++c) {
    auto& drawn = by_circuit_[c];
    drawn.cell = dice.uniform();
    for (std::size_t f = 0; f < most_faults; ++f) drawn.within.push_back(std::numbers::sqrt3 * (2 * dice.uniform() - 1));
    if (link.expectation->bench(c) == nullptr) continue;
    const auto tolerances = link.expectation->under(c, {}).cells.front().sway.cols();
    for (Eigen::Index t = 0; t < tolerances; ++t) drawn.tolerances.push_back(normal(dice));
  }
}

std::optional<double> DrawnCircuits::reading(const circuit::Tie& tie, const std::vector<std::size_t>& causes) const {
  const auto& drawn = by_circuit_[tie.circuit];
  const auto& outlook = link_.expectation->under(tie.circuit, diagnosis::governing(link_, tie.circuit, causes));
  const auto& cell = cell_at(outlook, drawn.cell);
  const auto m = static_cast<Eigen::Index>(tie.measure);
  if (tie.measure < cell.untold.size() && cell.untold[tie.measure]) return std::nullopt;
  double value = cell.mean(m);
  for (const auto& part : cell.sway.parts) {
    for (Eigen::Index t = 0; t < part.at->cols(); ++t) value += part.factor * (*part.at)(m, t) * drawn.tolerances[static_cast<std::size_t>(t)];
  }
  for (Eigen::Index f = 0; f < cell.width.cols(); ++f) value += cell.width(m, f) * drawn.within[static_cast<std::size_t>(f)];
  if (outlook.folded[tie.measure]) value = std::abs(value);
  return circuit::reading_of(value, link_.expectation->bench(tie.circuit)->measures()[tie.measure].ohms);
}

}  // namespace leadline::trial
