// 'why not'; what a screen reader is spared; what is said at once.
#include <gtest/gtest.h>

#include "cli/layout.h"
#include "tests/cli/jobs_folder.h"

namespace leadline::cli {
namespace {

using testing::has;

// What is printed between the line typed and the next prompt, blanks folded.
std::string answer_to(const std::string& out, const std::string& typed) {
  const auto at = out.find("> " + typed + "\n");
  if (at == std::string::npos) return "never typed";
  const auto from = at + typed.size() + 3;
  std::string folded;
  for (const char c : out.substr(from, out.find("\n> ", from) - from)) {
    const char plain = c == '\n' ? ' ' : c;
    if (plain != ' ' || (!folded.empty() && folded.back() != ' ')) folded += plain;
  }
  return folded;
}

// A weak push on the demo's boat.
const std::string weak = "weak push\n1\nweaker\n\n";
std::string asked(const std::string& command, const std::string& role = "technician") {
  const auto ran = testing::run_program({"diagnose", "--role", role, "--installation", LEADLINE_SOURCE_DIR "/cli/demo/installation.xml"}, weak + command + "\nstop\n");
  return answer_to(ran.out, command);
}

TEST(WhyNot, NamesTheAnswersAgainstItAndHowRareItIs) {
  const auto said = asked("why not oil-leaks");
  EXPECT_TRUE(has(said, "No cause of the book has 'oil-leaks' in its name")) << said;
  const auto fuse = asked("why not main fuse blown overload");
  EXPECT_TRUE(has(fuse, "'Main fuse blown by an overload or a short', alone or beside something else: <1 %.")) << fuse;
  EXPECT_TRUE(has(fuse, "Before any answer it is the fault in about ")) << fuse;
  EXPECT_TRUE(has(fuse, "Held against 'Loose or corroded lug on the negative side': Against it: - Push of the thruster: weaker than it used to be (-")) << fuse;
  EXPECT_TRUE(has(fuse, "(-10 dB: this answer makes it a tenth as likely beside the other)")) << fuse;
}

TEST(WhyNot, SaysSoWhenTheCauseLeadsAlready) {
  const auto said = asked("why not negative side lug");
  EXPECT_TRUE(has(said, "It leads. Why Loose or corroded lug on the negative side:")) << said;
}

TEST(WhyNot, AsksWhichWhenTheWordsNameSeveral) {
  const auto said = asked("why not lug");
  EXPECT_TRUE(said.starts_with("Which of these? 'why not' and more of its words, or its id: - ")) << said;
  EXPECT_TRUE(has(said, "Loose or corroded lug on the positive side (positive-lug-bad)")) << said;
}

TEST(WhyNot, SaysWhatABoatWouldNeedToHaveIt) {
  const auto said = asked("why not phase-open");
  EXPECT_TRUE(has(said, "cannot be on this boat: it takes that \"What drives it?\" is")) << said;
}

TEST(WhyNot, TakesWordsOnly) {
  EXPECT_TRUE(has(asked("why not"), "Why not what? 'why not' and words of a cause, for instance 'why not blown fuse'."));
  EXPECT_TRUE(has(asked("why not uper-half-tap"), "No cause of the book has 'uper-half-tap' in its name; did you mean 'upper-half-tap'? 'leadline list cause' names them all."));
}

TEST(ScreenReader, IsSparedBarsAndBlocksStandNowhereElse) {
  const std::vector<std::string> boat{"--installation", LEADLINE_SOURCE_DIR "/cli/demo/installation.xml", "--no-input"};
  auto plain = std::vector<std::string>{"diagnose"}, spared = std::vector<std::string>{"diagnose", "--screen-reader"};
  plain.insert(plain.end(), boat.begin(), boat.end());
  spared.insert(spared.end(), boat.begin(), boat.end());
  const auto with = testing::run_program(plain).out, without = testing::run_program(spared).out;
  EXPECT_TRUE(has(with, "% \u2588")) << with;
  EXPECT_FALSE(has(without, "\u2588")) << without;
  EXPECT_EQ(without_blocks(with), without);
}

// Where it smells burnt nobody is told to push again, until a remedy is done.
TEST(AtOnce, IsSaidBeforeTheNextQuestionAndBarsEverybodyFromPushing) {
  std::string cannot_tell;
  for (int i = 0; i < 40; ++i) cannot_tell += "can't tell\n";
  const auto told = [&](const char* role) { return testing::run_program({"diagnose", "--role", role}, "24\n1\n1\n1\nit smells burnt\n1\n3\n\n" + cannot_tell).out; };
  const auto owner = told("owner"), desk = told("helpdesk"), technician = told("technician");
  EXPECT_TRUE(has(owner, "Noted: Smell: smells burnt, or smoke.\n\nAT ONCE:\n  ! Turn the main switch of the thruster off now, and do not push again. Touch\n")) << owner;
  EXPECT_TRUE(has(desk, "\nRead aloud, at once:\n  ! Turn the main switch of the thruster off now, and do not push again. Touch\n")) << desk;
  const auto pushes = "Keep the stop within reach";
  EXPECT_TRUE(has(owner, "Next check: ")) << owner;
  EXPECT_FALSE(has(owner, pushes)) << owner;
  EXPECT_TRUE(has(technician, "Next check: ")) << technician;
  EXPECT_FALSE(has(technician, pushes)) << technician;
  EXPECT_FALSE(has(technician, "one hand on the switch-off of the panel")) << technician;
}

// The last page names no step that what was said at once forbids; nor does the ranking of the same record, which begins with it.
TEST(AtOnce, StandsAtTheHeadOfTheLastPageAndNoRemedyGoesAgainstIt) {
  const auto boat = LEADLINE_SOURCE_DIR "/cli/demo/installation.xml";
  const auto last = testing::run_program({"diagnose", "--role", "owner", "--installation", boat}, "starts by itself\n1\n\n\nstop\n").out;
  EXPECT_TRUE(has(last, "\nAT ONCE, while this stands:\n  ! Turn the main switch of the thruster off now, even while it runs, and leave\n    it off.")) << last;
  EXPECT_FALSE(has(last, "Turn the isolator fully to on")) << last;
}

struct RankedRow {
  const char *role, *answer, *head, *never;
};

TEST(AtOnce, HeadsTheRankingOfARecord) {
  const RankedRow rows[] = {
      {"owner", "<answer finding=\"push-unbidden\" state=\"starts-by-itself\"/>", "AT ONCE, while this stands:\n  ! Turn the main switch", "while a station is activated"},
      {"owner", "<answer finding=\"water-returns\" state=\"runs-in\"/>", "AT ONCE, while this stands:\n  ! Water is coming into the boat.", "one push of two seconds"},
      {"technician", "<answer finding=\"battery-look\" state=\"swollen\"/>", "AT ONCE, while this stands:\n  ! Do not touch the batteries.", "under full push"},
  };
  for (const auto& row : rows) {
    const auto record = "<callout role=\"" + std::string(row.role) + "\"><title>Grebe</title><installation><bank volts=\"24\"/></installation>" + row.answer + "</callout>";
    const auto ranked = testing::run_program({"rank", "-"}, record).out;
    EXPECT_TRUE(has(ranked, row.head)) << ranked;
    EXPECT_FALSE(has(ranked, row.never)) << ranked;
    const auto sheet = testing::run_program({"sheet", "-"}, record).out;
    EXPECT_LT(sheet.find("AT ONCE, while this stands\n  ! "), sheet.find("COMPLAINT")) << sheet;
  }
}

// A line buffer that remembers what was there when it was first flushed.
class FirstFlush : public std::stringbuf {
 public:
  std::string first;

 protected:
  int sync() override {
    if (first.empty()) first = str();
    return std::stringbuf::sync();
  }
};

// Before anything is reckoned, so that somebody sees within a tenth of a second that it works.
TEST(Opening, IsOnTheScreenBeforeTheFirstQuestionIsWorkedOut) {
  FirstFlush screen;
  std::istringstream in("stop\n");
  std::ostream out(&screen);
  std::ostringstream err;
  run({"diagnose"}, in, out, err, Surroundings{});
  EXPECT_TRUE(screen.first.starts_with("Leadline advises; local codes and licensed practice come first.\n")) << screen.first;
  EXPECT_TRUE(screen.first.ends_with("dispatch, stop.\n")) << screen.first;
}

}  // namespace
}  // namespace leadline::cli
