// What remains to be doubted at the end of a job. Tested by tests/cli/sheet_test.cpp.
#include <algorithm>
#include <cmath>

#include "cli/phrases.h"
#include "cli/ranking_page.h"
#include "cli/sheet_parts.h"
#include "cli/yardstick.h"
#include "engine/callout/at_stake.h"

namespace leadline::cli {

namespace {

using callout::Assessment;
using diagnosis::Explanation;
using Doubts = std::vector<Sheet::Doubt>;

constexpr double worth_a_word = 0.05;
constexpr std::size_t most_suspects = 3, most_assumptions = 6;

void add_contradiction(Doubts& doubts, const Assessment& assessment) {
  if (!disagree(assessment)) return;
  const auto& conflict = assessment.conflict();
  std::string words = conflict.unexplained ? "Nothing listed accounts for the answers together: the cause is one this knowledge base does not hold, or an answer is mistaken."
                                           : "Some answers disagree with each other under everything known here.";
  std::vector<std::string> titles;
  for (const auto finding : conflict.suspects) titles.push_back("'" + assessment.base().findings[finding].title + "'");
  if (!titles.empty()) words += (conflict.together ? " Without these two together it would fit: " : titles.size() == 1 ? " Without this one it would fit: " : " Without any one of these it would fit: ") + listed(titles) + ".";
  else words += " No single answer and no pair stands out.";
  doubts.push_back({"contradiction", words});
}

// None once the proof is made: a thruster that works does not hang on what was assumed.
void add_assumptions(Doubts& doubts, const Assessment& assessment) {
  const auto& base = assessment.base();
  if (assessment.diagnosis().explanations.empty() || callout::proved(base, assessment.record())) return;
  std::vector<bool> facts;
  for (const auto& fact : base.facts) facts.push_back(installation::assumed_for(assessment.record().installation, fact).has_value());
  auto stakes = callout::AtStake().among(assessment, facts);
  stakes.resize(std::min(stakes.size(), most_assumptions));
  for (const auto& stake : stakes) {
    const auto& fact = base.facts[stake.fact];
    const auto then = stake.leads == stake.leader ? "it would have " + percent(stake.leader_then) : stake.leads + " would lead with " + percent(stake.leads_then);
    doubts.push_back({"assumed", (fact.ask.empty() ? fact.path() : fact.ask) + " Nobody stated it; taken: " + value_words(fact, stake.assumed) + ". Were it " +
                                     value_words(fact, stake.instead) + ", " + then + " in place of " + stake.leader + " with " + percent(stake.leader_now) + "."});
  }
}

// The first cause of the book that one explanation has and the other has not.
std::optional<knowledge::Ref<knowledge::Cause>> only_in(const Assessment& assessment, const Explanation& one, const Explanation& other) {
  for (const auto cause : one.causes) {
    const bool shared = std::find(other.causes.begin(), other.causes.end(), cause) != other.causes.end();
    if (!shared && assessment.boat().cause_refs[cause]) return assessment.boat().cause_refs[cause];
  }
  return std::nullopt;
}

std::string telling_words(const Assessment& assessment, const Yardstick& yardstick, const Explanation& leader, const Explanation& rival) {
  const auto here = only_in(assessment, leader, rival), there = only_in(assessment, rival, leader);
  std::optional<Telling> telling;
  if (here && there) telling = parting_check(assessment.base(), yardstick, *here, *there);
  else if (here || there) {
    const auto checks = telling_checks(assessment.base(), yardstick, here ? *here : *there);
    if (!checks.empty()) telling = checks.front();
  }
  if (!telling) return "no check of this knowledge base would tell";
  const bool again = callout::answered_now(assessment.record(), telling->finding.index);
  const auto& check = assessment.base()[telling->check];
  return "would tell: " + check.title + " ('" + assessment.base()[telling->finding].title + "'" + (again ? ", read already: once more" : "") + "; " + who_may(check.who) + ")";
}

void add_suspects(Doubts& doubts, const Assessment& assessment) {
  const auto& explanations = assessment.diagnosis().explanations;
  if (explanations.size() < 2 || explanations[1].probability < worth_a_word) return;
  const Yardstick yardstick{assessment.evaluation(), assessment.boat(), true};
  for (std::size_t e = 1; e < std::min(most_suspects + 1, explanations.size()) && explanations[e].probability >= worth_a_word; ++e) {
    doubts.push_back({"suspect", assessment.title_of(explanations[e]) + " (" + percent(explanations[e].probability) + "); " +
                                     telling_words(assessment, yardstick, explanations.front(), explanations[e]) + "."});
  }
}

}  // namespace

std::vector<Sheet::Doubt> sheet_doubts(const Assessment& assessment, bool try_assumptions) {
  Doubts doubts;
  add_contradiction(doubts, assessment);
  if (try_assumptions) add_assumptions(doubts, assessment);
  add_suspects(doubts, assessment);
  const auto unlisted = assessment.diagnosis().belief[assessment.boat().unlisted()];
  doubts.push_back({"unlisted", "Something this knowledge base does not list: " + percent(unlisted) + "."});
  const auto& answers = assessment.record().answers;
  const auto untold = static_cast<std::size_t>(std::count_if(answers.begin(), answers.end(), [](const auto& answer) { return !told(answer); }));
  if (untold > 0) doubts.push_back({"unanswered", count_words(untold, "question", "questions") + " could not be answered."});
  return doubts;
}

}  // namespace leadline::cli
