// Boats drawn for simulated call-outs: the same seed gives the same ones, only what is marked as drawn is stated, and every value is possible.
#include "engine/trial/drawn_boats.h"

#include <gtest/gtest.h>

#include <set>

#include "tests/knowledge/minimal_base.h"

namespace leadline::trial {
namespace {

TEST(DrawnBoats, AreTheSameForTheSameSeed) {
  const auto base = testing::minimal_base();
  const auto one = drawn_facts(base, 8, 4), again = drawn_facts(base, 8, 4), fewer = drawn_facts(base, 3, 4);
  ASSERT_EQ(one.size(), 8U);
  for (std::size_t b = 0; b < one.size(); ++b) {
    ASSERT_EQ(one[b].size(), again[b].size());
    for (std::size_t f = 0; f < one[b].size(); ++f) EXPECT_EQ(one[b][f].value, again[b][f].value);
  }
  for (std::size_t b = 0; b < fewer.size(); ++b) EXPECT_EQ(fewer[b].front().value, one[b].front().value);
}

TEST(DrawnBoats, DifferInWhatIsMarkedAndInNothingElse) {
  const auto base = testing::minimal_base();
  std::set<std::string> volts;
  for (const auto& stated : drawn_facts(base, 60, 1)) {
    ASSERT_EQ(stated.size(), 1U);
    EXPECT_EQ(stated.front().path, "bank/@volts");
    volts.insert(stated.front().value);
  }
  EXPECT_EQ(volts, (std::set<std::string>{"12", "24", "48"}));
}

// A number without choices: half to double of what is usual, within its limits.
TEST(DrawnBoats, ANumberIsDrawnAroundWhatIsUsual) {
  const auto base = testing::base_from(testing::minimal_with(R"(least="0" most="30" assume="4")", R"(least="3" most="30" assume="4" drawn="yes")"));
  std::set<std::string> ages;
  for (const auto& stated : drawn_facts(base, 200, 2)) ages.insert(stated.back().value);
  EXPECT_EQ(ages, (std::set<std::string>{"3", "4", "5", "6", "7", "8"}));
}

TEST(DrawnBoats, HaveTheModelOfWhatIsStated) {
  const auto base = testing::minimal_base();
  for (const auto& boat : drawn_boats(base, 20, 1)) {
    const bool has_fuse_cause = boat.boat.cause_refs.size() == base.causes.size() + 1;
    EXPECT_EQ(has_fuse_cause, boat.stated.front().value != "48");
    EXPECT_EQ(boat.boat.model.circuits, nullptr);
  }
}

}  // namespace
}  // namespace leadline::trial
