// Which boats can be, against every boat of a small record tried by hand.
#include <gtest/gtest.h>

#include "engine/audit/boat_search.h"
#include "engine/knowledge/reader.h"
#include "tests/audit/sound_book.h"

namespace leadline {
namespace {

using knowledge::Expression;

class BoatSearchTest : public ::testing::Test {
 protected:
  BoatSearchTest() {
    const text::Source file{"book.xml", testing::sound_book};
    base_ = *knowledge::read_knowledge({&file, 1}).value;
  }
  bool never(const std::vector<std::string>& conditions) const {
    std::vector<Expression> expressions;
    for (const auto& condition : conditions) expressions.push_back({condition, {}});
    audit::Conditions all;
    for (const auto& expression : expressions) all.push_back(&expression);
    const audit::BoatSearch search(base_);
    EXPECT_EQ(search.where(all) == nullptr, search.never(all));
    return search.never(all);
  }
  bool always(const std::string& condition) const { return audit::BoatSearch(base_).always(Expression{condition, {}}); }

  knowledge::KnowledgeBase base_;
};

TEST_F(BoatSearchTest, FindsBoatsForChoicesNumbersAndElementsThatRepeat) {
  for (const std::string condition : {"bank/@kind = 'lithium'", "bank/@volts = 24", "bank/@age > 29", "bank/@age = 7.5", "count(station) > 2", "station/@kind = 'remote' and station/@kind = 'panel'",
                                      "$sound_volts > 20", "bank/@age > 8 and not(bank/@age > 8.6)"}) {
    EXPECT_FALSE(never({condition})) << condition;
  }
}

TEST_F(BoatSearchTest, SaysWhenNoBoatIsLikeThat) {
  for (const std::string condition : {"bank/@age > 31", "bank/@volts = 12 and bank/@volts = 24", "count(station) < 1", "$sound_volts > 26", "count(bank) > 1"}) EXPECT_TRUE(never({condition})) << condition;
}

TEST_F(BoatSearchTest, JudgesConditionsTogether) {
  EXPECT_FALSE(never({"station/@kind = 'remote'", "count(station) > 1"}));
  EXPECT_TRUE(never({"station/@kind = 'remote'", "not(station/@kind = 'remote')"}));
  EXPECT_FALSE(never({}));
}

TEST_F(BoatSearchTest, SaysWhenEveryBoatIsLikeThat) {
  EXPECT_TRUE(always("bank/@volts > 11"));
  EXPECT_TRUE(always("bank/@kind = 'agm' or bank/@kind = 'lithium'"));
  EXPECT_FALSE(always("bank/@volts > 12"));
  EXPECT_FALSE(always("count(station) < 3"));
}

}  // namespace
}  // namespace leadline
