#pragma once
// Do the answers argue with one another? Tested by tests/diagnosis/conflict_test.cpp.
#include <vector>

#include "engine/diagnosis/explanation.h"

namespace leadline::diagnosis {

struct Conflict {
  // conf(e) = log2 [ product of P(e_i) / P(e) ] bits (Jensen et al. 1990; definition as in the HUGIN manual). Above 0: they argue.
  double bits = 0;
  bool unexplained = false;  // nothing listed accounts for them: the unlisted cause leads
  // Findings whose answer alone, taken back, mends it, strongest mending first; when no single one does, the pair that does
  // together (of the eight that mend most alone). Empty when there is no conflict, or when it goes deeper than two answers.
  std::vector<std::size_t> suspects;
  bool together = false;     // the suspects are such a pair
};

// `unlisted` is the index of the unlisted cause in the model, or model.causes.size() when it has none.
Conflict conflict_in(const Model& model, const Evidence& evidence, std::size_t unlisted);

}  // namespace leadline::diagnosis
