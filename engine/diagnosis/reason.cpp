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

std::vector<text::Place> rules_behind(const Model& model, std::size_t finding, const Explanation& explanation) {
  std::vector<text::Place> places;
  for (const auto cause : explanation.causes) {
    for (const auto& push : model.causes[cause].pushes) {
      if (push.finding == finding) places.insert(places.end(), push.because_of.begin(), push.because_of.end());
    }
  }
  return places;
}

// How likely one answer is under each listed explanation. A reading judged by its circuit: given the other readings there.
std::vector<double> likelihoods_of(const Model& model, const Observation& observation, const Diagnosis& diagnosis, const TiedReadings& tied) {
  std::vector<double> likelihoods;
  const bool by_circuit = std::any_of(diagnosis.tied.begin(), diagnosis.tied.end(), [&](const auto& o) { return o.finding == observation.finding; });
  const auto others = by_circuit ? tied.without(observation.finding) : tied;
  for (const auto& rival : diagnosis.explanations) {
    if (by_circuit) likelihoods.push_back(std::exp(std::clamp(tied.log_density(rival.causes) - others.log_density(rival.causes), -700.0, 700.0)));
    else likelihoods.push_back(likelihood_under(model, observation, rival.causes));
  }
  return likelihoods;
}

}  // namespace

std::vector<Reason> reasons_for(const Model& model, const Evidence& evidence, const Diagnosis& diagnosis, std::size_t explanation) {
  std::vector<Reason> reasons;
  const auto& explained = diagnosis.explanations.at(explanation);
  const TiedReadings tied(model, diagnosis.tied);
  for (const auto& observation : evidence) {
    const auto likelihoods = likelihoods_of(model, observation, diagnosis, tied);
    const double rivals = rival_likelihood(diagnosis, likelihoods, explanation);
    if (!(rivals > 0)) continue;
    const auto strongest = std::max_element(observation.likelihood.begin(), observation.likelihood.end());
    const double weight = 10 * std::log10(likelihoods[explanation] / rivals);
    reasons.push_back({observation.finding, static_cast<std::size_t>(strongest - observation.likelihood.begin()), weight, rules_behind(model, observation.finding, explained)});
  }
  std::stable_sort(reasons.begin(), reasons.end(), [](const Reason& a, const Reason& b) { return a.weight_db > b.weight_db; });
  return reasons;
}

}  // namespace leadline::diagnosis
