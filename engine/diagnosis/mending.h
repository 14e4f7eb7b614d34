#pragma once
// What the book says of remedies, in the numbers of the model. Tested by tests/planning/next_step_test.cpp and tests/callout/callout_test.cpp.
#include "engine/diagnosis/after_remedy.h"

namespace leadline::diagnosis {

// The causes of the model that this remedy removes here, ascending, each with its chance.
std::vector<std::pair<std::size_t, double>> mends_of(const knowledge::KnowledgeBase& base, const BoatModel& boat, knowledge::Ref<knowledge::Remedy> remedy);

AfterOptions after_options_of(const knowledge::KnowledgeBase& base);

}  // namespace leadline::diagnosis
