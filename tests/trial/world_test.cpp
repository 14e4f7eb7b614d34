// Drawn call-outs against the chances of the model they are drawn from.
#include "engine/trial/world.h"

#include <gtest/gtest.h>

#include "engine/diagnosis/explanation.h"

namespace leadline::trial {
namespace {

// Two causes that push one finding of three states, and a second finding that only the first pushes.
diagnosis::Model small_model() {
  diagnosis::Model model;
  model.findings = {{{0.9, 0.97, 1}}, {{0.95, 1}}};
  model.causes = {{0.3, {{0, {0.2, 0.7, 1}, {}}, {1, {0.4, 1}, {}}}}, {0.2, {{0, {0.5, 0.5, 1}, {}}}}};
  return model;
}

TEST(World, StatesComeAsOftenAsTheModelSays) {
  const auto model = small_model();
  const int worlds = 40'000;
  std::vector<double> counts(3), expected(3);
  for (int w = 0; w < worlds; ++w) {
    Dice dice(7, static_cast<std::uint64_t>(w));
    const World world(model, dice);
    ASSERT_FALSE(world.causes().empty());
    counts[world.state_of(0)] += 1;
    const auto chances = diagnosis::distribution_under(model, 0, world.causes());
    for (std::size_t s = 0; s < 3; ++s) expected[s] += chances[s];
  }
  // Four standard errors of a share are some 0.01.
  for (std::size_t s = 0; s < 3; ++s) EXPECT_NEAR(counts[s] / worlds, expected[s] / worlds, 0.01);
}

TEST(World, CausesComeByTheirPriorsGivenThatSomethingIsWrong) {
  const auto model = small_model();
  const int worlds = 40'000;
  double first = 0;
  for (int w = 0; w < worlds; ++w) {
    Dice dice(8, static_cast<std::uint64_t>(w));
    const World world(model, dice);
    first += world.causes().front() == 0 ? 1 : 0;
  }
  EXPECT_NEAR(first / worlds, 0.3 / (1 - 0.7 * 0.8), 0.01);
}

TEST(World, ARemedyTakesItsCauseAwayAndLeavesTheOtherPushesAsTheyWere) {
  const auto model = small_model();
  for (std::uint64_t w = 0; w < 300; ++w) {
    Dice dice(9, w);
    World world(model, dice);
    if (world.causes().size() != 2) continue;
    const auto before = world.state_of(0);
    world.mend({{0, 1.0}}, 3, dice);
    EXPECT_EQ(world.present(), std::vector<std::size_t>{1});
    EXPECT_LE(world.state_of(0), before);
    const auto without_first = world.state_of(0);
    world.mend({{0, 1.0}}, 4, dice);
    EXPECT_EQ(world.state_of(0), without_first);
  }
}

TEST(World, TheSameRemedyFailsTheSameWayTwice) {
  const auto model = small_model();
  int failed = 0;
  for (std::uint64_t w = 0; w < 300; ++w) {
    Dice dice(10, w);
    World world(model, dice);
    if (world.causes().front() != 0) continue;
    world.mend({{0, 0.5}}, 2, dice);
    const auto after_once = world.present();
    for (int again = 0; again < 20; ++again) world.mend({{0, 0.5}}, 2, dice);
    EXPECT_EQ(world.present(), after_once);
    failed += !after_once.empty() && after_once.front() == 0 ? 1 : 0;
  }
  EXPECT_GT(failed, 50);
}

TEST(World, TheSameDiceMakeTheSameWorld) {
  const auto model = small_model();
  Dice one(11, 5), other(11, 5);
  const World a(model, one), b(model, other);
  EXPECT_EQ(a.causes(), b.causes());
  for (std::size_t f = 0; f < 2; ++f) EXPECT_EQ(a.state_of(f), b.state_of(f));
}

}  // namespace
}  // namespace leadline::trial
