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

std::string value_at(const Installation& boat, const std::string& path) { return attribute_at(boat.root(), path).value(); }

TEST(WithFact, StatesWhatNobodyStated) {
  const auto boat = make_installation(minimal_base(), {{"bank/@volts", "48"}});
  const auto other = with_fact(minimal_base(), boat, fact("bank/@strings"), "2");
  EXPECT_EQ(value_at(other, "bank/@strings"), "2");
  EXPECT_EQ(value_at(other, "bank/@volts"), "48");
  EXPECT_EQ(other.assumed().size() + 1, boat.assumed().size());
}

TEST(WithFact, LeavesWhatWasStated) {
  const auto boat = make_installation(minimal_base(), {{"bank/@volts", "48"}});
  EXPECT_EQ(value_at(with_fact(minimal_base(), boat, fact("bank/@volts"), "24"), "bank/@volts"), "48");
}

TEST(WithFact, IsTheRecordAsItWasWhenTheValueCannotBe) {
  const auto boat = make_installation(minimal_base(), {});
  EXPECT_EQ(value_at(with_fact(minimal_base(), boat, fact("bank/@strings"), "many"), "bank/@strings"), "1");
}

}  // namespace
}  // namespace leadline::installation
