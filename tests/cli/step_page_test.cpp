// What is proposed next, in words: its minutes, what stands in the way, the order of the remedies. Worked by hand on a small base.
#include "cli/step_page.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/knowledge/minimal_base.h"

namespace leadline::cli {
namespace {

using planning::Act;
using planning::Hindrance;
using planning::Proposal;

Proposal check(double minutes, double expected, double saved) { return {Act::check, {1}, {}, minutes, expected, saved, 0, {}, {}}; }
Proposal remedy(double minutes, double expected) { return {Act::remedy, {}, {0}, minutes, expected, 0, 0, {}, {}}; }
Proposal call_in(double expected) { return {Act::give_up, {}, {}, expected, expected, 0, 0, {}, {}}; }

struct FiguresRow {
  std::string name;
  Proposal proposal;
  double best;  // expected minutes of the first of all proposals
  std::string page;
};
class Figures : public ::testing::TestWithParam<FiguresRow> {};
TEST_P(Figures, SayTheMinutes) {
  planning::Advice advice;
  advice.proposals = {check(1, GetParam().best, 0), GetParam().proposal};
  EXPECT_EQ(figures_page(GetParam().proposal, advice, 160).text(), GetParam().page);
}
const FiguresRow figures[] = {
    {"check_that_saves", check(4, 63.6, 22.7), 63.6, "  4 min from here: the way, making ready and the check itself.\n  On average 64 min to a thruster proved to work; this check first saves 23 min against mending on suspicion.\n"},
    {"check_that_saves_nothing", check(4, 63.6, 0.4), 63.6, "  4 min from here: the way, making ready and the check itself.\n  On average 64 min to a thruster proved to work; this check saves no time.\n"},
    {"check_that_costs", check(4, 63.6, -9), 63.6, "  4 min from here: the way, making ready and the check itself.\n  On average 64 min to a thruster proved to work; this check saves no time.\n"},
    {"second_best_check", check(4, 63.6, 22.7), 60, "  4 min from here: the way, making ready and the check itself.\n  On average 64 min to a thruster proved to work; this check first saves 23 min against mending on suspicion.\n  (The best there is takes 60 min.)\n"},
    {"best_remedy", remedy(60, 80), 80, "  60 min from here: the way, making ready and the proof included.\n  On average 80 min to a thruster proved to work; no further check would save time.\n"},
    {"second_best_remedy", remedy(60, 80), 70, "  60 min from here: the way, making ready and the proof included.\n  On average 80 min to a thruster proved to work.\n  (The best there is takes 70 min.)\n"},
    {"as_good_as_the_best", remedy(60, 80), 79.6, "  60 min from here: the way, making ready and the proof included.\n  On average 80 min to a thruster proved to work; no further check would save time.\n"},
    {"call_in", call_in(480), 480, ""},
};
INSTANTIATE_TEST_SUITE_P(Table, Figures, ::testing::ValuesIn(figures), [](const auto& row) { return row.param.name; });

// A page makes the blanks that do not break plain; words alone still hold them.
std::string plain(std::string words) {
  for (auto at = words.find("\u00A0"); at != std::string::npos; at = words.find("\u00A0")) words.replace(at, 2, " ");
  return words;
}

TEST(StepWords, NameTheActItsMinutesAndThoseToTheEnd) {
  const auto base = testing::minimal_base();
  EXPECT_EQ(plain(step_words(base, check(7.6, 64.4, 3))), "Measure the bank (8 min; 64 min to the end)");
  EXPECT_EQ(plain(step_words(base, remedy(61, 99.5))), "Remedy: Charge the bank (61 min; 100 min to the end)");
  EXPECT_EQ(plain(step_words(base, call_in(480))), "Call somebody else in (480 min; 480 min to the end)");
}

struct ObstacleRow {
  std::string name;
  Hindrance why;
  std::string words;
};
class ObstacleWords : public ::testing::TestWithParam<ObstacleRow> {};
TEST_P(ObstacleWords, SayWhatStandsInTheWay) {
  EXPECT_EQ(obstacle_words(testing::minimal_base(), {GetParam().why, 0}, knowledge::Who::specialist), GetParam().words);
}
const ObstacleRow obstacles[] = {
    {"none", Hindrance::none, ""},
    {"role", Hindrance::role, "for a specialist"},
    {"tool", Hindrance::tool, "no multimeter in the bag"},
    {"afloat", Hindrance::afloat, "not while the boat floats"},
    {"ashore", Hindrance::ashore, "not while the boat stands ashore"},
    {"dark", Hindrance::dark, "needs daylight"},
    {"engine", Hindrance::engine, "needs the engine running"},
    {"alone", Hindrance::alone, "needs a second person"},
    {"precondition", Hindrance::precondition, "in the way: Push of the thruster"},
};
INSTANTIATE_TEST_SUITE_P(Table, ObstacleWords, ::testing::ValuesIn(obstacles), [](const auto& row) { return row.param.name; });

class OnABoat : public ::testing::Test {
 protected:
  callout::Record record(knowledge::Who role, planning::Bounds bounds = {}) const {
    return {"trial", installation::make_installation(base_, {}), role, diagnosis::InstrumentClass::pocket, {{{0}, diagnosis::Seen{2}, role}}, {}, std::move(bounds)};
  }
  knowledge::KnowledgeBase base_ = testing::minimal_base();
};

TEST_F(OnABoat, PrecautionsStandBeforeTheSteps) {
  const auto job = record(knowledge::Who::technician);
  const callout::Assessment assessment(base_, job);
  const auto advice = planning::advise(assessment.job(assessment.circumstances()));
  const Proposal try_push{Act::check, {0}, {}, 1, 60, 0, 0, {0}, {}};
  const auto page = step_page(assessment, try_push, advice, "Next check: ", 100).text();
  EXPECT_TRUE(page.starts_with("Next check: Try the lever\n")) << page;
  EXPECT_LT(page.find("FIRST, for your safety:\n  ! Boat made fast: Nobody in the water.\n"), page.find("Steps:\n  1. Move the lever.\n")) << page;
}

TEST_F(OnABoat, OrderOfRemediesNamesTheirPagesAndWhatComesAfter) {
  const auto job = record(knowledge::Who::technician);
  const callout::Assessment assessment(base_, job);
  planning::Advice advice;
  EXPECT_TRUE(order_page(assessment, advice, 100).empty());
  advice.mending_only = 111.6;
  advice.order = {{1}, {0}};
  EXPECT_EQ(order_page(assessment, advice, 100).text(),
            "Without a further check, these in this order (on average 112 min to the end):\n"
            "  1. Renew the main fuse (leadline show renew-fuse)\n"
            "  2. Charge the bank (leadline show charge-bank)\n"
            "  Each with its precautions first: the page named in brackets has them.\n"
            "  If none of these helps: call somebody else in.\n");
}

TEST_F(OnABoat, ExplanationsOfOneRemedyAreToldSo) {
  const auto job = record(knowledge::Who::technician);
  const callout::Assessment assessment(base_, job);
  const auto& list = assessment.diagnosis().explanations;
  const auto place_of = [&](const std::string& title) {
    return static_cast<std::size_t>(std::find_if(list.begin(), list.end(), [&](const auto& e) { return assessment.title_of(e) == title; }) - list.begin());
  };
  planning::Advice advice;
  EXPECT_TRUE(pointless_page(assessment, advice, 200).empty());
  advice.not_told_apart = std::pair(place_of("Main fuse blown"), place_of("Bank flat"));
  EXPECT_EQ(pointless_page(assessment, advice, 200).text(),
            "Nothing that can be done here tells 'Main fuse blown' from 'Bank flat': the remedy that gains more for its minutes comes first.\n");
  advice.not_told_apart = std::pair(place_of("Bank flat"), place_of("Bank flat"));
  EXPECT_EQ(pointless_page(assessment, advice, 200).text(), "Nothing that can be done here tells 'Bank flat' from 'Bank flat': the same remedy mends both.\n");
}

TEST_F(OnABoat, WhatWouldHelpNamesTheMissingToolOrRole) {
  const auto said = [&](const callout::Record& job) {
    const callout::Assessment assessment(base_, job);
    const auto here = assessment.job(assessment.circumstances());
    return would_help_page(assessment, here, planning::advise(here), 100).text();
  };
  EXPECT_EQ(said(record(knowledge::Who::technician)), "");
  planning::Bounds bare;
  bare.missing = {true};
  EXPECT_NE(said(record(knowledge::Who::technician, bare)).find("  - Measure the bank (no multimeter in the bag; saves "), std::string::npos);
}

}  // namespace
}  // namespace leadline::cli
