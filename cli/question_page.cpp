#include "cli/question_page.h"

#include <algorithm>

#include "cli/phrases.h"
#include "cli/ranking_page.h"
#include "cli/script_page.h"
#include "cli/sheet.h"
#include "cli/step_page.h"

namespace leadline::cli {

namespace {

using knowledge::Fact;
using knowledge::FactType;

constexpr std::size_t most_named_states = 3, most_to_go_on_with = 3;

// "(2 of 3)"; of a fact that is asked for later: nothing, for nobody knows how many there will be.
std::string count_of_facts(const Conversation& conversation) {
  const auto& intake = conversation.intake();
  const auto at = std::find(intake.begin(), intake.end(), conversation.question().index);
  return at == intake.end() ? "" : "(" + std::to_string(at - intake.begin() + 1) + " of " + std::to_string(intake.size()) + ")";
}

void add_fact(Page& page, const Conversation& conversation) {
  const auto fact = conversation.fact_in_question();
  const auto assumed = conversation.assumed_for(fact);
  const auto count = conversation.by_phone() ? "" : count_of_facts(conversation);
  const auto unit = fact.unit.empty() ? "" : " " + fact.unit;
  if (conversation.at_stake() != nullptr && !conversation.by_phone()) page.line("Of the boat, for the ranking hangs on it:");
  page.line(count + (count.empty() ? "" : " ") + question_for(fact, conversation.record().role == knowledge::Who::owner));
  if (fact.type == FactType::choice) {
    for (std::size_t i = 0; i < fact.choices.size(); ++i) {
      page.item(std::to_string(i + 1), fact.choices[i].words + (fact.choices[i].id == assumed ? " (Enter)" : ""));
    }
    return;
  }
  std::vector<std::string> values;
  for (const auto& choice : fact.choices) values.push_back(choice.id);
  page.line((values.empty() ? "a number" : listed(values)) + unit + " (Enter: " + assumed + unit + ")", 2);
}

void add_complaint(Page& page, const Conversation& conversation) {
  const bool first = conversation.progress().answers.empty();
  const bool owner = conversation.record().role == knowledge::Who::owner;
  const auto whose = std::string(conversation.by_phone() ? "For you: a few of his words" : "A few words");
  if (first) {
    page.line(owner ? "What is wrong, in your own words?" : "What is wrong, in the owner's words?");
    page.line(whose + ", for instance 'no push, only a click'; or 'list' to choose from.", 2);
  } else {
    page.line(conversation.by_phone() ? "Anything else?" : "Anything else? A few words, or Enter when that is all.");
    if (conversation.by_phone()) page.line(whose + ", or Enter when that is all.", 2);
  }
}

// "weaker than it used to be; no push at all; …": by these a person knows the trouble again. What the words suggest comes first.
std::string abnormal_words(const knowledge::Finding& finding, std::optional<std::size_t> suggested) {
  std::string words = suggested ? finding.states[*suggested].words : "";
  std::size_t named = suggested ? 1 : 0;
  for (std::size_t s = 1; s < finding.states.size() && named < most_named_states; ++s) {
    if (s == suggested) continue;
    words += (named++ == 0 ? "" : "; ") + finding.states[s].words;
  }
  return words + (finding.states.size() > most_named_states + 1 ? "; …" : "");
}

void add_match(Page& page, const Conversation& conversation) {
  page.line(conversation.by_phone() ? "For you: which of these is it?" : "Which of these is it?");
  const auto& offered = conversation.progress().offered;
  for (std::size_t i = 0; i < offered.size(); ++i) {
    const auto& finding = conversation.base()[offered[i].finding];
    page.item(std::to_string(i + 1), finding.title + ": " + abnormal_words(finding, offered[i].state));
  }
  page.line("A number, other words, or Enter for none of these.", 2);
}

void add_finding(Page& page, const Conversation& conversation) {
  const auto& finding = conversation.base().findings[conversation.question().index];
  page.line(question_for(finding, conversation.record().role));
  if (finding.is_reading()) {
    page.line("(" + diagnosis::expected_form(finding) + ")", 2);
    return;
  }
  const auto& progress = conversation.progress();
  for (std::size_t s = 0; s < finding.states.size(); ++s) {
    const bool on_enter = (progress.to_settle && progress.guess && *progress.guess == s) || (progress.proving && progress.said_gone && s == 0);
    page.item(std::to_string(s + 1), finding.states[s].words + (on_enter ? " (Enter)" : ""));
  }
}

void add_other_steps(Page& page, const Conversation& conversation) {
  page.line("What else may be done (minutes with the way there; on average to the end of the job):");
  const auto others = conversation.other_steps();
  for (std::size_t i = 0; i < others.size(); ++i) {
    const auto& progress = conversation.progress();
    const bool put_off = others[i].act == planning::Act::check ? progress.put_off[others[i].check.index] : progress.remedies_put_off[others[i].remedy.index];
    page.item(std::to_string(i + 1), step_words(conversation.base(), others[i]) + (put_off ? ", put off before" : ""));
  }
  const auto all = conversation.all_other_steps();
  page.line("A number, or Enter to stay with what was proposed." + (all > others.size() ? " Of " + std::to_string(all) + " in all: words narrow the list, 'all' shows it." : ""), 2);
}

// "at helm" where two pieces of cable meet, else "between A and B".
std::string cut_words(const planning::LineSearch& search, std::size_t cut) {
  const auto& a = search.pieces[cut];
  const auto& b = search.pieces[cut + 1];
  for (const auto& place : {a.to, a.from}) {
    if (!place.empty() && (place == b.from || place == b.to)) return "at " + place;
  }
  return "between '" + a.title + "' and '" + b.title + "'";
}

void add_part(Page& page, const Conversation& conversation) {
  const auto& search = *conversation.search();
  const auto& cut = search.cuts.front();
  page.line("Part the run " + cut_words(search, cut.index) + ". On which side does the fault lie?");
  page.item("1", "on the side of '" + search.pieces[cut.index].title + "' (" + percent(cut.before) + ")");
  page.item("2", "on the side of '" + search.pieces[cut.index + 1].title + "' (" + percent(cut.after) + ")");
  page.line("'later': mend without parting further.", 2);
}

// The run, and the check that parts it: precautions before steps.
void add_search(Page& page, const Conversation& conversation) {
  const auto& search = *conversation.search();
  const auto& base = conversation.base();
  page.line("Next: find the place for the remedy '" + base[conversation.in_hand()->remedy].title + "'.");
  page.append(check_page(base, base[search.how], "How: ", page.width()));
  page.line("The pieces of the run, in order, and how likely each is:");
  for (std::size_t p = 0; p < search.pieces.size(); ++p) page.item(std::to_string(p + 1) + ".", search.pieces[p].title + " (" + percent(search.pieces[p].chance) + ")");
}

// The piece where the fault sits, once parting has shown it.
void add_place(Page& page, const Conversation& conversation) {
  const auto* search = conversation.search();
  if (search == nullptr) return;
  const auto likeliest = std::max_element(search->pieces.begin(), search->pieces.end(), [](const auto& a, const auto& b) { return a.chance < b.chance; });
  page.line("It sits most likely here: " + likeliest->title + " (" + percent(likeliest->chance) + ").", 2);
}

void add_remedy(Page& page, bool by_phone) {
  page.line(by_phone ? "Have you done it? What came of it?" : "When the remedy is done: what came of it?");
  page.item("1", "the trouble is gone");
  page.item("2", "the trouble is still there");
  page.item("3", "it is different now");
  page.line(std::string(by_phone ? "For you: when it is not done, " : "Not done: ") + "'later', or 'other' to choose something else.", 2);
}

// Somebody else: for an owner the technician, for a technician a specialist.
void add_call_in(Page& page, const Conversation& conversation) {
  const auto& base = conversation.base();
  const auto role = conversation.record().role;
  const auto price = std::find_if(base.giving_up.begin(), base.giving_up.end(), [&](const auto& g) { return g.who == role; });
  const auto words = price == base.giving_up.end() ? std::string("call in somebody who knows more") : price->words;
  const auto others = conversation.other_steps();
  if (conversation.in_the_dark()) page.line("So many answers in a row could not be told: somebody has to look.");
  else page.line(others.empty() ? "Nothing is left that may be done here." : "Nothing that may be done here is worth its minutes any more.");
  page.line("What is left: " + words + ".", 2);
  if (conversation.by_phone()) page.line("'dispatch' says whom to send, and with what; it also stands on the last page.", 2);
  page.item("1", "end here (Enter)");
  if (others.empty()) return;
  page.item("2", "go on all the same. Next would be, with the minutes it takes and those to the end:");
  for (std::size_t i = 0; i < std::min(most_to_go_on_with, others.size()); ++i) page.item("-", step_words(base, others[i]), 6);
}

// The choices of other questions stand in the question, which is shown again after the list.
void add_complaints(Page& page, const Conversation& conversation) {
  if (conversation.question().asks != Asks::complaint) return;
  page.heading("What owners call about:");
  const auto known = conversation.complaints();
  for (std::size_t i = 0; i < known.size(); ++i) {
    const auto& finding = conversation.base()[known[i]];
    page.item(std::string(i < 9 && known.size() > 9 ? " " : "") + std::to_string(i + 1), finding.title);
  }
}

}  // namespace

Page safety_page(knowledge::Who role, bool by_phone, std::size_t width) {
  if (by_phone) return opening_script(width);
  Page page(width);
  page.line("Leadline advises; local codes and licensed practice come first.");
  page.line(role == knowledge::Who::owner
                ? "Keep people out of the water and hands away from the thruster; leave batteries and thick cables to a technician. If something "
                  "smokes, smells burnt or gets hot: switch it off, and call for help."
                : "Thick battery cables can burn and blind, charging batteries give off explosive gas, and the propeller may start at any time. "
                  "Read the precautions before the steps; if you are not sure, stop.");
  return page;
}

Page at_once_page(const std::string& words, bool by_phone, std::size_t width) {
  return Page(width).line(by_phone ? "Read aloud, at once:" : "AT ONCE:").item("!", words);
}

Page danger_page(const Conversation& conversation, const knowledge::AtOnce& told, std::size_t width) {
  auto page = at_once_page(told.words, conversation.by_phone(), width);
  return page.line(conversation.progress().complaint_told ? "If it is so, tell it with 'also' and these words." : "If it is so, tell it in these words when you are asked what is wrong.");
}

Page at_once_standing_page(const callout::Assessment& assessment, std::size_t width) {
  Page page(width);
  const auto standing = callout::at_once_now(assessment.base(), assessment.record());
  if (!standing.empty()) page.line(std::string(at_once_heading) + ":");
  for (const auto* told : standing) page.item("!", told->words);
  return page;
}

Page hint_page(std::size_t width) {
  return Page(width).line("At every question you may also type: ? (help), list, back, why, can't tell, not fitted, not safe, later, reminders, other, also, again 2, dispatch, stop.");
}

Page help_page(std::size_t width) {
  Page page(width);
  page.line("Answer with a number of the list or with its words; a reading with its unit. Or:");
  page.item("list       ", "answers so far, the ranking, and the choices");
  page.item("back       ", "undo the last answer, as often as you like");
  page.item("why        ", "why this is asked; 'why 2': why explanation 2 stands there");
  page.item("why not    ", "and words of a cause: why it is not the first, for instance 'why not blown fuse'");
  page.item("can't tell ", "you cannot see or measure it; nothing is concluded");
  page.item("not fitted ", "there is no such thing on this boat");
  page.item("later      ", "put this off and take something else first; what must wait is put on the list of reminders, as is any check with its minutes: 'later 60'");
  page.item("reminders  ", "what was put off, and when it is ripe; 'reminders 1' takes it up");
  page.item("not safe   ", "whoever is aboard would rather not do this: it is left out");
  page.item("other      ", "choose another check or remedy; there words narrow the list, for instance 'bank volts', and 'all' shows all");
  page.item("also ...   ", "a symptom told late, in its words: 'also smells burnt'");
  page.item("again 2    ", "give answer 2 of the list anew");
  page.item("what-if 2  ", "what answer 2 would lead to, without giving it");
  page.item("note ...   ", "note something in your own words, with the time");
  page.item("dispatch   ", "whom to send, with what, and what the customer leaves alone");
  page.item("stop       ", "end here, with what is known so far");
  return page;
}

Page list_page(const Conversation& conversation, std::size_t width) {
  Page page(width);
  const auto& assessment = conversation.assessment();
  page.append(answers_page(assessment, false, width));
  page.blank().append(ranking_page(assessment, assessment.diagnosis().explanations.size() > 20 ? 20 : assessment.diagnosis().explanations.size(), width));
  add_complaints(page, conversation);
  return page;
}

Page proposal_page(const Conversation& conversation, std::size_t width) {
  if (conversation.by_phone()) return desk_page(conversation, width);
  Page page(width);
  const auto& assessment = conversation.assessment();
  page.append(ranking_page(assessment, shown_explanations, width));
  if (const auto disagreement = disagreement_page(assessment, width); !disagreement.empty()) page.blank().append(disagreement);
  if (conversation.question().asks == Asks::part) {
    page.blank();
    add_search(page, conversation);
    return page;
  }
  if (const auto* step = conversation.in_hand()) page.blank().append(step_page(assessment, *step, conversation.advice(), "Next check: ", width));
  if (conversation.question().asks == Asks::remedy) add_place(page, conversation);
  return page;
}

Page question_page(const Conversation& conversation, std::size_t width) {
  Page page(width);
  const auto asks = conversation.question().asks;
  const bool asked_aloud = asks != Asks::part && asks != Asks::other_step && asks != Asks::call_in && asks != Asks::match && asks != Asks::nothing;
  if (conversation.by_phone()) page.append(ahead_of_question(conversation, width));
  if (conversation.by_phone() && asked_aloud) page.line(asks == Asks::fact && !count_of_facts(conversation).empty() ? "Ask " + count_of_facts(conversation) + ":" : "Ask:");
  switch (asks) {
    case Asks::fact: add_fact(page, conversation); break;
    case Asks::complaint: add_complaint(page, conversation); break;
    case Asks::match: add_match(page, conversation); break;
    case Asks::finding: add_finding(page, conversation); break;
    case Asks::part: add_part(page, conversation); break;
    case Asks::remedy: add_remedy(page, conversation.by_phone()); break;
    case Asks::other_step: add_other_steps(page, conversation); break;
    case Asks::call_in: add_call_in(page, conversation); break;
    case Asks::nothing: break;
  }
  return page;
}

}  // namespace leadline::cli
