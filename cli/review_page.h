#pragma once
// What the review found, as text and as JSON. Pure. Tested by tests/cli/review_test.cpp, tests/golden/review-*.
#include <vector>

#include "cli/layout.h"
#include "engine/circuit/review.h"

namespace leadline::cli {

Page review_page(const knowledge::KnowledgeBase& base, const installation::Installation& boat, const std::vector<circuit::Remark>& remarks,
                 std::size_t width);

// docs/review-json.md; `name` of the boat. ASCII in every locale.
std::string review_json(const std::string& name, const std::vector<circuit::Remark>& remarks);

std::size_t count_of(const std::vector<circuit::Remark>& remarks, circuit::Severity severity);

}  // namespace leadline::cli
