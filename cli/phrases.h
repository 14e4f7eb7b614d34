#pragma once
// Small figures and facts in words. Between a number and its unit stands a blank that does not break (U+00A0): to be printed through
// a Page, which makes it a plain one. Tested by tests/cli/golden_test.cpp.
#include <string>
#include <vector>

#include "engine/callout/callout.h"

namespace leadline::cli {

std::string percent(double probability);           // "45 %", "<1 %", ">99 %"
std::string padded_percent(double probability);    // the same, 5 characters wide
std::string bar(double probability);               // a block (layout.h) for ten per cent, rounded, at least one; 10 characters wide
std::string minutes_words(double minutes);         // "4 min"
std::string whole_minutes(double minutes);         // rounded
std::string reading_words(double value, knowledge::Unit unit);  // "24.6 V", "12 mV", "3.4 milliohm", "over range"
std::string who_words(knowledge::Who who);         // "owner", "technician", "specialist"
std::string barred_words(knowledge::Who who);      // of a remedy, while something is called for at once
std::string who_may(knowledge::Who who);           // "anyone on board may do it", "for a technician"
std::string listed(const std::vector<std::string>& words);  // "a, b and c"
std::string decibans(double weight);               // "+6.2 dB"
std::string strength(double weight);               // "speaks strongly for it", …: the same for a layman
std::string place_words(const text::Place& place);  // "file:line"
std::string count_words(std::size_t count, const std::string& one, const std::string& many);  // "1 cause", "3 causes"

// The question as this person should hear it.
const std::string& question_for(const knowledge::Finding& finding, knowledge::Who role);
const std::string& question_for(const knowledge::Fact& fact, bool by_phone);
// A value of a fact: "in parallel", "36 m".
std::string value_words(const knowledge::Fact& fact, const std::string& value);
// "Panel lights: no light at all"
std::string answer_words(const knowledge::KnowledgeBase& base, const diagnosis::Answer& answer);

// Lower case, apostrophes made plain, blanks folded, closing ".", "!" and "?" dropped (unless nothing else is there).
std::string normalised(std::string_view typed);
// "can't tell", "dunno", "don’t know?": whatever diagnosis::parse_answer takes for it.
bool says_cannot_tell(std::string_view typed);
bool says_not_fitted(std::string_view typed);
bool says_not_safe(std::string_view typed);        // "not safe", "it isn't safe": whoever is aboard would rather not

}  // namespace leadline::cli
