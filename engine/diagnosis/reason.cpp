#include "engine/diagnosis/reason.h"

#include <algorithm>
#include <cmath>

#include "engine/diagnosis/tied.h"

namespace leadline::diagnosis {

namespace {

// Mean likelihood of one answer under the rivals, each weighed by its probability given all other answers:
// sum over H' of (p' / L') * L' / sum of (p' / L'). An answer no rival allows does not occur: listed sets have positive weight.
double rival_likelihood(const Diagnosis& diagnosis, const std::vector<double>& likelihoods, std::size_t explanation) {
  double weighed = 0, weights = 0;
  for (std::size_t h = 0; h < likelihoods.size(); ++h) {
    if (h == explanation || !(likelihoods[h] > 0)) continue;
    const double without = diagnosis.explanations[h].probability / likelihoods[h];
    weights += without;
    weighed += diagnosis.explanations[h].probability;
  }
  return weights > 0 ? weighed / weights : 0;
}

std::vector<text::Place> rules_behind(const Model& model, std::size_t finding, const std::vector<std::size_t>& causes) {
  std::vector<text::Place> places;
  for (const auto cause : causes) {
    for (const auto& push : model.causes[cause].pushes) {
      if (push.finding == finding) places.insert(places.end(), push.because_of.begin(), push.because_of.end());
    }
  }
  return places;
}

constexpr double utmost = 60;   // decibans: beyond it nobody counts

using CauseSets = std::vector<std::vector<std::size_t>>;

// How likely one answer is under each of these. A reading judged by its circuit: given the other readings there.
std::vector<double> likelihoods_of(const Model& model, const Observation& observation, const Diagnosis& diagnosis, const TiedReadings& tied, const CauseSets& sets) {
  std::vector<double> likelihoods;
  const bool by_circuit = std::any_of(diagnosis.tied.begin(), diagnosis.tied.end(), [&](const auto& o) { return o.finding == observation.finding; });
  const auto others = by_circuit ? tied.without(observation.finding) : tied;
  for (const auto& causes : sets) {
    if (by_circuit) likelihoods.push_back(std::exp(std::clamp(tied.log_density(causes) - others.log_density(causes), -700.0, 700.0)));
    else likelihoods.push_back(likelihood_under(model, observation, causes));
  }
  return likelihoods;
}

std::size_t state_of(const Observation& observation) {
  return static_cast<std::size_t>(std::max_element(observation.likelihood.begin(), observation.likelihood.end()) - observation.likelihood.begin());
}

}  // namespace

std::vector<Reason> reasons_for(const Model& model, const Evidence& evidence, const Diagnosis& diagnosis, std::size_t explanation) {
  std::vector<Reason> reasons;
  const auto& explained = diagnosis.explanations.at(explanation);
  const TiedReadings tied(model, diagnosis.tied);
  CauseSets listed;
  for (const auto& e : diagnosis.explanations) listed.push_back(e.causes);
  for (const auto& observation : evidence) {
    const auto likelihoods = likelihoods_of(model, observation, diagnosis, tied, listed);
    const double rivals = rival_likelihood(diagnosis, likelihoods, explanation);
    const double weight = rivals > 0 ? 10 * std::log10(likelihoods[explanation] / rivals) : utmost;
    reasons.push_back({observation.finding, state_of(observation), weight, rules_behind(model, observation.finding, explained.causes)});
  }
  std::stable_sort(reasons.begin(), reasons.end(), [](const Reason& a, const Reason& b) { return a.weight_db > b.weight_db; });
  return reasons;
}

double added_weight_db(const Diagnosis& with, const Diagnosis& without, const std::vector<std::size_t>& causes) {
  const auto log_odds = [&](const Diagnosis& diagnosis) {
    double probability = 1;
    for (const auto& e : diagnosis.explanations) probability = std::min(probability, e.probability);
    for (const auto& e : diagnosis.explanations) {
      if (e.causes == causes) probability = e.probability;
    }
    return std::log10(probability) - std::log10(std::max(1 - probability, 1e-12));
  };
  return std::clamp(10 * (log_odds(with) - log_odds(without)), -utmost, utmost);
}

std::vector<Reason> reasons_between(const Model& model, const Evidence& evidence, const Diagnosis& diagnosis, const std::vector<std::size_t>& causes,
                                    const std::vector<std::size_t>& rival) {
  std::vector<Reason> reasons;
  const TiedReadings tied(model, diagnosis.tied);
  for (const auto& observation : evidence) {
    const auto likelihoods = likelihoods_of(model, observation, diagnosis, tied, {causes, rival});
    if (!(likelihoods[0] > 0) && !(likelihoods[1] > 0)) continue;
    const double weight = std::clamp(10 * (std::log10(likelihoods[0]) - std::log10(likelihoods[1])), -utmost, utmost);
    reasons.push_back({observation.finding, state_of(observation), weight, rules_behind(model, observation.finding, causes)});
  }
  std::stable_sort(reasons.begin(), reasons.end(), [](const Reason& a, const Reason& b) { return a.weight_db < b.weight_db; });
  return reasons;
}

}  // namespace leadline::diagnosis
