// The scale of chance words, as published in docs/knowledge-format.md.
#include "engine/knowledge/chance.h"

#include <gtest/gtest.h>

namespace leadline::knowledge {
namespace {

struct ChanceRow {
  std::string_view name, written;
  std::optional<double> wanted;
};

class ChanceOf : public ::testing::TestWithParam<ChanceRow> {};

TEST_P(ChanceOf, IsAWordOrANumber) { EXPECT_EQ(chance_of(GetParam().written), GetParam().wanted); }

const ChanceRow chances[] = {
    {"always", "always", 0.99},
    {"nearly_always", "nearly-always", 0.95},
    {"usually", "usually", 0.80},
    {"often", "often", 0.60},
    {"sometimes", "sometimes", 0.30},
    {"seldom", "seldom", 0.10},
    {"hardly_ever", "hardly-ever", 0.02},
    {"number", "0.35", 0.35},
    {"one", "1", 1.0},
    {"tiny", "1e-9", 1e-9},
    {"zero", "0", std::nullopt},
    {"above_one", "1.0000001", std::nullopt},
    {"negative", "-0.1", std::nullopt},
    {"comma", "0,5", std::nullopt},
    {"nan", "nan", std::nullopt},
    {"too_large_for_a_number", "1e400", std::nullopt},
    {"letters_after", "0.5abc", std::nullopt},
    {"percent", "50%", std::nullopt},
    {"other_word", "likely", std::nullopt},
    {"capital", "Always", std::nullopt},
    {"blank", " always", std::nullopt},
    {"empty", "", std::nullopt},
};

INSTANTIATE_TEST_SUITE_P(Written, ChanceOf, ::testing::ValuesIn(chances), [](const auto& row) { return std::string(row.param.name); });

TEST(ChanceWords, FallFromAlwaysToHardlyEver) {
  const auto words = chance_words();
  EXPECT_EQ(words.size(), 7U);
  for (std::size_t i = 1; i < words.size(); ++i) EXPECT_GT(chance_of(words[i - 1]), chance_of(words[i]));
}

}  // namespace
}  // namespace leadline::knowledge
