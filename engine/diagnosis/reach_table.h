#pragma once
// The factorised noisy-MAX as a table that causes push through, one after the other. Internal to the room.
//
// Each observed finding that does not factorise is an axis; a state of the table says how far each finding has been pushed so far
// (the running maximum, as in the sequential decompositions of noisy-MAX of Heckerman 1993 and Díez 1993; from memory). A cause that is
// present moves weight upward along its axes, an absent one leaves it: so all sets of causes, of any size, are summed in one pass,
// and only positive terms are ever added (the inclusion-exclusion of Quickscore loses all digits near ten abnormal findings:
// shared reference inference.md § 23). Cost: causes * links * product of levels. Tested by tests/diagnosis/explanation_test.cpp.
#include <cstddef>
#include <span>
#include <vector>

#include "engine/diagnosis/explanation.h"
#include "engine/diagnosis/odds.h"

namespace leadline::diagnosis {

// States of a finding with equal likelihood fall together into levels; those after the last possible state are cut off.
struct Levels {
  std::vector<std::size_t> upto;   // last state of each level
  std::vector<double> likelihood;  // of each level, the largest scaled to 1
};
Levels levels_of(const std::vector<double>& likelihood);

// How one cause moves weight along one axis, given that it stays within the last level: for each level the chance that its push lands
// there, and then the chance that it lands there or at a weaker one. The numbers stand in Reach::numbers, so that a model of thousands
// of links costs no thousands of allocations.
struct AxisPush {
  std::size_t axis;
  std::size_t numbers;  // offset of `levels` chances, followed by `levels` cumulative ones
  std::size_t levels;
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
  std::vector<FarNumber> odds;                  // by cause, with absorbed findings
  std::vector<AxisPush> pushes;                 // of all causes, one after the other
  std::vector<std::size_t> first_push;          // by cause: where its pushes begin; one more entry than causes
  std::vector<double> numbers;
  std::vector<std::size_t> sides;               // observations left to be judged set by set
  double log_constant = 0;                      // absorbed leaks and likelihood scales

  std::span<const AxisPush> pushes_of(std::size_t cause) const {
    return std::span(pushes).subspan(first_push[cause], first_push[cause + 1] - first_push[cause]);
  }
};
Reach reach_of(const Model& model, const Evidence& evidence, std::size_t most_states);

// A row of one number for each state of the table.
using Table = std::vector<double>;

// weights <- weights pushed by the present cause (forward: weight moves up; backward: the transpose).
void push_forward(const Reach& reach, std::size_t cause, std::span<double> weights);
void push_backward(const Reach& reach, std::size_t cause, std::span<double> weights);

// after[k * states + state]: what all sets of the causes from the k-th on make of a table that has reached this state. k = 0 … causes.size().
std::vector<double> tables_after(const Reach& reach, const std::vector<std::size_t>& causes, const Odds& odds);

double dot(std::span<const double> a, std::span<const double> b);

}  // namespace leadline::diagnosis
