#pragma once
// From where we know: the numbers of one thing with their sources, and what leans on one source. Pure. Tested by tests/cli/show_page_test.cpp and tests/golden/show-*.
#include <vector>

#include "cli/layout.h"
#include "engine/knowledge/numbers.h"

namespace leadline::cli {

// Every number, by kind and source: `leadline show ID --sources`.
Page sources_page(const knowledge::KnowledgeBase& base, const knowledge::Numbered& item, std::size_t width);

// "From where we know:" in short: what the words rest on, and the numbers by source.
void add_origins(Page& page, const knowledge::KnowledgeBase& base, const std::vector<knowledge::Citation>& citations, const std::vector<knowledge::Number>& numbers);

// What leans on a source: pages that name it, and the numbers taken from it.
void add_leaning(Page& page, const knowledge::KnowledgeBase& base, knowledge::Ref<knowledge::Source> source);

}  // namespace leadline::cli
