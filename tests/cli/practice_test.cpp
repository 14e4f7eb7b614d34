// leadline practise: what it refuses, how it ends, what stands before the steps; readings drawn for every state of the book.
#include "engine/trial/practice.h"

#include <gtest/gtest.h>

#include "cli/step_words.h"
#include "tests/circuit/shipped_base.h"
#include "tests/cli/in_process.h"

namespace leadline::cli {
namespace {

using testing::Ran;
using testing::run_program;

bool has(const std::string& text, const std::string& words) { return text.find(words) != std::string::npos; }

TEST(Practise, NeedsANumberOfACallOut) {
  for (const auto* wrong : {"0", "1.5", "seven", "1000000", "-3"}) {
    const auto ran = run_program({"practise", "--call=" + std::string(wrong)});
    EXPECT_EQ(ran.code, 64);
    EXPECT_EQ(ran.err, "leadline: --call needs a whole number from 1 to 999999, not '" + std::string(wrong) + "'\n");
    EXPECT_EQ(ran.out, "");
  }
}

TEST(Practise, EndOfInputBeforeAnyChoiceIsNoLesson) {
  const auto ran = run_program({"practise", "--call", "3"});
  EXPECT_EQ(ran.code, 66);
  EXPECT_EQ(ran.err, "leadline: the input ended before anything was chosen; type words of a check or a\nremedy, or pipe them in one a line\n");
  EXPECT_FALSE(has(ran.out, "What was truly wrong"));
}

TEST(Practise, EndOfInputAfterAChoiceIsToldWhatWasWrong) {
  const auto ran = run_program({"practise", "--call", "3"}, "bank at rest\n1\n");
  EXPECT_EQ(ran.code, 0);
  EXPECT_TRUE(has(ran.out, "Ended before the trouble was gone: 1 step, ")) << ran.out;
  EXPECT_TRUE(has(ran.out, "\nWhat was truly wrong:\n  - ")) << ran.out;
  EXPECT_TRUE(has(ran.out, "The same call-out again: leadline practise --call 3\n")) << ran.out;
}

Ran at_time(std::int64_t seconds) {
  std::istringstream in("stop\n");
  std::ostringstream out, err;
  Surroundings surroundings;
  surroundings.clock = [seconds] { return seconds; };
  const int code = run({"practise"}, in, out, err, surroundings);
  return {code, out.str(), err.str()};
}

std::string call_of(const Ran& ran) {
  const auto at = ran.out.find("Practice call-out ");
  return at == std::string::npos ? ran.out : ran.out.substr(at, ran.out.find(':', at) - at);
}

TEST(Practise, WithoutANumberIsAnotherCallOutEachTime) {
  const auto one = at_time(1'000'000'000), next = at_time(1'000'000'001);
  EXPECT_NE(call_of(one), call_of(next));
  EXPECT_EQ(call_of(one), call_of(at_time(1'000'000'000)));
}

TEST(Practise, StoppedBySomebodySaysHowToBeginAgain) {
  std::istringstream in("stop\n");
  std::ostringstream out, err;
  Surroundings surroundings;
  surroundings.stopped_by = [] { return 2; };
  EXPECT_EQ(run({"practise", "--call", "3"}, in, out, err, surroundings), 130);
  EXPECT_EQ(err.str(), "leadline: stopped; the same call-out again: leadline practise --call 3\n");
  EXPECT_FALSE(has(out.str(), "What was truly wrong"));
}

TEST(Practise, PrecautionsStandBeforeTheSteps) {
  for (const auto* words : {"full push", "remedy"}) {
    const auto out = run_program({"practise", "--call", "3"}, std::string(words) + "\n1\n").out;
    const auto first = out.find("FIRST, for your safety:"), steps = out.find("Steps:");
    if (steps != std::string::npos) {
      EXPECT_LT(first, steps) << out;
    }
  }
}

TEST(Practise, TheBestStepsLoseNothing) {
  trial::Practice practice(testing::shipped_base(), 5);
  for (std::size_t steps = 0; steps < 12 && !practice.mended(); ++steps) {
    const auto best = practice.advice().proposals.front();
    if (best.act == planning::Act::give_up) break;
    const trial::Choosable step{best.act, best.act == planning::Act::check ? best.check.index : best.remedy.index};
    const auto open = practice.choosable();
    ASSERT_NE(std::find(open.begin(), open.end(), step), open.end());
    ASSERT_FALSE(practice.obstacle_to(step));
    EXPECT_NEAR(practice.minutes_of(step), best.minutes, 1e-9);
    EXPECT_EQ(practice.take(step).lost, 0);
  }
  EXPECT_FALSE(practice.done().empty());
}

// On drawn boats, for every reading of the book: what is drawn for a state where no circuit says what is read is judged to be that state.
TEST(Practise, WhatIsReadIsWhatIsDrawn) {
  const auto& base = testing::shipped_base();
  std::size_t readings = 0;
  for (std::uint64_t number = 1; number <= 6; ++number) {
    trial::Practice practice(base, number);
    const auto& boat = practice.assessment().boat();
    for (std::size_t f = 0; f < base.findings.size(); ++f) {
      const auto& finding = base.findings[f];
      if (!finding.is_reading() || !boat.finding_applies[f]) continue;
      for (const auto state : finding.bands) {
        const auto reading = trial::drawn_reading(finding, boat.band_limits[f], state, static_cast<double>(number) / 7);
        const auto above = std::count_if(boat.band_limits[f].begin(), boat.band_limits[f].end(), [&](double limit) { return reading.value >= limit; });
        EXPECT_EQ(finding.bands[static_cast<std::size_t>(above)], state) << finding.id << " " << reading.written;
        ++readings;
      }
    }
  }
  EXPECT_GT(readings, 500U);
}

// Not in another order of steps either.
TEST(Practise, TheSameNumberReadsTheSame) {
  const auto& base = testing::shipped_base();
  const auto check = [&](const char* id) { return trial::Choosable{planning::Act::check, knowledge::find_id(base.checks, id)->index}; };
  trial::Practice one(base, 3), other(base, 3);
  one.take(check("measure-bank-rest"));
  one.take(check("measure-bank-load"));
  other.take(check("measure-bank-load"));
  other.take(check("measure-bank-rest"));
  const auto load = knowledge::find_id(base.findings, "bank-volts-load");
  const auto said = [&](const trial::Practice& practice) {
    for (const auto& answer : practice.record().answers) {
      if (answer.finding == *load) return diagnosis::in_words(base[answer.finding], answer.observed);
    }
    return std::string();
  };
  EXPECT_NE(said(one), "");
  EXPECT_EQ(said(one), said(other));
}

TEST(StepWords, BeginTheWordsOfAName) {
  EXPECT_TRUE(has_words("Minus lug bent against a motor terminal", {"lug", "bent"}));
  EXPECT_TRUE(has_words("Minus lug bent against a motor terminal", {"minus", "ter", "lugs"}));
  EXPECT_FALSE(has_words("Wet or corroded network plug", {"lug"}));
  EXPECT_TRUE(has_whole_words("Lift the locks or hand command over", {"lock", "commands"}));
  EXPECT_FALSE(has_whole_words("Smell beside the battery locker", {"lock"}));
}

TEST(Practise, ANamedCauseEndsItWithAVerdict) {
  const auto right = run_program({"practise", "--call", "14"}, "name station locked\n");
  EXPECT_TRUE(has(right.out, "You named it after 0 steps, 0 min.\n'Station locked, or another station holds command' is right.\n")) << right.out;
  const auto wrong = run_program({"practise", "--call", "14"}, "name rope\n");
  EXPECT_TRUE(has(wrong.out, "'Rope or line round the propeller' is not what is wrong.\n")) << wrong.out;
}

TEST(Practise, WordsOfATitleComeFirst) {
  const auto out = run_program({"practise", "--call", "1"}, "whether the isolator is on\nstop\n").out;
  EXPECT_TRUE(has(out, "\n  1 Look whether the isolator is on (") || has(out, "\n   1 Look whether the isolator is on (")) << out;
}

TEST(Practise, WholeWordsComeBeforeTheirLikes) {
  const auto out = run_program({"practise", "--call", "14"}, "lock\nstop\n").out;
  EXPECT_LT(out.find("Remedy: Lift the lock"), out.find("Smell beside the battery locker")) << out;
}

// Of a list that found nothing no number is left.
TEST(Practise, ASearchInVainLeavesNoList) {
  const auto out = run_program({"practise", "--call", "1"}, "isolator\nxyzzy\n1\nstop\n").out;
  EXPECT_TRUE(has(out, "There is no list yet: first words of what you want to look at or mend.\n")) << out;
}

TEST(StepWords, AreAllToBeFoundInWhatTheStepIsKnownBy) {
  const auto& base = testing::shipped_base();
  const auto check = knowledge::find_id(base.checks, "measure-bank-rest");
  ASSERT_TRUE(check);
  EXPECT_EQ(words_wanted("  Bank  VOLTS? "), (std::vector<std::string>{"bank", "volts"}));
  EXPECT_TRUE(is_about(base, planning::Act::check, check->index, {"bank", "rest"}));
  EXPECT_TRUE(is_about(base, planning::Act::check, check->index, {}));
  EXPECT_FALSE(is_about(base, planning::Act::check, check->index, {"bank", "propeller"}));
}

}  // namespace
}  // namespace leadline::cli
