// The journal of a job: written, read again; cut at every byte, every bit flipped; and the words of its messages.
#include "engine/callout/journal.h"

#include <gtest/gtest.h>

#include <set>

#include "tests/knowledge/minimal_base.h"

namespace leadline::callout {
namespace {

const knowledge::KnowledgeBase& base() {
  static const auto small = testing::minimal_base();
  return small;
}

JournalHead some_head() {
  auto head = head_of(base(), {"", installation::make_installation(base(), {}), knowledge::Who::owner, diagnosis::InstrumentClass::good, {}, {}});
  head.at = 1000;
  head.program = "0.1.0";
  return head;
}

SaidEvent said(const std::string& finding, std::size_t state, std::size_t number) {
  const auto ref = *knowledge::find_id(base().findings, finding);
  SaidEvent event{"finding", finding, "answer", std::to_string(state + 1), {}};
  event.meant.answers = {given(base(), {ref, diagnosis::Seen{state}, knowledge::Who::owner}, number)};
  return event;
}

SaidEvent read_volts(const std::string& written, std::size_t number) {
  SaidEvent event{"finding", "bank-volts-rest", "answer", written, {}};
  event.meant.answers = {given(base(), {{1}, *diagnosis::parse_reading(written, knowledge::Unit::volt), knowledge::Who::technician}, number)};
  event.meant.check = "measure-bank";
  return event;
}

SaidEvent mended(const std::string& remedy, std::size_t after) {
  SaidEvent event{"remedy", remedy, "answer", "3", {}};
  event.meant.remedies = {done(base(), {*knowledge::find_id(base().remedies, remedy), after})};
  return event;
}

SaidEvent complaint_complete() {
  SaidEvent event{"complaint", "", "answer", "", {}};
  event.meant.complaint_told = true;
  return event;
}

// One of each kind, with everything filled in.
std::vector<Event> some_events() {
  SaidEvent fact{"fact", "bank/@volts", "answer", "48 V", {}};
  fact.meant.facts = {stated(base(), {"bank/@volts", "48"})};
  fact.meant.settled = "bank/@volts";
  TakenOverEvent taken{"0.2.0", "another", {}, {"bank/@volts"}, {"push"}, 1, {"measure-bank"}};
  taken.kept.answers = said("push", 2, 1).meant.answers;
  taken.kept.complaint_told = true;
  return {{1010, fact},          {1020, said("push", 1, 1)},          {1025, complaint_complete()}, {1030, NoteEvent{"owner says \"since Tuesday\"\n\t\u2028 \xC3\xA9"}},
          {1040, UndoEvent{}},   {1041, complaint_complete()},        {1050, read_volts("48,6 V", 2)}, {1055, EndEvent{"interrupted"}},
          {9000, ResumeEvent{"0.1.0"}}, {9010, mended("renew-fuse", 2)}, {9020, said("push", 0, 3)},   {9030, taken}};
}

std::string text_of(const std::vector<Event>& events) {
  auto text = journal_line(0, some_head());
  for (std::size_t e = 0; e < events.size(); ++e) text += journal_line(e + 1, events[e]);
  return text;
}

std::vector<std::size_t> line_ends(const std::string& text) {
  std::vector<std::size_t> ends;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] == '\n') ends.push_back(at + 1);
  }
  return ends;
}

TEST(Journal, IsReadAsItWasWritten) {
  const auto text = text_of(some_events());
  const auto journal = read_journal(text);
  EXPECT_EQ(journal.soundness, Soundness::whole) << journal.trouble;
  EXPECT_EQ(journal.trouble, "");
  EXPECT_EQ(journal.head, some_head());
  EXPECT_EQ(journal.events, some_events());
  EXPECT_EQ(journal.whole_bytes, text.size());
}

TEST(Journal, IsOneLineAnEventInAsciiOrUtf8) {
  const auto ends = line_ends(text_of(some_events()));
  EXPECT_EQ(ends.size(), some_events().size() + 1);
  EXPECT_EQ(journal_line(3, Event{17, UndoEvent{}}), "3 24 18d14663 {\"at\":17,\"event\":\"undo\"}\n");
}

// The check value of CRC-32C in the catalogue of parametrised CRC algorithms: e3069283 for the digits 1 to 9 (from memory). Our sum is taken over
// "7 9 123456789": a bitwise twin computes it the slow way.
std::uint32_t slow_crc32c(const std::string& bytes) {
  std::uint32_t sum = 0xFFFFFFFFU;
  for (const char byte : bytes) {
    sum ^= static_cast<unsigned char>(byte);
    for (int bit = 0; bit < 8; ++bit) sum = (sum >> 1U) ^ ((sum & 1U) != 0 ? 0x82F63B78U : 0U);
  }
  return ~sum;
}

TEST(Journal, SumsAreThoseOfASlowTwin) {
  EXPECT_EQ(slow_crc32c("123456789"), 0xE3069283U);
  std::size_t from = 0;
  const auto text = text_of(some_events());
  for (const auto end : line_ends(text)) {
    const auto line = text.substr(from, end - from);
    const auto second = line.find(' ', line.find(' ') + 1);
    const auto body = line.substr(second + 10, line.size() - second - 11);
    EXPECT_EQ(std::stoul(line.substr(second + 1, 8), nullptr, 16), slow_crc32c(line.substr(0, second + 1) + body)) << line;
    from = end;
  }
}

TEST(Journal, CutAtEveryByteKeepsTheWholeLines) {
  const auto events = some_events();
  const auto text = text_of(events);
  const auto ends = line_ends(text);
  for (std::size_t cut = 0; cut <= text.size(); ++cut) {
    const auto journal = read_journal(std::string_view(text).substr(0, cut));
    const auto whole = static_cast<std::size_t>(std::upper_bound(ends.begin(), ends.end(), cut) - ends.begin());
    if (whole == 0) {
      EXPECT_EQ(journal.soundness, Soundness::unreadable) << cut;
      continue;
    }
    const bool at_a_line_end = ends[whole - 1] == cut;
    ASSERT_EQ(journal.soundness, at_a_line_end ? Soundness::whole : Soundness::torn) << cut;
    ASSERT_EQ(journal.trouble, at_a_line_end ? "" : "line " + std::to_string(whole + 1) + ", the last, is not whole") << cut;
    ASSERT_EQ(journal.events, std::vector<Event>(events.begin(), events.begin() + static_cast<std::ptrdiff_t>(whole) - 1)) << cut;
    ASSERT_EQ(journal.whole_bytes, ends[whole - 1]) << cut;
  }
}

// Some 4 KB: one flipped bit is always noticed, never believed; and unless it is in the last line, always called damage.
TEST(Journal, EverySingleBitFlipIsDetected) {
  auto events = some_events();
  for (std::size_t more = 0; text_of(events).size() < 4096; ++more) events.push_back({9100, NoteEvent{"note " + std::to_string(more)}});
  const auto text = text_of(events);
  const auto ends = line_ends(text);
  std::size_t flips = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const auto line = static_cast<std::size_t>(std::upper_bound(ends.begin(), ends.end(), at) - ends.begin());
    for (int bit = 0; bit < 8; ++bit, ++flips) {
      auto flipped = text;
      flipped[at] = static_cast<char>(static_cast<unsigned char>(flipped[at]) ^ (1U << bit));
      const auto journal = read_journal(flipped);
      const auto expected = line == 0 ? Soundness::unreadable : line + 1 == ends.size() ? Soundness::torn : Soundness::damaged;
      ASSERT_EQ(journal.soundness, expected) << "byte " << at << ", bit " << bit;
      ASSERT_EQ(journal.whole_bytes, line == 0 ? 0 : ends[line - 1]) << "byte " << at << ", bit " << bit;
      const auto kept = line == 0 ? 0 : static_cast<std::ptrdiff_t>(line) - 1;
      ASSERT_TRUE(std::equal(journal.events.begin(), journal.events.end(), events.begin(), events.begin() + kept));
    }
  }
  EXPECT_GE(flips, 32'768U);
}

TEST(Journal, SaysWhatIsWrong) {
  const auto events = some_events();
  const auto head = journal_line(0, some_head());
  const auto line = [&](std::size_t number) { return journal_line(number, Event{5, NoteEvent{"x"}}); };
  const auto framed_by_hand = [](const std::string& open, const std::string& body) {
    char sum[9];
    std::snprintf(sum, sizeof sum, "%08x", slow_crc32c(open + body));
    return open + sum + " " + body + "\n";
  };
  struct Row { std::string name, text, trouble; Soundness soundness; };
  const std::string unknown = R"({"at":5,"event":"dreamt"})", typeless = R"({"at":5,"event":"note","words":3})", stray = R"({"at":5,"event":"undo"})";
  const std::string newer = R"({"format":"leadline-job","format_version":2})";
  const auto number = [](const std::string& body) { return "1 " + std::to_string(body.size()) + " "; };
  const std::vector<Row> rows{
      {"empty", "", "it is empty", Soundness::unreadable},
      {"something else", "<callout/>\n", "line 1, which says what the job began with, is not whole", Soundness::unreadable},
      {"head missing", line(0), "line 1 is whole, but says what this program does not know (not the form of an event): a newer one wrote it, or somebody edited it", Soundness::unreadable},
      {"newer format", framed_by_hand("0 44 ", newer), "line 1 is whole, but says what this program does not know (another version of the format): a newer one wrote it, or somebody edited it", Soundness::unreadable},
      {"number left out", head + line(2), "line 2 is damaged, and 1 whole line stands after it", Soundness::damaged},
      {"number twice", head + line(1) + line(1), "line 3, the last, is not whole", Soundness::torn},
      {"two lines swapped", head + line(2) + line(1), "line 2 is damaged, and 2 whole lines stand after it", Soundness::damaged},
      {"number spelt otherwise", head + framed_by_hand("01 " + std::to_string(stray.size()) + " ", stray), "line 2, the last, is not whole", Soundness::torn},
      {"unknown event", head + framed_by_hand(number(unknown), unknown), "line 2 is whole, but says what this program does not know (an event 'dreamt'): a newer one wrote it, or somebody edited it", Soundness::unreadable},
      {"wrong type", head + framed_by_hand(number(typeless), typeless), "line 2 is whole, but says what this program does not know (not the form of an event): a newer one wrote it, or somebody edited it", Soundness::unreadable},
      {"undo of nothing", head + framed_by_hand(number(stray), stray), "line 2 is whole, but says what this program does not know (an undo of nothing): a newer one wrote it, or somebody edited it", Soundness::unreadable},
      {"answer out of order", head + journal_line(1, Event{5, said("push", 1, 2)}), "line 2 is whole, but says what this program does not know (an answer out of order): a newer one wrote it, or somebody edited it", Soundness::unreadable},
      {"remedy out of order", head + journal_line(1, Event{5, mended("renew-fuse", 1)}), "line 2 is whole, but says what this program does not know (a remedy out of order): a newer one wrote it, or somebody edited it", Soundness::unreadable},
      {"line end lost", head + line(1).substr(0, line(1).size() - 1) + "\r" + line(2), "line 2 is damaged, and 1 whole line stands after it", Soundness::damaged},
      {"zeros behind", head + line(1) + std::string(512, '\0'), "line 3, the last, is not whole", Soundness::torn}};
  for (const auto& row : rows) {
    const auto journal = read_journal(row.text);
    EXPECT_EQ(journal.soundness, row.soundness) << row.name;
    EXPECT_EQ(journal.trouble, row.trouble) << row.name;
  }
}

TEST(Journal, ATextOfManyFalseLinesIsReadInTime) {
  std::string text = journal_line(0, some_head());
  for (int line = 0; line < 200'000; ++line) text += "2 900000 00000000 x\n";
  EXPECT_EQ(read_journal(text).soundness, Soundness::torn);
}

TEST(JobState, IsWhatStandsAfterAllUndoing) {
  auto events = some_events();
  events.pop_back();  // the taking over
  const auto journal = read_journal(text_of(events));
  const auto state = state_of(journal);
  ASSERT_EQ(state.answers.size(), 3U);
  EXPECT_EQ(state.answered, (std::vector<Time>{1020, 1050, 9020}));
  EXPECT_EQ(state.mended, std::vector<Time>{9010});
  EXPECT_EQ(state.told, 1U);
  EXPECT_EQ(state.checks, std::vector<std::string>{"measure-bank"});
  EXPECT_EQ(state.settled, std::vector<std::string>{"bank/@volts"});
  EXPECT_EQ(standing_events(journal).size(), 6U);
  ASSERT_EQ(notes_of(journal).size(), 1U);
  EXPECT_EQ(notes_of(journal)[0].at, 1030);
}

TEST(JobState, UndoneEqualsNeverSaid) {
  const std::vector<Event> kept{{1, said("push", 2, 1)}}, undone{{1, said("push", 2, 1)}, {2, said("push", 1, 1)}, {3, read_volts("24 V", 2)}, {4, UndoEvent{}}, {5, UndoEvent{}}};
  const auto a = state_of(read_journal(text_of(kept))), b = state_of(read_journal(text_of(undone)));
  EXPECT_EQ(a.answers, b.answers);
  EXPECT_EQ(a.answered, b.answered);
  EXPECT_EQ(a.checks, b.checks);
}

TEST(JobState, AnAnswerGivenAnewHasTheTimeOfTheNewOne) {
  const auto state = state_of(read_journal(text_of({{10, said("push", 2, 1)}, {20, read_volts("24 V", 2)}, {30, said("push", 1, 1)}})));
  EXPECT_EQ(state.answered, (std::vector<Time>{30, 20}));
  EXPECT_EQ(state.answers[0].value, "weak");
}

TEST(Worked, LeavesOutThePausesAndAClockThatGoesBack) {
  const auto journal = read_journal(text_of({{1060, said("push", 2, 1)}, {1040, said("push", 1, 1)}, {1100, EndEvent{"stopped"}}, {9000, ResumeEvent{""}}, {9030, NoteEvent{"x"}}}));
  EXPECT_EQ(worked(journal), 60 + 60 + 30);
  EXPECT_EQ(ending_of(journal), "");
  EXPECT_EQ(ending_of(read_journal(text_of({{1060, EndEvent{"stopped"}}, {1070, NoteEvent{"x"}}}))), "stopped");
}

}  // namespace
}  // namespace leadline::callout
