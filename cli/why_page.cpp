// 'why': what a question decides, and what the leading explanation rests on. Tested by tests/cli/golden_test.cpp.
#include <algorithm>

#include "cli/phrases.h"
#include "cli/question_page.h"
#include "cli/ranking_page.h"
#include "cli/step_page.h"
#include "engine/diagnosis/tied.h"

namespace leadline::cli {

namespace {

constexpr double worth_naming = 0.05;

bool names(const std::optional<knowledge::Expression>& expression, const std::string& path) { return expression && expression->text.find(path) != std::string::npos; }

void add_stake(Page& page, const knowledge::Fact& fact, const callout::Stake& stake) {
  const auto now = "Nobody has stated it. Taken as '" + value_words(fact, stake.assumed) + "', '" + stake.leader + "' leads with " + percent(stake.leader_now) + ". ";
  const auto then = stake.leads == stake.leader ? "it would have " + percent(stake.leader_then) : "'" + stake.leads + "' would lead with " + percent(stake.leads_then);
  page.line(now + "Were it '" + value_words(fact, stake.instead) + "', " + then + ".");
}

void add_fact_reason(Page& page, const Conversation& conversation) {
  const auto& base = conversation.base();
  const auto& fact = base.facts[conversation.question().index];
  if (const auto* stake = conversation.at_stake()) return add_stake(page, fact, *stake);
  std::size_t causes = 0, rules = 0;
  for (const auto& cause : base.causes) {
    bool named = names(cause.applies, fact.path());
    for (const auto& adjustment : cause.adjustments) named = named || names(adjustment.when, fact.path());
    causes += named ? 1 : 0;
    rules += static_cast<std::size_t>(std::count_if(cause.rules.begin(), cause.rules.end(), [&](const auto& r) { return names(r.when, fact.path()); }));
  }
  page.line("What is fitted decides which faults there can be and what a healthy reading is. This fact bears directly on " +
            count_words(causes, "cause", "causes") + " and " + count_words(rules, "rule", "rules") + ". Without an answer it is taken as '" + value_words(fact, conversation.assumed_for(fact)) + "'.");
}

// For each state: which of the shown explanations would bring it about.
void add_separation(Page& page, const callout::Assessment& assessment, std::size_t finding_index) {
  const auto& finding = assessment.base().findings[finding_index];
  const auto& explanations = assessment.diagnosis().explanations;
  const auto count = std::min(shown_explanations, explanations.size());
  const diagnosis::TiedReadings tied(assessment.boat().model, assessment.diagnosis().tied);
  page.line("It tells these apart:");
  for (std::size_t e = 0; e < count; ++e) page.item(std::to_string(e + 1) + ".", assessment.title_of(explanations[e]));
  page.line("The answer to expect, by explanation:");
  for (std::size_t s = 0; s < finding.states.size(); ++s) {
    std::vector<std::string> seen;
    for (std::size_t e = 0; e < count; ++e) {
      const double chance = tied.states_of(finding_index, explanations[e].causes)[s];
      if (chance >= worth_naming) seen.push_back(std::to_string(e + 1) + " (" + percent(chance) + ")");
    }
    page.item("-", finding.states[s].words + ": " + (seen.empty() ? "hardly with any of them" : "with " + listed(seen)));
  }
}

}  // namespace

Page why_page(const Conversation& conversation, std::size_t width) {
  Page page(width);
  const auto& assessment = conversation.assessment();
  switch (conversation.question().asks) {
    case Asks::fact: add_fact_reason(page, conversation); return page;
    case Asks::complaint:
    case Asks::match:
      page.line("What is seen and heard sets the order of the " + count_words(assessment.boat().model.causes.size(), "possible cause", "possible causes") +
                " before anybody opens a locker; every complaint you can name saves a check.");
      break;
    case Asks::finding:
      if (conversation.progress().proving) page.line("A repair is proved when what the call was about is seen to be normal again.");
      else add_separation(page, assessment, conversation.question().index);
      break;
    case Asks::part: page.line("Each parting leaves about half of what is in doubt, by the lengths of the pieces and the readings so far."); break;
    case Asks::remedy:
    case Asks::other_step:
      page.line("Checks and remedies stand in the order of the minutes to a thruster that is proved to work, on average over all that may be wrong: of doing "
                "them, of the way there, and of all that is then still to come.");
      page.append(order_page(assessment, conversation.advice(), width));
      break;
    case Asks::call_in: page.line("Whatever is still possible here costs more minutes than it is likely to save."); break;
    case Asks::nothing: break;
  }
  if (!assessment.diagnosis().explanations.empty()) page.blank().append(reasons_page(assessment, 0, shown_explanations, false, width)).append(legend_page(assessment, width));
  return page;
}

}  // namespace leadline::cli
