// Numbers of the decision-theoretic literature for the order of repair (shared reference inference.md § 11 and § 12, tags there), and what a
// plan must keep to.
#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "engine/planning/repair_problem.h"

namespace leadline::planning {
namespace {

Doing takes(double minutes) { return {minutes, {}, std::nullopt}; }

// Hypothesis i is cause i alone; remedy i mends it for certain.
RepairProblem single_faults(const std::vector<double>& chances, const std::vector<double>& minutes, double giving_up) {
  RepairProblem problem;
  problem.giving_up = giving_up;
  for (std::size_t i = 0; i < chances.size(); ++i) {
    problem.chance.push_back(chances[i]);
    problem.causes.push_back({i});
    problem.remedies.push_back({takes(minutes[i]), takes(0), {{i, 1.0}}});
  }
  return problem;
}

double chosen_minutes(const Plan& plan) { return plan.options.front().expected; }

// Heckerman, Breese and Rommelse 1995 (formula from memory, numbers computed twice in inference.md § 11): a component is looked at for its
// cost and repaired when bad; the repair costs are paid in every order, so the order follows chance per cost of the look.
TEST(RemedyOrder, FollowsChancePerCostOfThePublishedExample) {
  const std::vector<double> chances{0.35, 0.30, 0.20, 0.15}, repair{30, 40, 20, 90};
  const auto order = remedies_in_order(single_faults(chances, {60, 20, 10, 5}, 1e6));
  EXPECT_EQ(order.remedies, (std::vector<std::size_t>{3, 2, 1, 0}));
  const double repairs = std::inner_product(chances.begin(), chances.end(), repair.begin(), 0.0);
  EXPECT_NEAR(order.minutes + repairs, 87.5, 1e-9);
}

// The same with somebody who always mends it at a price: at 60 he is called at once, at 100 the order is followed.
TEST(RemedyOrder, CallsTheServiceAtOnceWhenItIsCheaper) {
  const std::vector<double> chances{0.35, 0.30, 0.20, 0.15}, whole{90, 60, 30, 95};
  EXPECT_TRUE(remedies_in_order(single_faults(chances, whole, 60)).remedies.empty());
  EXPECT_DOUBLE_EQ(remedies_in_order(single_faults(chances, whole, 60)).minutes, 60);
}

// Mitten; Kadane and Simon (setting from memory, numbers computed twice in inference.md § 11): attempts that each may mend the one fault.
TEST(RemedyOrder, RepeatedIndependentAttempts) {
  RepairProblem problem;
  problem.chance = {1};
  problem.causes = {{0}};
  problem.giving_up = 0;
  const double chance[] = {0.10, 0.40, 0.25}, minutes[] = {1, 5, 2};
  for (std::size_t i = 0; i < 3; ++i) problem.remedies.push_back({takes(minutes[i]), takes(0), {{0, chance[i]}}});
  problem.giving_up = 1000;
  const auto order = remedies_in_order(problem);
  EXPECT_EQ(order.remedies, (std::vector<std::size_t>{2, 0, 1}));
  EXPECT_NEAR(order.minutes - 1000 * 0.9 * 0.6 * 0.75, 6.125, 1e-9);
}

// Actions that share faults: the order by rate takes c first and reaches 1.9; looking ahead finds a, b, d with 1.65 (inference.md § 11).
RepairProblem shared_faults() {
  RepairProblem problem;
  problem.chance = {0.2, 0.25, 0.25, 0.2, 0.1};
  problem.causes = {{0}, {1}, {2}, {3}, {4}};
  problem.giving_up = 1000;
  const std::vector<std::vector<std::size_t>> fixes{{0, 1}, {2, 3}, {1, 2}, {4}};
  for (const auto& causes : fixes) {
    RemedyOption remedy{takes(1), takes(0), {}};
    for (const auto cause : causes) remedy.mends.push_back({cause, 1.0});
    problem.remedies.push_back(remedy);
  }
  return problem;
}

TEST(RemedyOrder, ByRateLosesOnSharedFaultsAsPublished) {
  const auto order = remedies_in_order(shared_faults());
  EXPECT_EQ(order.remedies.front(), 2U);
  EXPECT_NEAR(order.minutes, 1.9, 1e-9);
}

TEST(Plan, LookingAheadMendsTheOrderOnSharedFaults) {
  const auto found = plan(shared_faults());
  EXPECT_EQ(found.options.front().act, Act::remedy);
  EXPECT_LT(found.options.front().index, 2U);
  EXPECT_NEAR(chosen_minutes(found), 1.65, 1e-9);
}

// inference.md § 12: repair as it comes costs 37, with the answer to the question 33 on average; so the question is worth at most 4.
RepairProblem with_a_question(double minutes_of_question) {
  auto problem = single_faults({0.5, 0.3, 0.2}, {10, 10, 10}, 1000);
  problem.checks.push_back({takes(minutes_of_question), {{0.05, 0.9, 0.9}, {0.95, 0.1, 0.1}}});
  return problem;
}
constexpr double repair_once = 20;  // paid in every order

TEST(Plan, ValueOfAQuestionAsPublished) {
  EXPECT_NEAR(plan(with_a_question(0)).without_checks.minutes + repair_once, 37, 1e-9);
  EXPECT_NEAR(chosen_minutes(plan(with_a_question(0))) + repair_once, 33, 1e-9);
}

TEST(Plan, StopsAskingWhenTheQuestionCostsMoreThanItSaves) {
  EXPECT_EQ(plan(with_a_question(3.99)).options.front().act, Act::check);
  EXPECT_EQ(plan(with_a_question(4.01)).options.front().act, Act::remedy);
}

TEST(Plan, WithNothingToDoThereIsGivingUp) {
  RepairProblem problem;
  problem.chance = {1};
  problem.causes = {{0}};
  problem.giving_up = 480;
  const auto found = plan(problem);
  ASSERT_EQ(found.options.size(), 1U);
  EXPECT_EQ(found.options.front().act, Act::give_up);
  EXPECT_DOUBLE_EQ(chosen_minutes(found), 480);
}

TEST(Plan, ScalesWithAllMinutes) {
  auto problem = with_a_question(2);
  const double once = chosen_minutes(plan(problem));
  for (auto& check : problem.checks) check.doing.minutes *= 7;
  for (auto& remedy : problem.remedies) remedy.doing.minutes *= 7;
  problem.giving_up *= 7;
  EXPECT_NEAR(chosen_minutes(plan(problem)), 7 * once, 1e-9);
}

TEST(Plan, ACheckThatTellsNothingOrACauseOfNoChanceChangesNothing) {
  auto problem = with_a_question(2);
  const double before = chosen_minutes(plan(problem));
  problem.checks.push_back({takes(1), {{0.5, 0.5, 0.5}, {0.5, 0.5, 0.5}}});
  EXPECT_NEAR(chosen_minutes(plan(problem)), before, 1e-9);
  problem.chance.push_back(0);
  problem.causes.push_back({3});
  for (auto& check : problem.checks) {
    for (auto& outcome : check.outcomes) outcome.push_back(0.5);
  }
  EXPECT_NEAR(chosen_minutes(plan(problem)), before, 1e-9);
}

TEST(Plan, CostsOfZeroAreNoTrouble) {
  auto problem = with_a_question(0);
  for (auto& remedy : problem.remedies) remedy.doing.minutes = 0;
  EXPECT_DOUBLE_EQ(chosen_minutes(plan(problem)), 0);
}

TEST(Plan, LooksAheadNeverForTheWorse) {
  auto problem = shared_faults();
  problem.checks.push_back({takes(0.05), {{0.9, 0.2, 0.4, 0.1, 0.5}, {0.1, 0.8, 0.6, 0.9, 0.5}}});
  double last = 1e9;
  for (std::size_t deepest = 1; deepest < 6; ++deepest) {
    const double now = chosen_minutes(plan(problem, {.deepest = deepest}));
    EXPECT_LE(now, last + 1e-12);
    last = now;
  }
  EXPECT_LT(last, 1.65);
}

// Trips: place 0 takes 3 minutes to reach and 5 to bare, condition 0 takes 10 to set.
const Terrain boat{{3, 4}, {5, 0}, {10}};

// Two causes; remedy 0 mends the first, with its chance; a check of a minute.
struct AtOnce {
  const char* name;
  double chance, mends;                                   // of the first cause; of remedy 0
  std::vector<Option> options;                            // as a plan orders them
  std::vector<Act> expected;
};
Option step(Act act, double expected) { return {act, 0, 1, expected}; }
class MendAtOnce : public testing::TestWithParam<AtOnce> {};
TEST_P(MendAtOnce, WhatWillProbablyCureComesBeforeChecksThatSaveNextToNothing) {
  RepairProblem problem;
  problem.chance = {GetParam().chance, 1 - GetParam().chance};
  problem.causes = {{0}, {1}};
  problem.remedies = {{takes(30), takes(5), {{0, GetParam().mends}}}};
  auto options = GetParam().options;
  mend_at_once(problem, options);
  std::vector<Act> acts;
  for (const auto& option : options) acts.push_back(option.act);
  EXPECT_EQ(acts, GetParam().expected);
}
const std::vector<Act> check_first{Act::check, Act::remedy, Act::give_up}, remedy_first{Act::remedy, Act::check, Act::give_up};
const std::vector<Option> saves_one{step(Act::check, 99), step(Act::remedy, 100), step(Act::give_up, 480)};
const std::vector<Option> saves_three{step(Act::check, 97), step(Act::remedy, 100), step(Act::give_up, 480)};
INSTANTIATE_TEST_SUITE_P(All, MendAtOnce, testing::Values(
    AtOnce{"saves_a_minute", 0.9, 0.9, saves_one, remedy_first},
    AtOnce{"saves_three_minutes", 0.9, 0.9, saves_three, check_first},
    AtOnce{"would_cure_in_two_of_three", 0.7, 0.95, saves_one, check_first},
    AtOnce{"often_fails", 0.85, 0.8, saves_one, check_first},
    AtOnce{"the_remedy_is_first_already", 0.9, 0.9, {step(Act::remedy, 99), step(Act::check, 99.5), step(Act::give_up, 480)}, remedy_first},
    AtOnce{"giving_up_is_nearly_as_good", 0.9, 0.9, {step(Act::check, 99), step(Act::give_up, 99.5), step(Act::remedy, 100)}, {Act::check, Act::give_up, Act::remedy}},
    AtOnce{"no_remedy", 0.9, 0.9, {step(Act::check, 99), step(Act::give_up, 100)}, {Act::check, Act::give_up}}),
    [](const auto& row) { return row.param.name; });

struct TripCase {
  const char* name;
  Doing doing;
  Standing from;
  double minutes;
};

class Trips : public testing::TestWithParam<TripCase> {};

TEST_P(Trips, CostWhatIsNotDoneAlready) { EXPECT_DOUBLE_EQ(minutes_of(GetParam().doing, boat, GetParam().from), GetParam().minutes); }

INSTANTIATE_TEST_SUITE_P(All, Trips,
    testing::Values(TripCase{"first_time", {2, {0}, {}}, {}, 2 + 3 + 5}, TripCase{"already_there", {2, {0}, {}}, {0, {}, 1}, 2},
                    TripCase{"covers_stay_off", {2, {0}, {}}, {1, {}, 1}, 2 + 3}, TripCase{"two_places", {2, {0, 1}, {}}, {0, {}, 1}, 2 + 4},
                    TripCase{"condition_to_set", {2, {}, 0}, {}, 12}, TripCase{"condition_stands", {2, {}, 0}, {{}, 0, 0}, 2},
                    TripCase{"nowhere", {2, {}, {}}, {1, 0, 3}, 2}),
    [](const auto& row) { return row.param.name; });

TEST(Plan, TwoChecksAtOnePlaceCostOneTrip) {
  const Doing check{2, {0}, 0};
  EXPECT_DOUBLE_EQ(minutes_of(check, boat, {}), 20);
  EXPECT_DOUBLE_EQ(minutes_of(check, boat, after(check, {})), 2);
}

struct InvalidCase {
  const char* name;
  void (*spoil)(RepairProblem&);
  const char* why;
};

class Invalid : public testing::TestWithParam<InvalidCase> {};

TEST_P(Invalid, IsRefusedInWords) {
  auto problem = with_a_question(1);
  GetParam().spoil(problem);
  EXPECT_EQ(why_invalid(problem), GetParam().why);
  EXPECT_THROW(plan(problem), std::invalid_argument);
}

INSTANTIATE_TEST_SUITE_P(All, Invalid,
    testing::Values(InvalidCase{"chance", [](RepairProblem& p) { p.chance[0] = -1; }, "a chance below 0"},
                    InvalidCase{"causes", [](RepairProblem& p) { p.causes.pop_back(); }, "every hypothesis needs its causes"},
                    InvalidCase{"outcome", [](RepairProblem& p) { p.checks[0].outcomes[0][0] = 0.5; }, "the outcomes of a check must add up to 1"},
                    InvalidCase{"short_outcome", [](RepairProblem& p) { p.checks[0].outcomes[0].pop_back(); }, "an outcome needs a chance for each hypothesis"},
                    InvalidCase{"minutes", [](RepairProblem& p) { p.checks[0].doing.minutes = -1; }, "a check with negative minutes or an unknown place"},
                    InvalidCase{"place", [](RepairProblem& p) { p.remedies[0].proof.places = {7}; }, "a remedy with negative minutes or an unknown place"},
                    InvalidCase{"mends", [](RepairProblem& p) { p.remedies[0].mends[0].second = 2; }, "a remedy that mends with a chance outside 0 to 1"},
                    InvalidCase{"giving_up", [](RepairProblem& p) { p.giving_up = -1; }, "giving up needs a price"}),
    [](const auto& row) { return row.param.name; });

}  // namespace
}  // namespace leadline::planning
