#pragma once
// Sets of causes that account for the findings, most probable first. The method: docs/mathematics.md § explanations.
// Tested by tests/diagnosis/explanation_test.cpp, its slow twin in tests/diagnosis/by_definition.h.
#include <cstddef>
#include <vector>

#include "engine/diagnosis/evidence.h"

namespace leadline::diagnosis {

struct Explanation {
  std::vector<std::size_t> causes;  // of the model, ascending
  double probability = 0;
};

struct ExplainOptions {
  double least_probability = 1e-4;        // explanations below it are left out; their mass together is reported
  std::size_t most_explanations = 120;    // the list is cut here, the mass of the rest reported
  std::size_t most_table_states = 1U << 12;  // above it the exact table gives way to bounds, see Diagnosis::exact
  // Table states that the search for explanations may compute: keeps an answer within hundredths of a second whatever the evidence.
  // When it runs out the heaviest sets are there already, for the search goes best first, and the mass of the rest is still reported.
  std::size_t most_search_work = 10'000'000;
  // With readings tied to circuits: pairs of causes that both have a say in them are formed of so many that weigh most alone. A reading that a
  // cause cannot explain is put down to a slip, so each cause of a true pair explains its part alone and stands among the first. The heaviest
  // of all is paired with every other: another part may be told by what is seen, beside readings that it alone explains badly.
  std::size_t most_in_pairs = 8;
};
std::string why_invalid(const ExplainOptions& options);  // empty when all is well

struct Diagnosis {
  std::vector<double> belief;              // P(cause present | evidence), by cause of the model
  std::vector<Explanation> explanations;   // most probable first; ties: fewer causes, then lower indices
  double log_evidence = 0;                 // natural log of P(evidence | something is wrong), up to the scale of the likelihoods
  // Mass of all sets of causes not listed. Exact: the true mass. Otherwise an upper bound on it, relative to what is listed.
  double unlisted_mass = 0;
  bool exact = true;                       // beliefs are exact to rounding; else each is within unlisted_mass of the truth
  Evidence tied = {};                      // the observations that were judged by their circuits
};

// Total for every evidence: sets of any size are counted, nothing is sampled.
Diagnosis diagnose(const Model& model, const Evidence& evidence, const ExplainOptions& options = {});

// Only the beliefs and log_evidence: what an answer needs before the list is shown.
Diagnosis beliefs(const Model& model, const Evidence& evidence, const ExplainOptions& options = {});

// P(the observation | exactly the causes H present): sum over s of likelihood[s] * P(F = s | H).
double likelihood_under(const Model& model, const Observation& observation, const std::vector<std::size_t>& causes);
// P(F = s | H) for all s.
std::vector<double> distribution_under(const Model& model, std::size_t finding, const std::vector<std::size_t>& causes);

}  // namespace leadline::diagnosis
