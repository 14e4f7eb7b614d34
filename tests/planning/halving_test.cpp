// Cuts of an ordered run against every tree of cuts there is, and against the bounds of coding theory: H <= L < H + 2 for the best alphabetic
// tree (Gilbert and Moore 1959, from memory) and never below Huffman's length, which may part the pieces in any way.
#include "engine/planning/halving.h"

#include <gtest/gtest.h>

#include <cstdio>
#include <numeric>
#include <stdexcept>

#include "tests/planning/huffman.h"
#include "tests/planning/random_problems.h"

namespace leadline::planning {
namespace {

OrderedRun run_of(const std::vector<double>& chance, const std::vector<double>& minutes) {
  OrderedRun run;
  run.chance = chance;
  for (const double m : minutes) run.cuts.push_back({m, {}, std::nullopt});
  return run;
}

OrderedRun run_of(const std::vector<double>& chance) { return run_of(chance, std::vector<double>(chance.size() - 1, 1.0)); }

OrderedRun random_run(Dice& dice, std::size_t pieces, bool equal_minutes) {
  std::vector<double> chance, minutes;
  for (std::size_t i = 0; i < pieces; ++i) chance.push_back(std::exp(dice.between(0, 4)));
  for (std::size_t i = 1; i < pieces; ++i) minutes.push_back(equal_minutes ? 1 : dice.between(0, 20));
  return run_of(chance, minutes);
}

// The cost of every single tree of cuts over pieces first … last, one after the other.
std::vector<double> costs_of_all_trees(const OrderedRun& run, std::size_t first, std::size_t last) {
  if (first == last) return {0};
  const auto at = [&](std::size_t i) { return run.chance.begin() + static_cast<std::ptrdiff_t>(i); };
  const double weight = std::accumulate(at(first), at(last + 1), 0.0);
  std::vector<double> costs;
  for (std::size_t k = first; k < last; ++k) {
    for (const double left : costs_of_all_trees(run, first, k)) {
      for (const double right : costs_of_all_trees(run, k + 1, last)) costs.push_back(run.cuts[k].minutes * weight + left + right);
    }
  }
  return costs;
}

TEST(Halving, IsTheBestOfAllTrees) {
  Dice dice(1);
  for (int i = 0; i < 200; ++i) {
    const auto run = random_run(dice, dice.from_to(2, 8), i % 2 == 0);
    const auto costs = costs_of_all_trees(run, 0, run.chance.size() - 1);
    const double total = std::accumulate(run.chance.begin(), run.chance.end(), 0.0);
    EXPECT_NEAR(cuts_by_minutes(run).front().expected_minutes, *std::min_element(costs.begin(), costs.end()) / total, 1e-9) << i;
  }
  EXPECT_EQ(costs_of_all_trees(run_of({1, 1, 1, 1, 1, 1, 1, 1}), 0, 7).size(), 429U);   // Catalan's number: none is missing
}

TEST(Halving, KeepsToTheBoundsOfCodingTheory) {
  Dice dice(2);
  for (int i = 0; i < 200; ++i) {
    const auto run = random_run(dice, dice.from_to(2, 30), true);
    const double length = cuts_by_minutes(run).front().expected_minutes, bits = entropy_bits(run.chance), huffman = huffman_length(run.chance, 2);
    EXPECT_GE(length, bits - 1e-9) << i;
    EXPECT_LT(length, bits + 2) << i;
    EXPECT_GE(length, huffman - 1e-9) << i;
    EXPECT_LE(length, huffman + 1 + 1e-9) << i;
  }
}

TEST(Halving, EqualPiecesAreHalvedExactly) {
  for (std::size_t pieces = 2, tests = 1; pieces <= 32; pieces *= 2, ++tests) {
    const auto cuts = cuts_by_minutes(run_of(std::vector<double>(pieces, 1.0)));
    EXPECT_EQ(cuts.front().index, pieces / 2 - 1);
    EXPECT_DOUBLE_EQ(cuts.front().before, 0.5);
    EXPECT_DOUBLE_EQ(cuts.front().expected_minutes, static_cast<double>(tests));
    EXPECT_EQ(cuts.size(), pieces - 1);
  }
}

TEST(Halving, AnErringTestStillHalvesAndTakesLonger) {
  double last = 3;
  for (const double error : {0.01, 0.05, 0.1, 0.2, 0.4}) {
    auto run = run_of(std::vector<double>(8, 1.0));
    run.error = error;
    const auto best = cuts_by_minutes(run).front();
    EXPECT_EQ(best.index, 3U);
    EXPECT_GT(best.expected_minutes, last);
    last = best.expected_minutes;
  }
}

// Following the advice with erring tests and weighing each answer, over every run of answers: the fault is found, and it takes no fewer tests than
// the capacity of the answers allows. Eight equal pieces, error 0.05; found means 0.95 sure. Returns the mean number of tests.
double tests_until_sure(OrderedRun run, double* wrongly_found) {
  const double total = std::accumulate(run.chance.begin(), run.chance.end(), 0.0);
  const double most = *std::max_element(run.chance.begin(), run.chance.end());
  if (total < 1e-6) return 0;   // of all runs: too seldom to follow
  if (most >= 0.95 * total) {
    *wrongly_found += total - most;
    return 0;
  }
  const auto cut = cuts_by_minutes(run).front();
  double tests = total;
  for (const bool before : {true, false}) {
    auto next = run;
    for (std::size_t i = 0; i < next.chance.size(); ++i) next.chance[i] *= (i <= cut.index) == before ? 1 - run.error : run.error;
    tests += tests_until_sure(next, wrongly_found);
  }
  return tests;
}

TEST(Halving, FindsThePieceWithErringTestsNoSoonerThanTheirCapacityAllows) {
  auto run = run_of(std::vector<double>(8, 1.0 / 8));
  run.error = 0.05;
  double wrongly_found = 0;
  const double tests = tests_until_sure(run, &wrongly_found), foretold = cuts_by_minutes(run).front().expected_minutes;
  std::printf("eight pieces, one answer in 20 wrong: %.2f tests, foretold %.2f; the wrong piece %.4f\n", tests, foretold, wrongly_found);
  EXPECT_LT(wrongly_found, 0.05);
  EXPECT_GE(tests, foretold);
  EXPECT_LE(tests, 1.5 * foretold);   // measured: 5.43 for 4.20
}

TEST(Halving, ATinyErrorChangesNextToNothing) {
  Dice dice(3);
  for (int i = 0; i < 20; ++i) {
    auto run = random_run(dice, 7, false);
    const double exact = cuts_by_minutes(run).front().expected_minutes;
    run.error = 1e-9;
    EXPECT_NEAR(cuts_by_minutes(run).front().expected_minutes, exact, 1e-6 * exact);
  }
}

// Four pieces: the middle is behind covers that take half an hour, both other cuts lie open where one stands.
TEST(Halving, GoesRoundWhatIsHardToReach) {
  auto run = run_of({1, 1, 1, 1});
  run.terrain = {{0, 5}, {0, 30}, {}};
  for (const std::size_t i : {0U, 1U, 2U}) run.cuts[i].places = {i == 1 ? 1U : 0U};
  run.standing = {0, std::nullopt, 1};
  const auto cuts = cuts_by_minutes(run);
  EXPECT_EQ(cuts.front().index, 0U);
  EXPECT_DOUBLE_EQ(cuts.front().minutes, 1);
  EXPECT_EQ(cuts.back().index, 1U);
  EXPECT_DOUBLE_EQ(cuts.back().minutes, 36);
  run.standing = {1, std::nullopt, 3};   // once one is there it is the middle again
  EXPECT_EQ(cuts_by_minutes(run).front().index, 1U);
}

TEST(Halving, PiecesOfNoChanceNeedNotBeToldApart) {
  EXPECT_DOUBLE_EQ(cuts_by_minutes(run_of({0, 1, 0, 0, 1, 0})).front().expected_minutes, 1);
  EXPECT_EQ(cuts_by_minutes(run_of({0, 1, 0, 0, 1, 0})).size(), 3U);
  EXPECT_TRUE(cuts_by_minutes(run_of({0, 1, 0})).empty());
  EXPECT_TRUE(cuts_by_minutes(run_of({0, 0})).empty());
  EXPECT_TRUE(cuts_by_minutes(run_of({1})).empty());
}

std::string refusal(const OrderedRun& run) {
  try {
    cuts_by_minutes(run);
  } catch (const std::invalid_argument& why) {
    return why.what();
  }
  return "";
}

TEST(Halving, RefusesInWords) {
  auto run = run_of({1, 1, 1});
  run.error = 0.5;
  EXPECT_EQ(refusal(run), "a test that errs half of the time tells nothing");
  EXPECT_EQ(refusal(run_of({1, 1}, {1, 1})), "a run has one cut fewer than pieces");
  EXPECT_EQ(refusal(run_of({1, -1})), "a chance below 0");
}

}  // namespace
}  // namespace leadline::planning
