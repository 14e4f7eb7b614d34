#pragma once
// A recorded call-out from a file. Tested by tests/cli/commands_test.cpp.
#include "cli/session.h"
#include "engine/callout/callout.h"

namespace leadline::cli {

// Throws Failure 65 with every problem at its place; warnings go to the log.
callout::Record case_from(const Session& session, const knowledge::KnowledgeBase& base, const text::Source& source);

}  // namespace leadline::cli
