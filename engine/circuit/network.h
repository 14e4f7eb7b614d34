#pragma once
// A circuit as a value, and what instruments would read in it. The method: docs/circuit.md § network.
// Tested by tests/circuit/network_test.cpp, its slow twin in tests/circuit/by_elimination.h, ngspice in tests/outside/circuit.
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "engine/circuit/trouble.h"

namespace leadline::circuit {

struct Resistor { double ohm = 0; };                            // 1e-9 … 1e13; for nothing at all a closed switch
struct Source { double volt = 0; double internal_ohm = 0; };    // plus at `from`; an ideal one has 0 Ω
struct CurrentLoad { double amp = 0; };                         // flows whatever the volts; a charger's output flows from minus to plus
struct PowerLoad { double watt = 0; };                          // takes P = V I, as a controlled motor; not below 0
struct Switch { bool closed = true; };                          // also: a break, when open
// A brushed permanent-magnet motor on a propeller: takes `amp` at `volt`, has `ohm` in winding and brushes, and torque rises as `load` times
// the square of its speed. Its current falls with the volts: electrical.md § 6.1. load 0 … 1e6: 1 clean water, 1.5 fouled, large: stalled.
struct MotorLoad { double volt = 0, amp = 0, ohm = 0, load = 1; };
using Kind = std::variant<Resistor, Source, CurrentLoad, PowerLoad, MotorLoad, Switch>;

// The current of a motor at these volts.
double motor_amps(const MotorLoad& motor, double volts);

struct Element {
  std::string id;
  std::string from, to;  // names of nodes; a node is there by being named
  Kind kind;
};

struct Circuit {
  std::vector<Element> elements;
};

// The operating point. No node is ground: a voltmeter has two leads.
class Solution {
 public:
  struct Point {
    std::string node;
    std::size_t island = 0;  // nodes of one island are joined by conductors
    double volt = 0;         // against the first node of the island
  };
  struct Flow {
    std::string element;
    std::size_t from = 0, to = 0;  // of the points
    double amp = 0;
  };
  Solution(std::vector<Point> points, std::vector<Flow> flows) : points_(std::move(points)), flows_(std::move(flows)) {}

  // What a voltmeter reads with its red lead on `plus`. Refuses nodes that float against each other.
  Result<double> volts(std::string_view plus, std::string_view minus) const;
  Result<double> amps(std::string_view element) const;   // through it from `from` to `to`: negative in a source that delivers
  Result<double> watts(std::string_view element) const;  // taken up by it: negative in a source that delivers
  // Nodes that nothing joins to this one; empty for a circuit in one piece.
  Result<std::vector<std::string>> floating_from(std::string_view node) const;

  const std::vector<Point>& points() const { return points_; }
  const std::vector<Flow>& flows() const { return flows_; }

 private:
  std::vector<Point> points_;  // in order of first mention
  std::vector<Flow> flows_;    // in the order of the elements
};

// Every element's numbers are checked first. With constant-power loads the solution is the one at the highest volts: the one a
// circuit comes to when it is switched on. Parts that float are solved each for itself.
Result<Solution> solve(const Circuit& circuit);

// What an ohmmeter reads: sources dead (their internal resistance stays), loads of current and power not there.
// Infinite when nothing joins the two.
Result<double> ohms_between(const Circuit& circuit, std::string_view a, std::string_view b);

}  // namespace leadline::circuit
