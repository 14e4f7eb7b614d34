#include "cli/job_keeper.h"

#include <algorithm>
#include <array>

#include "cli/exit_codes.h"
#include "cli/run.h"
#include "engine/text/number.h"

namespace leadline::cli {

namespace {

constexpr std::array question_words{"fact", "complaint", "match", "finding", "part", "remedy", "other-step", "call-in", "nothing"};

std::string id_of(const knowledge::KnowledgeBase& base, const Question& question) {
  switch (question.asks) {
    case Asks::fact: return base.facts[question.index].path();
    case Asks::finding: return base.findings[question.index].id;
    case Asks::remedy: return base.remedies[question.index].id;
    default: return "";
  }
}

[[noreturn]] void refuse_boat(const text::Source& source, const std::vector<text::Problem>& problems) {
  throw Failure(bad_data, "the boat of this job no longer fits the knowledge base:\n" + text::render(problems, std::span(&source, 1)) +
                              "go on with the knowledge base it was begun with (--knowledge DIR), or begin another job");
}

text::Source boat_source(const callout::Journal& journal) { return {"the boat of this job", journal.head.installation}; }

Setup setup_of(const knowledge::KnowledgeBase& base, const callout::Journal& journal) {
  const auto& head = journal.head;
  Setup setup{callout::role_of(head), callout::instrument_of(head), std::nullopt, callout::bounds_of(base, head)};
  if (head.installation.empty()) return setup;
  auto loaded = installation::read_installation(base, boat_source(journal));
  if (!loaded.value) refuse_boat(boat_source(journal), loaded.problems);
  setup.installation = std::move(*loaded.value);
  return setup;
}

Reply say_again(Conversation& conversation, const callout::SaidEvent& said) {
  if (said.did == "answer") return conversation.answer(said.typed);
  const auto& waits = said.meant.waits;
  if (said.did == "later") return waits.empty() ? conversation.later() : conversation.later(waits.front().since, waits.front().minutes);
  if (said.did == "also") return conversation.also(said.typed);
  if (said.did == "other") return conversation.other();
  const auto number = text::parse_number(said.typed);
  if (!number || *number < 1 || *number >= 1e6) return Refused{"", ""};
  if (said.did == "again") return conversation.again(static_cast<std::size_t>(*number));
  if (said.did == "take-up") return conversation.take_up(static_cast<std::size_t>(*number));
  return Refused{"", ""};
}

// The same question, and the same meaning of what was said to it: else this is not the conversation that was kept.
bool says_the_same(Conversation& conversation, const callout::SaidEvent& said) {
  const auto& base = conversation.base();
  const auto question = conversation.question();
  if (said.asked != question_words[static_cast<std::size_t>(question.asks)] || said.id != id_of(base, question)) return false;
  const auto before = conversation.progress();
  const auto steps = conversation.steps();
  const auto reply = say_again(conversation, said);
  if (!std::holds_alternative<Noted>(reply) || conversation.steps() != steps + 1) return false;
  return meaning_of(before, question, conversation) == said.meant;
}

// The part of a journal that ends with the last taking over; none when there was none.
std::optional<callout::Journal> until_taken_over(const callout::Journal& journal) {
  for (auto e = journal.events.size(); e > 0; --e) {
    if (!std::holds_alternative<callout::TakenOverEvent>(journal.events[e - 1].what)) continue;
    auto part = journal;
    part.events.resize(e);
    return part;
  }
  return std::nullopt;
}

std::unique_ptr<Conversation> replayed(const knowledge::KnowledgeBase& base, const callout::Journal& journal) {
  auto conversation = std::make_unique<Conversation>(base, setup_of(base, journal));
  if (const auto part = until_taken_over(journal)) {
    const auto job = callout::job_of(base, *part);
    if (!job.value) return nullptr;
    conversation->take_over(*job.value);
  }
  for (const auto& said : callout::standing_events(journal)) {
    if (!says_the_same(*conversation, said)) return nullptr;
  }
  return conversation;
}

}  // namespace

callout::Meaning meaning_of(const Progress& before, const Question& question, const Conversation& conversation) {
  const auto& base = conversation.base();
  const auto& after = conversation.progress();
  callout::Meaning meant;
  for (auto f = before.stated.size(); f < after.stated.size(); ++f) meant.facts.push_back(callout::stated(base, after.stated[f], conversation.by_phone()));
  for (std::size_t a = 0; a < after.answers.size(); ++a) {
    const bool new_one = a >= before.answers.size() || before.answers[a] != after.answers[a];
    if (new_one) meant.answers.push_back(callout::given(base, after.answers[a], a + 1));
  }
  for (auto r = before.remedies.size(); r < after.remedies.size(); ++r) meant.remedies.push_back(callout::done(base, after.remedies[r]));
  if (after.settled.size() > before.settled.size()) meant.settled = base.facts[question.index].path();
  const bool of_a_check = question.asks == Asks::finding && before.in_hand && before.in_hand->act == planning::Act::check && !before.again && !before.to_settle && !before.proving;
  if (of_a_check && !meant.answers.empty()) meant.check = base[before.in_hand->check].id;
  const auto among = [](const auto& reminders, const auto& fits) { return std::any_of(reminders.begin(), reminders.end(), fits); };
  for (const auto& r : after.waiting) {
    if (!among(before.waiting, [&](const auto& old) { return old == r; })) meant.waits.push_back(r);
  }
  for (const auto& r : before.waiting) {
    if (!among(after.waiting, [&](const auto& still) { return still.check == r.check; })) meant.waits_over.push_back(r.check);
  }
  meant.complaint_told = after.complaint_told && !before.complaint_told;
  return meant;
}

void JobKeeper::keep(decltype(callout::Event::what) what) {
  if (file_ != nullptr) file_->append({now_of(around_), std::move(what)});
}

void JobKeeper::said(const Progress& before, const Question& question, const Conversation& after, std::string_view did, std::string_view typed) {
  if (file_ == nullptr) return;
  const auto& base = after.base();
  keep(callout::SaidEvent{question_words[static_cast<std::size_t>(question.asks)], id_of(base, question), std::string(did), std::string(typed),
                          meaning_of(before, question, after)});
}

void JobKeeper::noted(const std::string& words) {
  keep(callout::NoteEvent{words});
  notes_.push_back({now_of(around_), words});
}

callout::Job job_under(const knowledge::KnowledgeBase& base, const callout::Journal& journal) {
  auto job = callout::job_of(base, journal);
  if (!job.value) refuse_boat(boat_source(journal), job.problems);
  return std::move(*job.value);
}

Resumed resume(const knowledge::KnowledgeBase& base, const callout::Journal& journal) {
  Resumed out;
  const bool same_book = callout::state_of(journal).digest == base.digest;
  if (same_book) out.conversation = replayed(base, journal);
  if (out.conversation) return out;
  out.other_order = same_book;
  out.conversation = std::make_unique<Conversation>(base, setup_of(base, journal));
  auto job = job_under(base, journal);
  out.conversation->take_over(job);
  out.carried = std::move(job.carried);
  job.taken_over.program = program_version();
  out.taken_over = std::move(job.taken_over);
  return out;
}

}  // namespace leadline::cli
