#pragma once
// Beliefs and explanations when readings tied to circuits are among the evidence. Internal to the room; docs/mathematics.md § tied readings.
// Tested by tests/diagnosis/tied_test.cpp.
#include "engine/diagnosis/explanation_list.h"
#include "engine/diagnosis/tied.h"

namespace leadline::diagnosis {

// `reach` is made of the plain part of the evidence and has no sides.
Diagnosis judged_together(const Model& model, const Evidence& plain, const TiedReadings& tied, const Reach& reach, const ExplainOptions& options, bool with_list);

}  // namespace leadline::diagnosis
