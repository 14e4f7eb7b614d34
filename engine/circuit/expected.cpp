#include "engine/circuit/expected.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/installation/restated.h"

namespace leadline::circuit {

namespace {

constexpr double low_share = 0.05, high_share = 0.95;
constexpr double middle_share = 0.5 - 1e-7;   // of two ways that are equally likely, the lower: at 0.5 rounding would choose

// The reading that moves most when a fact has another value.
AssumptionWeight weight_of(const knowledge::KnowledgeBase& base, const Expectation& now, const Expectation& then) {
  AssumptionWeight strongest;
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    const auto here = now.tie_of(j), there = then.tie_of(j);
    if (!here || !there) continue;
    const auto healthy = expected(now, *here, {}), other = expected(then, *there, {});
    if (!std::isfinite(healthy.middle) || !std::isfinite(other.middle)) continue;
    const double range = std::max({healthy.high - healthy.low, other.high - other.low, 1e-9}) / 2;
    const double deviations = std::abs(other.middle - healthy.middle) / range;
    if (deviations > strongest.deviations) strongest = {"", "", "", j, healthy, other, deviations};
  }
  return strongest;
}

}  // namespace

Expected expected(const Expectation& expectation, const Tie& tie, const std::vector<std::size_t>& causes) {
  const auto& outlook = expectation.under(tie.circuit, causes);
  const bool ohms = expectation.bench(tie.circuit)->measures()[tie.measure].ohms;
  const auto& unread = expectation.unread(tie.circuit, causes);
  if (chance_untold(outlook, unread, tie.measure) > 0.5) return {std::nan(""), std::nan(""), std::nan("")};
  const auto at = [&](double share) { return reading_of(quantile(outlook, unread, tie.measure, share), ohms); };
  return {at(middle_share), at(low_share), at(high_share)};
}

bool tells_apart(const Expected& a, const Expected& b) {
  if (!a.told() || !b.told()) return a.told() != b.told();
  const auto within = [](double value, const Expected& range) { return value >= range.low && value <= range.high; };
  return !within(a.middle, b) && !within(b.middle, a);
}

std::vector<std::size_t> causes_shown_by(const knowledge::KnowledgeBase& base, const Expectation& expectation, const Tie& tie) {
  const auto healthy = expected(expectation, tie, {});
  std::vector<std::size_t> causes;
  for (std::size_t i = 0; i < base.causes.size(); ++i) {
    if (expectation.governs(i, tie.circuit) && tells_apart(healthy, expected(expectation, tie, {i}))) causes.push_back(i);
  }
  return causes;
}

std::vector<AssumptionWeight> assumptions_that_matter(const knowledge::KnowledgeBase& base, const installation::Installation& installation) {
  const Expectation now(base, installation::Evaluation(base, installation));
  std::vector<AssumptionWeight> weights;
  for (const auto& fact : base.facts) {
    AssumptionWeight strongest;
    for (const auto& value : installation::other_values(installation, fact)) {
      const auto other = installation::with_fact(base, installation, fact, value);
      if (!other) continue;
      const Expectation then(base, installation::Evaluation(base, *other));
      auto weight = weight_of(base, now, then);
      weight.path = fact.path();
      weight.assumed = *installation::assumed_for(installation, fact);
      weight.instead = value;
      if (weight.deviations > strongest.deviations) strongest = std::move(weight);
    }
    if (strongest.deviations > 1) weights.push_back(std::move(strongest));
  }
  std::stable_sort(weights.begin(), weights.end(), [](const auto& a, const auto& b) { return a.deviations > b.deviations; });
  return weights;
}

}  // namespace leadline::circuit
