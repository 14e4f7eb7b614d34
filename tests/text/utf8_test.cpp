// Bytes that can be trusted. Malformed sequences: the classes of Unicode 15 table 3-7 (well-formed byte sequences; from memory).
#include "engine/text/utf8.h"

#include <gtest/gtest.h>

namespace leadline::text {
namespace {

struct ValidityRow {
  std::string_view name, bytes;
  std::optional<std::size_t> first_invalid;
};

class Validity : public ::testing::TestWithParam<ValidityRow> {};

TEST_P(Validity, FindsTheFirstMalformedByte) { EXPECT_EQ(first_invalid_utf8(GetParam().bytes), GetParam().first_invalid); }

INSTANTIATE_TEST_SUITE_P(
    Bytes, Validity,
    ::testing::Values(ValidityRow{"empty", "", std::nullopt}, ValidityRow{"plain", "bank", std::nullopt}, ValidityRow{"zero_byte", std::string_view("a\0b", 3), std::nullopt},
                    ValidityRow{"two_bytes", "\xC3\xA4", std::nullopt}, ValidityRow{"three_bytes", "\xE2\x84\xA6", std::nullopt},
                    ValidityRow{"four_bytes", "\xF0\x9F\x9A\xA4", std::nullopt}, ValidityRow{"first_two_byte", "\xC2\x80", std::nullopt},
                    ValidityRow{"last_two_byte", "\xDF\xBF", std::nullopt}, ValidityRow{"first_three_byte", "\xE0\xA0\x80", std::nullopt},
                    ValidityRow{"before_surrogates", "\xED\x9F\xBF", std::nullopt}, ValidityRow{"after_surrogates", "\xEE\x80\x80", std::nullopt},
                    ValidityRow{"first_four_byte", "\xF0\x90\x80\x80", std::nullopt}, ValidityRow{"last_of_unicode", "\xF4\x8F\xBF\xBF", std::nullopt},
                    ValidityRow{"stray_continuation", "ab\x80", 2}, ValidityRow{"latin_one", "caf\xE9", 3}, ValidityRow{"cut_two_byte", "a\xC3", 1},
                    ValidityRow{"cut_three_byte", "a\xE2\x84", 1}, ValidityRow{"cut_four_byte", "a\xF0\x9F\x9A", 1}, ValidityRow{"overlong_slash", "\xC0\xAF", 0},
                    ValidityRow{"overlong_two", "\xC1\xBF", 0}, ValidityRow{"overlong_three", "\xE0\x9F\xBF", 0}, ValidityRow{"overlong_four", "\xF0\x8F\xBF\xBF", 0},
                    ValidityRow{"first_surrogate", "\xED\xA0\x80", 0}, ValidityRow{"last_surrogate", "\xED\xBF\xBF", 0},
                    ValidityRow{"beyond_unicode", "\xF4\x90\x80\x80", 0}, ValidityRow{"lead_f5", "\xF5\x80\x80\x80", 0}, ValidityRow{"byte_fe", "\xFE", 0},
                    ValidityRow{"byte_ff", "\xFF", 0}, ValidityRow{"continuation_replaced_by_letter", "x\xE2\x41\xA6", 1}),
    [](const auto& row) { return std::string(row.param.name); });

TEST(SplitCharacters, KeepsCharactersWholeAndMalformedBytesAlone) {
  EXPECT_EQ(split_characters("a\xC3\xA4\xFF\xE2\x84"), (std::vector<std::string>{"a", "\xC3\xA4", "\xFF", "\xE2", "\x84"}));
  EXPECT_EQ(character_count("a\xC3\xA4\xFF"), 3U);
  EXPECT_EQ(character_count(""), 0U);
}

struct PrintableRow {
  std::string_view name, text, shown;
};

class Printable : public ::testing::TestWithParam<PrintableRow> {};

TEST_P(Printable, CannotSteerATerminal) { EXPECT_EQ(printable(GetParam().text), GetParam().shown); }

INSTANTIATE_TEST_SUITE_P(
    Texts, Printable,
    ::testing::Values(PrintableRow{"plain", "24.6 V at 20 \xC2\xB0" "C, 0.4 \xCE\xA9", "24.6 V at 20 \xC2\xB0" "C, 0.4 \xCE\xA9"}, PrintableRow{"escape", "\x1B[31mred", "?[31mred"},
                    PrintableRow{"bell", "a\x07", "a?"}, PrintableRow{"backspace", "a\b", "a?"}, PrintableRow{"carriage_return", "a\rb", "a?b"},
                    PrintableRow{"tab_and_line_end_are_spaces", "a\tb\nc", "a b c"}, PrintableRow{"delete_character", "a\x7F", "a?"},
                    PrintableRow{"zero_byte", std::string_view("a\0b", 3), "a?b"}, PrintableRow{"upper_control", "a\xC2\x9B" "31m", "a?31m"},
                    PrintableRow{"no_break_space_stays", "a\xC2\xA0" "b", "a\xC2\xA0" "b"}, PrintableRow{"right_to_left_override", "a\xE2\x80\xAE" "b", "a?b"},
                    PrintableRow{"isolate", "a\xE2\x81\xA6" "b", "a?b"}, PrintableRow{"line_separator", "a\xE2\x80\xA8" "b", "a?b"},
                    PrintableRow{"byte_order_mark", "\xEF\xBB\xBF" "a", "?a"}, PrintableRow{"malformed", "a\xC3(", "a?("}),
    [](const auto& row) { return std::string(row.param.name); });

}  // namespace
}  // namespace leadline::text
