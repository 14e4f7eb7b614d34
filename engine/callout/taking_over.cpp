// What a journal says, in terms of a book: the same one, or another. Tested by tests/callout/taking_over_test.cpp.
#include <algorithm>

#include "engine/callout/case_file.h"
#include "engine/callout/journal.h"
#include "engine/installation/restated.h"

namespace leadline::callout {

namespace {

using knowledge::KnowledgeBase;
using knowledge::Who;

constexpr std::string_view by_phone_word = "helpdesk";

Who who_of(std::string_view word) {
  if (word == by_phone_word) return Who::owner;
  for (const auto who : {Who::owner, Who::specialist}) {
    if (word == knowledge::to_string(who)) return who;
  }
  return Who::technician;
}

std::string unit_of(const knowledge::Finding& finding) { return finding.unit ? std::string(knowledge::name_of(*finding.unit)) : ""; }

std::vector<StateWords> choices_of(const knowledge::Finding& finding) {
  std::vector<StateWords> choices;
  for (const auto& state : finding.states) choices.push_back({state.id, state.words});
  return choices;
}

std::string quoted(const std::string& words) { return "'" + words + "'"; }

struct Verdict {
  Fate fate = Fate::kept;
  std::string why;
};

std::string value_words(const GivenAnswer& answer) {
  if (answer.how == "cannot-tell") return "cannot tell";
  if (answer.how == "not-fitted") return "not fitted";
  for (const auto& choice : answer.choices) {
    if (answer.how == "state" && choice.id == answer.value) return choice.words;
  }
  return answer.value;
}

std::string answer_words(const GivenAnswer& answer) { return quoted(answer.ask) + ": " + value_words(answer); }

// A question heard in other words may have been answered otherwise.
Verdict verdict_of_question(const knowledge::Finding& finding, const GivenAnswer& answer) {
  const bool lay = answer.by == knowledge::to_string(Who::owner) && !answer.lay.empty();
  const auto& heard = lay ? answer.lay : answer.ask;
  const auto& now = lay && !finding.lay.empty() ? finding.lay : finding.ask;
  if (heard != now) return {Fate::again, "the question now reads " + quoted(now)};
  const auto unit = unit_of(finding);
  if (unit == answer.unit) return {};
  if (unit.empty()) return {Fate::again, "it was measured in " + answer.unit + " and is now seen"};
  return {Fate::again, answer.unit.empty() ? "it was seen and is now measured in " + unit : "it was measured in " + answer.unit + " and is now in " + unit};
}

Verdict verdict_of_state(const knowledge::Finding& finding, const GivenAnswer& answer) {
  const auto state = knowledge::find_state(finding, answer.value);
  if (!state) return {Fate::again, "this choice is gone"};
  const auto& now = finding.states[*state].words;
  if (now != value_words(answer)) return {Fate::again, "this choice now reads " + quoted(now)};
  // Of a reading the choices are bands, which nobody is shown; a band given by name is still a choice.
  if (choices_of(finding) != answer.choices) return {Fate::again, "its choices are others now"};
  return {};
}

Verdict verdict_of(const KnowledgeBase& base, const std::vector<bool>& applies, const GivenAnswer& answer) {
  const auto ref = knowledge::find_id(base.findings, answer.finding);
  if (!ref) return {Fate::dropped, "the book no longer asks this"};
  if (!applies[ref->index]) return {Fate::dropped, "by the book as it is now, this boat has no such thing"};
  const auto& finding = base[*ref];
  if (auto verdict = verdict_of_question(finding, answer); verdict.fate != Fate::kept) return verdict;
  if (answer.how == "state") return verdict_of_state(finding, answer);
  if (answer.how == "cannot-tell" || answer.how == "not-fitted") return {};
  const bool reads = answer.how == "reading" && finding.unit && diagnosis::parse_reading(answer.value, *finding.unit);
  return reads ? Verdict{} : Verdict{Fate::again, "it no longer reads as an answer"};
}

Verdict verdict_of(const KnowledgeBase& base, const StatedFact& fact) {
  const auto at = knowledge::find_fact(base, fact.path);
  if (!at) return {Fate::dropped, "the book no longer asks this of a boat"};
  const auto& now = base.facts[*at];
  const bool heard = now.ask == fact.ask || (!now.lay.empty() && now.lay == fact.ask);
  if (!heard) return {Fate::again, "the question now reads " + quoted(now.ask)};
  if (now.unit != fact.unit) return {Fate::again, "its unit was " + quoted(fact.unit) + " and is now " + quoted(now.unit)};
  if (!installation::why_not(now, fact.value).empty()) return {Fate::again, "the book no longer allows this value"};
  return {};
}

Verdict verdict_of(const KnowledgeBase& base, const DoneRemedy& remedy) {
  const auto ref = knowledge::find_id(base.remedies, remedy.id);
  if (!ref) return {Fate::dropped, "the book no longer has this remedy"};
  if (base[*ref].title != remedy.title) return {Fate::dropped, "the remedy of that name is now " + quoted(base[*ref].title)};
  return {};
}

diagnosis::Observed observed_of(const knowledge::Finding& finding, const GivenAnswer& answer) {
  if (answer.how == "state") return diagnosis::Seen{*knowledge::find_state(finding, answer.value)};
  if (answer.how == "reading") return *diagnosis::parse_reading(answer.value, *finding.unit);
  if (answer.how == "not-fitted") return diagnosis::NotFitted{};
  return diagnosis::CannotTell{};
}

// Takes the answers and remedies of a state over, one by one, in order. A remedy that the book no longer knows has changed the boat in a way that
// nothing can be concluded from: what was seen since the last known remedy, before it or after it, is asked again of the boat as it is now.
class Taking {
 public:
  Taking(const KnowledgeBase& base, const JobState& state, Job& job)
      : base_(base), state_(state), job_(job),
        applies_(diagnosis::build_model(base, installation::Evaluation(base, job.record.installation)).finding_applies) {
    while (known_ < state.remedies.size() && verdict_of(base, state.remedies[known_]).fate == Fate::kept) ++known_;
  }

  void take_all() {
    std::size_t r = 0;
    for (std::size_t a = 0; a <= state_.answers.size(); ++a) {
      for (; r < state_.remedies.size() && state_.remedies[r].after <= a; ++r) take_remedy(r);
      if (a < state_.answers.size()) take_answer(a, r);
    }
  }

 private:
  // `next`: the remedy that was done next.
  void take_answer(std::size_t a, std::size_t next) {
    const auto& answer = state_.answers[a];
    auto verdict = verdict_of(base_, applies_, answer);
    const bool unsettled = next >= known_ && known_ < state_.remedies.size();
    if (unsettled && verdict.fate == Fate::kept) verdict = {Fate::again, "the boat was changed by a remedy that the book no longer has"};
    if (verdict.fate == Fate::again && next < known_) verdict = {Fate::dropped, verdict.why + "; a remedy was done since, so it cannot be asked again"};
    job_.carried.push_back({answer_words(answer), verdict.fate, verdict.why});
    auto& again = job_.taken_over.ask_again;
    if (verdict.fate == Fate::again && std::find(again.begin(), again.end(), answer.finding) == again.end()) again.push_back(answer.finding);
    if (verdict.fate != Fate::kept) return;
    const auto ref = *knowledge::find_id(base_.findings, answer.finding);
    job_.record.answers.push_back({ref, observed_of(base_[ref], answer), who_of(answer.by)});
    job_.answered.push_back(state_.answered[a]);
    job_.taken_over.kept.answers.push_back(given(base_, job_.record.answers.back(), job_.record.answers.size()));
    if (a < state_.told) ++job_.taken_over.told;
  }

  void take_remedy(std::size_t r) {
    const auto& remedy = state_.remedies[r];
    auto verdict = verdict_of(base_, remedy);
    if (r > known_ && verdict.fate == Fate::kept) verdict = {Fate::dropped, "it was done after a remedy that the book no longer has"};
    job_.carried.push_back({"Done: " + remedy.title, verdict.fate, verdict.why});
    if (verdict.fate != Fate::kept) return;
    job_.record.remedies.push_back({*knowledge::find_id(base_.remedies, remedy.id), job_.record.answers.size()});
    job_.mended.push_back(state_.mended[r]);
    job_.taken_over.kept.remedies.push_back(done(base_, job_.record.remedies.back()));
  }

  const KnowledgeBase& base_;
  const JobState& state_;
  Job& job_;
  const std::vector<bool> applies_;
  std::size_t known_ = 0;  // so many remedies, from the first, are as they were
};

// The boat, from the record it came with or from the facts that are kept.
text::Loaded<installation::Installation> boat_of(const KnowledgeBase& base, const Journal& journal, const JobState& state, Job& job) {
  auto boat = journal.head.installation.empty() ? text::Loaded<installation::Installation>{installation::make_installation(base, {}), {}}
                                                : installation::read_installation(base, {"the boat of this job", journal.head.installation});
  if (!boat.value) return boat;
  std::vector<installation::Stated> facts;
  for (const auto& fact : state.facts) {
    const auto verdict = verdict_of(base, fact);
    job.carried.push_back({quoted(fact.ask) + ": " + fact.value + (fact.unit.empty() ? "" : " " + fact.unit), verdict.fate, verdict.why});
    if (verdict.fate != Fate::kept) continue;
    const auto with = installation::with_fact(base, *boat.value, base.facts[*knowledge::find_fact(base, fact.path)], fact.value);
    if (!with) continue;   // the book no longer lets it go with the rest
    boat.value = with;
    facts.push_back({fact.path, fact.value});
    job.taken_over.kept.facts.push_back(fact);
  }
  for (const auto& path : state.settled) {
    const auto stated_then = [&](const auto& facts_of) { return std::any_of(facts_of.begin(), facts_of.end(), [&](const auto& f) { return f.path == path; }); };
    const bool must_ask = stated_then(state.facts) && !stated_then(facts);
    if (!must_ask && knowledge::find_fact(base, path)) job.taken_over.settled.push_back(path);
  }
  return boat;
}

}  // namespace

text::Loaded<Job> job_of(const KnowledgeBase& base, const Journal& journal) {
  const auto state = state_of(journal);
  Job job{{"", installation::make_installation(base, {}), role_of(journal.head), instrument_of(journal.head), {}, {}, bounds_of(base, journal.head)}, {}, {}, {}, {}};
  auto boat = boat_of(base, journal, state, job);
  if (!boat.value) return {std::nullopt, std::move(boat.problems)};
  job.record.installation = std::move(*boat.value);
  job.record.title = job.record.installation.name().empty() ? "call-out" : job.record.installation.name();
  Taking(base, state, job).take_all();
  job.taken_over.digest = base.digest;
  job.taken_over.kept.complaint_told = state.complaint_told;
  for (const auto& check : state.checks) {
    if (knowledge::find_id(base.checks, check)) job.taken_over.checks.push_back(check);
  }
  for (const auto& reminder : state.reminders) {
    if (knowledge::find_id(base.checks, reminder.check)) job.taken_over.kept.waits.push_back(reminder);
  }
  for (const auto& finding : state.ask_again) {  // asked again before, and not answered since
    const auto since = state.answers.begin() + static_cast<std::ptrdiff_t>(state.remedies.empty() ? 0 : state.remedies.back().after);
    const bool answered = std::any_of(since, state.answers.end(), [&](const auto& a) { return a.finding == finding; });
    auto& again = job.taken_over.ask_again;
    if (!answered && knowledge::find_id(base.findings, finding) && std::find(again.begin(), again.end(), finding) == again.end()) again.push_back(finding);
  }
  if (state.digest == base.digest) job.carried.clear();
  return {std::move(job), std::move(boat.problems)};
}

GivenAnswer given(const KnowledgeBase& base, const diagnosis::Answer& answer, std::size_t number) {
  const auto& finding = base[answer.finding];
  GivenAnswer out{number, finding.id, "cannot-tell", "", std::string(knowledge::to_string(answer.by)), finding.ask, finding.lay, unit_of(finding), choices_of(finding)};
  if (const auto* seen = std::get_if<diagnosis::Seen>(&answer.observed)) out.how = "state", out.value = finding.states[seen->state].id;
  if (const auto* reading = std::get_if<diagnosis::Reading>(&answer.observed)) out.how = "reading", out.value = reading->written;
  if (std::holds_alternative<diagnosis::NotFitted>(answer.observed)) out.how = "not-fitted";
  return out;
}

StatedFact stated(const KnowledgeBase& base, const installation::Stated& fact, bool by_phone) {
  const auto at = knowledge::find_fact(base, fact.path);
  if (!at) return {fact.path, fact.value, "", ""};
  const auto& known = base.facts[*at];
  return {fact.path, fact.value, by_phone && !known.lay.empty() ? known.lay : known.ask, known.unit};
}

DoneRemedy done(const KnowledgeBase& base, const RemedyDone& remedy) { return {base[remedy.remedy].id, base[remedy.remedy].title, remedy.after}; }

JournalHead head_of(const KnowledgeBase& base, const Record& record) {
  JournalHead head;
  head.digest = base.digest;
  head.role = role_words(record);
  head.instrument = diagnosis::to_string(record.instrument);
  for (std::size_t t = 0; t < base.tools.size(); ++t) {
    const bool missing = t < record.bounds.missing.size() ? record.bounds.missing[t] : !base.tools[t].usual;
    (missing ? head.missing : head.in_bag).push_back(base.tools[t].id);
  }
  head.ashore = record.bounds.water == knowledge::Water::ashore;
  head.hands = static_cast<int>(record.bounds.hands);
  head.daylight = record.bounds.daylight;
  head.engine_may_run = record.bounds.engine_may_run;
  return head;
}

planning::Bounds bounds_of(const KnowledgeBase& base, const JournalHead& head) {
  planning::Bounds bounds;
  const auto in = [](const std::vector<std::string>& ids, const std::string& id) { return std::find(ids.begin(), ids.end(), id) != ids.end(); };
  for (const auto& tool : base.tools) bounds.missing.push_back(in(head.missing, tool.id) || (!in(head.in_bag, tool.id) && !tool.usual));
  if (head.ashore) bounds.water = knowledge::Water::ashore;
  bounds.hands = head.hands == 0 ? planning::Hands::alone : head.hands == 2 ? planning::Hands::helper : planning::Hands::within_call;
  bounds.daylight = head.daylight;
  bounds.engine_may_run = head.engine_may_run;
  if (head.role == by_phone_word) bounds.by_phone = base.by_phone;
  return bounds;
}

knowledge::Who role_of(const JournalHead& head) { return who_of(head.role); }

diagnosis::InstrumentClass instrument_of(const JournalHead& head) { return diagnosis::instrument_class_of(head.instrument).value_or(diagnosis::InstrumentClass::pocket); }

}  // namespace leadline::callout
