#pragma once
// A ranking for programs. The shape: docs/rank-json.md; only additions between minor versions. Tested by tests/cli/golden_test.cpp.
#include <string>

#include "engine/callout/callout.h"

namespace leadline::cli {

// One JSON object and a newline, all bytes below 128. Numbers have 9 significant digits, so that the bytes are the same from every
// compiler. Infinite weights are the words "inf" and "-inf". Throws std::logic_error on a number that is none (a mistake of ours).
std::string rank_json(const callout::Assessment& assessment, std::size_t most);

}  // namespace leadline::cli
