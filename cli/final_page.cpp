#include "cli/final_page.h"

#include <algorithm>
#include <map>

#include "cli/circuit_words.h"
#include "cli/dispatch_page.h"
#include "cli/phrases.h"
#include "cli/question_page.h"
#include "cli/ranking_page.h"
#include "cli/step_page.h"

namespace leadline::cli {

namespace {

using callout::Assessment;

constexpr std::size_t most_worked_out = 3;
constexpr double worth_working_out = 0.05;
constexpr double stands_out = 0.5;

std::string ending_words(const Conversation& conversation) {
  switch (conversation.ending()) {
    case Ending::stopped: return "Stopped here. What is known so far:";
    case Ending::input_ended: return "The input ended here. What is known so far:";
    case Ending::proved: return "Proved: after the remedy all that the call was about is normal again.";
    case Ending::called_in: return "Ended here: somebody else is called in. What is known:";
    default: return "The result:";
  }
}

void add_proofs(Page& page, const knowledge::KnowledgeBase& base, const knowledge::Remedy& remedy, knowledge::Who role, std::size_t indent) {
  for (const auto& proof : remedy.proofs) {
    const auto& check = base[proof.check];
    page.line("Proof: " + check.title + ": " + proof.words + (check.who > role ? " (for a " + who_words(check.who) + ")" : ""), indent);
  }
}

// What was done, by which check each is proved for itself, and which fault it has probably taken away.
void add_remedies_done(Page& page, const Assessment& assessment) {
  const auto& remedies = assessment.record().remedies;
  if (remedies.empty()) return;
  page.heading("Remedies done:");
  for (std::size_t r = 0; r < remedies.size(); ++r) {
    const auto& remedy = assessment.base()[remedies[r].remedy];
    page.item(std::to_string(r + 1) + ".", remedy.title);
    add_proofs(page, assessment.base(), remedy, assessment.record().role, 5);
  }
  std::vector<std::size_t> gone;
  for (std::size_t c = 0; c < assessment.had_been().size(); ++c) {
    if (assessment.had_been()[c] - assessment.diagnosis().belief[c] >= worth_working_out) gone.push_back(c);
  }
  std::stable_sort(gone.begin(), gone.end(), [&](auto a, auto b) { return assessment.had_been()[a] > assessment.had_been()[b]; });
  if (!gone.empty()) page.heading("What it was, as far as it can be told:");
  for (const auto c : gone) page.item("-", assessment.title_of({{c}, 0}) + " (" + percent(assessment.had_been()[c]) + ")");
}

void add_cause(Page& page, const Assessment& assessment, std::size_t cause) {
  const auto& ref = assessment.boat().cause_refs[cause];
  if (ref) page.line(assessment.base()[*ref].what, 2);
  else page.line("The answers fit none of the listed causes well. Look for what this list does not know, and go through the answers again.", 2);
}

// "the same as above": a remedy shared by two explanations is written out once.
void add_explanation(Page& page, const Assessment& assessment, std::size_t number, std::vector<knowledge::Ref<knowledge::Remedy>>& written) {
  const auto& explanation = assessment.diagnosis().explanations[number];
  if (explanation.causes.empty()) return;
  page.heading(std::to_string(number + 1) + ". " + assessment.title_of(explanation) + " (" + percent(explanation.probability) + ")");
  for (const auto cause : explanation.causes) add_cause(page, assessment, cause);
  if (!assessment.evidence().empty()) page.append(reasons_page(assessment, number, 3, false, page.width()));
  if (number == 0) page.append(legend_page(assessment, page.width()));
  page.append(sizes_page(assessment, number, page.width()));
  for (const auto ref : planning::remedies_for(assessment.base(), assessment.boat(), assessment.evaluation(), explanation)) {
    const auto& remedy = assessment.base()[ref];
    page.blank();
    if (std::find(written.begin(), written.end(), ref) != written.end()) page.line("Remedy: " + remedy.title + " (written out above)");
    else if (assessment.barred(ref)) page.line("Remedy: " + remedy.title).line(barred_words(assessment.record().role), 2);
    else page.append(remedy_page(assessment.base(), remedy, assessment.record().role, page.width()));
    written.push_back(ref);
  }
}

void add_assumed(Page& page, const Assessment& assessment) {
  std::map<std::string, std::string> by_element;
  std::vector<std::string> order;
  for (const auto& [path, value] : assessment.record().installation.assumed()) {
    const auto fact = knowledge::find_fact(assessment.base(), path);
    const bool whole = !fact;  // pieces of the string, terminators: elements nobody listed
    const auto element = whole ? path : assessment.base().facts[*fact].element, name = whole ? "" : assessment.base().facts[*fact].name;
    if (!by_element.contains(element)) order.push_back(element);
    auto& words = by_element[element];
    const auto unit = fact ? assessment.base().facts[*fact].unit : "";
    words += (words.empty() ? "" : ", ") + name + (whole ? "" : " ") + value + (unit.empty() ? "" : " " + unit);
  }
  if (order.empty()) return;
  page.heading("Assumed of the boat, because nobody stated it:");
  for (const auto& element : order) page.item("-", element + ": " + by_element[element]);
}

void add_last_words(Page& page, const Assessment& assessment, bool proved) {
  const auto unlisted = assessment.boat().unlisted();
  const std::string proof = proved ? "Make the proof of each remedy as well: what comes and goes may only be away." : "A ranking is no proof: make the proof before and after the remedy.";
  page.heading("How far this reaches:");
  page.line("Something this knowledge base does not list: " + percent(assessment.diagnosis().belief[unlisted]) + ". " + proof, 2);
  page.line("Leadline advises; local codes and licensed practice come first.", 2);
}

void closing_words(Page& page, const Assessment& assessment, bool proved = false) {
  add_assumed(page, assessment);
  add_last_words(page, assessment, proved);
}

// The end of a call: what is written out for somebody on board would be read by nobody; it ends with whom to send.
Page call_page(const Conversation& conversation, std::size_t width) {
  const auto& assessment = conversation.assessment();
  const bool proved = conversation.ending() == Ending::proved;
  Page page(width);
  page.line(ending_words(conversation));
  if (const auto standing = at_once_standing_page(assessment, width); !standing.empty()) page.blank().append(standing);
  add_remedies_done(page, assessment);
  page.blank().append(answers_page(assessment, true, width));
  page.blank().append(ranking_page(assessment, shown_explanations, width));
  if (const auto disagreement = disagreement_page(assessment, width); !disagreement.empty()) page.blank().append(disagreement);
  closing_words(page, assessment, proved);
  if (!proved) page.blank().append(dispatch_page(conversation, width));
  return page;
}

}  // namespace

Page remedy_page(const knowledge::KnowledgeBase& base, const knowledge::Remedy& remedy, knowledge::Who role, std::size_t width) {
  Page page(width);
  page.line("Remedy: " + remedy.title);
  page.line(minutes_words(remedy.effort.minutes) + ", " + who_may(remedy.who), 2);
  if (remedy.who > role) {
    page.line("Not yours to do: show this page to a " + who_words(remedy.who) + ".", 2);
  } else {
    add_precautions(page, base, remedy.precautions);
    add_needs(page, base, remedy.effort);
    if (!remedy.parts.empty()) page.line("Parts: " + listed(remedy.parts), 2);
    add_steps(page, remedy.steps);
  }
  add_proofs(page, base, remedy, role, 0);
  return page;
}

Page final_page(const Conversation& conversation, std::size_t width) {
  const auto& assessment = conversation.assessment();
  Page page(width);
  if (conversation.by_phone()) return call_page(conversation, width);
  page.line(ending_words(conversation));
  if (const auto standing = at_once_standing_page(assessment, width); !standing.empty()) page.blank().append(standing);
  add_remedies_done(page, assessment);
  page.blank().append(answers_page(assessment, true, width));
  page.blank().append(ranking_page(assessment, shown_explanations, width));
  if (const auto disagreement = disagreement_page(assessment, width); !disagreement.empty()) page.blank().append(disagreement);
  const auto& explanations = assessment.diagnosis().explanations;
  if (conversation.ending() == Ending::proved) return closing_words(page, assessment, true), page;
  const auto job = conversation.job();
  const auto advice = planning::advise(job);
  // Only when it is so: often the quickest remedies in order take fewer minutes than asking on.
  if (!explanations.empty() && explanations.front().probability < stands_out && advice.proposals.front().act == planning::Act::check) {
    page.blank().line("None of them stands out: one more check is worth more than a repair on suspicion.");
  }
  std::vector<knowledge::Ref<knowledge::Remedy>> written;
  for (std::size_t e = 0; e < std::min(most_worked_out, explanations.size()); ++e) {
    // With nothing answered the first is only the commonest: its remedy would be a repair on suspicion.
    const bool first = e == 0 && !assessment.record().answers.empty();
    if (first || explanations[e].probability >= worth_working_out) add_explanation(page, assessment, e, written);
  }
  // What was put off or left out on the way still has its place in the order.
  const auto in_order = planning::advise(assessment.job(assessment.circumstances()), {.most_work = 0});
  if (const auto order = order_page(assessment, in_order, width); !order.empty()) page.blank().append(order);
  if (const auto help = would_help_page(assessment, job, advice, width); !help.empty()) page.blank().append(help);
  closing_words(page, assessment);
  return page;
}

}  // namespace leadline::cli
