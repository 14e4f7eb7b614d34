#pragma once
// Why an explanation stands where it stands, as data; the terminal, the sheet and JSON render it.
// Tested by tests/diagnosis/reason_test.cpp.
#include <vector>

#include "engine/diagnosis/explanation.h"

namespace leadline::diagnosis {

struct Reason {
  std::size_t finding = 0;
  std::size_t state = 0;              // the state the answer favours most
  // Weight of evidence of this answer for the explanation against its listed rivals, given all other answers:
  // 10 log10 [ P(answer | H) / P(answer | other answers, not H) ] decibans (Good 1950). Positive speaks for.
  double weight_db = 0;
  std::vector<text::Place> because_of;  // rules of the explanation's causes that speak about this finding
};

// One reason for each observation, strongest for first, strongest against last. Where nothing listed rivals the explanation: 60 decibans.
std::vector<Reason> reasons_for(const Model& model, const Evidence& evidence, const Diagnosis& diagnosis, std::size_t explanation);

// What an answer added to the odds of these causes, from the ranking with it and the one without: the same weight where the answer has left no rival to be
// listed. At most 60 decibans either way; causes that are not listed are taken to be as probable as the least that is.
double added_weight_db(const Diagnosis& with, const Diagnosis& without, const std::vector<std::size_t>& causes);

// Each answer for one set of causes against another, whether or not they are on the list: 10 log10 [ P(answer | causes) / P(answer | rival) ], at most
// 60 either way; strongest against first. `because_of` holds the rules of `causes`.
std::vector<Reason> reasons_between(const Model& model, const Evidence& evidence, const Diagnosis& diagnosis, const std::vector<std::size_t>& causes,
                                    const std::vector<std::size_t>& rival);

}  // namespace leadline::diagnosis
