#include "engine/planning/predictions.h"

#include <algorithm>
#include <cmath>

namespace leadline::planning {

namespace {

constexpr std::size_t most_rivals = 120;  // explanations looked at; the rest hold little and change no order

}  // namespace

Predictions::Predictions(const diagnosis::Diagnosis& diagnosis, std::size_t findings, Predictor predict)
    : diagnosis_(diagnosis), predict_(std::move(predict)), by_finding_(findings) {
  const auto count = std::min(most_rivals, diagnosis.explanations.size());
  double sum = 0;
  for (std::size_t h = 0; h < count; ++h) sum += diagnosis.explanations[h].probability;
  for (std::size_t h = 0; h < count; ++h) chance_.push_back(sum > 0 ? diagnosis.explanations[h].probability / sum : 0);
}

const std::vector<std::vector<double>>& Predictions::distributions(std::size_t finding) {
  auto& rows = by_finding_[finding];
  if (rows.empty()) {
    for (std::size_t h = 0; h < size(); ++h) rows.push_back(predict_(finding, diagnosis_.explanations[h].causes));
  }
  return rows;
}

std::vector<double> Predictions::expected(std::size_t finding) {
  std::vector<double> sum;
  const auto& rows = distributions(finding);
  for (std::size_t h = 0; h < size(); ++h) {
    sum.resize(rows[h].size());
    for (std::size_t s = 0; s < rows[h].size(); ++s) sum[s] += chance_[h] * rows[h][s];
  }
  return sum;
}

double Predictions::information(const std::vector<std::size_t>& findings) { return information(findings, 0, chance_); }

// I(explanation; outcomes) = H(outcome) - sum over h of p_h H(outcome | h), over the joint outcomes of the findings, which are independent
// given the explanation. `joint[h]` holds p_h * P(outcome so far | h).
double Predictions::information(const std::vector<std::size_t>& findings, std::size_t at, const std::vector<double>& joint) {
  double total = 0;
  for (const double p : joint) total += p;
  if (at == findings.size()) {
    double bits = 0;
    for (std::size_t h = 0; h < joint.size(); ++h) {
      if (joint[h] > 0) bits += joint[h] * std::log2(joint[h] / (chance_[h] * total));
    }
    return bits;
  }
  const auto& rows = distributions(findings[at]);
  double bits = 0;
  for (std::size_t s = 0; s < rows.front().size(); ++s) {
    auto next = joint;
    for (std::size_t h = 0; h < next.size(); ++h) next[h] *= rows[h][s];
    bits += information(findings, at + 1, next);
  }
  return bits;
}

}  // namespace leadline::planning
