#pragma once
// A check or remedy looked for by words. Pure. Tested by tests/cli/practice_test.cpp and tests/cli/told_late_test.cpp.
#include <string>
#include <string_view>
#include <vector>

#include "engine/knowledge/knowledge_base.h"
#include "engine/planning/repair_problem.h"

namespace leadline::cli {

// "Bank  Volts?" -> "bank", "volts".
std::vector<std::string> words_wanted(std::string_view typed);

// Whether each of these words, without a plural's s, begins a word of the text: "lugs" in "lug bent", not in "plug".
bool has_words(std::string_view text, const std::vector<std::string>& words);
// Whether each is a word of the text: "lock", not in "locker".
bool has_whole_words(std::string_view text, const std::vector<std::string>& words);

// The same of all that a person may know the step by: its id and title; of a check the titles and further words of what it shows, of
// a remedy "remedy" and the titles of what it mends. Requires: a check or remedy.
bool is_about(const knowledge::KnowledgeBase& base, planning::Act act, std::size_t index, const std::vector<std::string>& words);

}  // namespace leadline::cli
