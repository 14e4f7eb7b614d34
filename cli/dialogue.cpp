#include "cli/dialogue.h"

#include "cli/dispatch_page.h"
#include "cli/phrases.h"
#include "cli/question_page.h"
#include "cli/ranking_page.h"
#include "cli/reminders_page.h"
#include "cli/why_not_page.h"

namespace leadline::cli {

void Dialogue::show(const Page& page) {
  if (page.empty()) return;
  session_.print(page);
}

// The ranking and what is proposed are shown when the check or remedy in hand is a new one; a further question of the same check stands alone.
void Dialogue::show_question() {
  const auto& question = conversation_.question();
  const auto& progress = conversation_.progress();
  session_.print("\n");
  const bool of_a_check = question.asks == Asks::finding && !progress.again && !progress.to_settle && !progress.proving;
  const bool proposes = of_a_check || question.asks == Asks::remedy || question.asks == Asks::part || question.asks == Asks::call_in;
  const auto check = of_a_check && progress.in_hand ? std::optional(progress.in_hand->check) : std::nullopt;
  const bool further_part = question.asks == Asks::part && !progress.parted.empty();
  if (proposes && !further_part && (!check || shown_check_ != check)) show(proposal_page(conversation_, session_.width).blank());
  shown_check_ = check;
  show(question_page(conversation_, session_.width));
}

bool Dialogue::hold() {
  bool moved = true;
  while (conversation_.question().asks != Asks::nothing) {
    if (moved) show_question();
    else show(question_page(conversation_, session_.width));
    const auto line = prompted_line(session_);
    if (told_to_stop(session_.around)) return session_.print("\n"), false;
    if (line.kind == TypedLine::Kind::end) {
      session_.print("\n");
      conversation_.end(Ending::input_ended);
      return true;
    }
    moved = take(line);
    if (!moved) session_.print("\n");
  }
  return true;
}

bool Dialogue::take(const TypedLine& line) {
  if (const auto remark = remark_on(line); !remark.empty()) show(session_.page().line(remark));
  if (line.kind != TypedLine::Kind::text) return false;
  const auto command = command_of(line.text);
  return command.word != Word::none ? obey(command) : keep("answer", line.text, [&] { return conversation_.answer(line.text); });
}

bool Dialogue::keep(const char* did, std::string_view typed, const std::function<Reply()>& act) {
  const auto before = conversation_.progress();
  const auto question = conversation_.question();
  const auto steps = conversation_.steps();
  const auto reply = act();
  if (conversation_.steps() > steps) keeper_.said(before, question, conversation_, did, typed);
  return report(reply, did == std::string_view("answer") ? typed : "");
}

// Answers, shows what follows, and takes the answer back: the copy before it is the state after it.
void Dialogue::try_out(const std::string& answer) {
  if (answer.empty()) return show(session_.page().line("What if what? 'what-if' and an answer to this question, for instance 'what-if 2'."));
  const auto steps = conversation_.steps();
  const auto reply = conversation_.answer(answer);
  if (conversation_.steps() == steps) {
    report(reply, answer);
    return;
  }
  auto page = session_.page().line("If it were so (nothing of this is kept):");
  if (const auto& words = std::get<Noted>(reply).words; !words.empty()) page.line(words);
  page.blank();
  if (conversation_.question().asks == Asks::nothing) page.line("The call-out would be over.");
  else page.append(proposal_page(conversation_, session_.width)).blank().append(question_page(conversation_, session_.width));
  conversation_.back();
  show(page.blank().line("Back to the question as it stands:"));
}

Reply Dialogue::put_off(std::optional<std::size_t> minutes) {
  constexpr std::size_t a_week = 10'000;  // as long as the knowledge format lets anything last
  if (minutes && (*minutes < 1 || *minutes > a_week)) return Refused{"That is no time to wait.", "'later' and from 1 to 10000 minutes, or 'later' alone"};
  return conversation_.later(now_of(session_.around), minutes ? std::optional(static_cast<double>(*minutes)) : std::nullopt);
}

void Dialogue::remind() {
  const auto page = reminders_page(conversation_.progress().waiting, now_of(session_.around), session_.width);
  show(page.empty() ? session_.page().line("Nothing was put off to wait for.") : page);
}

void Dialogue::note(const std::string& words) {
  if (words.empty()) return show(session_.page().line("Which words? 'note' and what is to be noted."));
  keeper_.noted(words);
  show(session_.page().line(keeper_.keeps() ? "Noted." : "Noted for the last page; nothing is kept beyond it (--job NAME would)."));
}

bool Dialogue::report(const Reply& reply, std::string_view typed) {
  if (const auto* refused = std::get_if<Refused>(&reply)) {
    auto page = session_.page().line(refused->why);
    if (!refused->expected.empty()) page.line("Expected: " + refused->expected + ".");
    if (const auto near = nearest_word(typed); !near.empty()) page.line("Or did you mean '" + near + "'?");
    if (const auto* told = conversation_.danger_in(typed)) page.blank().append(danger_page(conversation_, *told, session_.width));
    show(page);
    return false;
  }
  const auto& noted = std::get<Noted>(reply);
  auto page = session_.page();
  if (!noted.words.empty()) page.line(noted.words);
  if (!noted.at_once.empty()) page.blank().append(at_once_page(noted.at_once, conversation_.by_phone(), session_.width));
  show(page);
  return true;
}

bool Dialogue::obey(const Command& command) {
  switch (command.word) {
    case Word::help: return show(help_page(session_.width)), false;
    case Word::list: return show(list_page(conversation_, session_.width)), false;
    case Word::why:
      if (command.number) explain(*command.number);
      else show(why_page(conversation_, session_.width));
      return false;
    case Word::back:
      if (!conversation_.back()) return show(session_.page().line("This is the first question: there is nothing to undo.")), false;
      keeper_.undone();
      return show(session_.page().line("Undone.")), true;
    case Word::later: return keep("later", command.number ? std::to_string(*command.number) : "", [&] { return put_off(command.number); });
    case Word::reminders:
      if (command.number) return keep("take-up", std::to_string(*command.number), [&] { return conversation_.take_up(*command.number); });
      return remind(), false;
    case Word::dispatch: return show(dispatch_page(conversation_, session_.width)), false;
    case Word::other: return keep("other", "", [&] { return conversation_.other(); });
    case Word::also: return keep("also", command.words, [&] { return conversation_.also(command.words); });
    case Word::note: return note(command.words), false;
    case Word::what_if: return try_out(command.words), false;
    case Word::why_not: return show(why_not_page(conversation_, command.words, session_.width)), false;
    case Word::stop: return conversation_.end(Ending::stopped), true;
    case Word::again:
      if (command.number) return keep("again", std::to_string(*command.number), [&] { return conversation_.again(*command.number); });
      return show(session_.page().line("Which one? 'again' and a number of the list of answers ('list' shows it).")), false;
    case Word::none: break;
  }
  return false;
}

void Dialogue::explain(std::size_t number) {
  const auto count = conversation_.assessment().diagnosis().explanations.size();
  if (number < 1 || number > count) {
    show(session_.page().line("There is no explanation of that number: 'why' and a number from 1 to " + std::to_string(count) + "."));
    return;
  }
  show(reasons_page(conversation_.assessment(), number - 1, 100, true, session_.width));
}

}  // namespace leadline::cli
