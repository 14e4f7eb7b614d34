#pragma once
// 'why not WORDS': what speaks against a cause that somebody has in mind. Pure. Tested by tests/cli/said_test.cpp.
#include <string>

#include "cli/conversation.h"
#include "cli/layout.h"

namespace leadline::cli {

// `words`: an id of a cause, or words of its title. Says so when they name none, or several.
Page why_not_page(const Conversation& conversation, const std::string& words, std::size_t width);

}  // namespace leadline::cli
