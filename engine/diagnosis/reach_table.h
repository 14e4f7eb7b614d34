#pragma once
// The factorised noisy-MAX as a table that causes push through, one after the other. Internal to the room.
//
// Each observed finding that does not factorise is an axis; a state of the table says how far each finding has been pushed so far
// (the running maximum, as in the sequential decompositions of noisy-MAX of Heckerman 1993 and Díez 1993; from memory). A cause that is
// present moves weight upward along its axes, an absent one leaves it: so all sets of causes, of any size, are summed in one pass,
// and only positive terms are ever added (the inclusion-exclusion of Quickscore loses all digits near ten abnormal findings:
// shared reference inference.md § 23). Cost: causes * links * product of levels. Tested by tests/diagnosis/explanation_test.cpp.
#include <cstddef>
#include <vector>

#include "engine/diagnosis/explanation.h"

namespace leadline::diagnosis {

// States of a finding with equal likelihood fall together into levels; those after the last possible state are cut off.
struct Levels {
  std::vector<std::size_t> upto;   // last state of each level
  std::vector<double> likelihood;  // of each level, the largest scaled to 1
};
Levels levels_of(const std::vector<double>& likelihood);

// How one cause moves weight along one axis, given that it stays within the last level:
// chance[l] = P(its push lands in level l), at_most[l] = P(in level l or a weaker one).
struct AxisPush {
  std::size_t axis;
  std::vector<double> chance, at_most;
};

struct Axis {
  std::size_t observation;
  std::size_t stride;
  Levels levels;
};

// All that one evidence makes of a model: factorised findings absorbed in the odds, the others axes, or sides when the table is full.
struct Reach {
  std::vector<Axis> axes;
  std::size_t states = 1;
  std::vector<double> start;                    // the leak's distribution over the table
  std::vector<double> finish;                   // product of the axes' likelihoods, by state
  std::vector<double> log_odds;                 // by cause, with absorbed findings
  std::vector<std::vector<AxisPush>> pushes;    // by cause
  std::vector<std::size_t> sides;               // observations left to be judged set by set
  double log_constant = 0;                      // absorbed leaks and likelihood scales
};
Reach reach_of(const Model& model, const Evidence& evidence, std::size_t most_states);

// weights <- weights pushed by the present cause (forward: weight moves up; backward: the transpose).
void push_forward(const Reach& reach, const std::vector<AxisPush>& pushes, std::vector<double>& weights);
void push_backward(const Reach& reach, const std::vector<AxisPush>& pushes, std::vector<double>& weights);

double dot(const std::vector<double>& a, const std::vector<double>& b);

}  // namespace leadline::diagnosis
