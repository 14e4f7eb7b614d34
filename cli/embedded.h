#pragma once
// The knowledge base this program was built with. Tested by tests/cli/embedded_test.cpp.
#include <vector>

#include "engine/text/place.h"

namespace leadline::cli {

// The files of knowledge/, byte for byte, under names such as "knowledge/bank.xml".
std::vector<text::Source> embedded_knowledge();

}  // namespace leadline::cli
