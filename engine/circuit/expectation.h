#pragma once
// What should be read in this boat: every measurement that the book ties to a circuit, healthy and under causes. Computed when asked for,
// and kept: one object for each record. Not for two threads at once. Tested by tests/circuit/expectation_test.cpp.
#include <map>
#include <memory>

#include "engine/circuit/bench.h"
#include "engine/circuit/fault.h"
#include "engine/circuit/outlook.h"

namespace leadline::circuit {

// Where a finding is measured.
struct Tie {
  std::size_t circuit = 0, measure = 0;
};

class Expectation {
 public:
  // Requires: `base` outlives it. `wanted`, by finding: only circuits on which one of these is measured; none: all.
  Expectation(const knowledge::KnowledgeBase& base, const installation::Evaluation& evaluation, const std::vector<bool>* wanted = nullptr);

  Expectation(const Expectation&) = delete;  // what it keeps speaks of its own benches

  std::optional<Tie> tie_of(std::size_t finding) const { return ties_[finding]; }
  // Does this cause have an effect on the circuit in this boat?
  bool governs(std::size_t cause, std::size_t circuit) const { return !faults_[circuit][cause].empty(); }
  const std::vector<Alternative>& faults(std::size_t circuit, std::size_t cause) const { return faults_[circuit][cause]; }
  std::size_t circuits() const { return benches_.size(); }
  const Bench* bench(std::size_t circuit) const { return benches_[circuit] ? &*benches_[circuit] : nullptr; }

  // Under these causes of the knowledge base, each of which governs the circuit: none, one, or two together, ascending.
  const Outlook& under(std::size_t circuit, const std::vector<std::size_t>& causes) const;

  // The same outlook before anything was read.
  const Informed& unread(std::size_t circuit, const std::vector<std::size_t>& causes) const;

  // Circuits that have no numbers in this boat, and why.
  const std::vector<Trouble>& troubles() const { return troubles_; }

 private:
  class Judge;
  std::vector<std::optional<Bench>> benches_;                    // by circuit
  std::vector<std::vector<std::vector<Alternative>>> faults_;    // [circuit][cause]
  std::vector<std::optional<Tie>> ties_;                         // by finding
  std::vector<Trouble> troubles_;
  mutable std::map<std::pair<std::size_t, std::vector<std::size_t>>, Outlook> outlooks_;
  mutable std::map<std::pair<std::size_t, std::vector<std::size_t>>, Informed> unread_;
  mutable std::map<std::size_t, std::shared_ptr<Judge>> judges_;  // by circuit
};

}  // namespace leadline::circuit
