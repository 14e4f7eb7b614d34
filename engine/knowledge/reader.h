#pragma once
// From XML texts to a knowledge base. The format: docs/knowledge-format.md. Tested by tests/knowledge/reader_test.cpp.
#include <span>

#include "engine/knowledge/knowledge_base.h"
#include "engine/text/problem.h"

namespace leadline::knowledge {

// All files together form one knowledge base; they are read in the order of their names without
// folders, so the order in which they come changes nothing. A syntax error ends one file,
// errors of meaning are gathered over all files and sorted by place. Refused: duplicate ids, dangling references, cycles among
// quantities, malformed numbers and chances, faulty expressions, findings nobody can observe, actions without the precautions
// or proofs the format demands.
text::Loaded<KnowledgeBase> read_knowledge(std::span<const text::Source> files);

}  // namespace leadline::knowledge
