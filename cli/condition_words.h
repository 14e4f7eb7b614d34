#pragma once
// A condition of the book as a person says it, in place of its formula. Tested by tests/cli/show_page_test.cpp.
#include <string>
#include <string_view>

#include "engine/knowledge/knowledge_base.h"

namespace leadline::cli {

// "thruster/@motor = 'brushless'" -> "“What drives it?” is “a brushless motor with a controller”"; a fact that is never asked keeps its name.
std::string condition_words(const knowledge::KnowledgeBase& base, std::string_view condition);

}  // namespace leadline::cli
