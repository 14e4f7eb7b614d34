#pragma once
// Which facts of the record bear on a model: what another value of the others would leave as it is. By the names in the book's expressions, through
// quantities, through values assumed by other facts, and through the network string that is laid by facts. Tested by tests/diagnosis/fact_reach_test.cpp.
#include <vector>

#include "engine/knowledge/knowledge_base.h"

namespace leadline::diagnosis {

using Facts = std::vector<bool>;  // by fact of the knowledge base

// On the circuits on which these findings (by finding) are measured, sound or under any cause that there is in the boat.
Facts facts_of_circuits(const knowledge::KnowledgeBase& base, const std::vector<bool>& findings);

// On what is written: which causes there can be and how often, and of these findings whether they apply, their limits and their rules.
Facts facts_of_pages(const knowledge::KnowledgeBase& base, const std::vector<bool>& findings);

}  // namespace leadline::diagnosis
