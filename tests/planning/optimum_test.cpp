// The plan against the exact optimum over all policies, on problems small enough for it. The bar of the task: mean ratio of what following the
// plan costs to the optimum at most 1.03, worst at most 1.25. Histogram and large problems: docs/planning.md, tests/bench/planning_bench.cpp.
#include "tests/planning/optimum.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <limits>
#include <map>

#include "tests/planning/random_problems.h"

namespace leadline::planning {
namespace {

#if defined(__SANITIZE_ADDRESS__)
constexpr std::uint64_t problems = 20;       // the sanitizers see the same code in every one of them
#else
constexpr std::uint64_t problems = 300;
#endif
constexpr std::size_t most_entries = 300'000;
constexpr std::size_t tenth_of_the_work = 200'000;   // of PlanOptions' default: the ratio with all of it is better (docs/planning.md)

Doing takes(double minutes) { return {minutes, {}, std::nullopt}; }

RepairProblem single_faults(const std::vector<double>& chances, const std::vector<double>& minutes) {
  RepairProblem problem;
  problem.giving_up = 1000;
  for (std::size_t i = 0; i < chances.size(); ++i) {
    problem.chance.push_back(chances[i]);
    problem.causes.push_back({i});
    problem.remedies.push_back({takes(minutes[i]), takes(0), {{i, 1.0}}});
  }
  return problem;
}

Adviser planner(const PlanOptions& options) {
  return [options](const RepairProblem& problem) { return plan(problem, options).options.front(); };
}

// First that the twin itself is right: numbers of inference.md § 11 and § 12, whose repairs (20 once) are paid in every order.
TEST(Optimum, GivesThePublishedNumbers) {
  EXPECT_NEAR(least_minutes(single_faults({0.35, 0.30, 0.20, 0.15}, {60, 20, 10, 5})), 87.5 - (0.35 * 30 + 0.3 * 40 + 0.2 * 20 + 0.15 * 90), 1e-9);
  auto question = single_faults({0.5, 0.3, 0.2}, {10, 10, 10});
  EXPECT_NEAR(least_minutes(question) + 20, 37, 1e-9);
  question.checks.push_back({takes(0), {{0.05, 0.9, 0.9}, {0.95, 0.1, 0.1}}});
  EXPECT_NEAR(least_minutes(question) + 20, 33, 1e-9);
  question.checks.front().doing.minutes = 5;
  EXPECT_NEAR(least_minutes(question) + 20, 37, 1e-9);
}

// By hand: remedy a (10 minutes) cures {a} for certain and {a, b} with b's remedy (20, works in half of the cases). Both first steps need the
// other for the pair. a then b: {a} 10; {b} and {a, b} 30, and half of them 100 more.
TEST(Optimum, PairsAndRemediesThatMayFailByHand) {
  RepairProblem problem;
  problem.chance = {0.5, 0.25, 0.25};
  problem.causes = {{0}, {1}, {0, 1}};
  problem.remedies = {{takes(10), takes(0), {{0, 1.0}}}, {takes(20), takes(0), {{1, 0.5}}}};
  problem.giving_up = 100;
  EXPECT_NEAR(least_minutes(problem), 10 + 0.5 * 20 + 0.25 * 100, 1e-9);
  const auto then = after_remedy(problem, 0);
  EXPECT_EQ(then.causes, (std::vector<std::vector<std::size_t>>{{1}, {1}}));
  EXPECT_EQ(then.chance, (std::vector<double>{0.25, 0.25}));
  EXPECT_EQ(after_remedy(problem, 1).causes, (std::vector<std::vector<std::size_t>>{{0}, {1}, {0}, {0, 1}}));
  EXPECT_NEAR(minutes_following(problem, planner({})), 45, 1e-9);
}

// Every problem three ways: the plan followed to the end; its value at the start, which promises what some policy reaches; nobody looks ahead.
struct Ratios {
  double followed, promised, one_step, without_checks;
};

Ratios ratios_of(const RepairProblem& problem) {
  const double least = least_minutes(problem);
  const PlanOptions some{.most_work = tenth_of_the_work}, none{.most_work = 0};
  const auto first = plan(problem, some);
  return {minutes_following(problem, planner(some)) / least, first.options.front().expected / least, minutes_following(problem, planner(none)) / least,
          first.without_checks.minutes / least};
}

void print_histogram(const std::map<int, int>& by_percent) {
  for (const auto& [percent, count] : by_percent) std::printf("  up to 1.%02d  %3d  %s\n", percent, count, std::string(static_cast<std::size_t>(count + 4) / 5, '#').c_str());
}

TEST(Optimum, FollowingThePlanComesWithinThreePercent) {
  Ratios sum{}, worst{};
  std::map<int, int> by_percent;
  const auto add = [](double Ratios::*of, const Ratios& one, Ratios& total, Ratios& most) {
    total.*of += one.*of;
    most.*of = std::max(most.*of, one.*of);
  };
  for (std::uint64_t seed = 1; seed <= problems; ++seed) {
    const auto ratios = ratios_of(small_problem(seed, most_entries));
    EXPECT_GE(ratios.followed, 1 - 1e-9) << "the optimum is none: seed " << seed;
    EXPECT_GE(ratios.promised, 1 - 1e-9) << "promises what no policy reaches: seed " << seed;
    EXPECT_LE(ratios.promised, ratios.without_checks + 1e-9) << seed;
    for (const auto of : {&Ratios::followed, &Ratios::promised, &Ratios::one_step, &Ratios::without_checks}) add(of, ratios, sum, worst);
    ++by_percent[static_cast<int>(std::ceil((ratios.followed - 1) * 100 - 1e-7))];
  }
  const auto n = static_cast<double>(problems);
  std::printf("ratio to the optimum, %llu problems: mean, worst\n", static_cast<unsigned long long>(problems));
  std::printf("  plan followed %.4f %.4f; its promise %.4f %.4f; one step ahead %.4f %.4f; no checks at all %.4f %.4f\n", sum.followed / n, worst.followed,
              sum.promised / n, worst.promised, sum.one_step / n, worst.one_step, sum.without_checks / n, worst.without_checks);
  print_histogram(by_percent);
  EXPECT_LE(sum.followed / n, 1.03);
  EXPECT_LE(worst.followed, 1.25);
  EXPECT_GT(sum.without_checks / n, 1.1) << "problems in which checks hardly matter prove nothing";
}

// A remedy undone is a problem in which it was not done: plans hang on nothing but the problem.
TEST(Optimum, ARemedyUndoneGivesTheOldPlanAgain) {
  const auto problem = small_problem(7, most_entries);
  const auto before = plan(problem, {.most_work = tenth_of_the_work});
  EXPECT_NE(plan(after_remedy(problem, 0), {.most_work = tenth_of_the_work}).options.front().expected, before.options.front().expected);
  const auto again = plan(problem, {.most_work = tenth_of_the_work});
  ASSERT_EQ(again.options.size(), before.options.size());
  for (std::size_t o = 0; o < again.options.size(); ++o) {
    EXPECT_EQ(again.options[o].index, before.options[o].index);
    EXPECT_EQ(again.options[o].expected, before.options[o].expected);
  }
}

// "Can't tell" to everything: no check is left, then no check tells anything; the plan is the order of remedies.
TEST(Optimum, NoCheckPossibleOrAllTellingNothingLeavesTheRemedies) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    auto problem = small_problem(seed, most_entries);
    for (auto& check : problem.checks) {
      for (auto& outcome : check.outcomes) outcome.assign(outcome.size(), 1.0 / static_cast<double>(check.outcomes.size()));
    }
    const auto flat = plan(problem, {.most_work = tenth_of_the_work});
    problem.checks.clear();
    const auto none = plan(problem, {.most_work = tenth_of_the_work});
    EXPECT_NEAR(flat.options.front().expected, none.options.front().expected, 0.01 * none.options.front().expected) << seed;
    EXPECT_LE(none.options.front().expected, none.without_checks.minutes + 1e-9) << seed;
    EXPECT_GE(none.options.front().expected, least_minutes(problem) - 1e-9) << seed;
    EXPECT_NE(none.options.front().act, Act::check) << seed;
  }
}

TEST(Optimum, NoWeightAndNoMinutesAreNoTrouble) {
  auto problem = small_problem(3, most_entries);
  problem.chance.assign(problem.chance.size(), 0.0);
  EXPECT_EQ(plan(problem).options.front().expected, 0);
  problem = small_problem(3, most_entries);
  for (auto& check : problem.checks) check.doing = {};
  for (auto& remedy : problem.remedies) remedy.doing = {}, remedy.proof = {};
  const double least = least_minutes(problem);
  EXPECT_NEAR(minutes_following(problem, planner({.most_work = tenth_of_the_work})), least, 1e-6 * least);
}

// Large problems cannot be solved exactly, but each plan must keep what is promised of it.
TEST(Optimum, LargePlansKeepBetweenTheirBoundsAndMoreWorkIsNeverWorse) {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    const auto problem = large_problem(seed);
    double last = std::numeric_limits<double>::infinity();
    for (const std::size_t work : {0U, 200'000U, 500'000U, 1'000'000U}) {
      const auto found = plan(problem, {.most_work = work});
      EXPECT_LE(found.options.front().expected, last + 1e-9) << work;
      EXPECT_LE(found.options.front().expected, found.without_checks.minutes + 1e-9) << work;
      EXPECT_GE(found.options.front().expected, found.least_possible - 1e-9) << work;
      last = found.options.front().expected;
    }
  }
}

}  // namespace
}  // namespace leadline::planning
