#pragma once
// What is wrong with a text somebody wrote, and the one way in which readers fail.
// Tested by tests/text/problem_test.cpp.
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/text/place.h"

namespace leadline::text {

enum class Severity { error, warning };

struct Problem {
  Place place;
  std::string what;                     // a sentence without a full stop
  std::string hint;                     // the way out; may be empty
  Severity severity = Severity::error;
  friend bool operator==(const Problem&, const Problem&) = default;
};

using Problems = std::vector<Problem>;

bool has_error(const Problems& problems);
void sort_by_place(Problems& problems);

// The value is empty exactly when some problem is an error; warnings may accompany a value.
template <class T>
struct [[nodiscard]] Loaded {
  std::optional<T> value;
  Problems problems;
};

// "file:line:column: error: what", the line, a caret under the column, and the hint.
// Control characters of the line are shown as spaces, so that a file cannot write to the terminal.
std::string render(const Problem& problem, std::span<const Source> sources);
std::string render(const Problems& problems, std::span<const Source> sources);

}  // namespace leadline::text
