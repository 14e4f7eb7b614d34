#include "cli/job_page.h"

#include <algorithm>
#include <cstdio>
#include <ctime>

#include "cli/phrases.h"
#include "cli/ranking_page.h"

namespace leadline::cli {

namespace {

std::string ending_words(const std::string& how) {
  if (how == "proved") return "proved";
  if (how == "called-in") return "somebody else called in";
  if (how == "stopped") return "stopped";
  return "not finished";
}

double expected_minutes(const knowledge::KnowledgeBase& base, const callout::JobState& state) {
  double minutes = 0;
  for (const auto& id : state.checks) {
    if (const auto check = knowledge::find_id(base.checks, id)) minutes += base[*check].effort.minutes;
  }
  for (const auto& done : state.remedies) {
    if (const auto remedy = knowledge::find_id(base.remedies, done.id)) minutes += base[*remedy].effort.minutes;
  }
  return minutes;
}

}  // namespace

std::string time_words(callout::Time at) {
  if (at == 0) return "at an unknown time";
  const std::time_t seconds = at;
  std::tm parts{};
  char words[64];
  if (gmtime_r(&seconds, &parts) == nullptr || std::strftime(words, sizeof words, "%Y-%m-%d %H:%M UTC", &parts) == 0) return "at an unknown time";
  return words;
}

bool is_over(const callout::Journal& journal) { return ending_words(callout::ending_of(journal)) != "not finished"; }

std::string state_words(const callout::Journal& journal) {
  return ending_words(callout::ending_of(journal)) + ", " + count_words(callout::state_of(journal).answers.size(), "answer", "answers");
}

Page notes_page(const std::vector<callout::TimedNote>& notes, std::size_t width) {
  Page page(width);
  if (notes.empty()) return page;
  page.heading("Notes:");
  for (const auto& note : notes) page.item("-", (note.at == 0 ? "" : time_words(note.at) + ": ") + note.words);
  return page;
}

Page minutes_page(const knowledge::KnowledgeBase& base, const callout::Journal& journal, std::size_t width) {
  const auto minutes = static_cast<double>((callout::worked(journal) + 30) / 60);
  return Page(width).line("At work so far: " + minutes_words(minutes) + "; the book reckons " + minutes_words(expected_minutes(base, callout::state_of(journal))) +
                          " for the checks and remedies done.");
}

Page carried_page(const Resumed& resumed, std::size_t width) {
  Page page(width);
  if (!resumed.taken_over) return page;
  if (resumed.other_order) {
    return page.line("This program asks in another order than the one the job was begun with. Everything that was said is kept; 'back' goes no further than this.");
  }
  const auto& carried = resumed.carried;
  const auto kept = static_cast<std::size_t>(std::count_if(carried.begin(), carried.end(), [](const auto& c) { return c.fate == callout::Fate::kept; }));
  page.line("The knowledge base is another one than the job was told under. Kept as they were: " + std::to_string(kept) + " of " + std::to_string(carried.size()) +
            ". 'back' goes no further than this.");
  for (const auto& line : carried) {
    if (line.fate != callout::Fate::kept) page.item("-", line.what + ": " + (line.fate == callout::Fate::again ? "asked again, because " : "dropped, because ") + line.why);
  }
  return page;
}

Page standing_page(const Conversation& conversation, const callout::Journal& journal, std::size_t width) {
  Page page(width);
  page.line("Begun " + time_words(journal.head.at) + "; " + state_words(journal) + ".");
  const auto state = callout::state_of(journal);
  if (!state.facts.empty()) page.heading("Said of the boat:");
  for (const auto& fact : state.facts) page.item("-", fact.ask + " " + fact.value + (fact.unit.empty() ? "" : " " + fact.unit));
  page.blank().append(answers_page(conversation.assessment(), false, width));
  page.append(notes_page(callout::notes_of(journal), width));
  return page.blank().append(minutes_page(conversation.base(), journal, width));
}

}  // namespace leadline::cli
