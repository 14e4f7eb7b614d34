// Trap 1 of shared reference inference.md § 23 (COMPUTED there): the alternating sum of Quickscore loses its digits
// from about eight abnormal findings on. The engine adds positive terms only. Judged by Quickscore itself in 113-bit
// floating point, which has digits to lose.
#include <gtest/gtest.h>

#include <cstdio>
#include <numeric>

#include "tests/diagnosis/random_models.h"
#include "tests/outside/plain_models.h"

namespace leadline {
namespace {

using diagnosis::Evidence;
using diagnosis::Model;

__extension__ typedef __float128 Quad;

// 100 causes, 200 findings, five parents each, as in the sheet.
Model random_network(testing::RandomModels& random) {
  Model model = testing::published(std::vector<diagnosis::ModelCause>(100), {});
  for (auto& cause : model.causes) cause.prior = 0.005 + 0.045 * random.uniform();
  for (std::size_t j = 0; j < 200; ++j) {
    model.findings.push_back(testing::two_states(0.001 + 0.02 * random.uniform()));
    testing::Set parents;
    while (parents.size() < 5) {
      const auto parent = random.below(100);
      if (std::find(parents.begin(), parents.end(), parent) == parents.end()) parents.push_back(parent);
    }
    for (const auto parent : parents)
      model.causes[parent].pushes.push_back(testing::net_link(j, 0.2 + 0.75 * random.uniform()));
  }
  return model;
}

Evidence random_evidence(testing::RandomModels& random, std::size_t seen, std::size_t seen_abnormal) {
  std::vector<std::size_t> findings(200);
  std::iota(findings.begin(), findings.end(), 0U);
  for (std::size_t k = 0; k < seen; ++k) std::swap(findings[k], findings[k + random.below(200 - k)]);
  Evidence evidence;
  for (std::size_t k = 0; k < seen; ++k)
    evidence.push_back(k < seen_abnormal ? testing::abnormal(findings[k]) : testing::normal(findings[k]));
  std::sort(evidence.begin(), evidence.end(), [](const auto& a, const auto& b) { return a.finding < b.finding; });
  return evidence;
}

// One term of the sum: the product over causes of 1 - p + p prod of inhibitors, and each cause's share of its factor.
template <class Number>
Number term_of(const Model& model, const std::vector<bool>& inside, std::vector<Number>& share) {
  Number term = 1;
  for (std::size_t j = 0; j < inside.size(); ++j) {
    if (inside[j]) term *= static_cast<Number>(model.findings[j].leak_at_most[0]);
  }
  for (std::size_t i = 0; i < model.causes.size(); ++i) {
    Number present = static_cast<Number>(model.causes[i].prior);
    for (const auto& push : model.causes[i].pushes) {
      if (inside[push.finding]) present *= static_cast<Number>(push.at_most[0]);
    }
    const Number factor = 1 - static_cast<Number>(model.causes[i].prior) + present;
    term *= factor;
    share[i] = present / factor;
  }
  return term;
}

// Heckerman 1989: sum over subsets S of the abnormal findings of (-1)^|S| times the term of S and all normal findings.
template <class Number>
std::vector<Number> quickscore(const Model& model, const Evidence& evidence) {
  std::vector<std::size_t> abnormal_ones;
  std::vector<bool> normal_ones(model.findings.size(), false);
  for (const auto& observation : evidence) {
    if (observation.likelihood[1] > 0)
      abnormal_ones.push_back(observation.finding);
    else
      normal_ones[observation.finding] = true;
  }
  Number total = 0;
  std::vector<Number> with(model.causes.size(), 0), share(model.causes.size(), 0);
  for (std::size_t subset = 0; subset < (std::size_t{1} << abnormal_ones.size()); ++subset) {
    auto inside = normal_ones;
    bool negative = false;
    for (std::size_t k = 0; k < abnormal_ones.size(); ++k) {
      if (((subset >> k) & 1U) != 0) inside[abnormal_ones[k]] = true, negative = !negative;
    }
    const Number term = negative ? -term_of(model, inside, share) : term_of(model, inside, share);
    total += term;
    for (std::size_t i = 0; i < with.size(); ++i) with[i] += term * share[i];
  }
  for (auto& value : with) value /= total;
  return with;
}

template <class A, class B>
double worst_difference(const A& a, const B& b) {
  double worst = 0;
  for (std::size_t i = 0; i < a.size(); ++i)
    worst = std::max(worst, std::fabs(static_cast<double>(static_cast<Quad>(a[i]) - static_cast<Quad>(b[i]))));
  return worst;
}

class Cancellation : public ::testing::TestWithParam<std::pair<std::size_t, std::size_t>> {};

TEST_P(Cancellation, TakesNoDigitsFromTheEngine) {
  const auto [seen, seen_abnormal] = GetParam();
  testing::RandomModels random(static_cast<unsigned>(100 * seen + seen_abnormal));
  const auto model = random_network(random);
  const auto evidence = random_evidence(random, seen, seen_abnormal);
  const auto truth = quickscore<Quad>(model, evidence);
  const auto ours = diagnosis::beliefs(model, evidence);
  EXPECT_TRUE(ours.exact);
  const double error = worst_difference(ours.belief, truth);
  const double plain = worst_difference(quickscore<double>(model, evidence), truth),
               longer = worst_difference(quickscore<long double>(model, evidence), truth);
  std::printf(
      "%zu seen, %zu abnormal: worst error of a belief: engine %.1e, Quickscore in double %.1e, in long double %.1e\n",
      seen, seen_abnormal, error, plain, longer);
  EXPECT_LT(error, 1e-13);
  // The trap is there, else this test proves nothing: the doubled sum has lost far more digits than the engine's error.
  EXPECT_GT(plain, 1e3 * error);
  if (seen_abnormal >= 8) {
    EXPECT_GT(longer, 1e3 * error);
  }
}

INSTANTIATE_TEST_SUITE_P(SeenAndAbnormal, Cancellation,
                         ::testing::Values(std::pair{10, 4}, std::pair{10, 8}, std::pair{20, 8}, std::pair{20, 10},
                                           std::pair{30, 12}),
                         [](const auto& row) {
                           return std::to_string(row.param.first) + "Seen" + std::to_string(row.param.second) +
                                  "Abnormal";
                         });

}  // namespace
}  // namespace leadline
