#pragma once
// Whom to send, with what, and what the customer leaves alone until then, as text. Pure. Tested by tests/cli/by_phone_test.cpp.
#include "cli/conversation.h"
#include "cli/layout.h"

namespace leadline::cli {

Page dispatch_page(const Conversation& conversation, std::size_t width);
// Of a recorded call: with nothing put off.
Page dispatch_page(const callout::Assessment& assessment, std::size_t width);

}  // namespace leadline::cli
