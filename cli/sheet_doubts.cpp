// What remains to be doubted at the end of a job. Tested by tests/cli/sheet_test.cpp.
#include <algorithm>
#include <cmath>

#include "cli/phrases.h"
#include "cli/ranking_page.h"
#include "cli/sheet_parts.h"
#include "cli/yardstick.h"
#include "engine/circuit/expected.h"
#include "engine/installation/restated.h"

namespace leadline::cli {

namespace {

using callout::Assessment;
using diagnosis::Explanation;
using Doubts = std::vector<Sheet::Doubt>;

constexpr double worth_a_word = 0.05, much = 0.1;
constexpr std::size_t most_suspects = 3, most_assumptions = 6;  // of the assumptions each is ranked anew: a tenth of a second

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

std::string value_words(const knowledge::Fact& fact, const std::string& value) {
  for (const auto& choice : fact.choices) {
    if (choice.id == value && fact.type == knowledge::FactType::choice) return choice.words;
  }
  return value + (fact.unit.empty() ? "" : " " + fact.unit);
}

double belief_in(const Assessment& assessment, const std::string& title) {
  double belief = 0;
  for (const auto& explanation : assessment.diagnosis().explanations) belief = std::max(belief, assessment.title_of(explanation) == title ? explanation.probability : 0.0);
  return belief;
}

// The ranking anew with the other value: does another lead, or does the leader's chance move by much? By titles: another boat may have other causes.
void add_assumption(Doubts& doubts, const Assessment& assessment, const circuit::AssumptionWeight& weight) {
  const auto at = knowledge::find_fact(assessment.base(), weight.path);
  if (!at) return;
  const auto& fact = assessment.base().facts[*at];
  auto record = assessment.record();
  record.installation = installation::with_fact(assessment.base(), record.installation, fact, weight.instead);
  const Assessment other(assessment.base(), record);
  if (other.diagnosis().explanations.empty()) return;
  const auto leader = assessment.title_of(assessment.diagnosis().explanations.front()), leads = other.title_of(other.diagnosis().explanations.front());
  const double before = assessment.diagnosis().explanations.front().probability, after = belief_in(other, leader);
  if (leads == leader && std::abs(before - after) < much) return;
  const auto question = fact.ask.empty() ? weight.path : fact.ask;
  const auto then = leads == leader ? "it would have " + percent(after) : leads + " would lead with " + percent(other.diagnosis().explanations.front().probability);
  doubts.push_back({"assumed", question + " Nobody stated it; taken: " + value_words(fact, weight.assumed) + ". Were it " + value_words(fact, weight.instead) + ", " + then +
                                   " in place of " + leader + " with " + percent(before) + "."});
}

// Would a reading that was taken be another on a sound boat?
bool moves_a_reading(const Assessment& assessment, const circuit::AssumptionWeight& weight) {
  const auto& base = assessment.base();
  const auto at = knowledge::find_fact(base, weight.path);
  if (!at) return false;
  const auto& now = *assessment.boat().expectation;
  const circuit::Expectation then(base, installation::Evaluation(base, installation::with_fact(base, assessment.record().installation, base.facts[*at], weight.instead)));
  const auto& answers = assessment.record().answers;
  return std::any_of(answers.begin(), answers.end(), [&](const auto& answer) {
    const auto here = now.tie_of(answer.finding.index), there = then.tie_of(answer.finding.index);
    return std::holds_alternative<diagnosis::Reading>(answer.observed) && here && there && circuit::tells_apart(circuit::expected(now, *here, {}), circuit::expected(then, *there, {}));
  });
}

// None once the proof is made: a thruster that works does not hang on what was assumed.
void add_assumptions(Doubts& doubts, const Assessment& assessment) {
  if (assessment.evidence().empty() || assessment.diagnosis().explanations.empty() || callout::proved(assessment.base(), assessment.record())) return;
  std::size_t tried = 0;
  for (const auto& weight : circuit::assumptions_that_matter(assessment.base(), assessment.record().installation)) {
    if (tried == most_assumptions) return;
    if (moves_a_reading(assessment, weight)) add_assumption(doubts, assessment, weight), ++tried;
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
