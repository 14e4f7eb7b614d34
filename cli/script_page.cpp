#include "cli/script_page.h"

#include <algorithm>

#include "cli/phrases.h"
#include "cli/ranking_page.h"
#include "cli/step_page.h"

namespace leadline::cli {

namespace {

using knowledge::KnowledgeBase;
using knowledge::Precaution;
using knowledge::Ref;

constexpr std::size_t shown_to_the_desk = 3;

// Nobody goes anywhere for it: the caller only tells.
bool only_told(const KnowledgeBase& base, const knowledge::Check& check) {
  return std::all_of(check.effort.places.begin(), check.effort.places.end(), [&](auto p) { return base[p].reach <= 0; });
}

std::string uncapitalised(std::string words) {
  if (!words.empty() && words[0] >= 'A' && words[0] <= 'Z') words[0] = static_cast<char>(words[0] + ('a' - 'A'));
  return words;
}

// "Explain: the motor …" is an order to the desk: the caller hears what is explained.
std::string as_spoken(const std::string& step) {
  constexpr std::string_view order = "Explain: ";
  if (!step.starts_with(order)) return step;
  auto words = step.substr(order.size());
  if (!words.empty() && words[0] >= 'a' && words[0] <= 'z') words[0] = static_cast<char>(words[0] - ('a' - 'A'));
  return words;
}

void add_spoken_precautions(Page& page, const KnowledgeBase& base, const std::vector<Ref<Precaution>>& precautions) {
  for (const auto ref : precautions) {
    const auto& known = base[ref];
    page.item("!", known.before.empty() ? known.title + ". " + known.what_to_do : known.before);
  }
}

// What stands there when nothing is done for it: a rest, a warm engine. None: the step need not wait.
const knowledge::Condition* waited_for(const KnowledgeBase& base, const knowledge::Effort& effort) {
  const auto* condition = effort.condition ? &base[*effort.condition] : nullptr;
  return condition != nullptr && condition->wait > 0 ? condition : nullptr;
}

// The caller says whether it has been so.
void add_wait(Page& page, const KnowledgeBase& base, const knowledge::Effort& effort) {
  if (const auto* condition = waited_for(base, effort)) page.line("This needs: " + condition->title + ". Has that been so?", 2);
}

void add_wait_hint(Page& page, const KnowledgeBase& base, const knowledge::Effort& effort) {
  if (const auto* condition = waited_for(base, effort)) page.line("It must wait " + minutes_words(condition->wait) + " unless that has passed: 'later', and you are reminded to call back.", 2);
}

void add_steps_aloud(Page& page, const std::vector<std::string>& steps) {
  for (const auto& step : steps) page.line(as_spoken(step), 2);
}

// What the caller will hardly say only keeps the desk from the script.
planning::Proposal likeliest_outcomes(planning::Proposal proposal) {
  auto& outcomes = proposal.outcomes;
  std::stable_sort(outcomes.begin(), outcomes.end(), [](const auto& a, const auto& b) { return a.chance > b.chance; });
  if (outcomes.size() > shown_to_the_desk) outcomes.resize(shown_to_the_desk);
  return proposal;
}

void add_check_for_desk(Page& page, const Conversation& conversation, const knowledge::Check& check) {
  const auto& base = conversation.base();
  page.blank().line("Next: " + check.title);
  if (only_told(base, check)) {
    for (const auto& step : check.steps) page.line(step, 2);
  }
  add_needs(page, base, check.effort);
  add_wait_hint(page, base, check.effort);
}

void add_check_aloud(Page& page, const Conversation& conversation, const knowledge::Check& check) {
  const auto& base = conversation.base();
  const bool told = only_told(base, check);
  if (told && check.precautions.empty()) return;
  page.heading("Read aloud:");
  add_spoken_precautions(page, base, check.precautions);
  if (!check.precautions.empty()) {
    page.line(told ? "Is it safe for you where you are? Then just tell me:" : "Is it safe for you to " + uncapitalised(check.title) + "? If you are not sure, say so: we leave it out.", 2);
  }
  add_wait(page, base, check.effort);
  if (!told) add_steps_aloud(page, check.steps);
}

void add_remedy_aloud(Page& page, const Conversation& conversation, const knowledge::Remedy& remedy) {
  page.heading("Read aloud:");
  add_spoken_precautions(page, conversation.base(), remedy.precautions);
  if (!remedy.precautions.empty()) page.line("Is it safe for you to do this? If you are not sure, say so: we leave it out.", 2);
  add_steps_aloud(page, remedy.steps);
}

void add_remedy_for_desk(Page& page, const Conversation& conversation, const knowledge::Remedy& remedy) {
  page.blank().line("Next: put it right, by what the caller may do himself: " + remedy.title);
  add_needs(page, conversation.base(), remedy.effort);
  if (!remedy.parts.empty()) page.line("Parts: " + listed(remedy.parts), 2);
}

}  // namespace

Page opening_script(std::size_t width) {
  Page page(width);
  page.line("Leadline advises; local codes and licensed practice come first.");
  page.line("By phone: only what stands under 'Read aloud' and 'Ask' is for the caller; read it as it stands. Type what he answers: its number, or his words.");
  page.heading("Read aloud:");
  page.line("Keep people out of the water and hands away from the thruster. Leave batteries and thick cables alone. If something smokes, smells burnt or gets hot: switch it "
            "off, keep away, and tell me. Is anything of that so now, is water coming in, or does it run by itself?", 2);
  page.heading("For you:").line("Such words may be typed at any question, for instance 'smoke': what is to be said at once then stands here.", 2);
  return page;
}

Page ahead_of_question(const Conversation& conversation, std::size_t width) {
  Page page(width);
  const auto& progress = conversation.progress();
  if (conversation.question().asks != Asks::finding) return page;
  if (progress.again || progress.to_settle) return page.line("Read aloud:").line("Only tell me what you noticed: try nothing for it.", 2).blank();
  if (!progress.proving) return page;
  const auto& base = conversation.base();
  const Ref<knowledge::Finding> finding{conversation.question().index};
  const auto looks = std::find_if(base.checks.begin(), base.checks.end(), [&](const auto& check) {
    return check.who == knowledge::Who::owner && std::find(check.observes.begin(), check.observes.end(), finding) != check.observes.end();
  });
  if (looks == base.checks.end() || looks->precautions.empty()) return page;
  page.line("Read aloud:");
  add_spoken_precautions(page, base, looks->precautions);
  return page.line("Is it safe for you to try it now?", 2).blank();
}

Page desk_page(const Conversation& conversation, std::size_t width) {
  Page page(width);
  const auto& assessment = conversation.assessment();
  const auto& base = conversation.base();
  page.line("For you:");
  page.append(ranking_page(assessment, shown_to_the_desk, width));
  if (const auto disagreement = disagreement_page(assessment, width); !disagreement.empty()) page.blank().append(disagreement);
  const auto* step = conversation.in_hand();
  if (step == nullptr) return page;
  if (step->act == planning::Act::give_up) return page.blank().append(pointless_page(assessment, conversation.advice(), width));
  const bool check = step->act == planning::Act::check;
  if (check) add_check_for_desk(page, conversation, base[step->check]);
  else add_remedy_for_desk(page, conversation, base[step->remedy]);
  page.append(figures_page(*step, conversation.advice(), width));
  if (check) page.append(outcomes_page(assessment, likeliest_outcomes(*step), width));
  page.append(pointless_page(assessment, conversation.advice(), width));
  if (check) add_check_aloud(page, conversation, base[step->check]);
  else add_remedy_aloud(page, conversation, base[step->remedy]);
  return page;
}

}  // namespace leadline::cli
