#include "engine/planning/predictions.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

namespace leadline::planning {

namespace {

// Explanations looked at: late in a job few are left that matter.
constexpr std::size_t most_rivals = 120, fewest_rivals = 8;

double bits(double p) { return p > 0 ? -p * std::log2(p) : 0; }

}  // namespace

Predictions::Predictions(const diagnosis::Diagnosis& diagnosis, std::size_t findings, Predictor predict, double share_looked_at)
    : diagnosis_(diagnosis), predict_(std::move(predict)), by_finding_(findings) {
  double all = 0, sum = 0;
  for (const auto& explanation : diagnosis.explanations) all += explanation.probability;
  for (const auto& explanation : diagnosis.explanations) {
    if (chance_.size() >= most_rivals || (chance_.size() >= fewest_rivals && sum >= share_looked_at * all)) break;
    chance_.push_back(explanation.probability);
    sum += explanation.probability;
  }
  for (auto& chance : chance_) chance = sum > 0 ? chance / sum : 0;
}

bool Predictions::swayed(std::size_t finding, std::size_t h) const {
  const auto& causes = diagnosis_.explanations[h].causes;
  return !predict_.sways || std::any_of(causes.begin(), causes.end(), [&](auto cause) { return predict_.sways(finding, cause); });
}

const Predictions::Shown& Predictions::shown(std::size_t finding) {
  auto& shown = by_finding_[finding];
  if (!shown.by_state.empty()) return shown;
  std::optional<std::vector<double>> unswayed;
  double unswayed_noise = 0;
  const auto noise_of = [](const std::vector<double>& states) {
    double noise = 0;
    for (const double chance : states) noise += bits(chance);
    return noise;
  };
  for (std::size_t h = 0; h < size(); ++h) {
    const bool sways = swayed(finding, h);
    std::vector<double> own;
    if (sways) own = predict_(finding, diagnosis_.explanations[h].causes);
    else if (!unswayed) unswayed = predict_(finding, {}), unswayed_noise = noise_of(*unswayed);
    const auto& states = sways ? own : *unswayed;
    if (h == 0) shown.by_state.assign(states.size(), std::vector<double>(size()));
    for (std::size_t s = 0; s < states.size(); ++s) shown.by_state[s][h] = states[s];
    shown.noise += chance_[h] * (sways ? noise_of(own) : unswayed_noise);
  }
  return shown;
}

std::vector<double> Predictions::expected(std::size_t finding) {
  std::vector<double> sum;
  for (const auto& under : distributions(finding)) sum.push_back(std::inner_product(under.begin(), under.end(), chance_.begin(), 0.0));
  return sum;
}

// I(explanation; outcomes) = H(outcomes) - H(outcomes | explanation); given the explanation the findings are independent, so the latter is the sum of
// what each keeps to itself.
double Predictions::information(const std::vector<std::size_t>& findings) {
  double noise = 0;
  for (const auto finding : findings) noise += shown(finding).noise;
  return std::max(0.0, bits_of_outcomes(findings, 0, chance_) - noise);
}

// `joint[h]` holds P(explanation h and the outcomes of the findings before `at`).
double Predictions::bits_of_outcomes(const std::vector<std::size_t>& findings, std::size_t at, const std::vector<double>& joint) {
  const bool last = at + 1 == findings.size();
  double sum = 0;
  std::vector<double> next(last ? 0 : joint.size());
  for (const auto& under : distributions(findings[at])) {
    if (last) {
      sum += bits(std::inner_product(under.begin(), under.end(), joint.begin(), 0.0));
      continue;
    }
    std::transform(under.begin(), under.end(), joint.begin(), next.begin(), std::multiplies<>());
    sum += bits_of_outcomes(findings, at + 1, next);
  }
  return sum;
}

}  // namespace leadline::planning
