// A saved job under a changed book: every answer is kept, asked again or dropped, and why.
#include <gtest/gtest.h>

#include "engine/callout/journal.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::callout {
namespace {

using testing::minimal_text;

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  for (auto next = at; next != std::string::npos; next = text.find(from, next + to.size())) text.replace(next, from.size(), to);
  return text;
}

knowledge::KnowledgeBase book(const std::string& text) {
  const text::Source file{"small.xml", text};
  auto loaded = knowledge::read_knowledge({&file, 1});
  EXPECT_TRUE(loaded.value.has_value()) << text::render(loaded.problems, std::span(&file, 1));
  return std::move(*loaded.value);
}

// push: weak, 24.2 V, remedy renew-fuse, push: full; the boat has 48 V.
Journal job_under(const knowledge::KnowledgeBase& base, bool with_remedy) {
  const auto finding = [&](const char* id) { return *knowledge::find_id(base.findings, id); };
  auto head = head_of(base, {"", installation::make_installation(base, {}), knowledge::Who::technician, diagnosis::InstrumentClass::good, {}, {}});
  SaidEvent fact{"fact", "bank/@volts", "answer", "24", {{stated(base, {"bank/@volts", "24"})}, {}, {}, "bank/@volts", "", false}};
  SaidEvent push{"finding", "push", "answer", "2", {{}, {given(base, {finding("push"), diagnosis::Seen{1}, knowledge::Who::technician}, 1)}, {}, "", "", false}};
  SaidEvent volts{"finding", "bank-volts-rest", "answer", "24.2 V", {{}, {given(base, {finding("bank-volts-rest"), *diagnosis::parse_reading("24.2 V", knowledge::Unit::volt)}, 2)}, {}, "", "measure-bank", false}};
  SaidEvent told{"complaint", "", "answer", "", {{}, {}, {}, "", "", true}};
  SaidEvent mend{"remedy", "renew-fuse", "answer", "3", {{}, {}, {done(base, {*knowledge::find_id(base.remedies, "renew-fuse"), 2})}, "", "", false}};
  SaidEvent after{"finding", "push", "answer", "1", {{}, {given(base, {finding("push"), diagnosis::Seen{0}}, 3)}, {}, "", "", false}};
  std::vector<SaidEvent> said{fact, push, told, volts};
  if (with_remedy) said.insert(said.end(), {mend, after});
  auto text = journal_line(0, head);
  Time at = 100;
  for (std::size_t s = 0; s < said.size(); ++s) text += journal_line(s + 1, Event{at += 10, said[s]});
  return read_journal(text);
}

std::string words_of(const Job& job) {
  std::string words;
  for (const auto& line : job.carried) {
    if (line.fate != Fate::kept) words += (line.fate == Fate::again ? "again: " : "dropped: ") + line.what + " (" + line.why + ")\n";
  }
  return words;
}

TEST(TakingOver, UnderTheSameBookNothingIsRemarked) {
  const auto base = book(minimal_text);
  const auto journal = job_under(base, true);
  const auto job = job_of(base, journal);
  ASSERT_TRUE(job.value.has_value());
  EXPECT_TRUE(job.value->carried.empty());
  EXPECT_EQ(job.value->record.answers.size(), 3U);
  EXPECT_EQ(job.value->record.remedies, (std::vector<RemedyDone>{{*knowledge::find_id(base.remedies, "renew-fuse"), 2}}));
  EXPECT_EQ(job.value->answered, (std::vector<Time>{120, 140, 160}));
  EXPECT_EQ(job.value->mended, std::vector<Time>{150});
  EXPECT_EQ(job.value->record.instrument, diagnosis::InstrumentClass::good);
  EXPECT_EQ(job.value->taken_over.told, 1U);
}

struct Change {
  const char* name;
  const char *from, *to;     // in the text of the book, everywhere
  std::string remarks;
  std::size_t answers, remedies;
  std::vector<std::string> ask_again;
  bool with_remedy = false;
};

TEST(TakingOver, EveryAnswerIsKeptAskedAgainOrDroppedWithTheReason) {
  const std::string push = "'What does the propeller do on command?': weak push", volts = "'Volts across the bank at rest?': 24.2 V";
  const std::string full = "'What does the propeller do on command?': full push";
  const std::vector<Change> changes{
      {"a number only: another digest, the same meaning", "per-1000=\"60\"", "per-1000=\"61\"", "", 2, 0, {}},
      {"limits of a band: the reading keeps its number", "$bank_volts * 0.95", "$bank_volts * 0.96", "", 2, 0, {}},
      {"question renamed", "\"push\"", "\"thrust\"", "dropped: " + push + " (the book no longer asks this)\n", 1, 0, {}},
      {"question in other words", "<ask>What does the propeller do on command?</ask>", "<ask>Does the boat turn?</ask>", "again: " + push + " (the question now reads 'Does the boat turn?')\n", 1, 0, {"push"}},
      {"lay question in other words: a technician did not hear it", "<lay>What happens when you move the lever?</lay>", "<lay>What happens?</lay>", "", 2, 0, {}},
      {"choice renamed", "\"weak\"", "\"feeble\"", "again: " + push + " (this choice is gone)\n", 1, 0, {"push"}},
      {"choice in other words", ">weak push<", ">half its push<", "again: " + push + " (this choice now reads 'half its push')\n", 1, 0, {"push"}},
      {"another choice in other words", ">no push at all<", ">nothing<", "again: " + push + " (its choices are others now)\n", 1, 0, {"push"}},
      {"a choice more", "<state id=\"none\" leak=\"0.01\">", "<state id=\"slow\" leak=\"0.01\">slow to come</state><state id=\"none\" leak=\"0.01\">", "again: " + push + " (its choices are others now)\n", 1, 0, {"push"}},
      {"no longer on this boat", "<finding id=\"push\" complaint=\"yes\">", "<finding id=\"push\" complaint=\"yes\" applies=\"bank/@volts = 12\">", "dropped: " + push + " (by the book as it is now, this boat has no such thing)\n", 1, 0, {}},
      {"fact in other words", "<ask>Nominal volts?</ask>", "<ask>Volts of the bank?</ask>", "again: 'Nominal volts?': 24 V (the question now reads 'Volts of the bank?')\n", 2, 0, {}},
      {"fact no longer allowed", "choices=\"12 24 48\" assume=\"24\"", "choices=\"12 48\" assume=\"12\"", "again: 'Nominal volts?': 24 V (the book no longer allows this value)\n", 2, 0, {}},
      {"remedy renamed", "\"renew-fuse\"", "\"replace-fuse\"",
       "again: " + push + " (the boat was changed by a remedy that the book no longer has)\nagain: " + volts + " (the boat was changed by a remedy that the book no longer has)\n"
       "dropped: Done: Renew the main fuse (the book no longer has this remedy)\nagain: " + full + " (the boat was changed by a remedy that the book no longer has)\n",
       0, 0, {"push", "bank-volts-rest"}, true},
      {"a choice renamed, before and after a remedy", "\"full\"", "\"strong\"",
       "dropped: " + push + " (its choices are others now; a remedy was done since, so it cannot be asked again)\nagain: " + full + " (this choice is gone)\n", 1, 1, {"push"}, true}};
  const auto first = book(minimal_text);
  for (const auto& change : changes) {
    SCOPED_TRACE(change.name);
    const auto base = book(replaced(minimal_text, change.from, change.to));
    EXPECT_NE(base.digest, first.digest);
    const auto job = job_of(base, job_under(first, change.with_remedy));
    ASSERT_TRUE(job.value.has_value());
    EXPECT_EQ(words_of(*job.value), change.remarks);
    EXPECT_EQ(job.value->record.answers.size(), change.answers);
    EXPECT_EQ(job.value->record.remedies.size(), change.remedies);
    EXPECT_EQ(job.value->taken_over.ask_again, change.ask_again);
    EXPECT_EQ(job.value->carried.size(), change.with_remedy ? 5U : 3U);
    EXPECT_EQ(job.value->answered.size(), job.value->record.answers.size());
  }
}

TEST(TakingOver, UnitChanged) {
  const auto first = book(minimal_text);
  auto base = first;
  base.digest = "another";
  base.findings[1].unit = knowledge::Unit::ampere;
  EXPECT_EQ(words_of(*job_of(base, job_under(first, false)).value), "again: 'Volts across the bank at rest?': 24.2 V (it was measured in V and is now in A)\n");
  base.findings[1].unit.reset();
  base.findings[1].bands.clear();
  EXPECT_EQ(words_of(*job_of(base, job_under(first, false)).value), "again: 'Volts across the bank at rest?': 24.2 V (it was measured in V and is now seen)\n");
}

TEST(TakingOver, ACauseThatIsGoneTakesNoAnswerWithIt) {
  const auto first = book(minimal_text);
  auto base = first;
  base.digest = "another";
  base.causes.pop_back();
  EXPECT_EQ(words_of(*job_of(base, job_under(first, false)).value), "");
}

TEST(TakingOver, IsAnEventAfterWhichTheJobIsToldUnderTheNewBook) {
  const auto first = book(minimal_text), second = book(replaced(minimal_text, "\"weak\"", "\"feeble\""));
  const auto before = job_under(first, false);
  const auto taken = job_of(second, before).value->taken_over;
  auto after = before;
  after.events.push_back({500, taken});
  const auto state = state_of(after);
  EXPECT_EQ(state.digest, second.digest);
  EXPECT_EQ(state.answered, std::vector<Time>{140});  // the time at which it was answered, not taken over
  const auto again = job_of(second, after);
  EXPECT_TRUE(again.value->carried.empty());
  EXPECT_EQ(again.value->taken_over.ask_again, std::vector<std::string>{"push"});  // until it is answered
  EXPECT_EQ(again.value->taken_over.kept, taken.kept);
}

TEST(TakingOver, ToolsOfTheBagGoById) {
  const auto base = book(minimal_text);
  planning::Bounds bounds;
  for (std::size_t t = 0; t < base.tools.size(); ++t) bounds.missing.push_back(t % 2 == 0);
  bounds.hands = planning::Hands::helper;
  bounds.daylight = false;
  bounds.water = knowledge::Water::ashore;
  const auto back = bounds_of(base, head_of(base, {"", installation::make_installation(base, {}), knowledge::Who::technician, diagnosis::InstrumentClass::pocket, {}, {}, bounds}));
  EXPECT_EQ(back.missing, bounds.missing);
  EXPECT_EQ(back.hands, bounds.hands);
  EXPECT_EQ(back.water, bounds.water);
  EXPECT_FALSE(back.daylight);
  EXPECT_TRUE(back.engine_may_run);
}

}  // namespace
}  // namespace leadline::callout
