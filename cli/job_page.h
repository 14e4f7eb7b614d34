#pragma once
// What is kept of a job, as text. Tested by tests/cli/job_test.cpp.
#include "cli/job_keeper.h"
#include "cli/layout.h"

namespace leadline::cli {

std::string time_words(callout::Time at);                // "2026-11-26 14:05 UTC"; "at an unknown time" for 0
std::string state_words(const callout::Journal& journal);  // "not finished, 3 answers", "proved, 7 answers", …
// Ended for good: by a proof, a call for somebody else, or 'stop'. An interrupt or the end of the input only breaks off.
bool is_over(const callout::Journal& journal);

Page notes_page(const std::vector<callout::TimedNote>& notes, std::size_t width);              // empty when there are none
Page minutes_page(const knowledge::KnowledgeBase& base, const callout::Journal& journal, std::size_t width);
// What became of everything under another book; what is kept is only counted.
Page carried_page(const Resumed& resumed, std::size_t width);
// Boat, answers, remedies, notes, minutes: where the job stands.
Page standing_page(const Conversation& conversation, const callout::Journal& journal, std::size_t width);

}  // namespace leadline::cli
