#include "cli/ranking_page.h"

#include <algorithm>
#include <cmath>

#include "cli/phrases.h"
#include "engine/text/number.h"

namespace leadline::cli {

namespace {

using callout::Assessment;
using knowledge::KnowledgeBase;

constexpr double bits_that_matter = 1;       // answers half as likely together as apart
constexpr double mass_that_matters = 0.01;
constexpr double weight_that_shows = 0.05;   // decibans; below it an answer reads as "0 dB"

void add_limits(Page& page, const Assessment& assessment, double hidden) {
  const auto& diagnosis = assessment.diagnosis();
  if (hidden > 0.0005) page.line("All other explanations together: " + percent(hidden) + ".", 2);
  if (diagnosis.unlisted_mass > mass_that_matters || !diagnosis.exact) {
    const std::string kind = diagnosis.exact ? "Of that, too unlikely to be listed one by one: " : "Reckoned within bounds; what is left out holds at most ";
    page.line(kind + percent(diagnosis.unlisted_mass) + ".", 2);
  }
}

std::string check_that_repeats(const Assessment& assessment, std::size_t finding) {
  const knowledge::Check* cheapest = nullptr;
  for (const auto& check : assessment.base().checks) {
    const bool observes = std::any_of(check.observes.begin(), check.observes.end(), [&](auto f) { return f.index == finding; });
    if (!observes || check.who > assessment.record().role) continue;
    if (cheapest == nullptr || check.effort.minutes < cheapest->effort.minutes) cheapest = &check;
  }
  return cheapest == nullptr ? "" : cheapest->title + " (" + minutes_words(cheapest->effort.minutes) + ")";
}

void add_repeat(Page& page, const Assessment& assessment) {
  const auto cheapest = assessment.cheapest_to_repeat();
  if (!cheapest) return;
  const auto check = check_that_repeats(assessment, *cheapest);
  page.line("Cheapest to repeat: " + check + ", because of '" + assessment.base().findings[*cheapest].title + "'. To answer it anew: again " +
            std::to_string(answer_number(assessment.record(), *cheapest)) + ".");
}

std::string places_words(const std::vector<text::Place>& places) {
  std::vector<std::string> words;
  for (const auto& place : places) words.push_back(place_words(place));
  return listed(words);
}

}  // namespace

bool disagree(const Assessment& assessment) { return assessment.conflict().unexplained || assessment.conflict().bits > bits_that_matter; }

std::size_t answer_number(const callout::Record& record, std::size_t finding) {
  for (std::size_t i = record.answers.size(); i > 0; --i) {
    if (record.answers[i - 1].finding.index == finding) return i;
  }
  return 0;
}

std::string said_about(const Assessment& assessment, std::size_t finding) {
  const auto& record = assessment.record();
  const auto number = answer_number(record, finding);
  return number == 0 ? assessment.base().findings[finding].title : answer_words(assessment.base(), record.answers[number - 1]);
}

Page ranking_page(const Assessment& assessment, std::size_t most, std::size_t width) {
  Page page(width);
  const bool mended = !assessment.record().remedies.empty();
  page.line(mended ? "What may be wrong now, most likely first:" : assessment.evidence().empty() ? "What is most common on such a boat:" : "What it may be, most likely first:");
  const auto& explanations = assessment.diagnosis().explanations;
  const auto count = std::min(most, explanations.size());
  const auto widest = std::to_string(count).size();
  double shown = 0;
  for (std::size_t i = 0; i < count; ++i) {
    shown += explanations[i].probability;
    const auto number = std::to_string(i + 1);
    page.item(std::string(widest - number.size(), ' ') + number + "." + padded_percent(explanations[i].probability) + " " + bar(explanations[i].probability),
              assessment.title_of(explanations[i]));
  }
  add_limits(page, assessment, 1 - shown);
  return page;
}

Page answers_page(const Assessment& assessment, bool told_only, std::size_t width) {
  Page page(width);
  const auto& answers = assessment.record().answers;
  const auto& remedies = assessment.record().remedies;
  page.line(answers.empty() ? "No answers yet." : "Answers so far:");
  std::size_t untold = 0, done = 0;
  for (std::size_t i = 0; i < answers.size(); ++i) {
    for (; done < remedies.size() && remedies[done].after <= i; ++done) page.line("Then done: " + assessment.base()[remedies[done].remedy].title, 2);
    const bool told = std::holds_alternative<diagnosis::Seen>(answers[i].observed) || std::holds_alternative<diagnosis::Reading>(answers[i].observed);
    untold += told ? 0 : 1;
    if (told || !told_only) page.item(std::to_string(i + 1) + ".", answer_words(assessment.base(), answers[i]));
  }
  for (; done < remedies.size(); ++done) page.line("Then done: " + assessment.base()[remedies[done].remedy].title, 2);
  if (told_only && untold > 0) page.line(count_words(untold, "question", "questions") + " could not be answered.", 2);
  return page;
}

Page disagreement_page(const Assessment& assessment, std::size_t width) {
  Page page(width);
  if (!disagree(assessment)) return page;
  const auto& conflict = assessment.conflict();
  page.line(conflict.unexplained ? "Nothing listed accounts for these answers together: the cause is one this knowledge base does not hold, or an answer "
                                   "is mistaken."
                                 : "Some answers disagree with each other under everything known here.");
  if (conflict.suspects.empty()) {
    page.line("No single answer and no pair stands out. Go through them with 'list' and answer anew what is least sure ('again' and its number).");
    return page;
  }
  page.line(conflict.together ? "Without these two together it would fit:" : conflict.suspects.size() == 1 ? "Without this one it would fit:" : "Without any one of these it would fit:");
  for (const auto finding : conflict.suspects) page.item("-", said_about(assessment, finding));
  add_repeat(page, assessment);
  return page;
}

Page reasons_page(const Assessment& assessment, std::size_t explanation, std::size_t most, bool places, std::size_t width) {
  Page page(width);
  const auto reasons = assessment.reasons(explanation);
  const bool layman = assessment.record().role == knowledge::Who::owner;
  const bool mended = !assessment.record().remedies.empty();
  page.line("Why " + assessment.title_of(assessment.diagnosis().explanations[explanation]) + (mended ? ", by what was seen since the remedy:" : ":"));
  const auto nothing_said = mended ? "No answer since the remedy speaks for or against it." : "No answer speaks for or against it yet: it stands where its frequency puts it.";
  if (reasons.empty()) page.line(mended || assessment.evidence().empty() ? nothing_said : "Nothing rivals it.", 2);
  std::size_t shown = 0;
  for (const auto& reason : reasons) {
    if (shown == most) break;
    if (std::abs(reason.weight_db) < weight_that_shows) continue;
    ++shown;
    const auto weight = layman ? strength(reason.weight_db) : decibans(reason.weight_db);
    page.item("-", said_about(assessment, reason.finding) + " (" + weight + ")");
    if (places && !reason.because_of.empty()) page.line("rule: " + places_words(reason.because_of), 4);
  }
  if (shown < reasons.size()) page.line(count_words(reasons.size() - shown, "more answer that weighs less", "more answers that weigh less") + ".", 2);
  return page;
}

Page legend_page(const Assessment& assessment, std::size_t width) {
  Page page(width);
  if (assessment.record().role == knowledge::Who::owner || assessment.evidence().empty()) return page;
  return page.line("(+10 dB: this answer makes it ten times as likely against all else; -10 dB: a tenth)", 2);
}

void add_precautions(Page& page, const KnowledgeBase& base, const std::vector<knowledge::Ref<knowledge::Precaution>>& precautions) {
  if (precautions.empty()) return;
  page.line("FIRST, for your safety:");
  for (const auto ref : precautions) page.item("!", base[ref].title + ": " + base[ref].what_to_do);
}

void add_needs(Page& page, const KnowledgeBase& base, const knowledge::Effort& effort) {
  std::vector<std::string> needs;
  if (effort.condition) needs.push_back(base[*effort.condition].title);
  if (effort.hands > 1) needs.push_back("a second person");
  if (effort.engine) needs.push_back("an engine that may run");
  if (effort.daylight) needs.push_back("daylight");
  if (effort.water == knowledge::Water::ashore) needs.push_back("the boat out of the water");
  if (!needs.empty()) page.line("Needs: " + listed(needs), 2);
  std::vector<std::string> tools;
  for (const auto tool : effort.tools) tools.push_back(base[tool].title);
  if (!tools.empty()) page.line("Tools: " + listed(tools), 2);
}

void add_steps(Page& page, const std::vector<std::string>& steps) {
  page.line("Steps:");
  for (std::size_t i = 0; i < steps.size(); ++i) page.item(std::to_string(i + 1) + ".", steps[i]);
}

Page check_page(const KnowledgeBase& base, const knowledge::Check& check, const std::string& label, std::size_t width) {
  Page page(width);
  page.line(label + check.title);
  page.line(minutes_words(check.effort.minutes) + ", " + who_may(check.who) + (check.where.empty() ? "" : ", at: " + check.where), 2);
  add_needs(page, base, check.effort);
  add_precautions(page, base, check.precautions);
  add_steps(page, check.steps);
  return page;
}

Page outcomes_page(const Assessment& assessment, const planning::Proposal& proposal, std::size_t width) {
  Page page(width);
  const auto& finding = assessment.base()[proposal.tells_most];
  page.line("What it would separate (" + finding.title + "):");
  auto outcomes = proposal.outcomes;
  std::stable_sort(outcomes.begin(), outcomes.end(), [](const auto& a, const auto& b) { return a.chance > b.chance; });
  for (const auto& outcome : outcomes) {
    if (outcome.chance < 0.005) continue;
    const auto& leading = assessment.diagnosis().explanations[outcome.leading];
    page.item("-", finding.states[outcome.state].words + " (chance " + percent(outcome.chance) + "): then " + assessment.title_of(leading) + " would lead with " +
                       percent(outcome.leading_probability));
  }
  return page;
}

}  // namespace leadline::cli
