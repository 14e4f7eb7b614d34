#pragma once
// Numbers as files write them: a point as decimal mark, whatever the locale. Tested by tests/text/number_test.cpp.
#include <optional>
#include <string>
#include <string_view>

namespace leadline::text {

// The whole text must be one finite decimal number ("24.6", "-3", "1e-3"). Refused: "", " 1", "0,5", "0.5abc", "nan", "inf",
// "1e400", "0x10", "+1". from_chars does not follow the locale, unlike strtod and pugixml's as_double.
std::optional<double> parse_number(std::string_view text);

// Why parse_number refuses this text, as a hint ("write a point: 0.5").
std::string number_hint(std::string_view text);

// Shortest of fixed notation with at most `decimals` decimals, trailing zeros dropped: 24.60 -> "24.6", 120.0 -> "120".
std::string format_number(double value, int decimals);

}  // namespace leadline::text
