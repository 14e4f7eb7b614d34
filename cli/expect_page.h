#pragma once
// What should be read in a boat, as text. Pure. Tested by tests/cli/expect_test.cpp.
#include "cli/layout.h"
#include "engine/circuit/expected.h"

namespace leadline::cli {

// "22.9 V, from 22.1 V to 23.6 V"
std::string expected_words(const circuit::Expected& expected, knowledge::Unit unit);

// Every measurement of this boat: healthy, and under up to `most` of the causes whose effect it shows.
Page expect_page(const knowledge::KnowledgeBase& base, const installation::Installation& installation, std::size_t most, std::size_t width);
// Every measurement healthy and under one cause, with the chances of its bands as computed and as written.
Page expect_cause_page(const knowledge::KnowledgeBase& base, const installation::Installation& installation, knowledge::Ref<knowledge::Cause> cause, std::size_t width);

}  // namespace leadline::cli
