// What if an assumed fact were otherwise? What was stated stays.
#include "engine/installation/restated.h"

#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::installation {
namespace {

const knowledge::KnowledgeBase& minimal_base() {
  static const auto base = testing::minimal_base();
  return base;
}

const knowledge::Fact& fact(const std::string& path) { return minimal_base().facts[*knowledge::find_fact(minimal_base(), path)]; }

std::string value_at(const std::optional<Installation>& boat, const std::string& path) { return boat ? attribute_at(boat->root(), path).value() : "no boat"; }

TEST(WithFact, StatesWhatNobodyStated) {
  const auto boat = make_installation(minimal_base(), {{"bank/@volts", "48"}});
  const auto other = with_fact(minimal_base(), boat, fact("bank/@strings"), "2");
  EXPECT_EQ(value_at(other, "bank/@strings"), "2");
  EXPECT_EQ(value_at(other, "bank/@volts"), "48");
  EXPECT_EQ(other->assumed().size() + 1, boat.assumed().size());
}

TEST(WithFact, LeavesWhatWasStated) {
  const auto boat = make_installation(minimal_base(), {{"bank/@volts", "48"}});
  EXPECT_EQ(value_at(with_fact(minimal_base(), boat, fact("bank/@volts"), "24"), "bank/@volts"), "48");
}

TEST(WithFact, IsNoBoatWhenTheValueCannotBe) {
  const auto boat = make_installation(minimal_base(), {});
  EXPECT_FALSE(with_fact(minimal_base(), boat, fact("bank/@strings"), "many"));
}

std::string others(const Installation& boat, const std::string& path) {
  std::string all;
  for (const auto& value : other_values(boat, fact(path))) all += value + " ";
  return all;
}

TEST(OtherValues, AreTheOtherChoicesAndNumbersToEitherSide) {
  const auto boat = make_installation(minimal_base(), {});
  EXPECT_EQ(others(boat, "bank/@volts"), "12 48 ");
  EXPECT_EQ(others(boat, "bank/@kind"), "lithium ");
  EXPECT_EQ(others(boat, "bank/@age"), "2.67 6 ");
  EXPECT_EQ(others(boat, "bank/@strings"), "1.5 ");   // never below its range
  EXPECT_EQ(others(boat, "bank/@label"), "");
}

TEST(OtherValues, OfAStatedFactAreNone) { EXPECT_EQ(others(make_installation(minimal_base(), {{"bank/@volts", "24"}}), "bank/@volts"), ""); }

}  // namespace
}  // namespace leadline::installation
