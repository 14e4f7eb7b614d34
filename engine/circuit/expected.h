#pragma once
// What a person is told to expect: a middle and a range for each measurement, in its unit. Tested by tests/circuit/expected_test.cpp.
#include <cmath>

#include "engine/circuit/expectation.h"

namespace leadline::circuit {

// The median, and the values that one reading in twenty lies below and one above. Ohms beyond over_range_ohm: infinite. Not numbers where there
// is mostly nothing to read from (ohms worked out from volts and amperes when no current flows).
struct Expected {
  double middle = 0, low = 0, high = 0;
  bool told() const { return !std::isnan(middle); }
};
Expected expected(const Expectation& expectation, const Tie& tie, const std::vector<std::size_t>& causes);

// Of two expectations of one measurement: would a reading usually tell them apart? True when neither middle lies in the other's range, or only one
// can be told.
bool tells_apart(const Expected& a, const Expected& b);

// The causes whose effect a reading of this measurement would usually show, in the order of the knowledge base.
std::vector<std::size_t> causes_shown_by(const knowledge::KnowledgeBase& base, const Expectation& expectation, const Tie& tie);

// A fact nobody stated, and what another value of it would do to the reading it moves most.
struct AssumptionWeight {
  std::string path, assumed, instead;
  std::size_t finding = 0;
  Expected now, then;
  double deviations = 0;   // how far the middle moves, in half ranges
};
// Numbers are tried at two thirds and one and a half of what is assumed (volts: a twentieth off; all within their limits), choices at each other choice. Those that move a
// healthy reading out of its range, strongest first.
std::vector<AssumptionWeight> assumptions_that_matter(const knowledge::KnowledgeBase& base, const installation::Installation& installation);

}  // namespace leadline::circuit
