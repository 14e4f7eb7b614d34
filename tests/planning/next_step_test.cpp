// What is proposed: its information against a slow twin that lists every joint outcome; roles, bounds, put off checks, remedies, plain words.
#include "engine/planning/next_step.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/diagnosis/random_models.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::planning {
namespace {

using knowledge::Who;

// A random model dressed as a knowledge base: findings of as many states, and checks that observe one to three of them.
struct Dressed {
  knowledge::KnowledgeBase base;
  diagnosis::BoatModel boat;
  diagnosis::Diagnosis diagnosis;
  Circumstances circumstances;

  installation::Evaluation evaluation() const { return {base, installation::make_installation(base, {})}; }
};

std::vector<Proposal> checks_of(const Advice& advice) {
  auto checks = advice.proposals;
  std::erase_if(checks, [](const auto& p) { return p.act != Act::check; });
  return checks;
}

std::vector<Proposal> proposed_checks(const Dressed& dressed) {
  const auto evaluation = dressed.evaluation();
  return checks_of(advise({dressed.base, dressed.boat, evaluation, dressed.diagnosis, {}, predictor_of(dressed.boat, dressed.diagnosis), dressed.circumstances}, {.most_work = 0, .share_looked_at = 1}));
}

void add_checks(testing::RandomModels& random, Dressed& job) {
  for (std::size_t c = 0; c < 5; ++c) {
    knowledge::Check check;
    check.id = "check-" + std::to_string(c);
    check.effort.minutes = static_cast<double>(random.below(20));
    check.who = static_cast<Who>(random.below(3));
    const auto count = 1 + random.below(2);
    for (std::size_t k = 0; k < count; ++k) {
      const knowledge::Ref<knowledge::Finding> finding{random.below(job.base.findings.size())};
      if (std::find(check.observes.begin(), check.observes.end(), finding) == check.observes.end()) check.observes.push_back(finding);
    }
    job.base.checks.push_back(check);
  }
}

Dressed random_job(testing::RandomModels& random) {
  Dressed job;
  job.boat.model = random.model(6, 5);
  for (const auto& finding : job.boat.model.findings) {
    job.base.findings.emplace_back();
    job.base.findings.back().states.resize(finding.leak_at_most.size());
    job.boat.finding_applies.push_back(random.below(8) != 0);
    job.circumstances.answered.push_back(random.below(6) == 0);
  }
  job.boat.cause_refs.resize(job.boat.model.causes.size());
  add_checks(random, job);
  job.circumstances.put_off.assign(job.base.checks.size(), false);
  job.diagnosis = diagnosis::diagnose(job.boat.model, {}, {1e-9, 120, 1U << 20, 1'000'000'000});
  return job;
}

long double entropy(const std::vector<long double>& chances) {
  long double bits = 0;
  for (const auto p : chances) bits -= p > 0 ? p * std::log2(p) : 0;
  return bits;
}

// By definition: the entropy over explanations before, less its expectation after, over every joint outcome of the open findings.
double expected_bits(const Dressed& job, const knowledge::Check& check) {
  std::vector<std::size_t> open;
  for (const auto f : check.observes) if (job.boat.finding_applies[f.index] && !job.circumstances.answered[f.index]) open.push_back(f.index);
  long double mass = 0;
  for (const auto& e : job.diagnosis.explanations) mass += e.probability;
  std::vector<long double> before;
  for (const auto& e : job.diagnosis.explanations) before.push_back(e.probability / mass);
  std::size_t outcomes = 1;
  for (const auto j : open) outcomes *= job.boat.model.findings[j].leak_at_most.size();
  long double after = 0;
  for (std::size_t code = 0; code < outcomes; ++code) {
    std::vector<long double> joint;
    for (std::size_t h = 0; h < before.size(); ++h) {
      long double p = before[h];
      auto rest = code;
      for (const auto j : open) {
        const auto states = job.boat.model.findings[j].leak_at_most.size();
        p *= diagnosis::distribution_under(job.boat.model, j, job.diagnosis.explanations[h].causes)[rest % states];
        rest /= states;
      }
      joint.push_back(p);
    }
    long double chance = 0;
    for (const auto p : joint) chance += p;
    if (chance > 0) for (auto& p : joint) p /= chance;
    after += chance * entropy(joint);
  }
  return static_cast<double>(entropy(before) - after);
}

TEST(Proposals, AgreeWithEveryJointOutcomeByDefinition) {
  testing::RandomModels random(31);
  int compared = 0;
  for (int round = 0; round < 120; ++round) {
    const auto job = random_job(random);
    for (const auto& proposal : proposed_checks(job)) {
      const auto& check = job.base[proposal.check];
      EXPECT_NEAR(proposal.bits, expected_bits(job, check), 1e-9);
      ++compared;
    }
  }
  EXPECT_GT(compared, 150);
}

TEST(Proposals, LeaveOutExactlyWhatTellsNothingIsAnsweredOrBeyondTheRole) {
  testing::RandomModels random(32);
  for (int round = 0; round < 120; ++round) {
    auto job = random_job(random);
    job.circumstances.who = static_cast<Who>(random.below(3));
    const auto found = proposed_checks(job);
    for (std::size_t c = 0; c < job.base.checks.size(); ++c) {
      const bool proposed = std::any_of(found.begin(), found.end(), [&](const auto& p) { return p.check.index == c; });
      const double bits = job.diagnosis.explanations.size() < 2 ? 0 : expected_bits(job, job.base.checks[c]);
      if (std::abs(bits - 1e-4) < 1e-9) continue;
      EXPECT_EQ(proposed, job.base.checks[c].who <= job.circumstances.who && bits > 1e-4);
    }
  }
}

TEST(Proposals, ComeWithFewestMinutesFirstAndPutOffLast) {
  testing::RandomModels random(33);
  for (int round = 0; round < 120; ++round) {
    auto job = random_job(random);
    for (std::size_t c = 0; c < job.base.checks.size(); ++c) job.circumstances.put_off[c] = random.below(3) == 0;
    const auto put_off = [&](const Proposal& p) { return static_cast<bool>(job.circumstances.put_off[p.check.index]); };
    const auto found = proposed_checks(job);
    for (std::size_t k = 1; k < found.size(); ++k) {
      EXPECT_LE(put_off(found[k - 1]), put_off(found[k]));
      if (put_off(found[k - 1]) != put_off(found[k])) continue;
      EXPECT_LE(found[k - 1].expected, found[k].expected + 1e-6);
    }
  }
}

TEST(Outcomes, AddUpToOneAndNameTheLeader) {
  testing::RandomModels random(35);
  for (int round = 0; round < 60; ++round) {
    const auto job = random_job(random);
    for (const auto& proposal : proposed_checks(job)) {
      double sum = 0;
      for (const auto& outcome : proposal.outcomes) {
        sum += outcome.chance;
        if (outcome.chance < 1e-6) continue;
        diagnosis::Observation seen{proposal.tells_most.index, std::vector<double>(proposal.outcomes.size(), 0.0)};
        seen.likelihood[outcome.state] = 1;
        const auto after = diagnosis::diagnose(job.boat.model, {seen}, {1e-9, 120, 1U << 20, 1'000'000'000});
        EXPECT_NEAR(outcome.leading_probability, after.explanations.at(0).probability, 1e-6);
      }
      EXPECT_NEAR(sum, 1, 1e-9);
    }
  }
}

// inference.md § 5 (COMPUTED twice there): after f1 abnormal the next question is f3 (0.1945 bits) before f2 (0.1637 bits).
TEST(Proposals, PublishedThreeByThreeAsksTheThirdFindingFirst) {
  Dressed job;
  job.boat.model.findings = {{{0.99, 1}}, {{0.95, 1}}, {{0.98, 1}}};
  job.boat.model.causes = {{0.01, {{0, {0.2, 1}, {}}, {1, {0.7, 1}, {}}}},
                           {0.02, {{0, {0.9, 1}, {}}, {1, {0.4, 1}, {}}, {2, {0.6, 1}, {}}}},
                           {0.05, {{1, {0.8, 1}, {}}, {2, {0.3, 1}, {}}}}};
  job.boat.model.something_is_wrong = false;
  job.boat.cause_refs.resize(3);
  job.boat.finding_applies.assign(3, true);
  job.base.findings.resize(3);
  job.base.checks.resize(2);
  job.base.checks[0].observes = {{1}};
  job.base.checks[1].observes = {{2}};
  const auto found = diagnosis::diagnose(job.boat.model, {{0, {0, 1}}}, {1e-9, 100, 1U << 12, 1'000'000});
  job.diagnosis = found;
  auto asked = proposed_checks(job);
  ASSERT_EQ(asked.size(), 2U);
  std::sort(asked.begin(), asked.end(), [](const auto& one, const auto& other) { return one.bits > other.bits; });
  EXPECT_EQ(asked[0].tells_most.index, 2U);
  EXPECT_NEAR(asked[0].bits, 0.194514848805, 1e-9);
  EXPECT_NEAR(asked[1].bits, 0.163714094183, 1e-9);
}

// The small base: what an owner may do, what applies, what mends.
class OnASmallBoat : public ::testing::Test {
 protected:
  Job job(const Circumstances& circumstances, const diagnosis::Evidence& now = {}) const {
    return {base_, boat_, evaluation_, diagnosis_, now, predictor_of(boat_, diagnosis_), circumstances};
  }
  std::vector<std::string> proposed(const Circumstances& circumstances) const {
    std::vector<std::string> ids;
    for (const auto& p : checks_of(advise(job(circumstances)))) ids.push_back(base_[p.check].id);
    return ids;
  }
  std::vector<std::string> acts(const Circumstances& circumstances) const {
    std::vector<std::string> words;
    for (const auto& p : advise(job(circumstances)).proposals) {
      words.push_back(p.act == Act::check ? "check " + base_[p.check].id : p.act == Act::remedy ? "remedy " + base_[p.remedy].id : "call in");
    }
    return words;
  }
  knowledge::KnowledgeBase base_ = testing::minimal_base();
  installation::Evaluation evaluation_{base_, installation::make_installation(base_, {})};
  diagnosis::BoatModel boat_ = diagnosis::build_model(base_, evaluation_);
  diagnosis::Diagnosis diagnosis_ = diagnosis::diagnose(boat_.model, {{0, {0, 0, 1}}});
};

TEST_F(OnASmallBoat, AnOwnerIsNeverOfferedATechniciansCheck) {
  EXPECT_EQ(proposed({.who = Who::owner}), std::vector<std::string>{"try-push"});
  EXPECT_EQ(proposed({.who = Who::owner, .answered = {true, false}}), std::vector<std::string>{});
  EXPECT_EQ(proposed({.who = Who::technician, .answered = {true, false}}), std::vector<std::string>{"measure-bank"});
}

TEST_F(OnASmallBoat, WhatAnOwnerMayNotMendIsCallingSomebodyIn) {
  const auto words = acts({.who = Who::owner, .answered = {true, true}});
  EXPECT_EQ(std::count(words.begin(), words.end(), "remedy charge-bank"), 1);
  for (const auto& remedy : base_.remedies) {
    if (remedy.who == Who::owner) continue;
    EXPECT_EQ(std::count(words.begin(), words.end(), "remedy " + remedy.id), 0) << remedy.id;
  }
  EXPECT_GE(std::count(words.begin(), words.end(), "call in"), 1);
}

TEST_F(OnASmallBoat, WhatWasPutOffComesLast) {
  EXPECT_EQ(acts({.put_off = {true, false}}).back(), "check try-push");
  EXPECT_EQ(proposed({.put_off = {true, false}, .left_out = {true, false}}), std::vector<std::string>{"measure-bank"});
}

TEST_F(OnASmallBoat, ARemedyThatWasDoneIsNotProposedAgain) {
  const auto words = acts({.done = {true, false}});
  EXPECT_EQ(std::count(words.begin(), words.end(), "remedy " + base_.remedies[0].id), 0);
  EXPECT_EQ(std::count(words.begin(), words.end(), "remedy " + base_.remedies[1].id), 1);
}

TEST_F(OnASmallBoat, NothingOutsideTheBoundsIsProposed) {
  base_.checks[1].effort.water = knowledge::Water::ashore;
  EXPECT_EQ(proposed({}), std::vector<std::string>{"try-push"});
  EXPECT_EQ(proposed({.bounds = {.water = knowledge::Water::ashore}}).size(), 2U);
}

TEST_F(OnASmallBoat, APreconditionThatFailsBarsACheckAndIsNamed) {
  base_.checks[1].needs = {{{0}, {0, 1}}};  // needs some push
  EXPECT_EQ(proposed({}), std::vector<std::string>{"try-push"});  // no push was seen: full or weak push is unlikely
  const auto helpful = what_would_help(job({}), advise(job({})).proposals.front().expected);
  for (const auto& h : helpful) EXPECT_EQ(h.obstacle.why, Hindrance::precondition);
}

TEST_F(OnASmallBoat, WhatWouldHelpIsNamedWithItsObstacle) {
  base_.checks[1].effort.minutes = 0.1;
  base_.checks[1].who = Who::specialist;
  const auto here = job({.answered = {true, false}});
  const auto helpful = what_would_help(here, advise(here).proposals.front().expected);
  ASSERT_EQ(helpful.size(), 1U);
  EXPECT_EQ(helpful[0].obstacle.why, Hindrance::role);
  EXPECT_GE(helpful[0].proposal.saved, 1);
}

TEST_F(OnASmallBoat, WithEverythingForbiddenThereIsCallingInAndTheOrderOfRemedies) {
  const auto advice = advise(job({.left_out = {true, true}, .done = {true, true}}));
  ASSERT_EQ(advice.proposals.size(), 1U);
  EXPECT_EQ(advice.proposals[0].act, Act::give_up);
  EXPECT_TRUE(advice.order.empty());
  EXPECT_FALSE(advise(job({.left_out = {true, true}})).order.empty());
}

TEST_F(OnASmallBoat, RemediesAreThoseOfTheCausesThatApplyOnceEach) {
  using Refs = std::vector<knowledge::Ref<knowledge::Remedy>>;
  EXPECT_EQ(remedies_for(base_, boat_, evaluation_, {{0, 1}, 1}), (Refs{{0}, {1}}));
  EXPECT_EQ(remedies_for(base_, boat_, evaluation_, {{2}, 1}), Refs{});  // the unlisted cause has none
  base_.causes[1].mends = {{{0}}, {{1}}};
  EXPECT_EQ(remedies_for(base_, boat_, evaluation_, {{0, 1}, 1}), (Refs{{0}, {1}}));
  base_.remedies[1].applies = knowledge::Expression{"bank/@volts = 48", {}};
  EXPECT_EQ(remedies_for(base_, boat_, evaluation_, {{0, 1}, 1}), Refs{{0}});
}

}  // namespace
}  // namespace leadline::planning
