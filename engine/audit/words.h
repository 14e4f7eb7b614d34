#pragma once
// Texts as words, for comparing them. Internal to the room. Tested by tests/audit/words_test.cpp.
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace leadline::audit {

struct Word {
  std::string letters;      // lower case
  std::size_t offset = 0;   // in bytes
};

// Runs of letters; an apostrophe inside belongs to the word ("boat's"), a hyphen does not. Words next to a digit are left out ("24V").
std::vector<Word> words_of(std::string_view text);

// Shared words over all words of two texts, each word counted once: 1 for the same words, 0 for none in common or none at all.
double alike(const std::set<std::string>& a, const std::set<std::string>& b);
std::set<std::string> word_set(std::string_view text);

}  // namespace leadline::audit
