// What comes when it is not asked for: a symptom told late, words of danger, a check asked for by name; and answers in words of one's own.
#include <gtest/gtest.h>

#include "tests/cli/jobs_folder.h"

namespace leadline::cli {
namespace {

using testing::has;

const std::vector<std::string> on_the_demo_boat{"diagnose", "--installation", LEADLINE_SOURCE_DIR "/cli/demo/installation.xml"};

std::string talk(const std::string& typed, const std::string& role = "technician") {
  auto arguments = on_the_demo_boat;
  arguments.insert(arguments.end(), {"--role", role});
  return testing::run_program(arguments, typed).out;
}

TEST(ToldLate, ASymptomIsTakenBetweenTheSteps) {
  const auto out = talk("weak push\n1\nweaker\n\nalso smells burnt\n1\nburnt\nlist\nstop\n");
  EXPECT_TRUE(has(out, "Noted: Smell: smells burnt, or smoke.\n\nAT ONCE:\n  ! Turn the main switch of the thruster off now")) << out;
  EXPECT_TRUE(has(out, "Answers so far")) << out;
}

TEST(ToldLate, TheWordsAreAskedForWhereThereAreNone) {
  EXPECT_TRUE(has(talk("weak push\n1\nweaker\n\nalso\nstop\n"), "What else was seen or told?\nExpected: 'also' and a few words, for instance 'also smells burnt'.\n"));
  EXPECT_TRUE(has(talk("also smoke\nstop\n"), "The symptoms are being told just now.\n"));
}

TEST(ToldLate, UnknownWordsLeaveTheStepInHand) {
  const auto out = talk("weak push\n1\nweaker\n\nalso xyzzy\nstop\n");
  EXPECT_TRUE(has(out, "None of these words is known here.\n")) << out;
}

class LateJob : public testing::JobsFolder {};

TEST_F(LateJob, GoesOnWithWhatWasToldLate) {
  const auto boat = LEADLINE_SOURCE_DIR "/cli/demo/installation.xml";
  run_with_own_book({"diagnose", "--installation", boat, "--job", "Late"}, "weak push\n1\nweaker\n\nalso smells burnt\n1\nburnt\n");
  const auto again = run_with_own_book({"diagnose", "--job", "Late"}, "list\nstop\n");
  EXPECT_TRUE(has(again.out, "Smell: smells burnt, or smoke")) << again.out;
  EXPECT_FALSE(has(again.out, "asked again")) << again.out;
}

// The same role again is no other beginning; another one is.
TEST_F(LateJob, GoesOnWithTheRoleItWasBegunWith) {
  run_with_own_book({"diagnose", "--role", "helpdesk", "--job", "Desk"}, "24\n1\n");
  EXPECT_EQ(run_with_own_book({"diagnose", "--role", "helpdesk", "--job", "Desk"}, "stop\n").code, 0);
  const auto other = run_with_own_book({"diagnose", "--role", "owner", "--job", "Desk"}, "stop\n");
  EXPECT_EQ(other.code, 64);
  EXPECT_TRUE(has(other.err, "--role belongs to the beginning of a job")) << other.err;
}

struct DangerRow {
  const char *typed, *said;
};

// At the first question as well, where nothing of it can be taken.
TEST(Danger, IsHeardInWordsThatAnswerNothing) {
  const DangerRow rows[] = {{"help it's smoking", "Turn the main switch of the thruster off now, and do not push again."},
                            {"there is a fire", "Turn the main switch of the thruster off now, and do not push again."},
                            {"it starts by itself", "Turn the main switch of the thruster off now, even while it runs"},
                            {"the battery is hissing", "Do not touch the batteries."}};
  for (const auto& row : rows) {
    const auto out = testing::run_program({"diagnose", "--role", "owner"}, std::string(row.typed) + "\nstop\n").out;
    EXPECT_TRUE(has(out, std::string("AT ONCE:\n  ! ") + row.said)) << row.typed << "\n" << out;
    EXPECT_TRUE(has(out, "If it is so, tell it in these words when you are asked what is wrong.\n")) << out;
  }
  EXPECT_FALSE(has(testing::run_program({"diagnose", "--role", "owner"}, "twelve\nstop\n").out, "AT ONCE"));
}

TEST(OtherSteps, AreFoundByTheirWords) {
  const auto out = talk("weak push\n1\nweaker\n\nother\nfull push volts\n1\nstop\n");
  EXPECT_TRUE(has(out, " in all: words narrow")) << out;
  EXPECT_TRUE(has(out, "under full push")) << out;
  const auto none = talk("weak push\n1\nweaker\n\nother\nxyzzy\nstop\n");
  EXPECT_TRUE(has(none, "No other check or remedy that is worth asking for now has 'xyzzy' in it.\n")) << none;
}

TEST(OtherSteps, AreAllShownWhenAllAreWanted) {
  const auto lines = [](const std::string& out) { return std::count(out.begin(), out.end(), '\n'); };
  EXPECT_GT(lines(talk("weak push\n1\nweaker\n\nother\nall\nstop\n")), lines(talk("weak push\n1\nweaker\n\nother\n\nstop\n")) + 10);
}

// The question that was open before an answer was given anew still is.
TEST(Again, LeavesTheQuestionThatWasOpen) {
  const auto out = talk("weak push\n1\nweaker\nmain fuse\n1\nagain 1\n\nstop\n");
  const auto kept = out.find("The answer stays as it was.");
  ASSERT_NE(kept, std::string::npos) << out;
  EXPECT_FALSE(has(out.substr(kept), "Anything else?")) << out;
}

TEST(FactWords, MayHaveUnits) {
  const auto out = testing::run_program({"diagnose"}, "48 volts\nstop\n").out;
  EXPECT_TRUE(has(out, "Noted: 48 V.")) << out;
}

// A layman who can tell nothing is not led through the whole book.
TEST(InTheDark, TheCallEndsWithSomebodySent) {
  std::string typed = "24\n\n\n\nno push\n1\nno push\n\n";
  for (int i = 0; i < 12; ++i) typed += "can't tell\n";
  const auto out = testing::run_program({"diagnose", "--role", "helpdesk"}, typed).out;
  EXPECT_TRUE(has(out, "So many answers in a row could not be told: somebody has to look.\n")) << out;
}

TEST(Readings, OfWhatNoBatteryGivesAreRefused) {
  const auto record = "<callout><title>Grebe</title><installation><bank volts=\"12\"/></installation><answer finding=\"bank-volts-rest\" reading=\"126 V\"/></callout>";
  const auto ran = testing::run_program({"rank", "-"}, record);
  EXPECT_EQ(ran.code, 65);
  EXPECT_TRUE(has(ran.err, "error: '126 V' cannot be right")) << ran.err;
  EXPECT_TRUE(has(ran.err, "from -40 to 40 V on this boat")) << ran.err;
}

}  // namespace
}  // namespace leadline::cli
