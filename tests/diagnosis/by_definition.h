#pragma once
// The slow, obvious twin of the engine: every set of causes, by definition, in long double. For small models only (2^causes sets).
#include <cstdint>
#include <vector>

#include "engine/diagnosis/explanation.h"

namespace leadline::testing {

struct ByDefinition {
  std::vector<long double> belief;
  std::vector<std::pair<std::vector<std::size_t>, long double>> sets;  // every set with its probability
  long double evidence = 0;                                            // P(evidence | something is wrong, if so conditioned)
};

inline long double likelihood_by_definition(const diagnosis::Model& model, const diagnosis::Observation& observation, const std::vector<std::size_t>& set) {
  const auto& leak = model.findings[observation.finding].leak_at_most;
  long double total = 0, weaker = 0;
  for (std::size_t s = 0; s < leak.size(); ++s) {
    long double at_most = leak[s];
    for (const auto cause : set) {
      for (const auto& push : model.causes[cause].pushes) {
        if (push.finding == observation.finding) at_most *= push.at_most[s];
      }
    }
    total += observation.likelihood[s] * (at_most - weaker);
    weaker = at_most;
  }
  return total;
}

inline ByDefinition by_definition(const diagnosis::Model& model, const diagnosis::Evidence& evidence) {
  ByDefinition result;
  const auto count = model.causes.size();
  result.belief.assign(count, 0);
  long double wrong = 0;
  for (std::uint32_t bits = model.something_is_wrong ? 1 : 0; bits < (std::uint32_t{1} << count); ++bits) {
    std::vector<std::size_t> set;
    long double weight = 1;
    for (std::size_t i = 0; i < count; ++i) {
      const bool present = ((bits >> i) & 1U) != 0;
      if (present) set.push_back(i);
      weight *= present ? static_cast<long double>(model.causes[i].prior) : 1 - static_cast<long double>(model.causes[i].prior);
    }
    wrong += weight;
    for (const auto& observation : evidence) weight *= likelihood_by_definition(model, observation, set);
    result.evidence += weight;
    for (const auto cause : set) result.belief[cause] += weight;
    result.sets.emplace_back(std::move(set), weight);
  }
  for (auto& belief : result.belief) belief /= result.evidence;
  for (auto& [set, weight] : result.sets) weight /= result.evidence;
  result.evidence /= wrong;
  return result;
}

}  // namespace leadline::testing
