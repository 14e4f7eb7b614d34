#pragma once
// A circuit of the book with the numbers of one boat. Tested by tests/circuit/fitted_test.cpp.
#include <optional>
#include <string>
#include <vector>

#include "engine/circuit/battery.h"
#include "engine/circuit/network.h"
#include "engine/installation/evaluation.h"

namespace leadline::circuit {

// Absent connections are resistances too: so every fault changes a number and none the shape.
constexpr double open_ohm = 1e12;
// Each place leaks to the first one of its circuit, as damp does: so nothing floats, and a meter on a loose end reads next to nothing.
constexpr double leak_ohm = 1e9;
// What an ohmmeter shows as over range.
constexpr double over_range_ohm = 2e7;

// What faults and tolerances change.
struct PartNumbers {
  double ohm = 0, volt = 0, amp = 0, watt = 0;
  double load = 1;              // of a motor, see MotorLoad
  double wake = 0;              // of a step-up input: volts above which it works
};

struct FittedPart {
  std::string id, title, from, to;
  knowledge::PartKind kind = knowledge::PartKind::resistor;
  PartNumbers numbers;
  std::vector<bool> in;         // by condition: is it there
  double spread = 0, spread_volt = 0;
  std::string shared, awake_with;
  bool there = true;            // false: a connection that only a fault makes
  std::optional<Chemistry> chemistry;  // of a battery, which is made of so many blocks
  double blocks = 1;
  std::string piece_from, piece_to;    // the two places of the string between which it is a piece of cable; else empty
};

struct FittedCircuit {
  std::size_t page = 0;
  std::string reference;        // the place to which all others leak
  std::vector<FittedPart> parts;
};

// Parts that are fitted here, repeated ones once for each element. Trouble when a number is one no part can have: it names the part.
Result<FittedCircuit> fit(const knowledge::KnowledgeBase& base, std::size_t page, const installation::Evaluation& evaluation);

// "H at {@from}" for one element of the record.
std::string filled_in(const std::string& name, pugi::xml_node each);

// The numbers of all parts, in their order.
std::vector<PartNumbers> numbers_of(const FittedCircuit& circuit);

// The part as the solver takes it. Asleep or absent parts are given numbers under which nothing flows.
Kind kind_of(knowledge::PartKind kind, const PartNumbers& numbers, bool awake);

// The circuit under one condition, leaks included.
Circuit circuit_of(const FittedCircuit& fitted, std::size_t condition);

}  // namespace leadline::circuit
