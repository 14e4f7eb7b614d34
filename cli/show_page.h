#pragma once
// One page of the book for one thing: what a tradesman would want to read about it. Pure. Tested by tests/cli/golden_test.cpp.
#include <optional>
#include <string>
#include <vector>

#include "cli/layout.h"
#include "cli/yardstick.h"
#include "engine/knowledge/knowledge_base.h"

namespace leadline::cli {

Page finding_page(const knowledge::KnowledgeBase& base, std::size_t finding, const Yardstick& yardstick, std::size_t width);
Page full_check_page(const knowledge::KnowledgeBase& base, const knowledge::Check& check, const Yardstick& yardstick, std::size_t width);
Page full_remedy_page(const knowledge::KnowledgeBase& base, std::size_t remedy, std::size_t width);
Page precaution_page(const knowledge::KnowledgeBase& base, std::size_t precaution, std::size_t width);
Page source_page(const knowledge::KnowledgeBase& base, knowledge::Ref<knowledge::Source> source, std::size_t width);

// Every page of that id, of one kind or of all ("cause", "finding", …), one under the other; empty when nothing bears it.
// Measured on this boat; without one on a usual one.
Page pages_of(const knowledge::KnowledgeBase& base, const std::string& id, const std::optional<std::string>& kind, const std::optional<installation::Installation>& boat,
              std::size_t width);
// The numbers of everything of that id, each with its source; empty when nothing bears it that holds numbers. Circuits, places and conditions too.
Page sources_of(const knowledge::KnowledgeBase& base, const std::string& id, const std::optional<std::string>& kind, std::size_t width);
// All ids of that kind, or of all kinds: for "did you mean".
std::vector<std::string> known_ids(const knowledge::KnowledgeBase& base, const std::optional<std::string>& kind);

}  // namespace leadline::cli
