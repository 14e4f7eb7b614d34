#pragma once
// What pugixml lets pass and we do not: see docs/knowledge-format.md § limits. Tested by tests/markup/strictness_test.cpp.
#include <cstddef>
#include <optional>

#include "engine/text/problem.h"

namespace leadline::markup {

// Every limit has a test at the limit and one beyond.
struct Limits {
  std::size_t file_bytes = std::size_t{16} << 20;
  std::size_t depth = 64;              // saving a deep tree with indentation would write terabytes
  std::size_t elements = 100'000;
  std::size_t attributes = 256;        // of one element
  std::size_t attribute_bytes = std::size_t{64} << 10;
};

// The first breach of well-formedness or of a limit; nothing when the text may be handed to the parser.
// Refused: DOCTYPE and entities of one's own, a second root, text outside the root, duplicate attributes, control characters
// and references to them, malformed UTF-8, NUL, UTF-16, an encoding other than UTF-8. A byte-order mark is not accepted.
std::optional<text::Problem> first_breach(const text::Source& source, const Limits& limits = {});

}  // namespace leadline::markup
