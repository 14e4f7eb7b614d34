#pragma once
// A cause as a page to read: what it is, why it happens, how it shows, how it is confirmed, mended and proved, what it is taken for, how often, from
// where we know. Pure. Tested by tests/cli/show_page_test.cpp and tests/golden/show-*.
#include "cli/layout.h"
#include "cli/yardstick.h"

namespace leadline::cli {

Page cause_page(const knowledge::KnowledgeBase& base, knowledge::Ref<knowledge::Cause> cause, const Yardstick& yardstick, std::size_t width);

// A chance as people say it: "nearly always", "seldom"; the word of the scale that lies nearest.
std::string often_words(double chance);

}  // namespace leadline::cli
