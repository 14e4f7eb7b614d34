// Facts of the boat in the talk: four before the complaint, the others when the ranking hangs on them; kept, undone, and gone on with.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "cli/conversation.h"
#include "tests/circuit/shipped_base.h"
#include "tests/cli/jobs_folder.h"

namespace leadline::cli {
namespace {

using testing::has;
using testing::shipped_base;

class Facts : public testing::JobsFolder {
 protected:
  // With the shipped book.
  testing::Ran talk(const std::vector<std::string>& more, const std::string& typed) {
    std::vector<std::string> arguments{"diagnose", "--job", "Tern"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run_with_own_book(arguments, typed);
  }
};

// A 24 V boat, brushed; the owner says the panel is dark: until the first fact that is asked for.
const std::string dark_panel = "24\n1\n1\n1\nthe panel is dark\n1\n4\n\n";
const std::string supply = "Which battery feeds the panels and their network?";

TEST_F(Facts, FourAreAskedBeforeTheComplaintTheOthersWhenTheRankingHangsOnThem) {
  const auto ran = talk({}, dark_panel + "why\nstop\n");
  EXPECT_TRUE(has(ran.out, "(3 of 4) What drives it?")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Of the boat, for the ranking hangs on it:\n" + supply + "\n  1 the house battery (Enter)\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Nobody has stated it. Taken as 'the house battery', '")) << ran.out;
  EXPECT_FALSE(has(ran.out, "Kind of battery")) << ran.out;
}

// A boat of two stations has troubles and checks that one of a single station cannot have.
TEST_F(Facts, StationsThatAreSaidStandInTheBoat) {
  const std::string only_from_one = "\none side only upstairs\nlist\nstop\n";
  const auto one = testing::run_program({"diagnose"}, "24\n1\n1\n1" + only_from_one), two = testing::run_program({"diagnose"}, "24\n1\n1\n2" + only_from_one);
  EXPECT_TRUE(has(one.out, "(4 of 4) How many places has the boat to steer the thruster from?\n  1, 2, 3 and 4 (Enter: 1)\n")) << one.out;
  const std::string one_side = "One-sided at one station only: one side only here, both sides elsewhere";
  EXPECT_FALSE(has(one.out, one_side)) << one.out;
  EXPECT_TRUE(has(two.out, one_side)) << two.out;
  EXPECT_TRUE(has(two.out, "thruster - helm 7.5 m, helm - helm 2 7.5 m")) << two.out;
}

TEST_F(Facts, AssumedOnesAreAskedOfARecordToo) {
  const auto record = std::filesystem::path(small_) / "boat.xml";
  std::ofstream(record) << "<installation name=\"Tern\"><bank volts=\"24\"/><lately work=\"none\"/></installation>";
  const auto ran = talk({"--installation", record.string()}, "the panel is dark\n1\n4\n\n3\nstop\n");
  EXPECT_TRUE(has(ran.out, "Noted: a converter from the thruster bank to 12 V.")) << ran.out;
  EXPECT_FALSE(has(ran.out, "What was done on board just before")) << ran.out;
  const auto again = talk({}, "list\nstop\n");
  EXPECT_TRUE(has(again.out, "Said of the boat:\n  - " + supply + " converter\n")) << again.out;
  EXPECT_FALSE(has(again.out, supply + "\n")) << again.out;
}

TEST_F(Facts, AreUndoneAndAskedOnce) {
  const auto ran = talk({}, dark_panel + "3\nback\n\nback\n1\nstop\n");
  EXPECT_TRUE(has(ran.out, "Noted: a converter from the thruster bank to 12 V.\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Taken as 'the house battery' (assumed).\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Noted: the house battery.\n")) << ran.out;
  const auto again = talk({}, "stop\n");
  EXPECT_FALSE(has(again.out, supply + "\n")) << again.out;
}

// Whatever was answered since: going back asks the same questions in the other order.
TEST_F(Facts, AreAskedAgainWhenOneGoesBackToThem) {
  Conversation talk(shipped_base(), {});
  for (const auto* typed : {"24", "1", "1", "1", "the panel is dark", "1", "4", ""}) talk.answer(typed);
  std::vector<Question> asked;
  for (int line = 0; line < 6; ++line) {
    asked.push_back(talk.question());
    ASSERT_TRUE(std::holds_alternative<Noted>(talk.answer(talk.question().asks == Asks::fact ? "" : "1")));
  }
  ASSERT_EQ(asked.front().asks, Asks::fact);
  for (auto question = asked.rbegin(); question != asked.rend(); ++question) {
    ASSERT_TRUE(talk.back());
    EXPECT_EQ(talk.question(), *question);
  }
}

TEST_F(Facts, OffersOnlyWhatThisBoatCanHave) {
  const auto single = talk({}, "12\n1\n1\n1\nthe panel is dark\n1\n4\n\nwhat-if 9\nstop\n");
  EXPECT_TRUE(has(single.out, "Expected: a number from 1 to 5, or Enter for 'the house battery'.")) << single.out;
  EXPECT_FALSE(has(single.out, "upper battery")) << single.out;
}

// Between one step and the next, never within a check; after a remedy never.
TEST_F(Facts, NeverStandBetweenTheQuestionsOfACheck) {
  Conversation talk(shipped_base(), {});
  for (const auto* typed : {"24", "1", "1", "1", "the panel is dark", "1", "4", ""}) talk.answer(typed);
  std::size_t facts = 0, findings = 0;
  for (int line = 0; line < 25 && talk.question().asks != Asks::nothing; ++line) {
    if (talk.question().asks == Asks::fact) {
      ++facts;
      EXPECT_EQ(talk.in_hand(), nullptr);
      EXPECT_NE(talk.at_stake(), nullptr);
      EXPECT_GE(talk.at_stake()->moved, 0.08);
      EXPECT_TRUE(talk.progress().remedies.empty());
      talk.answer("");
      continue;
    }
    findings += talk.question().asks == Asks::finding;
    talk.answer(talk.question().asks == Asks::remedy ? "2" : "1");
  }
  EXPECT_GT(facts, 0U);
  EXPECT_GT(findings, 5U);
}

}  // namespace
}  // namespace leadline::cli
