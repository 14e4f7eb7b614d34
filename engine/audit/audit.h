#pragma once
// What is wrong with a book: mistakes of the kind that the reader cannot see, for each thing is well formed on its own. The rules: docs/audit.md.
// Tested by tests/audit/planted_test.cpp.
#include <optional>
#include <span>

#include "engine/audit/remark.h"
#include "engine/knowledge/knowledge_base.h"

namespace leadline::audit {

struct Audited {
  Remarks remarks;                                  // by place
  std::optional<knowledge::KnowledgeBase> base;     // none: the reader refused it, and its problems are the remarks
};

// All files together form one book, as for read_knowledge. The same files give the same remarks.
Audited audit(std::span<const text::Source> files);

}  // namespace leadline::audit
