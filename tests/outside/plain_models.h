#pragma once
// Models written the way the literature writes them, turned into the engine's numbers. For tests/outside only.
#include <algorithm>
#include <cmath>
#include <vector>

#include "engine/diagnosis/explanation.h"

namespace leadline::testing {

using Row = std::vector<double>;
using Set = std::vector<std::size_t>;

// P(state) -> P(state or weaker); the last entry is 1 by definition, whatever rounding did to the sum.
inline Row cumulated(Row chances) {
  for (std::size_t s = 1; s < chances.size(); ++s) chances[s] += chances[s - 1];
  chances.back() = 1;
  return chances;
}

// A finding of two states, with its leak; a net link of a cause to such a finding.
inline diagnosis::ModelFinding two_states(double leak) {
  return {{1 - leak, 1.0}};
}
inline diagnosis::Push net_link(std::size_t finding, double chance) {
  return {finding, {1 - chance, 1.0}, {}};
}

// Published examples know nothing of "something is wrong": nothing is conditioned on.
inline diagnosis::Model published(std::vector<diagnosis::ModelCause> causes,
                                  std::vector<diagnosis::ModelFinding> findings) {
  return {std::move(causes), std::move(findings), false};
}

inline diagnosis::Observation abnormal(std::size_t finding) {
  return {finding, {0, 1}};
}
inline diagnosis::Observation normal(std::size_t finding) {
  return {finding, {1, 0}};
}

// Every set, however improbable, so that sums over sets can be compared.
inline diagnosis::ExplainOptions every_set() {
  return {1e-300, 1U << 12, 1U << 20, 10'000'000};
}

inline double evidence_of(const diagnosis::Model& model, const diagnosis::Evidence& evidence) {
  return std::exp(diagnosis::beliefs(model, evidence).log_evidence);
}

// The probability of exactly this set; -1 (no probability) when it is not listed.
inline double of_set(const diagnosis::Diagnosis& diagnosis, const Set& set) {
  const auto found = std::find_if(diagnosis.explanations.begin(), diagnosis.explanations.end(),
                                  [&](const auto& e) { return e.causes == set; });
  return found == diagnosis.explanations.end() ? -1 : found->probability;
}

}  // namespace leadline::testing
