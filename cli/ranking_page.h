#pragma once
// What the answers amount to, as text: ranking, reasons, disagreement, the proposed check. Pure: from an assessment to a page.
// Tested by tests/cli/golden_test.cpp.
#include "cli/layout.h"
#include "engine/callout/callout.h"

namespace leadline::cli {

constexpr std::size_t shown_explanations = 5;

// The answers argue with one another, or nothing listed accounts for them.
bool disagree(const callout::Assessment& assessment);

Page ranking_page(const callout::Assessment& assessment, std::size_t most, std::size_t width);
// Numbered, in the order given; `told_only`: those that tell nothing are only counted.
Page answers_page(const callout::Assessment& assessment, bool told_only, std::size_t width);
Page disagreement_page(const callout::Assessment& assessment, std::size_t width);  // empty when there is none
// `places`: name the rules. A layman gets words, a technician decibans; their legend is a page
// of its own, to be shown once.
Page reasons_page(const callout::Assessment& assessment, std::size_t explanation, std::size_t most, bool places, std::size_t width);
// "Panel lights: no light at all": the latest answer to a finding; its title when there is none.
std::string said_about(const callout::Assessment& assessment, std::size_t finding);
Page legend_page(const callout::Assessment& assessment, std::size_t width);        // empty for a layman

// Precautions, then "Steps": never the other way round.
void add_precautions(Page& page, const knowledge::KnowledgeBase& base, const std::vector<knowledge::Ref<knowledge::Precaution>>& precautions);
// What must be so aboard, who is needed, and the tools; nothing where nothing is.
void add_needs(Page& page, const knowledge::KnowledgeBase& base, const knowledge::Effort& effort);
void add_steps(Page& page, const std::vector<std::string>& steps);
// `label` stands before the title: "Next check: ".
Page check_page(const knowledge::KnowledgeBase& base, const knowledge::Check& check, const std::string& label, std::size_t width);
// What each outcome of the proposal's most telling finding would mean.
Page outcomes_page(const callout::Assessment& assessment, const planning::Proposal& proposal, std::size_t width);

// The number, from 1, of the answer to that finding in the list of answers; 0: none was given.
std::size_t answer_number(const callout::Record& record, std::size_t finding);

}  // namespace leadline::cli
