#pragma once
// The pieces of a sheet, each worked out in a file of its own. Internal to sheet.cpp; see sheet.h.
#include "cli/sheet.h"

namespace leadline::cli {

// sheet_findings.cpp
std::vector<Sheet::Finding> sheet_findings(const callout::Assessment& assessment);

// sheet_course.cpp: the beliefs after each answer and remedy, of the explanations that once stood highest. `then`, when given, is called with the
// assessment as it stood before the first remedy (at the end, when there was none).
using AtTheRemedy = void (*)(Sheet& sheet, const callout::Assessment& assessment);
void add_course(Sheet& sheet, const callout::Assessment& assessment, AtTheRemedy then);

// sheet_doubts.cpp
std::vector<Sheet::Doubt> sheet_doubts(const callout::Assessment& assessment, bool try_assumptions);

// The cheapest check that observes a finding and that this person may do here; none when there is none.
std::optional<knowledge::Ref<knowledge::Check>> check_behind(const callout::Assessment& assessment, std::size_t finding);
// The answer told something: it was neither "cannot tell" nor "not fitted".
bool told(const diagnosis::Answer& answer);
// "Main fuse blown + lug loose" as the sheet keeps it.
Sheet::Explanation sheet_explanation(const callout::Assessment& assessment, const diagnosis::Explanation& explanation);

}  // namespace leadline::cli
