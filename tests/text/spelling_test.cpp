// The nearest known word: near enough to be meant, never a wild guess.
#include "engine/text/spelling.h"

#include <gtest/gtest.h>

namespace leadline::text {
namespace {

struct DistanceRow {
  std::string_view name, one, other;
  int wanted;
};

class EditDistance : public ::testing::TestWithParam<DistanceRow> {};

TEST_P(EditDistance, CountsInsertedRemovedReplacedAndSwappedLetters) {
  EXPECT_EQ(edit_distance(GetParam().one, GetParam().other), GetParam().wanted);
  EXPECT_EQ(edit_distance(GetParam().other, GetParam().one), GetParam().wanted);
}

// kitten/sitting, saturday/sunday: the worked examples of textbooks on edit distance (from memory). ca/abc: 3 in the restricted
// ("optimal string alignment") form, 2 in the full Damerau form (from memory).
INSTANTIATE_TEST_SUITE_P(Words, EditDistance,
                         ::testing::Values(DistanceRow{"same", "bank", "bank", 0}, DistanceRow{"both_empty", "", "", 0}, DistanceRow{"one_empty", "bank", "", 4},
                                         DistanceRow{"inserted", "bank", "blank", 1}, DistanceRow{"removed", "bank", "ban", 1}, DistanceRow{"replaced", "bank", "bunk", 1},
                                         DistanceRow{"swapped", "bank", "bnak", 1}, DistanceRow{"kitten", "kitten", "sitting", 3},
                                         DistanceRow{"saturday", "saturday", "sunday", 3}, DistanceRow{"restricted_form", "ca", "abc", 3},
                                         DistanceRow{"nothing_in_common", "abcd", "wxyz", 4}, DistanceRow{"case_counts", "Bank", "bank", 1}),
                         [](const auto& row) { return std::string(row.param.name); });

const std::vector<std::string> words{"bank-volts-rest", "bank-volts-load", "panel-lights", "push", "smell"};

struct ClosestRow {
  std::string_view name, word;
  std::optional<std::string> wanted;
};

class Closest : public ::testing::TestWithParam<ClosestRow> {};

TEST_P(Closest, IsNearEnoughToBeMeant) { EXPECT_EQ(closest(GetParam().word, words), GetParam().wanted); }

INSTANTIATE_TEST_SUITE_P(Words, Closest,
                         ::testing::Values(ClosestRow{"a_letter_missing", "bank-vlts-rest", "bank-volts-rest"}, ClosestRow{"letters_swapped", "panel-lihgts", "panel-lights"},
                                         ClosestRow{"three_letters", "bank-volts-lxyz", "bank-volts-load"}, ClosestRow{"four_letters_are_too_many", "bank-volts-wxyz", std::nullopt},
                                         ClosestRow{"short_words_need_more_in_common", "pxxx", std::nullopt}, ClosestRow{"short_word_near", "puhs", "push"},
                                         ClosestRow{"tie_goes_to_the_first", "bank-volts-lest", "bank-volts-rest"}, ClosestRow{"empty_word", "", std::nullopt},
                                         ClosestRow{"one_letter", "p", std::nullopt}),
                         [](const auto& row) { return std::string(row.param.name); });

TEST(ClosestWord, LooksAtNoEndlessWord) {
  EXPECT_EQ(closest(std::string(64, 'a'), std::vector{std::string(63, 'a')}), std::string(63, 'a'));
  EXPECT_EQ(closest(std::string(65, 'a'), std::vector{std::string(65, 'a')}), std::nullopt);
  EXPECT_EQ(closest(std::string(64, 'a'), std::vector{std::string(65, 'a')}), std::nullopt);
}

TEST(Suggestion, NamesTheClosestOrTheKnownFew) {
  EXPECT_EQ(suggestion("smel", words), "did you mean 'smell'?");
  EXPECT_EQ(suggestion("propeller", words), "known: bank-volts-rest, bank-volts-load, panel-lights, push, smell");
  EXPECT_EQ(suggestion("propeller", words, 5), "known: bank-volts-rest, bank-volts-load, panel-lights, push, smell");
  EXPECT_EQ(suggestion("propeller", words, 4), "");
  EXPECT_EQ(suggestion("propeller", std::vector<std::string>{}), "");
}

}  // namespace
}  // namespace leadline::text
