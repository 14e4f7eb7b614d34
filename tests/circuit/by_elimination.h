#pragma once
// The slow twin of circuit::solve: Kirchhoff's laws written down for every branch, Gauss elimination in long double. No Eigen, no
// tricks: the unknowns are all node volts and all branch currents. Conductors and current loads only.
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "engine/circuit/network.h"

namespace leadline::testing {

using Row = std::vector<long double>;

inline std::vector<long double> eliminate(std::vector<Row> rows) {  // each row: coefficients, then the right side
  const std::size_t n = rows.size();
  for (std::size_t column = 0; column < n; ++column) {
    std::size_t pivot = column;
    for (std::size_t row = column; row < n; ++row) {
      if (std::abs(rows[row][column]) > std::abs(rows[pivot][column])) pivot = row;
    }
    std::swap(rows[column], rows[pivot]);
    for (std::size_t row = 0; row < n; ++row) {
      if (row == column) continue;
      const long double factor = rows[row][column] / rows[column][column];
      for (std::size_t k = column; k <= n; ++k) rows[row][k] -= factor * rows[column][k];
    }
  }
  std::vector<long double> solution;
  for (std::size_t row = 0; row < n; ++row) solution.push_back(rows[row][n] / rows[row][row]);
  return solution;
}

// Volts by node against `ground`; requires a circuit in one piece without rings of ideals.
inline std::map<std::string, double> volts_by_elimination(const circuit::Circuit& circuit, const std::string& ground) {
  std::map<std::string, std::size_t> column;
  for (const auto& element : circuit.elements) {
    column.emplace(element.from, column.size());
    column.emplace(element.to, column.size());
  }
  const std::size_t nodes = column.size(), unknowns = nodes + circuit.elements.size();
  std::vector<Row> rows(unknowns, Row(unknowns + 1, 0));
  for (std::size_t e = 0; e < circuit.elements.size(); ++e) {
    const auto& element = circuit.elements[e];
    const std::size_t from = column[element.from], to = column[element.to], current = nodes + e;
    rows[from][current] += 1;  // what leaves a node adds up to nothing
    rows[to][current] -= 1;
    Row& law = rows[current];
    if (const auto* load = std::get_if<circuit::CurrentLoad>(&element.kind)) {
      law[current] = 1;
      law[unknowns] = load->amp;
      continue;
    }
    const auto* contact = std::get_if<circuit::Switch>(&element.kind);
    if (contact && !contact->closed) {
      law[current] = 1;
      continue;
    }
    law[from] = 1;
    law[to] = -1;
    if (const auto* resistor = std::get_if<circuit::Resistor>(&element.kind)) law[current] = -static_cast<long double>(resistor->ohm);
    if (const auto* source = std::get_if<circuit::Source>(&element.kind)) {
      law[current] = -static_cast<long double>(source->internal_ohm);
      law[unknowns] = source->volt;
    }
  }
  rows[column[ground]] = Row(unknowns + 1, 0);
  rows[column[ground]][column[ground]] = 1;
  const auto solution = eliminate(std::move(rows));
  std::map<std::string, double> volts;
  for (const auto& [name, index] : column) volts[name] = static_cast<double>(solution[index]);
  return volts;
}

}  // namespace leadline::testing
