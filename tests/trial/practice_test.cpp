// Practice call-outs on the small base: repeatable, played to their end by any way through them, every choice held against the best one.
#include "engine/trial/practice.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/knowledge/minimal_base.h"

namespace leadline::trial {
namespace {

using planning::Act;

const knowledge::KnowledgeBase& small_book() {
  static const auto base = testing::minimal_base();
  return base;
}

TEST(Practice, TheSameNumberIsTheSameCallOut) {
  std::size_t different = 0;
  for (std::uint64_t number = 1; number <= 20; ++number) {
    Practice one(small_book(), number), again(small_book(), number), other(small_book(), number + 1000);
    EXPECT_EQ(one.truth(), again.truth());
    EXPECT_EQ(one.record().answers, again.record().answers);
    EXPECT_EQ(one.stated().front().value, again.stated().front().value);
    EXPECT_NE(one.record().answers.back().observed, diagnosis::Observed(diagnosis::Seen{0}));
    EXPECT_FALSE(one.truth().empty());
    different += one.truth() != other.truth() || one.stated().front().value != other.stated().front().value;
  }
  EXPECT_GT(different, 5U);
}

// The owner has told how it pushes: only the bank is left to be looked at. 48 V boats have no fuse of that kind.
TEST(Practice, OffersWhatIsOpenAndNothingElse) {
  for (std::uint64_t number = 1; number <= 20; ++number) {
    Practice practice(small_book(), number);
    const bool fuse = practice.stated().front().value != "48";
    const auto steps = practice.choosable();
    ASSERT_EQ(steps.size(), fuse ? 3U : 2U);
    EXPECT_EQ(steps.front(), (Choosable{Act::check, 1}));
    practice.take(steps.front());
    EXPECT_EQ(practice.choosable().front().act, Act::remedy);
    EXPECT_EQ(practice.record().answers.size(), 2U);
  }
}

// What is truly wrong, when it can be mended, is mended by its remedy; the complaint is looked at again after each.
TEST(Practice, EndsWhenTheComplaintIsGone) {
  std::size_t mended = 0;
  for (std::uint64_t number = 1; number <= 60; ++number) {
    Practice practice(small_book(), number);
    double minutes = 0;
    while (!practice.mended()) {
      auto steps = practice.choosable();
      std::erase_if(steps, [](const auto& step) { return step.act != Act::remedy; });
      if (steps.empty()) break;
      const auto& done = practice.take(steps.front());
      minutes += done.minutes;
      EXPECT_EQ(done.answers, 1U);
      EXPECT_DOUBLE_EQ(done.total, minutes);
      EXPECT_EQ(practice.record().answers.back().finding, practice.record().answers[practice.complaint()].finding);
      EXPECT_EQ(practice.mended(), practice.record().answers.back().observed == diagnosis::Observed(diagnosis::Seen{0}));
    }
    EXPECT_EQ(practice.minutes(), minutes);
    const bool unlisted_only = practice.truth() == std::vector<std::size_t>{small_book().causes.size()};
    if (unlisted_only) {
      EXPECT_EQ(practice.still_wrong(), practice.truth());
    }
    mended += practice.mended();
  }
  EXPECT_GT(mended, 20U);
}

TEST(Practice, LosesNothingByTheBestStepAndNeverMoreThanAStepTakes) {
  std::size_t lost = 0;
  for (std::uint64_t number = 1; number <= 30; ++number) {
    Practice best(small_book(), number), worst(small_book(), number);
    const auto first = best.advice().proposals.front();
    if (first.act != Act::give_up) {
      EXPECT_EQ(best.take({first.act, first.act == Act::check ? first.check.index : first.remedy.index}).lost, 0);
    }
    const auto& done = worst.take(worst.choosable().back());
    EXPECT_GE(done.lost, 0);
    EXPECT_LE(done.lost, done.minutes);
    lost += done.lost > 0;
  }
  EXPECT_GT(lost, 5U);
}

TEST(Practice, TheProgramMeetsTheSameCallOut) {
  std::size_t mended = 0;
  for (std::uint64_t number = 1; number <= 20; ++number) {
    Practice practice(small_book(), number);
    const auto first = practice.record().answers;
    if (practice.choosable().size() > 1) practice.take(practice.choosable().back());   // what he did makes no difference
    const auto played = practice.by_the_program();
    EXPECT_EQ(played->truth(), practice.truth());
    EXPECT_EQ(played->record().answers.front(), first.front());
    for (const auto& done : played->done()) EXPECT_EQ(done.lost, 0);
    mended += played->mended();
  }
  EXPECT_GT(mended, 10U);
}

// The owner's complaint is of what is wrong: mended, it is gone.
TEST(Practice, WhatIsMendedIsGone) {
  std::size_t mended = 0;
  for (std::uint64_t number = 1; number <= 60; ++number) {
    Practice practice(small_book(), number);
    for (const auto& step : practice.choosable()) {
      if (step.act == Act::remedy && !practice.mended()) practice.take(step);
    }
    EXPECT_TRUE(practice.mended() || !practice.still_wrong().empty());
    mended += practice.mended();
  }
  EXPECT_GT(mended, 30U);
}

// Of a finding that no circuit describes: within the band of the drawn state on this boat, three figures.
TEST(DrawnReading, LiesWithinItsBand) {
  Practice practice(small_book(), 1);
  const auto& limits = practice.assessment().boat().band_limits[1];
  const auto& finding = small_book().findings[1];
  for (double share = 0; share < 1; share += 0.01) {
    for (std::size_t state = 0; state < finding.states.size(); ++state) {
      const auto reading = drawn_reading(finding, limits, state, share);
      const auto above = static_cast<std::size_t>(std::count_if(limits.begin(), limits.end(), [&](double limit) { return reading.value >= limit; }));
      EXPECT_EQ(finding.bands[above], state) << reading.written;
      EXPECT_EQ(reading.written.size(), 4U) << reading.written;   // "24.0": what it resolves is written
      EXPECT_DOUBLE_EQ(reading.resolution, 0.1);
    }
  }
}

}  // namespace
}  // namespace leadline::trial
