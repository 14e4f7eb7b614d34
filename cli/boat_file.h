#pragma once
// An installation from a file: a record, or the one inside a recorded call-out. Tested by tests/cli/golden_test.cpp.
#include "cli/session.h"
#include "engine/installation/record.h"

namespace leadline::cli {

// "-" is standard input. Throws Failure 65 with every problem at its place, 66 when there is no such file.
installation::Installation load_boat(const Session& session, const knowledge::KnowledgeBase& base, const std::string& path);

}  // namespace leadline::cli
