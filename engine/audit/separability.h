#pragma once
// What the checks of the book can tell apart. The figures: docs/audit.md § report. Tested by tests/audit/report_test.cpp.
#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "engine/audit/shown.h"

namespace leadline::audit {

// Two causes of the book that one boat can have, each alone. A weight is what is expected in decibans for the one that is there against the other, and the
// less of the two ways round: so much at least, whichever is true.
struct Pair {
  std::size_t a = 0, b = 0;
  std::optional<std::size_t> check;  // the one that tells most; none: every check tells nothing
  double best = 0;                   // its weight
  double all = 0;                    // of all checks together
};

// Causes that even all checks together hardly tell apart, directly or by way of one another.
struct Group {
  std::vector<std::size_t> causes;       // ascending
  std::optional<std::size_t> remedy;     // one that mends each of them more often than not
};

struct Separability {
  std::vector<Pair> pairs;           // by a, then b
  std::size_t never_together = 0;    // pairs that no boat can have both of
  std::size_t not_judged = 0;        // pairs that no sample boat has both of
  std::vector<Group> groups;
};

constexpr double hardly = 3;         // decibans: odds of two to one

Separability separability(const knowledge::KnowledgeBase& base, const BoatSearch& search, const std::vector<Sample>& samples);

// Expected weight of evidence for p against q, in decibans: 10 log10 e times the sum of p ln(p / q); at most `most_weight`.
constexpr double most_weight = 60;
double expected_weight(const std::vector<double>& p, const std::vector<double>& q);

// Fault detection and isolation, in the sense of the standards of testability (formulas from memory, in the style of IEEE 1522; isolation is taken over what is
// detected). signatures[i][t]: what test t shows under fault i, 0 as without a fault. Faults of one signature are one group.
struct Testability {
  double detected = 0, detected_by_count = 0;                                // share of faults, weighed by their rates; each alike
  std::array<double, 3> isolated = {}, isolated_by_count = {};               // of those: to one, to at most two, to at most three
  double mean_group = 0;                                                     // size, over detected faults weighed by rate
};
Testability testability(const std::vector<double>& rates, const std::vector<std::vector<std::size_t>>& signatures);

// Of one boat, by the checks this person may do: a fault shows in each finding the state that is likeliest with it alone.
Testability testability_of(const knowledge::KnowledgeBase& base, const Sample& sample, knowledge::Who who);

}  // namespace leadline::audit
