// XPath has no types. Whatever it would let pass in silence (ecosystem.md § 2a) is refused here, with its offset and a way out.
#include "engine/knowledge/expression_check.h"

#include <gtest/gtest.h>

#include <pugixml.hpp>

#include "tests/knowledge/minimal_base.h"

namespace leadline::knowledge {
namespace {

std::string nested(std::string_view opening, int times) {
  std::string expression, closing;
  for (int i = 0; i < times; ++i) expression += opening, closing += ')';
  return expression + "1 = 1" + closing;
}

// "offset: what | hint", or "accepted", with the facts and quantities of the small base.
std::string verdict(const std::string& expression, Wanted wanted) {
  static const KnowledgeBase base = testing::minimal_base();
  const Vocabulary vocabulary{base.elements, base.facts, {"bank_volts", "low_volts"}};
  const auto fault = check_expression(expression, wanted, vocabulary);
  if (!fault) return "accepted";
  return std::to_string(fault->offset) + ": " + fault->what + (fault->hint.empty() ? "" : " | " + fault->hint);
}

struct BadRow {
  std::string name, expression, wanted;
};

std::string name_of_row(const ::testing::TestParamInfo<BadRow>& row) { return row.param.name; }

class BadCondition : public ::testing::TestWithParam<BadRow> {};
TEST_P(BadCondition, IsRefusedWithItsOffset) { EXPECT_EQ(verdict(GetParam().expression, Wanted::condition), GetParam().wanted); }

const BadRow conditions[] = {
    {"misspelt_and", "$bank_volts > 22 an $low_volts > 1", "17: 'an' is not expected here | a joining word such as 'and' may be missing or misspelt"},
    {"ends_after_operator", "$bank_volts * 0.95 > 22 and $low_volts >", "40: the expression ends too early"},
    {"unknown_variable", "$bank_volt > 22", "0: no quantity '$bank_volt' is declared | did you mean '$bank_volts'?"},
    {"unknown_variable_later", "$bank_volts > 1 and $nope > 3", "20: no quantity '$nope' is declared | known: $bank_volts, $low_volts"},
    {"unknown_function", "pow(2,3) > 1", "0: no function 'pow()' | known: not, count, sum, number, floor, ceiling, round"},
    {"empty", "", "0: the expression ends too early"},
    {"blank", "  ", "2: the expression ends too early"},
    {"dollar_forgotten", "bank_volts > 22", "0: 'bank_volts' is a bare name | did you mean '$bank_volts'?"},
    {"text_fact_against_number", "bank/@label > 3", "14: compares a text with a number"},
    {"number_against_text", "$bank_volts = 'x'", "14: compares a number with a text"},
    {"fact_against_text", "bank/@volts = '24'", "14: compares a number with a text"},
    {"division_by_zero", "$bank_volts div 0 > 1", "16: might divide by zero | divide by a number other than 0, or by a fact whose 'least' is above 0"},
    {"division_by_quantity", "1 div $bank_volts > 1", "6: might divide by zero | divide by a number other than 0, or by a fact whose 'least' is above 0"},
    {"division_by_fact_that_may_be_zero", "1 div bank/@age > 1", "6: might divide by zero | divide by a number other than 0, or by a fact whose 'least' is above 0"},
    {"or_text", "bank/@volts = 24 or 'typo'", "20: 'or' needs true or false, this is a text"},
    {"and_number", "bank/@volts = 24 and 1", "21: 'and' needs true or false, this is a number"},
    {"number_of_text", "number('24,6') > 1", "7: number() needs a number, this is a text"},
    {"number_of_choice", "number(bank/@kind) > 1", "7: number() needs a number, this is a text"},
    {"mod_operator", "bank/@volts mod 2 = 0", "12: 'mod' is not expected here | a joining word such as 'and' may be missing or misspelt"},
    {"choice_against_number", "bank/@kind = 1", "13: compares a text with a number"},
    {"word_that_is_no_choice", "bank/@kind = 'lithum'", "13: 'lithum' is no choice of bank/@kind | did you mean 'lithium'?"},
    {"no_choice_on_the_left", "'gel' = bank/@kind", "0: 'gel' is no choice of bank/@kind | known: agm, lithium"},
    {"yes_no_choice", "station/@spare = 'true'", "17: 'true' is no choice of station/@spare | known: yes, no"},
    {"texts_have_no_order", "bank/@kind < 'agm'", "0: texts have no order | only = and != compare texts"},
    {"conditions_compared", "(bank/@volts = 24) = (bank/@age = 3)", "1: true or false cannot be compared | use count() or not()"},
    {"comparison_chain", "1 < bank/@volts < 3", "16: '<' is not expected here | a joining word such as 'and' may be missing or misspelt"},
    {"number_alone", "bank/@volts", "0: must be true or false, this is a number"},
    {"text_alone", "'yes'", "0: must be true or false, this is a text"},
    {"element_alone", "station", "0: must be true or false, this is an element"},
    {"element_in_arithmetic", "station + 1 > 2", "0: '+' needs a number, this is an element"},
    {"element_against_number", "station > 1", "10: compares an element with a number"},
    {"unknown_element", "bnak/@volts = 24", "0: the record has no element 'bnak' | did you mean 'bank'?"},
    {"unknown_fact", "bank/@volt = 24", "6: 'bank' has no fact 'volt' | did you mean 'volts'?"},
    {"element_inside_element", "bank/volts = 24", "5: the record has no elements inside 'bank' | write bank/@fact"},
    {"slash_at_end", "bank/ = 24", "6: the record has no elements inside 'bank' | write bank/@fact"},
    {"no_fact_name", "bank/@ = 24", "7: the name of a fact must follow '/@'"},
    {"absolute_path", "/installation/bank/@volts = 24", "0: '/' is not expected here"},
    {"any_element", "*/@volts = 24", "0: '*' is not expected here"},
    {"any_fact", "bank/@* = 24", "6: the name of a fact must follow '/@'"},
    {"deep_path", "//bank/@volts = 24", "0: '/' is not expected here"},
    {"parent", "../bank/@volts = 24", "0: '.' has no meaning here"},
    {"predicate", "bank[1]/@volts = 24", "4: '[' has no meaning here"},
    {"axis", "attribute::volts = 24", "9: ':' has no meaning here"},
    {"union", "bank|station", "4: '|' has no meaning here | write 'and' or 'or'"},
    {"double_ampersand", "bank/@volts = 24 && bank/@age = 1", "17: '&' has no meaning here | write 'and' or 'or'"},
    {"single_equals_twice", "bank/@volts == 24", "13: '=' is not expected here"},
    {"exclamation", "!(bank/@volts = 24)", "0: '!' has no meaning here"},
    {"semicolon", "bank/@volts = 24;", "16: ';' has no meaning here"},
    {"comma_number", "bank/@volts > 24,6", "16: ',' is not expected here | write a point as decimal mark"},
    {"second_point", "bank/@volts > 24.6.1", "18: '.' has no meaning here"},
    {"exponent", "bank/@volts > 1e3", "15: 'e3' is not expected here | a joining word such as 'and' may be missing or misspelt"},
    {"point_first", "bank/@volts > .5", "14: '.' has no meaning here"},
    {"unit_after_number", "bank/@volts > 24V", "16: 'V' is not expected here | a joining word such as 'and' may be missing or misspelt"},
    {"unclosed_text", "bank/@label = 'x", "14: this text is never closed | add '"},
    {"unclosed_bracket", "(bank/@volts = 24", "17: a ')' is missing"},
    {"bracket_too_many", "bank/@volts = 24)", "16: ')' is not expected here | a joining word such as 'and' may be missing or misspelt"},
    {"empty_brackets", "() = 1", "1: ')' is not expected here"},
    {"dollar_alone", "$ = 1", "0: a name must follow the dollar sign"},
    {"dollar_and_blank", "$ bank_volts = 1", "0: a name must follow the dollar sign"},
    {"two_minus_signs", "--1 < 2", "1: '-' is not expected here"},
    {"minus_text", "-'x' < 1", "1: '-' needs a number, this is a text"},
    {"not_of_number", "not(bank/@volts)", "4: not() needs true or false, this is a number"},
    {"not_of_element", "not(station)", "4: not() needs true or false, this is an element"},
    {"count_of_number", "count(3) > 1", "6: count() needs a path of the record"},
    {"count_of_nothing", "count() > 1", "6: ')' is not expected here"},
    {"count_of_two", "count(station, bank) > 1", "13: a ')' is missing"},
    {"sum_of_choice", "sum(bank/@kind) > 1", "4: sum() needs a number, this is a text"},
    {"sum_of_quantity", "sum($bank_volts) > 1", "4: sum() needs a path of the record"},
    {"floor_of_condition", "floor(bank/@volts = 1) > 1", "6: floor() needs a number, this is true or false"},
    {"function_without_brackets", "not bank/@volts = 24", "0: the record has no element 'not' | known: bank, station"},
    {"contains", "contains(bank/@label, 'x')", "0: no function 'contains()' | known: not, count, sum, number, floor, ceiling, round"},
    {"true_function", "true()", "0: no function 'true()' | known: not, count, sum, number, floor, ceiling, round"},
    {"string_length", "string-length(bank/@label) > 1", "0: no function 'string-length()' | known: not, count, sum, number, floor, ceiling, round"},
    {"misspelt_function", "cuont(station) > 1", "0: no function 'cuont()' | did you mean 'count'?"},
    {"words_of_another_language", "bank/@volts equals 24", "12: 'equals' is not expected here | a joining word such as 'and' may be missing or misspelt"},
    {"wide_character", "bank/@volts \xE2\x89\xA5 24", "12: '\xE2\x89\xA5' has no meaning here"},
    {"too_long", "1 = 1" + std::string(4092, ' '), "0: an expression longer than 4096 bytes"},
    {"too_deep", nested("(", 65), "64: brackets nested too deep"},
    {"too_deep_in_functions", nested("not(", 65), "256: brackets nested too deep"},
};
INSTANTIATE_TEST_SUITE_P(Conditions, BadCondition, ::testing::ValuesIn(conditions), name_of_row);

class BadQuantity : public ::testing::TestWithParam<BadRow> {};
TEST_P(BadQuantity, IsRefusedWithItsOffset) { EXPECT_EQ(verdict(GetParam().expression, Wanted::number), GetParam().wanted); }

const BadRow numbers[] = {
    {"condition_for_number", "bank/@volts = 24", "0: must be a number, this is true or false"},
    {"text_for_number", "'24'", "0: must be a number, this is a text"},
    {"choice_for_number", "bank/@kind", "0: must be a number, this is a text"},
    {"comma", "0,5", "1: ',' is not expected here | write a point as decimal mark"},
    {"nan_word", "nan", "0: the record has no element 'nan' | known: bank, station"},
    {"infinity_by_division", "1 div 0", "6: might divide by zero | divide by a number other than 0, or by a fact whose 'least' is above 0"},
    {"division_by_a_sum", "1 div (bank/@volts - 24)", "7: might divide by zero | divide by a number other than 0, or by a fact whose 'least' is above 0"},
    {"percent", "95%", "2: '%' has no meaning here"},
    {"quantity_without_dollar", "low_volts * 2", "0: 'low_volts' is a bare name | did you mean '$low_volts'?"},
    {"empty", "", "0: the expression ends too early"},
    {"element", "bank", "0: must be a number, this is an element"},
    {"hexadecimal", "0x10", "1: 'x10' is not expected here | a joining word such as 'and' may be missing or misspelt"},
};
INSTANTIATE_TEST_SUITE_P(Numbers, BadQuantity, ::testing::ValuesIn(numbers), name_of_row);

// Those of the table that XPath itself accepts without a word: the reason for this checker.
TEST(XPathAlone, AcceptsWhatTheCheckerRefuses) {
  pugi::xpath_variable_set variables;
  variables.set("bank_volts", 24.0);
  for (const char* silent : {"bank_volts > 22", "bank/@label > 3", "$bank_volts = 'x'", "$bank_volts div 0 > 1", "bank/@volts = 24 or 'typo'", "number('24,6') > 1"}) {
    EXPECT_NO_THROW(pugi::xpath_query(silent, &variables)) << silent;
    EXPECT_NE(verdict(silent, Wanted::condition), "accepted") << silent;
  }
}

class GoodCondition : public ::testing::TestWithParam<std::string> {};
TEST_P(GoodCondition, IsAccepted) { EXPECT_EQ(verdict(GetParam(), Wanted::condition), "accepted"); }

const std::string good_conditions[] = {
    "bank/@volts = 24",
    "bank/@volts > 22 and count(station) > 1",
    "station/@number = 2",
    "not(bank/@kind = 'lithium')",
    "bank/@kind != \"agm\" or bank/@age >= 8",
    "$bank_volts * 0.95 > 22.8",
    "count(station) = 1",
    "count(station/@number) > 1",
    "sum(station/@number) > 3",
    "bank/@volts div 2 = 12",
    "1 div bank/@strings > 0.5",
    "-bank/@age < -3",
    "(bank/@volts = 24 or bank/@volts = 48) and bank/@age < 2",
    "floor(bank/@age) = ceiling(bank/@age)",
    "round($low_volts) > 1",
    "bank/@label = 'anything at all'",
    "bank/@label = bank/@kind",
    "station/@spare = 'yes'",
    "  1  =  1  ",
    "number(bank/@kind = 'agm') = 1",
    "1 = 1" + std::string(4091, ' '),
    nested("(", 64),
};
INSTANTIATE_TEST_SUITE_P(Conditions, GoodCondition, ::testing::ValuesIn(good_conditions));

class GoodQuantity : public ::testing::TestWithParam<std::string> {};
TEST_P(GoodQuantity, IsAccepted) { EXPECT_EQ(verdict(GetParam(), Wanted::number), "accepted"); }

const std::string good_numbers[] = {
    "24",
    "$bank_volts * 1.02",
    "$bank_volts * (0.97 + 0.06 * number(bank/@kind = 'lithium'))",
    "bank/@volts - 2 * bank/@age",
    "bank/@volts div 2.5",
    "-1",
    "count(station)",
    "sum(station/@number) + 1",
    "$low_volts",
    "floor(7.9)",
    "number(bank/@volts)",
    "5.",
};
INSTANTIATE_TEST_SUITE_P(Numbers, GoodQuantity, ::testing::ValuesIn(good_numbers));

TEST(QuantitiesUsed, AreTheVariablesInOrder) {
  EXPECT_EQ(quantities_used("$b * 2 + $a - '$c'"), (std::vector<std::string>{"b", "a"}));
  EXPECT_EQ(quantities_used("1 + 2"), std::vector<std::string>{});
  EXPECT_EQ(quantities_used("$a + 'never closed"), std::vector<std::string>{});
}

TEST(TokensOf, KnowWhereTheyStand) {
  std::string seen;
  for (const auto& token : tokens_of(" $a*2.5 >= bank/@volts and 'x y'")) seen += std::to_string(token.offset) + "[" + token.text + "]";
  EXPECT_EQ(seen, "1[a]3[*]4[2.5]8[>=]11[bank]15[/@]17[volts]23[and]27[x y]32[]");
}

}  // namespace
}  // namespace leadline::knowledge
