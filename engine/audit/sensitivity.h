#pragma once
// Which numbers of the book decide recorded call-outs: moved by a tenth, another explanation leads. Tested by tests/audit/report_test.cpp.
#include "engine/audit/pages.h"
#include "engine/callout/callout.h"

namespace leadline::audit {

struct Decisive {
  text::Place place;            // of the number
  std::string what;             // "the chance of 'push' as 'none' under 'fuse-blown'"
  bool up = false;              // a tenth up, or down
  std::size_t record = 0;       // index of the call-out
  std::string now, then;        // the leading explanation, ids with + between
};

struct Sensitivity {
  std::size_t numbers = 0;      // number and call-out: so many were moved, each both ways
  std::vector<Decisive> decisive;
};

// For each record, answers before any remedy. Moved are the frequencies of all causes in its list of explanations, their written chances of what was seen, and
// the leaks of what was seen; the list is weighed anew, the sum over sets that are not on it stays as it is. What circuits compute, and readings that they judge, stay as they are.
Sensitivity sensitivity(const knowledge::KnowledgeBase& base, const Pages& pages, const std::vector<callout::Record>& records);

}  // namespace leadline::audit
