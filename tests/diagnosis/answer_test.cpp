// What a person types to one question: a state by number, id or words, a reading, "can't tell", "not fitted"; or what is expected instead.
#include "engine/diagnosis/answer.h"

#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::diagnosis {
namespace {

const knowledge::Finding& finding(std::string_view id) {
  static const auto base = testing::minimal_base();
  return base[knowledge::find_id(base.findings, id).value()];
}

// "seen 2", "reading 24.6", "cannot tell", "not fitted", or "no: why | expected".
std::string understood(std::string_view id, std::string_view typed) {
  const auto parsed = parse_answer(finding(id), typed);
  if (const auto* refused = std::get_if<NotUnderstood>(&parsed)) return "no: " + refused->why + " | " + refused->expected;
  const auto& observed = std::get<Observed>(parsed);
  if (const auto* seen = std::get_if<Seen>(&observed)) return "seen " + std::to_string(seen->state);
  return std::holds_alternative<Reading>(observed) ? "reading " + std::get<Reading>(observed).written : in_words(finding(id), observed);
}

struct AnswerRow {
  std::string_view name, finding, typed, wanted;
};

class ParseAnswer : public ::testing::TestWithParam<AnswerRow> {};

TEST_P(ParseAnswer, UnderstandsOrSaysWhatIsExpected) { EXPECT_EQ(understood(GetParam().finding, GetParam().typed), GetParam().wanted); }

const AnswerRow answers[] = {
    {"first_by_number", "push", "1", "seen 0"},
    {"last_by_number", "push", "3", "seen 2"},
    {"number_with_blanks", "push", " 2 ", "seen 1"},
    {"by_id", "push", "weak", "seen 1"},
    {"by_words", "push", "no push at all", "seen 2"},
    {"capitals", "push", "NO PUSH  at all", "seen 2"},
    {"reading", "bank-volts-rest", "24,6 V", "reading 24,6 V"},
    {"cannot_tell", "push", "can't tell", "cannot tell"},
    {"typographic_apostrophe", "push", "can\xE2\x80\x99t tell", "cannot tell"},
    {"no_idea_about_a_reading", "bank-volts-rest", "No idea", "cannot tell"},
    {"not_fitted", "bank-volts-rest", "not fitted", "not fitted"},
    {"number_zero", "push", "0", "no: '0' is no number of the list | a number from 1 to 3 (1 full, 2 weak, 3 none)"},
    {"number_too_large", "push", "4", "no: '4' is no number of the list | a number from 1 to 3 (1 full, 2 weak, 3 none)"},
    {"number_not_whole", "push", "1.5", "no: '1.5' is no number of the list | a number from 1 to 3 (1 full, 2 weak, 3 none)"},
    {"number_negative", "push", "-1", "no: '-1' is no number of the list | a number from 1 to 3 (1 full, 2 weak, 3 none)"},
    {"number_enormous", "push", "1e300", "no: '1e300' is no number of the list | a number from 1 to 3 (1 full, 2 weak, 3 none)"},
    {"by_its_first_words", "push", "no push", "seen 2"},
    {"by_a_word_several_hold", "push", "push", "no: 'push' is none of the choices | a number from 1 to 3 (1 full, 2 weak, 3 none)"},
    {"a_bare_no", "push", "no", "no: 'no' is none of the choices | a number from 1 to 3 (1 full, 2 weak, 3 none)"},
    {"idk", "push", "IDK", "cannot tell"},
    {"misspelt", "push", "weka", "no: 'weka' is none of the choices; did you mean 'weak'? | a number from 1 to 3 (1 full, 2 weak, 3 none)"},
    {"unknown_word", "push", "purple", "no: 'purple' is none of the choices | a number from 1 to 3 (1 full, 2 weak, 3 none)"},
    {"empty", "push", "", "no: nothing was typed | a number from 1 to 3 (1 full, 2 weak, 3 none)"},
    {"blank", "bank-volts-rest", " \t", "no: nothing was typed | volts, for instance 24.6 V, 24,6 or 310 mV"},
    {"wrong_unit", "bank-volts-rest", "24 A", "no: '24 A' is no reading in V | volts, for instance 24.6 V, 24,6 or 310 mV"},
    {"word_for_reading", "bank-volts-rest", "flat", "no: 'flat' is no reading in V | volts, for instance 24.6 V, 24,6 or 310 mV"},
};

INSTANTIATE_TEST_SUITE_P(Typed, ParseAnswer, ::testing::ValuesIn(answers), [](const auto& row) { return std::string(row.param.name); });

struct MeantRow {
  std::string_view typed;
  int choice;  // from 0; -1: none
};

TEST(ChoiceMeant, IsTheOnlyOneThatBeginsWithOrHoldsTheWords) {
  const std::vector<std::string> choices{"as hard as ever", "weaker than it used to be", "it clicks, and does not turn", "slow or laboured, as if dragging", "no push at all", "not weak, only short",
                                         "the one at the front", "yes, it has blown before"};
  const MeantRow rows[] = {{"as hard", 0},     {"weaker", 1},        {"weak", 1},          {"Weaker than", 1},     {"clicks", 2},  {"it clicks", 2},  {"laboured", 3}, {"slow or laboured", 3},
                           {"dragging", 3},    {"drag", 3},          {"no", -1},           {"no push", 4},         {"not weak", 5}, {"short", -1},     {"front", 6},    {"the front one", 6},
                           {"at the front", 6}, {"yes", 7},          {"Yes!", -1},         {"the", -1},            {"as", 0},      {"or", -1},        {"", -1},        {"turn", -1},
                           {"blown before", 7}, {"it", -1},           {"one", -1}};
  for (const auto& row : rows) {
    const auto meant = choice_meant(choices, row.typed);
    EXPECT_EQ(meant ? static_cast<int>(*meant) : -1, row.choice) << row.typed;
  }
  EXPECT_EQ(choice_meant({"no", "yes"}, "no"), 0U);
  EXPECT_EQ(choice_meant({"never", "no, not once", "yes"}, "no"), 1U);
  EXPECT_EQ(choice_meant({"the bow", "the bow and the stern"}, "the bow"), std::nullopt);
}

TEST(InWords, SpeaksAsThePersonDid) {
  EXPECT_EQ(in_words(finding("push"), Seen{2}), "no push at all");
  EXPECT_EQ(in_words(finding("bank-volts-rest"), Reading{24.6, 0.1, "24,6"}), "24,6 V");
  EXPECT_EQ(in_words(finding("bank-volts-rest"), Reading{24.6, 0.1, "24V6"}), "24V6");
  EXPECT_EQ(in_words(finding("bank-volts-rest"), Reading{-0.1, 0.1, "-0.1"}), "-0.1 V");
}

}  // namespace
}  // namespace leadline::diagnosis
