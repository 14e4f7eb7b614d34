#pragma once
// Units of readings, and the multiples a person may write. Tested by tests/knowledge/unit_test.cpp.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leadline::knowledge {

enum class Unit { volt, ampere, ohm, megohm, celsius, minute, metre, square_millimetre, percent, ampere_hour };

std::optional<Unit> unit_of(std::string_view written);      // the name used in the knowledge files: "V", "ohm", "degC"
std::string_view name_of(Unit unit);                         // the same name back
std::vector<std::string> unit_names();

// A unit as typed behind a number, with the factor that brings the number to `expected`: "mV" for volt -> 0.001.
// "" is the expected unit itself. Nothing when it is another quantity or no unit at all. A lone "m" is milli, "M" mega for ohms.
std::optional<double> factor_to(Unit expected, std::string_view typed);

}  // namespace leadline::knowledge
