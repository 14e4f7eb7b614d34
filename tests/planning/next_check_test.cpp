// The planner against a slow twin that goes through every outcome by definition, and the bounds it must keep.
#include "engine/planning/next_check.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/diagnosis/random_models.h"

namespace leadline::planning {
namespace {

using knowledge::Who;

// A base without facts around a random model: check c observes the findings of its row.
struct Scene {
  knowledge::KnowledgeBase base;
  diagnosis::BoatModel boat;
  installation::Installation installation = installation::make_installation(base, {});
  installation::Evaluation evaluation{base, installation};
};

Scene scene_of(const diagnosis::Model& model, const std::vector<std::vector<std::size_t>>& observed) {
  Scene scene;
  scene.boat.model = model;
  for (std::size_t j = 0; j < model.findings.size(); ++j) {
    scene.base.findings.emplace_back();
    scene.base.findings.back().states.resize(model.findings[j].leak_at_most.size());
    scene.boat.finding_applies.push_back(true);
  }
  for (const auto& row : observed) {
    scene.base.checks.emplace_back();
    scene.base.checks.back().minutes = 5;
    for (const auto j : row) scene.base.checks.back().observes.push_back({j});
  }
  for (std::size_t i = 0; i < model.causes.size(); ++i) scene.boat.cause_refs.emplace_back(knowledge::Ref<knowledge::Cause>{i});
  return scene;
}

double entropy(const std::vector<double>& weights) {
  double sum = 0, bits = 0;
  for (const double w : weights) sum += w;
  for (const double w : weights) bits -= w > 0 ? w / sum * std::log2(w / sum) : 0;
  return bits;
}

// H(explanation) - sum over outcomes P(outcome) H(explanation | outcome), for one finding.
double information_by_definition(const diagnosis::Model& model, const diagnosis::Diagnosis& found, std::size_t finding) {
  std::vector<double> before;
  double total = 0;
  for (const auto& e : found.explanations) total += e.probability;
  for (const auto& e : found.explanations) before.push_back(e.probability / total);
  double bits = entropy(before);
  for (std::size_t s = 0; s < model.findings[finding].leak_at_most.size(); ++s) {
    std::vector<double> after;
    double chance = 0;
    for (std::size_t h = 0; h < before.size(); ++h) {
      after.push_back(before[h] * diagnosis::distribution_under(model, finding, found.explanations[h].causes)[s]);
      chance += after.back();
    }
    if (chance > 0) bits -= chance * entropy(after);
  }
  return bits;
}

Circumstances technician() { return {Who::technician, {}, {}}; }

TEST(Proposals, InformationAgreesWithTheDefinition) {
  testing::RandomModels random(11);
  std::size_t compared = 0;
  for (int round = 0; round < 100; ++round) {
    const auto model = random.model(6, 5);
    std::vector<std::vector<std::size_t>> single;
    for (std::size_t j = 0; j < model.findings.size(); ++j) single.push_back({j});
    const auto scene = scene_of(model, single);
    const auto found = diagnosis::diagnose(model, {});
    for (const auto& p : proposals(scene.base, scene.boat, scene.evaluation, found, technician())) {
      EXPECT_NEAR(p.bits, information_by_definition(model, found, p.tells_most.index), 1e-9);
      EXPECT_NEAR(p.bits_per_minute, p.bits / 5, 1e-12);
      ++compared;
    }
  }
  EXPECT_GT(compared, 100U);
}

TEST(Proposals, TwoFindingsTellAtLeastAsMuchAsEither) {
  testing::RandomModels random(12);
  for (int round = 0; round < 60; ++round) {
    const auto model = random.model(6, 5);
    if (model.findings.size() < 2) continue;
    const auto scene = scene_of(model, {{0}, {1}, {0, 1}});
    const auto found = diagnosis::diagnose(model, {});
    double alone = 0, both = 0;
    for (const auto& p : proposals(scene.base, scene.boat, scene.evaluation, found, technician())) {
      (p.check.index == 2 ? both : alone) = std::max(p.check.index == 2 ? both : alone, p.bits);
    }
    EXPECT_GE(both + 1e-4, alone);
  }
}

// inference.md section 5: after f1 abnormal the next question is f3 (0.1945 bits) before f2 (0.1637 bits). COMPUTED x2 there.
TEST(Proposals, PublishedThreeByThreeAsksTheThirdFindingFirst) {
  diagnosis::Model model;
  model.findings = {{{0.99, 1}}, {{0.95, 1}}, {{0.98, 1}}};
  model.causes = {{0.01, {{0, {0.2, 1}, {}}, {1, {0.7, 1}, {}}}},
                  {0.02, {{0, {0.9, 1}, {}}, {1, {0.4, 1}, {}}, {2, {0.6, 1}, {}}}},
                  {0.05, {{1, {0.8, 1}, {}}, {2, {0.3, 1}, {}}}}};
  model.something_is_wrong = false;
  const auto scene = scene_of(model, {{1}, {2}});
  const auto found = diagnosis::diagnose(model, {{0, {0, 1}}}, {1e-9, 100, 1U << 12, 1'000'000});
  const auto asked = proposals(scene.base, scene.boat, scene.evaluation, found, technician());
  ASSERT_EQ(asked.size(), 2U);
  EXPECT_EQ(asked[0].tells_most.index, 2U);
  EXPECT_NEAR(asked[0].bits, 0.194514848805, 1e-9);
  EXPECT_NEAR(asked[1].bits, 0.163714094183, 1e-9);
}

TEST(Proposals, NeverGoBeyondTheRole) {
  testing::RandomModels random(13);
  const auto model = random.model(8, 6);
  auto scene = scene_of(model, {{0}, {0}, {0}});
  scene.base.checks[0].who = Who::owner;
  scene.base.checks[1].who = Who::technician;
  scene.base.checks[2].who = Who::specialist;
  const auto found = diagnosis::diagnose(model, {});
  for (const auto who : {Who::owner, Who::technician, Who::specialist}) {
    for (const auto& p : proposals(scene.base, scene.boat, scene.evaluation, found, {who, {}, {}})) EXPECT_LE(scene.base[p.check].who, who);
    for (const auto& p : beyond_role(scene.base, scene.boat, scene.evaluation, found, {who, {}, {}})) EXPECT_GT(scene.base[p.check].who, who);
  }
}

TEST(Proposals, WhatIsPutOffComesLastAndWhatIsAnsweredNotAtAll) {
  testing::RandomModels random(21);
  diagnosis::Model model;
  do model = random.model(8, 6);
  while (model.findings.size() < 4 || model.causes.size() < 4);
  const auto scene = scene_of(model, {{0}, {1}, {2}, {3}});
  const auto found = diagnosis::diagnose(model, {});
  const auto all = proposals(scene.base, scene.boat, scene.evaluation, found, technician());
  ASSERT_GE(all.size(), 2U);
  Circumstances now = technician();
  now.put_off.assign(4, false);
  now.put_off[all.front().check.index] = true;
  const auto later = proposals(scene.base, scene.boat, scene.evaluation, found, now);
  EXPECT_EQ(later.back().check, all.front().check);
  now.answered.assign(model.findings.size(), false);
  now.answered[all.front().tells_most.index] = true;
  EXPECT_EQ(proposals(scene.base, scene.boat, scene.evaluation, found, now).size(), all.size() - 1);
}

TEST(Proposals, OutcomesAddUpToOne) {
  testing::RandomModels random(14);
  for (int round = 0; round < 50; ++round) {
    const auto model = random.model(6, 5);
    const auto scene = scene_of(model, {{0}});
    const auto found = diagnosis::diagnose(model, {});
    for (const auto& p : proposals(scene.base, scene.boat, scene.evaluation, found, technician())) {
      double sum = 0;
      for (const auto& outcome : p.outcomes) sum += outcome.chance;
      EXPECT_NEAR(sum, 1, 1e-9);
    }
  }
}

TEST(Proposals, NothingIsAskedWhenOneExplanationIsLeft) {
  diagnosis::Model model;
  model.findings = {{{0.9, 1}}};
  model.causes = {{0.1, {{0, {0.5, 1}, {}}}}};
  const auto scene = scene_of(model, {{0}});
  EXPECT_TRUE(proposals(scene.base, scene.boat, scene.evaluation, diagnosis::diagnose(model, {}), technician()).empty());
}

}  // namespace
}  // namespace leadline::planning
