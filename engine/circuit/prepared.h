#pragma once
// A circuit whose names are resolved once and whose numbers may change: what many solutions of one boat need. Tested against solve() and
// ohms_between() in tests/circuit/prepared_test.cpp.
#include <memory>

#include "engine/circuit/linear.h"

namespace leadline::circuit {

class Prepared {
 public:
  // Refuses what solve() refuses before any number: bad values, repeated ids, rings without resistance.
  static Result<std::shared_ptr<Prepared>> of(Circuit circuit);

  const Circuit& circuit() const { return circuit_; }
  std::optional<std::size_t> node(std::string_view name) const;
  std::optional<std::size_t> element(std::string_view id) const;

  // Requires: a kind of the same sort, with valid numbers. The connections stay.
  void set(std::size_t element, const Kind& kind) { circuit_.elements[element].kind = kind; }

  // Takes the numbers as they are now; solved(), ohms() speak of them. Few changes since the circuit was prepared cost little.
  void factor();
  // The operating point; power_not_available when a constant power cannot be had.
  Result<State> solved() const;
  // No volts anywhere, no current.
  State nothing() const { return {std::vector<double>(layout_.nodes.size(), 0.0), std::vector<double>(circuit_.elements.size(), 0.0)}; }
  // Ohms between two nodes: sources dead, loads away.
  double ohms(std::size_t a, std::size_t b) const;

 private:
  explicit Prepared(Circuit circuit, Layout layout) : circuit_(std::move(circuit)), layout_(std::move(layout)), first_(circuit_, layout_) {}

  Circuit circuit_;
  Layout layout_;
  LinearSystem first_;                      // factored once, for the numbers it was prepared with
  std::unique_ptr<LinearSystem> anew_;      // when too many have changed
  const LinearSystem& system() const { return anew_ ? *anew_ : first_; }
};

}  // namespace leadline::circuit
