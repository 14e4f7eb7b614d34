#pragma once
// The scale of chance words; published in docs/knowledge-format.md. Tested by tests/knowledge/chance_test.cpp.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leadline::knowledge {

// A word of the scale, or a number in (0, 1]. Nothing for anything else ("1.2", "0,5", "-0.1", "nan", "likely").
std::optional<double> chance_of(std::string_view written);
std::vector<std::string> chance_words();

}  // namespace leadline::knowledge
