// How call-outs fared by what was wrong: counted by hand on call-outs written down here.
#include "engine/trial/breakdown.h"

#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::trial {
namespace {

class OnCallOutsWrittenDown : public ::testing::Test {
 protected:
  Played called(std::vector<std::size_t> truth, std::optional<std::size_t> place, std::vector<std::size_t> led_by, double minutes, bool proved) const {
    Played played;
    played.truth = std::move(truth);
    played.place = place;
    played.named = 2;
    played.led_by = std::move(led_by);
    played.minutes = minutes;
    played.proved = proved;
    return played;
  }
  std::size_t unlisted() const { return boats_[0].boat.unlisted(); }

  knowledge::KnowledgeBase base_ = testing::minimal_base();
  std::vector<TrialBoat> boats_ = drawn_boats(base_, 1, 1);
};

TEST_F(OnCallOutsWrittenDown, ACallOutWithTwoFaultsCountsUnderEach) {
  ASSERT_GE(base_.causes.size(), 2U);
  const std::vector<Played> played{called({0}, 0, {0}, 30, true), called({0, 1}, 1, {1}, 90, true), called({1}, 4, {0}, 300, false), called({1}, std::nullopt, {unlisted()}, 500, false)};
  const auto causes = by_cause(base_, boats_, played, 1);
  ASSERT_EQ(causes.size(), 2U);
  const auto& worst = causes[0];
  EXPECT_EQ(worst.cause.index, 1U);
  EXPECT_EQ(worst.fared.calls(), 3U);
  EXPECT_EQ(worst.fared.first.successes, 0U);
  EXPECT_EQ(worst.fared.first_three.successes, 1U);
  EXPECT_EQ(worst.fared.named_first.successes, 0U);
  EXPECT_EQ(worst.fared.named_first_three.successes, 3U);
  EXPECT_EQ(worst.fared.proved.successes, 1U);
  EXPECT_NEAR(worst.fared.minutes.value, (90 + 300 + 500) / 3.0, 1e-9);
  EXPECT_EQ(causes[1].cause.index, 0U);
  EXPECT_EQ(causes[1].fared.calls(), 2U);
  EXPECT_EQ(causes[1].fared.first_three.successes, 2U);
}

TEST_F(OnCallOutsWrittenDown, SaysWhatACauseWasTakenFor) {
  const std::vector<Played> played{called({1}, 3, {0}, 10, true), called({1}, 3, {unlisted()}, 10, true), called({1}, 3, {0, 1}, 10, true), called({1}, 0, {1}, 10, true)};
  const auto causes = by_cause(base_, boats_, played, 1);
  ASSERT_EQ(causes.size(), 1U);
  ASSERT_EQ(causes[0].mistaken_for.size(), 2U);
  EXPECT_EQ(causes[0].mistaken_for[0].cause->index, 0U);
  EXPECT_EQ(causes[0].mistaken_for[0].times, 2U);
  EXPECT_FALSE(causes[0].mistaken_for[1].cause.has_value());
}

TEST_F(OnCallOutsWrittenDown, LeavesOutWhatCameUpTooSeldom) {
  const std::vector<Played> played{called({0}, 0, {0}, 10, true), called({0}, 0, {0}, 10, true), called({1}, 0, {1}, 10, true)};
  const auto causes = by_cause(base_, boats_, played, 2);
  ASSERT_EQ(causes.size(), 1U);
  EXPECT_EQ(causes[0].cause.index, 0U);
}

TEST_F(OnCallOutsWrittenDown, SubsystemsCountACallOutOnceAndTheUnlistedLast) {
  const std::vector<Played> played{called({0, 1}, 0, {0}, 10, true), called({unlisted()}, std::nullopt, {0}, 20, false)};
  const auto all = by_subsystem(base_, boats_, played);
  ASSERT_GE(all.size(), 2U);
  EXPECT_EQ(all.back().subsystem, "");
  EXPECT_EQ(all.back().fared.calls(), 1U);
  std::size_t calls = 0;
  for (const auto& one : all) calls += one.fared.calls();
  EXPECT_EQ(calls, base_.causes[0].subsystem == base_.causes[1].subsystem ? 2U : 3U);
}

}  // namespace
}  // namespace leadline::trial
