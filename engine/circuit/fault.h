#pragma once
// What a cause does to one boat's circuit, as numbers. Tested by tests/circuit/fault_test.cpp.
#include <string>
#include <vector>

#include "engine/circuit/fitted.h"

namespace leadline::circuit {

struct FixedChange {
  knowledge::ChangeKind kind = knowledge::ChangeKind::add;
  std::size_t part = 0;                // of the fitted circuit
  double PartNumbers::* value = nullptr;
  double from = 0, to = 0;
};

// One way in which a cause shows in this circuit: a place struck, changes that grow together with the size.
struct Alternative {
  std::size_t effect = 0;              // of the cause, in the book's order
  double share = 1;                    // those of one cause add up to 1
  std::string words, struck;           // `struck`: title of the part that a * stood for, empty without one
  std::vector<FixedChange> changes;
  bool sized() const;
};

// The connections that any cause's `join` may make, put into the circuit as open ones; once for each boat, before faults_of.
void add_possible_joins(FittedCircuit& circuit, const knowledge::KnowledgeBase& base, const installation::Evaluation& evaluation);

// Empty when the cause does nothing to this circuit here.
std::vector<Alternative> faults_of(const knowledge::Cause& cause, const FittedCircuit& circuit, const installation::Evaluation& evaluation);

// Sizes between `from` and `to` grow in equal ratios where both are above 0, in equal steps otherwise. size: 0 … 1.
double size_between(double from, double to, double size);
// The numbers of the circuit the alternative was made for.
void apply(const Alternative& alternative, double size, const FittedCircuit& circuit, std::vector<PartNumbers>& numbers);

}  // namespace leadline::circuit
