#pragma once
// What the answers amount to, as text: ranking, reasons, disagreement, the proposed check. Pure: from an assessment to a page.
// Tested by tests/cli/ranking_page_test.cpp.
#include "cli/layout.h"
#include "engine/callout/callout.h"

namespace leadline::cli {

constexpr std::size_t shown_explanations = 5;

// The answers argue with one another, or nothing listed accounts for them.
bool disagree(const callout::Assessment& assessment);

Page ranking_page(const callout::Assessment& assessment, std::size_t most, std::size_t width);
Page answers_page(const callout::Assessment& assessment, std::size_t width);       // numbered, in the order given
Page disagreement_page(const callout::Assessment& assessment, std::size_t width);  // empty when there is none
// `places`: name the rules. A layman gets words, a technician decibans.
Page reasons_page(const callout::Assessment& assessment, std::size_t explanation, std::size_t most, bool places, std::size_t width);

// Precautions, then "Steps": never the other way round.
void add_precautions(Page& page, const knowledge::KnowledgeBase& base, const std::vector<knowledge::Ref<knowledge::Precaution>>& precautions);
void add_steps(Page& page, const std::vector<std::string>& steps);
Page check_page(const knowledge::KnowledgeBase& base, const knowledge::Check& check, std::size_t width);
// What each outcome of the proposal's most telling finding would mean.
Page outcomes_page(const callout::Assessment& assessment, const planning::Proposal& proposal, std::size_t width);

// "fuse-main" -> what stands in the list of answers: its number from 1; 0: not there.
std::size_t answer_number(const callout::Record& record, std::size_t finding);

}  // namespace leadline::cli
