#pragma once
// How a call-out ends: explanations, what to do, what proves it, and what this rests on. Pure. Tested by tests/cli/golden_test.cpp.
#include "cli/conversation.h"
#include "cli/layout.h"

namespace leadline::cli {

Page final_page(const Conversation& conversation, std::size_t width);

// Precautions first; the steps only for a role that may do them.
Page remedy_page(const knowledge::KnowledgeBase& base, const knowledge::Remedy& remedy, knowledge::Who role, std::size_t width);

}  // namespace leadline::cli
