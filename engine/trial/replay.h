#pragma once
// A recorded call-out played again: only the order of what was measured then is left to the planner. Tested by tests/trial/replay_test.cpp.
#include "engine/callout/callout.h"

namespace leadline::trial {

struct Replayed {
  std::string title;
  std::optional<std::size_t> place;      // of the true explanation, from 0, when mending first began; none: it was not on the list
  double minutes = 0;
  std::size_t checks = 0, recorded = 0;  // checks done; checks that the record could have answered
  std::size_t remedies = 0;
  bool proved = false;                   // else somebody else was called in
};

// Starts with the complaint alone. A check is answered from the record; one that the record knows nothing of is not offered, for what it would have
// shown nobody knows; nor is any once part of the fault is mended. A remedy works when it mends what was found then (Record::found); while something is left the complaint stays as it was.
// Requires: record.found holds causes of `base`; empty means that the fault is not in the book, and only the place of the unlisted one is judged.
Replayed replay(const knowledge::KnowledgeBase& base, const callout::Record& record, const planning::PlanOptions& options = {});

}  // namespace leadline::trial
