#include "cli/practice_page.h"

#include <algorithm>

#include "cli/final_page.h"
#include "cli/phrases.h"
#include "cli/question_page.h"
#include "cli/ranking_page.h"
#include "cli/sheet.h"
#include "cli/sheet_parts.h"
#include "cli/step_page.h"

namespace leadline::cli {

namespace {

using planning::Act;
using trial::Choosable;
using trial::Practice;

// Minutes by which a choice was worse than the best: fewer read as nothing; up to these, or this share of all to the end, it was nearly as good.
constexpr double as_good = 0.5, nearly = 3, nearly_share = 0.05;

std::string title_of(const knowledge::KnowledgeBase& base, Act act, std::size_t index) {
  return act == Act::check ? base.checks[index].title : "Remedy: " + base.remedies[index].title;
}

std::string title_of(const knowledge::KnowledgeBase& base, const planning::Proposal& proposal) {
  if (proposal.act == Act::give_up) return "Call somebody else in";
  const auto step = trial::step_of(proposal);
  return title_of(base, step.act, step.index);
}

std::string cause_title(const knowledge::KnowledgeBase& base, std::size_t cause) {
  return cause == base.causes.size() ? "something the book does not list" : base.causes[cause].title;
}

void add_causes(Page& page, const knowledge::KnowledgeBase& base, const std::vector<std::size_t>& causes) {
  for (const auto cause : causes) {
    const bool listed = cause != base.causes.size();
    page.item("-", cause_title(base, cause) + (listed ? " (leadline show " + base.causes[cause].id + ")" : ""));
    if (listed) page.line(base.causes[cause].what, 4);
  }
}

std::string grade(const knowledge::KnowledgeBase& base, const trial::Practised& done) {
  if (done.lost < as_good) return "the best choice";
  const auto better = "'" + title_of(base, done.best) + "' promised more";
  return done.lost <= std::max(nearly, nearly_share * done.best.expected) ? "nearly as good as '" + title_of(base, done.best) + "'" : better;
}

// A line for each thing that is truly wrong, by its letter where there are several.
void add_your_way(Page& page, const Practice& practice) {
  const auto& base = practice.base();
  const auto truth = practice.truth();
  page.heading(truth.size() == 1 ? "Your way, and how likely what was truly wrong had become:" : "Your way, and how likely each of what was truly wrong had become:");
  for (std::size_t t = 0; t < truth.size() && truth.size() > 1; ++t) page.item(std::string(1, static_cast<char>('A' + t)), cause_title(base, truth[t]));
  for (std::size_t i = 0; i < practice.done().size(); ++i) {
    const auto& done = practice.done()[i];
    std::vector<std::string> beliefs;
    for (std::size_t t = 0; t < truth.size(); ++t) {
      beliefs.push_back((truth.size() > 1 ? std::string(1, static_cast<char>('A' + t)) + " " : "") + percent(done.believed_before[t]) + " before, " + percent(done.believed_after[t]) + " after");
    }
    page.item(std::to_string(i + 1) + ".", title_of(base, done.step.act, done.step.index) + " (" + whole_minutes(done.total) + "): " + grade(base, done) + "; " + listed(beliefs));
  }
  page.line("A choice is held against the best by all that might have been wrong just then: the best may find nothing, a poorer one may hit.", 2);
}

// What a step of the program's told that is not sound.
std::string unsound_words(const std::vector<Sheet::Finding>& rows, const trial::Practised& done) {
  std::vector<std::string> words;
  for (std::size_t i = done.first_answer; i < done.first_answer + done.answers; ++i) {
    if (rows[i].judged == Judged::abnormal) words.push_back(rows[i].title + ": " + rows[i].read);
  }
  return words.empty() ? "nothing unsound" : listed(words);
}

void add_the_programs_way(Page& page, const Practice& practice) {
  const auto played = practice.by_the_program();
  page.heading("The program's way, on the same call-out (" + whole_minutes(played->minutes()) + (played->mended() ? "):" : ", and then somebody else has to come):"));
  const auto rows = sheet_findings(played->assessment());
  for (std::size_t i = 0; i < played->done().size(); ++i) {
    const auto& done = played->done()[i];
    const auto told = done.step.act == Act::check ? "; " + unsound_words(rows, done) : "";
    page.item(std::to_string(i + 1) + ".", title_of(played->base(), done.step.act, done.step.index) + " (" + whole_minutes(done.total) + ")" + told);
  }
}

std::string verdict(const std::vector<std::size_t>& truth, const std::vector<std::size_t>& named) {
  const auto is_true = [&](auto cause) { return std::find(truth.begin(), truth.end(), cause) != truth.end(); };
  if (!std::all_of(named.begin(), named.end(), is_true)) return "not what is wrong.";
  return truth.size() == named.size() ? "right." : "right, but not all of it.";
}

}  // namespace

Page practice_opening_page(const Practice& practice, std::size_t width) {
  Page page(width);
  const auto& base = practice.base();
  page.line("Practice call-out " + std::to_string(practice.number()) + ": boat, fault and readings are drawn by the book's numbers, none of it is real. You choose what is looked at and "
            "what is mended; the boat answers, the minutes count.");
  page.heading("The boat:");
  for (const auto& stated : practice.stated()) {
    const auto& fact = base.facts[*knowledge::find_fact(base, stated.path)];
    page.item("-", (fact.ask.empty() ? fact.path() + ":" : fact.ask) + " " + value_words(fact, stated.value));
  }
  const auto& said = practice.record().answers;
  page.heading("The owner tells:");
  page.item("-", answer_words(base, said[practice.complaint()]));
  if (practice.complaint() > 0) page.line("Asked for other signs, he says:");
  for (std::size_t i = 0; i < practice.complaint(); ++i) page.item("-", answer_words(base, said[i]));
  return page;
}

Page practice_help_page(std::size_t width) {
  Page page(width);
  page.line("Words of what you want to look at or mend, for instance 'bank volts', 'lugs' or 'charge'; then the number of the list. Or:");
  page.item("all    ", "all checks and remedies there are");
  page.item("list   ", "what was found so far, and the ranking that follows");
  page.item("why 2  ", "what speaks for and against explanation 2 of it");
  page.item("hint   ", "what would be best now, and why");
  page.item("name   ", "say what it is, and end: words of a cause, or its number in the ranking ('name rope', 'name 1')");
  page.item("stop   ", "end here, and be told what was wrong");
  return page;
}

std::string why_not_here(const Practice& practice, const Choosable& step) {
  const auto& base = practice.base();
  return obstacle_words(base, practice.obstacle_to(step), step.act == Act::check ? base.checks[step.index].who : base.remedies[step.index].who);
}

Page choosable_page(const Practice& practice, const std::vector<Choosable>& steps, std::size_t width) {
  Page page(width);
  const auto& base = practice.base();
  const auto widest = std::to_string(steps.size()).size();
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const auto& step = steps[i];
    const auto why = why_not_here(practice, step);
    const auto number = std::to_string(i + 1);
    page.item(std::string(widest - number.size(), ' ') + number,
              title_of(base, step.act, step.index) + " (" + (!why.empty() ? "not here: " + why : whole_minutes(practice.minutes_of(step))) + ")");
  }
  return page;
}

Page chosen_page(const Practice& practice, const Choosable& step, std::size_t width) {
  const auto& base = practice.base();
  Page page(width);
  if (const auto standing = at_once_standing_page(practice.assessment(), width); !standing.empty()) page.append(standing).blank();
  return page.append(step.act == Act::check ? check_page(base, base.checks[step.index], "", width) : remedy_page(base, base.remedies[step.index], practice.record().role, width));
}

Page found_page(const Practice& practice, const trial::Practised& done, std::size_t width) {
  Page page(width);
  const auto& answers = practice.record().answers;
  page.line("Done: " + whole_minutes(done.minutes) + ", " + whole_minutes(done.total) + " in all. " + (done.step.act == Act::check ? "You find:" : "The trouble, looked at again:"));
  const auto rows = sheet_findings(practice.assessment());
  for (std::size_t i = done.first_answer; i < done.first_answer + done.answers; ++i) {
    const bool plain = rows[i].read == rows[i].healthy;
    page.item("-", rows[i].title + ": " + rows[i].read + (plain ? "" : " (sound: " + rows[i].healthy + ")"));
  }
  for (std::size_t i = done.first_answer; i < done.first_answer + done.answers; ++i) {
    if (const auto* told = callout::at_once_for(practice.base(), answers[i])) page.blank().append(at_once_page(told->words, false, width));
  }
  return page;
}

Page so_far_page(const Practice& practice, std::size_t width) {
  Page page(width);
  page.append(answers_page(practice.assessment(), true, width)).blank().append(ranking_page(practice.assessment(), shown_explanations, width));
  if (disagree(practice.assessment())) page.blank().line("Some of what was found argues with the rest, or nothing listed accounts for it all.");
  if (const auto standing = at_once_standing_page(practice.assessment(), width); !standing.empty()) page.blank().append(standing);
  return page.line(whole_minutes(practice.minutes()) + " so far.");
}

Page best_step_page(Practice& practice, std::size_t width) {
  Page page(width);
  const auto& advice = practice.advice();
  const auto& best = advice.proposals.front();
  page.line("Best now: " + title_of(practice.base(), best));
  page.append(figures_page(best, advice, width));
  if (best.act == Act::check) page.append(outcomes_page(practice.assessment(), best, width));
  return page.append(pointless_page(practice.assessment(), advice, width));
}

Page debrief_page(const Practice& practice, std::size_t hints, const std::vector<std::size_t>& named, std::size_t width) {
  Page page(width);
  const auto& base = practice.base();
  const auto steps = count_words(practice.done().size(), "step", "steps") + ", " + whole_minutes(practice.minutes()) + (hints == 0 ? "" : ", " + count_words(hints, "hint", "hints"));
  page.line(practice.mended() ? "What the owner called about is gone: " + steps + "." : !named.empty() ? "You named it after " + steps + "." : "Ended before the trouble was gone: " + steps + ".");
  std::vector<std::string> titles;
  for (const auto cause : named) titles.push_back("'" + cause_title(base, cause) + "'");
  if (!named.empty()) page.line(listed(titles) + (named.size() == 1 ? " is " : " are ") + verdict(practice.truth(), named));
  page.heading("What was truly wrong:");
  add_causes(page, base, practice.truth());
  if (const auto still = practice.still_wrong(); practice.mended() && !still.empty()) {
    page.line("Of that still there, though the owner's complaint is gone:");
    add_causes(page, base, still);
  }
  if (!practice.done().empty()) add_your_way(page, practice);
  add_the_programs_way(page, practice);
  page.blank().line("The same call-out again: leadline practise --call " + std::to_string(practice.number()));
  return page;
}

}  // namespace leadline::cli
