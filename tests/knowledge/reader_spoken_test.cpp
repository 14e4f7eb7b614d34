// The words for the telephone, what a layman takes who is told, and how long a condition waits (read_spoken.cpp).
#include <gtest/gtest.h>

#include "engine/knowledge/numbers.h"
#include "tests/circuit/shipped_base.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::knowledge {
namespace {

std::string spoken_text() {
  return testing::minimal_with("  <tool id=\"multimeter\">multimeter</tool>\n", R"(  <tool id="multimeter">multimeter</tool>
  <condition id="rested" minutes="45" wait="60"><title>bank rested</title></condition>
  <by-phone times="1.5" minutes="2"><source ref="common-practice"/></by-phone>
  <spoken precaution="make-fast"><before>Nobody in the water, please.</before><meanwhile>Stay out of the water.</meanwhile></spoken>
  <spoken fact="bank/@volts"><ask>How many volts?</ask></spoken>
)");
}

TEST(ReadSpoken, ReadsWordsAndMinutes) {
  const auto base = testing::base_from(spoken_text());
  EXPECT_EQ(base.precautions[0].before, "Nobody in the water, please.");
  EXPECT_EQ(base.precautions[0].meanwhile, "Stay out of the water.");
  EXPECT_EQ(base.facts[0].lay, "How many volts?");
  EXPECT_EQ(base.by_phone.times, 1.5);
  EXPECT_EQ(base.by_phone.minutes, 2);
  EXPECT_EQ(base.conditions[0].wait, 60);
}

TEST(ReadSpoken, WhatIsLeftOutChangesNothing) {
  const auto base = testing::minimal_base();
  EXPECT_EQ(base.by_phone.times, 1);
  EXPECT_EQ(base.by_phone.minutes, 0);
  EXPECT_EQ(base.precautions[0].before, "");
}

struct Fault {
  const char *name, *from, *to, *said;
};
class SpokenFaults : public ::testing::TestWithParam<Fault> {};

TEST_P(SpokenFaults, AreSaidWithAWayOut) {
  const std::vector<text::Source> files{{"k.xml", testing::changed_once(spoken_text(), GetParam().from, GetParam().to)}};
  const auto loaded = read_knowledge(files);
  std::string said;
  for (const auto& problem : loaded.problems) said += problem.what + " | " + problem.hint + "\n";
  EXPECT_EQ(said, GetParam().said);
}

const Fault faults[] = {
    {"unknown_precaution", "<spoken precaution=\"make-fast\">", "<spoken precaution=\"make-fats\">", "no file declares the precaution 'make-fats' | did you mean 'make-fast'?\n"},
    {"unknown_fact", "<spoken fact=\"bank/@volts\">", "<spoken fact=\"bank/@vlts\">", "no file declares the fact 'bank/@vlts' | write it as in bank/@volts\n"},
    {"of_nothing", "<spoken fact=\"bank/@volts\">", "<spoken>", "<spoken> needs exactly one of 'precaution' and 'fact' | \n"},
    {"says_nothing", "<before>Nobody in the water, please.</before><meanwhile>Stay out of the water.</meanwhile>", "", "<spoken> says nothing | add <before> or <meanwhile>\n"},
    {"twice", "  <spoken fact=", "  <spoken fact=\"bank/@volts\"><ask>And?</ask></spoken>\n  <spoken fact=", "a second <spoken> with <ask> for this | keep one\n"},
    {"two_prices", "  <by-phone", "  <by-phone times=\"2\" minutes=\"1\"/>\n  <by-phone", "a second <by-phone> | first at k.xml:80:4\n"},
    {"too_fast", "times=\"1.5\"", "times=\"0.5\"", "'times' is 0.5, outside its range | from 1 to 20\n"},
};
INSTANTIATE_TEST_SUITE_P(Of, SpokenFaults, ::testing::ValuesIn(faults), [](const auto& row) { return std::string(row.param.name); });

// The shipped book: whoever guides a layman has words for every precaution before what he may do, and for every fact that is asked before the complaint (of a
// fact asked later without such words he is never asked).
TEST(ShippedTelephone, HasWordsForAllThatALaymanHears) {
  const auto& book = testing::shipped_base();
  const auto expect_words = [&](const auto& action) {
    for (const auto ref : action.precautions) {
      if (action.who == Who::owner) {
        EXPECT_NE(book[ref].before, "") << book[ref].id << " of " << action.id;
      }
    }
  };
  for (const auto& check : book.checks) expect_words(check);
  for (const auto& remedy : book.remedies) expect_words(remedy);
  for (const auto& fact : book.facts) {
    if (fact.intake == Intake::first) {
      EXPECT_NE(fact.lay, "") << fact.path();
    }
  }
  EXPECT_GT(book.by_phone.times, 1);
}

// What waits says so: the price of a condition that takes time is near its waiting.
TEST(ShippedTelephone, ConditionsThatTakeTimeSayHowLong) {
  for (const auto& condition : testing::shipped_base().conditions) {
    if (condition.minutes >= 10) {
      EXPECT_GE(condition.wait, 10) << condition.id;
    }
  }
}

}  // namespace
}  // namespace leadline::knowledge
