// Numbers of files: a point as decimal mark, the whole text, finite; anything else is refused with a way out.
#include "engine/text/number.h"

#include <gtest/gtest.h>

namespace leadline::text {
namespace {

struct GoodRow {
  std::string_view name, written;
  double value;
};

class GoodNumber : public ::testing::TestWithParam<GoodRow> {};

TEST_P(GoodNumber, IsRead) { EXPECT_EQ(parse_number(GetParam().written), GetParam().value); }

INSTANTIATE_TEST_SUITE_P(
    Numbers, GoodNumber,
    ::testing::Values(GoodRow{"zero", "0", 0}, GoodRow{"minus_zero", "-0", 0}, GoodRow{"whole", "24", 24}, GoodRow{"decimal", "24.6", 24.6},
                    GoodRow{"negative", "-3", -3}, GoodRow{"small_negative", "-0.1", -0.1}, GoodRow{"leading_zeros", "007", 7},
                    GoodRow{"trailing_zeros", "1.500", 1.5}, GoodRow{"point_at_the_end", "5.", 5}, GoodRow{"point_at_the_start", ".5", 0.5},
                    GoodRow{"exponent", "1e-3", 0.001}, GoodRow{"capital_exponent", "2E3", 2000}, GoodRow{"signed_exponent", "2e+3", 2000},
                    GoodRow{"largest", "1.7976931348623157e308", 1.7976931348623157e308}, GoodRow{"smallest_normal", "2.2250738585072014e-308", 2.2250738585072014e-308},
                    GoodRow{"subnormal", "5e-324", 5e-324}, GoodRow{"seventeen_digits", "0.10000000000000001", 0.1},
                    GoodRow{"many_digits", "3.14159265358979323846264338327950288", 3.141592653589793}, GoodRow{"half", "0.5", 0.5}),
    [](const auto& row) { return std::string(row.param.name); });

struct BadRow {
  std::string_view name, written, hint;
};

constexpr std::string_view plain = "write a plain decimal number, for instance 0.5";

class BadNumber : public ::testing::TestWithParam<BadRow> {};

TEST_P(BadNumber, IsRefusedWithAWayOut) {
  EXPECT_EQ(parse_number(GetParam().written), std::nullopt);
  EXPECT_EQ(number_hint(GetParam().written), GetParam().hint);
}

INSTANTIATE_TEST_SUITE_P(
    Numbers, BadNumber,
    ::testing::Values(BadRow{"empty", "", "a number is missing"}, BadRow{"blank", " ", plain}, BadRow{"comma", "0,5", "write a point as decimal mark: 0.5"},
                    BadRow{"negative_comma", "-12,25", "write a point as decimal mark: -12.25"}, BadRow{"two_commas", "1,234,5", plain},
                    BadRow{"comma_and_point", "1,234.5", plain}, BadRow{"leading_blank", " 1", "leave out the spaces: 1"},
                    BadRow{"trailing_blank", "1 ", "leave out the spaces: 1"}, BadRow{"tab", "\t1\t", "leave out the spaces: 1"},
                    BadRow{"inner_blank", "1 000", plain}, BadRow{"letters_after", "0.5abc", plain}, BadRow{"unit_after", "24V", plain},
                    BadRow{"nan", "nan", plain}, BadRow{"capital_nan", "NaN", plain}, BadRow{"nan_with_payload", "nan(1)", plain}, BadRow{"inf", "inf", plain},
                    BadRow{"infinity", "infinity", plain}, BadRow{"minus_infinity", "-inf", plain}, BadRow{"too_large", "1e400", plain},
                    BadRow{"too_small", "1e-400", plain}, BadRow{"hexadecimal", "0x10", plain}, BadRow{"plus", "+1", plain}, BadRow{"two_signs", "--1", plain},
                    BadRow{"sign_alone", "-", plain}, BadRow{"point_alone", ".", plain}, BadRow{"two_points", "1.2.3", plain},
                    BadRow{"exponent_alone", "e5", plain}, BadRow{"open_exponent", "1e", plain}, BadRow{"percent", "5%", plain},
                    BadRow{"fraction", "1/2", plain}, BadRow{"word", "half", plain}, BadRow{"typographic_minus", "\xE2\x88\x92" "1", plain},
                    BadRow{"arabic_digits", "\xD9\xA1", plain}, BadRow{"zero_byte", std::string_view("1\0", 2), plain}, BadRow{"line_end", "1\n", plain}),
    [](const auto& row) { return std::string(row.param.name); });

TEST(GoodNumbers, MayBeVeryLong) {
  EXPECT_EQ(parse_number("0." + std::string(500, '0') + "1"), std::nullopt);  // 1e-501 is no double
  EXPECT_EQ(parse_number("1." + std::string(500, '0') + "1"), 1.0);
  EXPECT_EQ(parse_number(std::string(500, '0') + "1"), 1.0);
}

struct FormatRow {
  std::string_view name;
  double value;
  int decimals;
  std::string_view wanted;
};

class FormatNumber : public ::testing::TestWithParam<FormatRow> {};

TEST_P(FormatNumber, DropsTrailingZeros) { EXPECT_EQ(format_number(GetParam().value, GetParam().decimals), GetParam().wanted); }

INSTANTIATE_TEST_SUITE_P(Numbers, FormatNumber,
                         ::testing::Values(FormatRow{"one_decimal", 24.60, 2, "24.6"}, FormatRow{"whole", 120.0, 3, "120"}, FormatRow{"whole_without_decimals", 120, 0, "120"},
                                         FormatRow{"rounded", 0.12345, 3, "0.123"}, FormatRow{"rounded_up", 0.9996, 3, "1"}, FormatRow{"zero", 0, 4, "0"},
                                         FormatRow{"no_minus_before_zero", -0.0001, 2, "0"}, FormatRow{"negative", -1.50, 2, "-1.5"},
                                         FormatRow{"never_in_exponents", 1e20, 1, "100000000000000000000"}),
                         [](const auto& row) { return std::string(row.param.name); });

}  // namespace
}  // namespace leadline::text
