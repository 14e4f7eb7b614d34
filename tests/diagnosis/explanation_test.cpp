// The engine against the definition, and the laws it must obey.
#include "engine/diagnosis/explanation.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "tests/diagnosis/by_definition.h"
#include "tests/diagnosis/random_models.h"

namespace leadline::diagnosis {
namespace {

using testing::by_definition;
using testing::RandomModels;

constexpr double tolerance = 1e-12;

void expect_relative(double computed, long double wanted, const std::string& what) {
  const double scale = std::max(std::abs(static_cast<double>(wanted)), 1e-300);
  EXPECT_LE(std::abs(computed - static_cast<double>(wanted)) / scale, tolerance) << what << ": " << computed << " against " << static_cast<double>(wanted);
}

TEST(Diagnose, AgreesWithTheDefinitionOnFiveHundredRandomModels) {
  RandomModels random(20261125);
  std::size_t compared = 0;
  for (int round = 0; round < 500; ++round) {
    const auto model = random.model(12, 12);
    const auto evidence = random.evidence(model);
    const auto wanted = by_definition(model, evidence);
    if (!(wanted.evidence > 0)) continue;
    const auto found = diagnose(model, evidence, {1e-7, 5000, 1U << 20, 1'000'000'000});
    ASSERT_TRUE(found.exact);
    for (std::size_t i = 0; i < model.causes.size(); ++i, ++compared) expect_relative(found.belief[i], wanted.belief[i], "belief");
    expect_relative(std::exp(found.log_evidence), wanted.evidence, "evidence");
  }
  EXPECT_GT(compared, 2500U);
}

TEST(Diagnose, ListsEveryExplanationAboveTheThreshold) {
  RandomModels random(7);
  for (int round = 0; round < 300; ++round) {
    const auto model = random.model(9, 8);
    const auto evidence = random.evidence(model);
    const auto wanted = by_definition(model, evidence);
    if (!(wanted.evidence > 0)) continue;
    constexpr double least = 1e-4;
    const auto found = diagnose(model, evidence, {least, 5000, 1U << 20, 1'000'000'000});
    std::size_t heavy = 0;
    for (const auto& [set, probability] : wanted.sets) {
      if (probability < least * 1.000001L) continue;
      ++heavy;
      const auto same = std::find_if(found.explanations.begin(), found.explanations.end(), [&](const auto& e) { return e.causes == set; });
      ASSERT_NE(same, found.explanations.end());
      expect_relative(same->probability, probability, "explanation");
    }
    double listed = 0;
    for (const auto& e : found.explanations) listed += e.probability;
    EXPECT_NEAR(found.unlisted_mass, 1 - listed, 1e-12);
    EXPECT_LE(found.explanations.size(), heavy + 1);
  }
}

TEST(Diagnose, BoundsHoldWhenTheTableIsTooSmall) {
  RandomModels random(99);
  int inexact = 0;
  for (int round = 0; round < 200; ++round) {
    const auto model = random.model(9, 8);
    const auto evidence = random.evidence(model);
    const auto wanted = by_definition(model, evidence);
    if (!(wanted.evidence > 0)) continue;
    const auto found = diagnose(model, evidence, {1e-4, 5000, 4, 1'000'000'000});
    if (found.exact) continue;
    ++inexact;
    for (std::size_t i = 0; i < model.causes.size(); ++i) {
      EXPECT_LE(std::abs(found.belief[i] - static_cast<double>(wanted.belief[i])), found.unlisted_mass + 1e-9);
    }
  }
  EXPECT_GT(inexact, 40);
}

TEST(Diagnose, ImpossibleEvidenceGivesNothingAndNeverNaN) {
  Model model;
  model.findings = {{{1.0, 1.0}}};  // no leak
  model.causes = {{0.1, {}}};       // and no push
  const auto found = diagnose(model, {{0, {0.0, 1.0}}});
  EXPECT_EQ(found.belief, std::vector<double>{0.0});
  EXPECT_TRUE(found.explanations.empty());
  EXPECT_TRUE(std::isinf(found.log_evidence));
}

TEST(Diagnose, KeepsItsDigitsWhenEveryCauseIsNearlyRuledOut) {
  Model model;
  for (int j = 0; j < 500; ++j) model.findings.push_back({{0.999, 1.0}});
  for (std::size_t i = 0; i < 3; ++i) {
    ModelCause cause{0.01 * static_cast<double>(i + 1), {}};
    for (std::size_t j = 0; j < 500; ++j) cause.pushes.push_back({j, {1e-6, 1.0}, {}});
    model.causes.push_back(cause);
  }
  Evidence evidence;
  for (std::size_t j = 0; j < 500; ++j) evidence.push_back({j, {1.0, 0.0}});
  const auto found = diagnose(model, evidence);
  const double sum = 0.01 / 0.99 + 0.02 / 0.98 + 0.03 / 0.97;  // sets of one are all that is left
  EXPECT_NEAR(found.belief[0], 0.01 / 0.99 / sum, 1e-12);
  EXPECT_NEAR(found.belief[2], 0.03 / 0.97 / sum, 1e-12);
}

TEST(Diagnose, RefusesObservationsThatDoNotFit) {
  Model model;
  model.findings = {{{0.9, 1.0}}};
  model.causes = {{0.1, {}}};
  EXPECT_THROW((void)diagnose(model, {{0, {1.0, 0.0, 0.0}}}), std::invalid_argument);
  EXPECT_THROW((void)diagnose(model, {{3, {1.0, 0.0}}}), std::invalid_argument);
  EXPECT_THROW((void)diagnose(model, {{0, {0.0, 0.0}}}), std::invalid_argument);
}

TEST(Laws, AnUnknownAnswerChangesNothing) {
  RandomModels random(3);
  for (int round = 0; round < 200; ++round) {
    const auto model = random.model(8, 6);
    const auto plain = diagnose(model, {});
    const auto flat = diagnose(model, {{0, std::vector<double>(model.findings[0].leak_at_most.size(), 0.37)}});
    EXPECT_EQ(plain.belief, flat.belief);
  }
}

TEST(Laws, ScalingALikelihoodChangesNoBelief) {
  RandomModels random(4);
  for (int round = 0; round < 200; ++round) {
    const auto model = random.model(8, 6);
    auto evidence = random.evidence(model);
    const auto before = diagnose(model, evidence);
    for (auto& o : evidence) for (auto& l : o.likelihood) l *= 0.25;
    const auto after = diagnose(model, evidence);
    for (std::size_t i = 0; i < model.causes.size(); ++i) EXPECT_NEAR(before.belief[i], after.belief[i], tolerance);
  }
}

TEST(Laws, OnlyNormalFindingsLeaveCausesIndependent) {
  RandomModels random(5);
  for (int round = 0; round < 200; ++round) {
    auto model = random.model(8, 6);
    model.something_is_wrong = false;
    Evidence evidence;
    for (std::size_t j = 0; j < model.findings.size(); ++j) {
      evidence.push_back({j, std::vector<double>(model.findings[j].leak_at_most.size(), 0.0)});
      evidence.back().likelihood[0] = 1;
    }
    const auto found = diagnose(model, evidence);
    for (std::size_t i = 0; i < model.causes.size(); ++i) {
      double with = model.causes[i].prior;
      for (const auto& push : model.causes[i].pushes) with *= push.at_most[0];
      expect_relative(found.belief[i], with / (with + 1 - model.causes[i].prior), "independent cause");
    }
  }
}

TEST(Laws, ExpectedBeliefAfterAnyQuestionIsTheBeliefBefore) {
  RandomModels random(6);
  for (int round = 0; round < 100; ++round) {
    const auto model = random.model(8, 6);
    const auto before = diagnose(model, {});
    const auto states = model.findings[0].leak_at_most.size();
    std::vector<double> mean(model.causes.size(), 0.0);
    for (std::size_t s = 0; s < states; ++s) {
      Observation seen{0, std::vector<double>(states, 0.0)};
      seen.likelihood[s] = 1;
      const auto after = diagnose(model, {seen});
      for (std::size_t i = 0; i < mean.size(); ++i) mean[i] += std::exp(after.log_evidence) * after.belief[i];
    }
    for (std::size_t i = 0; i < mean.size(); ++i) EXPECT_NEAR(mean[i], before.belief[i], tolerance);
  }
}

TEST(Laws, RenamingCausesRenamesBeliefs) {
  RandomModels random(8);
  for (int round = 0; round < 100; ++round) {
    const auto model = random.model(8, 6);
    const auto evidence = random.evidence(model);
    auto turned = model;
    std::reverse(turned.causes.begin(), turned.causes.end());
    auto one = diagnose(model, evidence).belief, other = diagnose(turned, evidence).belief;
    std::reverse(other.begin(), other.end());
    for (std::size_t i = 0; i < one.size(); ++i) EXPECT_NEAR(one[i], other[i], tolerance);
  }
}

}  // namespace
}  // namespace leadline::diagnosis
