#pragma once
// What was put off until it is ripe, as text. Pure: the time is given. Tested by tests/cli/by_phone_test.cpp.
#include "cli/layout.h"
#include "engine/callout/journal.h"

namespace leadline::cli {

// "Leave it alone for half an hour: ripe since 2026-11-26 14:05 UTC", "…: in 25 min, at 2026-11-26 14:30 UTC; put off …"
std::string reminder_words(const callout::Reminder& reminder, callout::Time now);
// Numbered; empty when nothing waits.
Page reminders_page(const std::vector<callout::Reminder>& reminders, callout::Time now, std::size_t width);

}  // namespace leadline::cli
