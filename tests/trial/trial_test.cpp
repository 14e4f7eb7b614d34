// Trials on the small base: repeatable on any number of cores, the same call-outs for every policy, figures that add up.
#include "engine/trial/trial.h"

#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::trial {
namespace {

class OnASmallBook : public ::testing::Test {
 protected:
  std::vector<std::vector<Played>> run(unsigned threads, std::vector<Policy> policies = {Policy::ours, Policy::information, Policy::frequency, Policy::chart}) const {
    TrialPlan plan;
    plan.calls = 60;
    plan.threads = threads;
    plan.policies = std::move(policies);
    return run_trial(base_, boats_, plan);
  }
  knowledge::KnowledgeBase base_ = testing::minimal_base();
  std::vector<TrialBoat> boats_ = drawn_boats(base_, 3, 1);
};

TEST_F(OnASmallBook, CoresChangeNothing) {
  const auto one = run(1), three = run(3);
  for (std::size_t p = 0; p < one.size(); ++p) {
    for (std::size_t c = 0; c < one[p].size(); ++c) {
      EXPECT_EQ(one[p][c].minutes, three[p][c].minutes);
      EXPECT_EQ(one[p][c].truth, three[p][c].truth);
    }
  }
}

TEST_F(OnASmallBook, EveryPolicyMeetsTheSameCallOuts) {
  const auto all = run(1);
  for (std::size_t p = 1; p < all.size(); ++p) {
    for (std::size_t c = 0; c < all[p].size(); ++c) {
      EXPECT_EQ(all[p][c].truth, all[0][c].truth);
      EXPECT_EQ(all[p][c].boat, all[0][c].boat);
      EXPECT_EQ(all[p][c].number, c + 1);
    }
  }
}

TEST_F(OnASmallBook, ACallOutCanBePlayedAloneWithItsStory) {
  const auto all = run(2, {Policy::ours});
  for (std::size_t c = 0; c < 10; ++c) {
    const auto alone = play(base_, boats_, Policy::ours, 1, c + 1, {}, true);
    EXPECT_EQ(alone.minutes, all[0][c].minutes);
    ASSERT_FALSE(alone.story.empty());
    EXPECT_EQ(alone.story.front().rfind("complaint: ", 0), 0U);
  }
}

TEST_F(OnASmallBook, ProvedMeansThatARemedyWasDone) {
  for (const auto& policy : run(2)) {
    for (const auto& played : policy) {
      EXPECT_LE(played.proved ? 1U : 0U, played.remedies);
      EXPECT_GT(played.minutes, 0);
      EXPECT_FALSE(played.truth.empty());
    }
  }
}

// Where nothing was mended, what it had been is what it is.
TEST_F(OnASmallBook, WithoutARemedyWhatIsNamedIsWhatStoodFirst) {
  std::size_t told_by_remedies = 0;
  for (const auto& policy : run(2)) {
    for (const auto& played : policy) told_by_remedies += played.named != played.place;
  }
  EXPECT_GT(told_by_remedies, 0U);
  PlayOptions one_check;
  one_check.most_steps = 1;
  std::size_t right = 0;
  for (std::uint64_t number = 1; number <= 30; ++number) {
    const auto played = play(base_, boats_, Policy::chart, 1, number, one_check);
    ASSERT_EQ(played.remedies, 0U);
    EXPECT_EQ(played.named, played.place);
    right += played.named.has_value();
  }
  EXPECT_GT(right, 0U);
}

TEST_F(OnASmallBook, FiguresAddUp) {
  const auto played = run(2, {Policy::ours}).front();
  const auto summary = summary_of(played);
  EXPECT_EQ(summary.first.trials, 60U);
  EXPECT_GE(summary.first_three.successes, summary.first.successes);
  EXPECT_GE(summary.named_first_three.successes, summary.named_first.successes);
  double sum = 0;
  for (const auto& one : played) sum += one.minutes;
  EXPECT_NEAR(summary.minutes.value, sum / 60, 1e-9);
  const auto worst = worst_of(played, 5);
  ASSERT_EQ(worst.size(), 5U);
  for (std::size_t i = 1; i < worst.size(); ++i) EXPECT_GE(worst[i - 1].minutes, worst[i].minutes);
  EXPECT_NEAR(minutes_ratio(played, played)->value, 1, 1e-12);
}

TEST_F(OnASmallBook, ATrialThatIsBrokenOffKeepsNothing) {
  TrialPlan plan;
  plan.calls = 200;
  EXPECT_TRUE(run_trial(base_, boats_, plan, [](std::size_t, std::size_t) { return false; }).empty());
}

TEST(Policies, AreNamedByOneWord) {
  for (const auto policy : {Policy::ours, Policy::information, Policy::frequency, Policy::chart}) EXPECT_EQ(policy_of(to_string(policy)), policy);
  EXPECT_EQ(policy_of("best"), std::nullopt);
}

}  // namespace
}  // namespace leadline::trial
