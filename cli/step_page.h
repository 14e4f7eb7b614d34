#pragma once
// What is proposed next, in minutes: figures of a check or remedy, what was not proposed and why, the list to choose from. Pure.
// Tested by tests/cli/step_page_test.cpp and the golden call-outs.
#include "cli/layout.h"
#include "engine/callout/callout.h"

namespace leadline::cli {

// "On average 64 min to a thruster proved to work; this check first saves 23 min against mending on suspicion."
Page figures_page(const planning::Proposal& proposal, const planning::Advice& advice, std::size_t width);

// That further asking is pointless, and why; empty when it is not.
Page pointless_page(const callout::Assessment& assessment, const planning::Advice& advice, std::size_t width);

// A check or remedy in one line, with its figures, "Measure the bank (8 min; 64 min to the end)": with the way there, and on average to the end of the job.
std::string step_words(const knowledge::KnowledgeBase& base, const planning::Proposal& proposal);

// The whole proposal: precautions before steps, figures, what to expect, what each outcome would mean.
Page step_page(const callout::Assessment& assessment, const planning::Proposal& proposal, const planning::Advice& advice, const std::string& label, std::size_t width);

// Checks that cannot be done here and would have saved minutes, each with what stands in the way; empty when there are none.
Page would_help_page(const callout::Assessment& assessment, const planning::Job& job, const planning::Advice& advice, std::size_t width);

// "no DC clamp meter in the bag", "the boat floats".
std::string obstacle_words(const knowledge::KnowledgeBase& base, const planning::Obstacle& obstacle, knowledge::Who needed);

// The remedies in the order in which they would be tried without a further check; empty when there are none.
Page order_page(const callout::Assessment& assessment, const planning::Advice& advice, std::size_t width);

}  // namespace leadline::cli
