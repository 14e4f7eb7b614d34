#pragma once
// What if an assumed fact were otherwise? Tested by tests/installation/restated_test.cpp.
#include "engine/installation/record.h"

namespace leadline::installation {

// The record with one more fact stated, wherever nobody stated it; the record as it was when `value` cannot be one.
Installation with_fact(const knowledge::KnowledgeBase& base, const Installation& installation, const knowledge::Fact& fact, const std::string& value);

}  // namespace leadline::installation
