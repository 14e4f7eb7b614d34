#pragma once
// A call by telephone as a script: what is read aloud to the layman aboard, and apart from it what only the desk sees. Pure.
// Tested by tests/cli/by_phone_test.cpp.
#include "cli/conversation.h"
#include "cli/layout.h"

namespace leadline::cli {

// How the screen is meant, and the first words to the caller.
Page opening_script(std::size_t width);
// What is read aloud ahead of a question that belongs to no check in hand: of what was noticed, that nothing is tried for it; of the trouble looked at
// again after a remedy, the precautions of whoever looks. Empty for every other question.
Page ahead_of_question(const Conversation& conversation, std::size_t width);
// "For you": the ranking, what is proposed and why, what it would tell. Then "Read aloud": precautions, whether it is safe, the steps.
Page desk_page(const Conversation& conversation, std::size_t width);

}  // namespace leadline::cli
