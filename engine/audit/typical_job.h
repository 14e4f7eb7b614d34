#pragma once
// What a typical call-out takes for each cause. Tested by tests/audit/report_test.cpp.
#include "engine/audit/shown.h"

namespace leadline::audit {

// One call-out in which all goes as is likeliest: the owner names the two symptoms that the cause shows most surely, every check shows the likeliest state under the cause,
// a remedy mends what it mends more often than not. One course in place of the mean over all: cheap, and short of the mean where surprises are dear.
struct TypicalJob {
  std::size_t cause = 0;            // of the book
  bool called = false;              // the cause shows anything an owner calls about, more often than a leak does
  double minutes = 0;
  std::size_t checks = 0, remedies = 0;
  bool mended = false;              // else somebody else is called in
};

// Of the causes that any sample boat can have, in the first that can. A technician, afloat, with the usual tools.
std::vector<TypicalJob> typical_jobs(const knowledge::KnowledgeBase& base, const std::vector<Sample>& samples);

}  // namespace leadline::audit
