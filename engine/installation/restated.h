#pragma once
// What if an assumed fact were otherwise? Tested by tests/installation/restated_test.cpp.
#include "engine/installation/record.h"

namespace leadline::installation {

// The record with one more fact stated, wherever nobody stated it; nothing when `value` cannot be one.
std::optional<Installation> with_fact(const knowledge::KnowledgeBase& base, const Installation& installation, const knowledge::Fact& fact, const std::string& value);

// What an assumed fact may be instead: each other choice this boat can have; of a number two thirds and one and a half of what is assumed (volts: a twentieth
// off), within its limits. Empty for a stated fact and for a text.
std::vector<std::string> other_values(const Installation& installation, const knowledge::Fact& fact);

}  // namespace leadline::installation
