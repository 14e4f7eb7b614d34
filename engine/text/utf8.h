#pragma once
// UTF-8 as bytes that can be trusted: validity, characters, and text that cannot steer a terminal.
// Tested by tests/text/utf8_test.cpp.
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leadline::text {

// Offset of the first byte that is not well-formed UTF-8 (overlong forms and surrogates included); nothing when all is well.
std::optional<std::size_t> first_invalid_utf8(std::string_view text);

// One string per character; a malformed byte stands alone.
std::vector<std::string> split_characters(std::string_view text);

// Number of characters; the width on a screen for the scripts we print.
std::size_t character_count(std::string_view text);

// Control characters (C0, DEL, C1), bidirectional overrides and malformed bytes become '?' (tab and newline: a space).
std::string printable(std::string_view text);

}  // namespace leadline::text
