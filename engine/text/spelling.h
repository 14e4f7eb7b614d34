#pragma once
// "did you mean": the nearest known word. Tested by tests/text/spelling_test.cpp.
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace leadline::text {

// Least number of inserted, removed, replaced or swapped neighbouring letters (optimal string alignment distance).
int edit_distance(std::string_view a, std::string_view b);

// The candidate nearest to `word`, at a distance of at most 3 and at most half the word's length; ties: the first in order.
std::optional<std::string> closest(std::string_view word, std::span<const std::string> candidates);

// "did you mean 'x'?" for the closest candidate; otherwise "known: a, b, c" when there are at most `list_up_to`; otherwise "".
std::string suggestion(std::string_view word, std::span<const std::string> candidates, std::size_t list_up_to = 12);

}  // namespace leadline::text
