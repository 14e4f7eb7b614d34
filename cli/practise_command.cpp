// leadline practise: a simulated call-out to learn by. Tested by tests/cli/practice_test.cpp and the golden call-outs.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <ostream>

#include "cli/phrases.h"
#include "cli/practice_page.h"
#include "cli/prompt.h"
#include "cli/question_page.h"
#include "cli/ranking_page.h"
#include "cli/run.h"
#include "cli/session.h"
#include "cli/step_words.h"
#include "engine/text/number.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

constexpr std::uint64_t most_number = 999'999;
constexpr std::size_t most_listed = 12;

std::uint64_t call_number(const Session& session, const CommandLine& line) {
  const auto drawn = 1 + static_cast<std::uint64_t>(now_of(session.around)) * 2'654'435'761U % most_number;   // another one every second
  return whole_number(line, "call", drawn, 1, most_number);
}

class Lesson {
 public:
  Lesson(const Session& session, const knowledge::KnowledgeBase& base, std::uint64_t number) : session_(session), practice_(base, number) {}

  ExitCode hold();

 private:
  void show(const Page& page) const { session_.print(page); }
  void say(std::string_view words) const { show(session_.page().line(words)); }
  void take(const std::string& typed);
  std::vector<trial::Choosable> found_by(const std::vector<std::string>& words) const;
  void look_for(std::string_view typed);
  void choose(std::size_t number);
  void explain(std::size_t number) const;
  void name(std::string_view words);
  ExitCode broken_off() const;

  const Session& session_;
  trial::Practice practice_;
  std::vector<trial::Choosable> listed_;   // what the numbers of the last list mean
  std::size_t hints_ = 0;
  std::vector<std::size_t> named_;         // causes of the book that were named for it; empty: none were
  bool stopped_ = false;
};

ExitCode Lesson::broken_off() const {
  session_.tell("leadline: stopped; the same call-out again: leadline practise --call " + std::to_string(practice_.number()));
  return stopping_code(session_.around);
}

ExitCode Lesson::hold() {
  show(safety_page(knowledge::Who::technician, false, session_.width).blank());
  show(practice_opening_page(practice_, session_.width));
  bool anything = false;
  while (!stopped_ && named_.empty() && !practice_.mended()) {
    show(session_.page().line("\n").line("What do you do? (? for help)"));
    const auto line = prompted_line(session_);
    if (told_to_stop(session_.around)) return session_.print("\n"), broken_off();
    if (line.kind == TypedLine::Kind::end) {
      session_.print("\n");
      break;
    }
    anything = true;
    if (const auto remark = remark_on(line); !remark.empty()) say(remark);
    if (line.kind == TypedLine::Kind::text) take(line.text);
  }
  if (!anything) {
    session_.tell("leadline: the input ended before anything was chosen; type words of a check or a remedy, or pipe them in one a line");
    return input_missing;
  }
  session_.print("\n");
  session_.out.flush();
  show(debrief_page(practice_, hints_, named_, session_.width));
  return done;
}

void Lesson::take(const std::string& typed) {
  const auto words = normalised(typed);
  const auto command = command_of(typed);
  const auto number = text::parse_number(words);
  if (words.empty() || command.word == Word::help) return show(practice_help_page(session_.width));
  if (command.word == Word::stop) return void(stopped_ = true);
  if (command.word == Word::list) return show(so_far_page(practice_, session_.width));
  if (command.word == Word::why) return explain(command.number.value_or(1));
  if (words == "hint") return ++hints_, show(best_step_page(practice_, session_.width));
  if (words == "name" || words.starts_with("name ")) return name(std::string_view(words).substr(4));
  if (number) return choose(*number >= 1 && *number <= static_cast<double>(listed_.size()) && *number == std::floor(*number) ? static_cast<std::size_t>(*number) : 0);
  look_for(typed);
}

// By its words, or by its number in the ranking.
void Lesson::name(std::string_view typed) {
  const auto words = words_wanted(typed);
  const auto& causes = practice_.base().causes;
  const auto& explanations = practice_.assessment().diagnosis().explanations;
  const auto number = words.size() == 1 ? text::parse_number(words.front()) : std::nullopt;
  if (number && *number >= 1 && *number <= static_cast<double>(explanations.size())) {
    for (const auto cause : explanations[static_cast<std::size_t>(*number) - 1].causes) {
      const auto ref = practice_.assessment().boat().cause_refs[cause];
      named_.push_back(ref ? ref->index : causes.size());
    }
    return;
  }
  std::vector<std::size_t> meant;
  for (std::size_t c = 0; c < causes.size(); ++c) {
    if (has_words(causes[c].id + " " + causes[c].title, words)) meant.push_back(c);
  }
  if (words.empty()) return say("What is it? 'name' and words of a cause, for instance 'name rope', or its number in the ranking: 'name 1'.");
  if (meant.empty()) return say("No cause of the book has these words in its name. 'leadline find' and 'leadline list cause' show how they are called.");
  if (meant.size() == 1) return named_.push_back(meant.front());
  auto page = session_.page().line("Several causes have these words: one word more.");
  for (std::size_t i = 0; i < std::min(most_listed, meant.size()); ++i) page.item("-", causes[meant[i]].title + " (" + causes[meant[i]].id + ")");
  if (meant.size() > most_listed) page.line("... and " + count_words(meant.size() - most_listed, "more", "more") + ".", 2);
  show(page);
}

// What has the words in its title first, as whole words before others, and last what cannot be done here.
std::vector<trial::Choosable> Lesson::found_by(const std::vector<std::string>& words) const {
  const auto& base = practice_.base();
  auto found = practice_.choosable();
  std::erase_if(found, [&](const auto& step) { return !is_about(base, step.act, step.index, words); });
  const auto title = [&](const auto& step) { return step.act == planning::Act::check ? base.checks[step.index].title : "remedy " + base.remedies[step.index].title; };
  std::stable_partition(found.begin(), found.end(), [&](const auto& step) { return has_words(title(step), words); });
  std::stable_partition(found.begin(), found.end(), [&](const auto& step) { return has_whole_words(title(step), words); });
  std::stable_partition(found.begin(), found.end(), [&](const auto& step) { return !practice_.obstacle_to(step); });
  return found;
}

void Lesson::look_for(std::string_view typed) {
  const bool all = normalised(typed) == "all";
  listed_ = found_by(all ? std::vector<std::string>{} : words_wanted(typed));
  if (listed_.empty()) return say("No check or remedy that is still open has all these words in it: '" + text::printable(normalised(typed)) + "'. Fewer or other words, or 'all'; ? for help.");
  const auto left_out = all ? 0 : listed_.size() - std::min(listed_.size(), most_listed);
  listed_.resize(listed_.size() - left_out);
  auto page = choosable_page(practice_, listed_, session_.width);
  if (left_out > 0) page.line(count_words(left_out, "more has these words", "more have these words") + ": add a word.", 2);
  show(page.line("A number, or other words.", 2));
}

void Lesson::choose(std::size_t number) {
  if (number == 0) return say(listed_.empty() ? "There is no list yet: first words of what you want to look at or mend." : "There is no such number on the last list.");
  const auto step = listed_[number - 1];
  const auto open = practice_.choosable();
  if (std::find(open.begin(), open.end(), step) == open.end()) return say("That has been seen or done already, or can no longer be seen.");
  if (const auto why = why_not_here(practice_, step); !why.empty()) return say("That cannot be done here: " + why + ".");
  show(chosen_page(practice_, step, session_.width));
  session_.out.flush();
  const auto& done = practice_.take(step);
  listed_.clear();
  show(session_.page().line("\n").append(found_page(practice_, done, session_.width)));
}

void Lesson::explain(std::size_t number) const {
  const auto count = practice_.assessment().diagnosis().explanations.size();
  if (number < 1 || number > count) return say("There is no explanation of that number: 'why' and a number from 1 to " + std::to_string(count) + ".");
  show(reasons_page(practice_.assessment(), number - 1, 100, false, session_.width).append(legend_page(practice_.assessment(), session_.width)));
}

}  // namespace

ExitCode run_practise(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) { return Lesson(session, base, call_number(session, line)).hold(); }

}  // namespace leadline::cli
