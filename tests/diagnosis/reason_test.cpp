// Weights of evidence against their definition: what an answer adds to the odds of an explanation, all other answers given.
#include "engine/diagnosis/reason.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/diagnosis/by_definition.h"
#include "tests/diagnosis/random_models.h"

namespace leadline::diagnosis {
namespace {

using testing::by_definition;
using testing::RandomModels;

const ExplainOptions every_set{1e-300, 1U << 12, 1U << 20, 1'000'000'000};

// Two faults that exclude each other in practice: priors 1 : 1, the lamp dark with 0.8 under the first and 0.2 under the second.
Model lamp() {
  Model model;
  model.findings = {{{1.0, 1.0}}};
  model.causes = {{1e-6, {{0, {0.2, 1}, {{"k.xml", 3, 5}}}}}, {1e-6, {{0, {0.8, 1}, {{"k.xml", 9, 5}}}}}};
  return model;
}

TEST(Reasons, OfAHandExample) {
  const Evidence dark{{0, {0, 1}}};
  const auto found = diagnose(lamp(), dark, every_set);
  ASSERT_EQ(found.explanations.at(0).causes, std::vector<std::size_t>{0});
  const auto reasons = reasons_for(lamp(), dark, found, 0);
  ASSERT_EQ(reasons.size(), 1U);
  EXPECT_NEAR(reasons[0].weight_db, 10 * std::log10(0.8 / 0.2), 1e-4);  // 6.02 decibans
  EXPECT_EQ(reasons[0].state, 1U);
  EXPECT_EQ(reasons[0].because_of, (std::vector<text::Place>{{"k.xml", 3, 5}}));
  EXPECT_NEAR(reasons_for(lamp(), dark, found, 1).at(0).weight_db, -10 * std::log10(0.8 / 0.2), 1e-4);
}

long double odds_of_set(const Model& model, const Evidence& evidence, const std::vector<std::size_t>& set) {
  const auto all = by_definition(model, evidence);
  const auto same = std::find_if(all.sets.begin(), all.sets.end(), [&](const auto& s) { return s.first == set; });
  return same->second / (1 - same->second);
}

TEST(Reasons, AreWhatTheAnswerAddsToTheOdds) {
  RandomModels random(41);
  int compared = 0;
  for (int round = 0; round < 120; ++round) {
    const auto model = random.model(5, 4);
    const auto evidence = random.evidence(model);
    if (evidence.empty() || !(by_definition(model, evidence).evidence > 0)) continue;
    const auto found = diagnose(model, evidence, every_set);
    if (found.explanations.size() < 2) continue;
    for (const auto& reason : reasons_for(model, evidence, found, 0)) {
      Evidence without;
      for (const auto& o : evidence) if (o.finding != reason.finding) without.push_back(o);
      const auto& set = found.explanations[0].causes;
      const auto wanted = 10 * std::log10(odds_of_set(model, evidence, set) / odds_of_set(model, without, set));
      // Sets that this one answer rules out altogether are not listed, so the weight can only be smaller than by definition.
      const auto whole = by_definition(model, evidence);
      const bool all_listed = std::all_of(whole.sets.begin(), whole.sets.end(), [](const auto& s) { return s.second > 0; });
      EXPECT_LE(reason.weight_db, static_cast<double>(wanted) + 1e-7);
      if (!all_listed) continue;
      EXPECT_NEAR(reason.weight_db, static_cast<double>(wanted), 1e-7);
      ++compared;
    }
  }
  EXPECT_GT(compared, 60);
}

TEST(Reasons, AddedWeightIsWhatTheAnswerAddsToTheOdds) {
  RandomModels random(43);
  int compared = 0;
  for (int round = 0; round < 60; ++round) {
    const auto model = random.model(5, 4);
    const auto evidence = random.evidence(model);
    if (evidence.empty() || !(by_definition(model, evidence).evidence > 0)) continue;
    const auto found = diagnose(model, evidence, every_set);
    if (found.explanations.empty() || found.explanations[0].probability > 1 - 1e-9) continue;
    for (const auto& observation : evidence) {
      Evidence without;
      for (const auto& o : evidence) if (o.finding != observation.finding) without.push_back(o);
      const auto& set = found.explanations[0].causes;
      const auto wanted = std::clamp(10 * std::log10(static_cast<double>(odds_of_set(model, evidence, set) / odds_of_set(model, without, set))), -60.0, 60.0);
      EXPECT_NEAR(added_weight_db(found, diagnose(model, without, every_set), set), wanted, 1e-6);
      ++compared;
    }
  }
  EXPECT_GT(compared, 60);
}

TEST(Reasons, ComeStrongestForFirst) {
  RandomModels random(42);
  for (int round = 0; round < 50; ++round) {
    const auto model = random.model(6, 6);
    const auto evidence = random.evidence(model);
    const auto found = diagnose(model, evidence, every_set);
    if (found.explanations.empty()) continue;
    const auto reasons = reasons_for(model, evidence, found, 0);
    EXPECT_TRUE(std::is_sorted(reasons.begin(), reasons.end(), [](const Reason& a, const Reason& b) { return a.weight_db > b.weight_db; }));
    for (const auto& reason : reasons) EXPECT_FALSE(std::isnan(reason.weight_db));
  }
}

TEST(Reasons, AreUtmostWithoutRivals) {
  Model model;
  model.findings = {{{0.9, 1.0}}};
  model.causes = {{0.1, {{0, {0.2, 1}, {}}}}};
  const Evidence dark{{0, {0, 1}}};
  const auto reasons = reasons_for(model, dark, diagnose(model, dark), 0);
  ASSERT_EQ(reasons.size(), 1U);
  EXPECT_DOUBLE_EQ(reasons[0].weight_db, 60);
}

}  // namespace
}  // namespace leadline::diagnosis
