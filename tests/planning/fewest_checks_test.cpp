// With equal costs and sharp checks a plan is a search for the fault: its mean number of checks against the entropy bound (the bar of the task:
// at most 1.15 times), Huffman's length beside it; and the twelve coins. Numbers: inference.md § 14 and § 15, tags there.
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <functional>

#include "tests/planning/huffman.h"
#include "tests/planning/optimum.h"
#include "tests/planning/random_problems.h"

namespace leadline::planning {
namespace {

// A remedy costs so much that nobody tries one before the fault is known; then it is done once.
constexpr double remedy_minutes = 1000;

RepairProblem search_for(const std::vector<double>& weights) {
  RepairProblem problem;
  problem.chance = weights;
  problem.giving_up = 1e6;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    problem.causes.push_back({i});
    problem.remedies.push_back({{remedy_minutes, {}, std::nullopt}, {}, {{i, 1.0}}});
  }
  return problem;
}

// One minute; hypothesis h shows outcome shown(h).
void add_check(RepairProblem& problem, std::size_t outcomes, const std::function<std::size_t(std::size_t)>& shown) {
  CheckOption check{{1, {}, std::nullopt}, std::vector(outcomes, std::vector<double>(problem.chance.size()))};
  for (std::size_t h = 0; h < problem.chance.size(); ++h) check.outcomes[shown(h)][h] = 1;
  problem.checks.push_back(check);
}

// Every way to part the hypotheses in two.
void add_all_questions(RepairProblem& problem) {
  const std::size_t n = problem.chance.size();
  for (std::size_t set = 1; set < std::size_t{1} << (n - 1); ++set) add_check(problem, 2, [&](std::size_t h) { return set >> h & 1U; });
}

constexpr PlanOptions usual;
#if defined(__SANITIZE_ADDRESS__)
constexpr std::size_t share_of_rounds = 2;   // the sanitizers see the same code in every round
#else
constexpr std::size_t share_of_rounds = 1;
#endif

double mean_checks(const RepairProblem& problem) {
  return minutes_following(problem, [](const RepairProblem& p) { return plan(p, usual).options.front(); }) - remedy_minutes;
}

struct HuffmanCase {
  const char* name;
  std::vector<double> weights;
  double bits, length;
};

class HuffmanBound : public testing::TestWithParam<HuffmanCase> {};

TEST_P(HuffmanBound, IsReachedWithAllQuestions) {
  const auto& row = GetParam();
  EXPECT_NEAR(entropy_bits(row.weights), row.bits, 1e-9);
  EXPECT_NEAR(huffman_length(row.weights, 2), row.length, 1e-12);
  auto problem = search_for(row.weights);
  add_all_questions(problem);
  EXPECT_NEAR(mean_checks(problem), row.length, 1e-9);
  EXPECT_LE(mean_checks(problem), 1.15 * row.bits);
}

INSTANTIATE_TEST_SUITE_P(All, HuffmanBound,
    testing::Values(HuffmanCase{"textbook", {0.25, 0.25, 0.2, 0.15, 0.15}, 2.285475297, 2.3}, HuffmanCase{"dyadic", {0.5, 0.25, 0.125, 0.125}, 1.75, 1.75},
                    HuffmanCase{"falling", {0.4, 0.3, 0.2, 0.1}, 1.846439345, 1.9}, HuffmanCase{"one_leads", {0.7, 0.1, 0.1, 0.05, 0.05}, 1.456779649, 1.6}),
    [](const auto& row) { return row.param.name; });

struct PoolCase {
  const char* name;
  std::size_t hypotheses, outcomes, checks, rounds;
};

class MeanNumberOfChecks : public testing::TestWithParam<PoolCase> {};

// Sharp checks that part the hypotheses at random.
TEST_P(MeanNumberOfChecks, IsNearTheEntropyBound) {
  const auto& row = GetParam();
  const std::size_t rounds = row.rounds / share_of_rounds;
  double checks = 0, bound = 0, huffman = 0;
  for (std::uint64_t seed = 1; seed <= rounds; ++seed) {
    Dice dice(seed);
    std::vector<double> weights;
    for (std::size_t h = 0; h < row.hypotheses; ++h) weights.push_back(std::exp(dice.between(0, 3)));
    auto problem = search_for(weights);
    for (std::size_t c = 0; c < row.checks; ++c) add_check(problem, row.outcomes, [&](std::size_t) { return dice.below(row.outcomes); });
    const double mean = mean_checks(problem), least = huffman_length(weights, row.outcomes);
    EXPECT_GE(mean, least - 1e-6) << "no search is shorter than Huffman's: seed " << seed;
    checks += mean, bound += entropy_bits(weights) / std::log2(static_cast<double>(row.outcomes)), huffman += least;
  }
  const auto n = static_cast<double>(rounds);
  std::printf("%s: mean number of checks %.3f, entropy bound %.3f (ratio %.3f), Huffman %.3f\n", row.name, checks / n, bound / n, checks / bound, huffman / n);
  EXPECT_LE(checks, 1.15 * bound);
}

INSTANTIATE_TEST_SUITE_P(All, MeanNumberOfChecks,
    testing::Values(PoolCase{"binary_8", 8, 2, 40, 10}, PoolCase{"binary_20", 20, 2, 80, 4}, PoolCase{"ternary_20", 20, 3, 80, 4}, PoolCase{"ternary_40", 40, 3, 80, 2}),
    [](const auto& row) { return row.param.name; });

// Coin c heavy is hypothesis 2c, light 2c + 1. Pans by coin: -1 left, 1 right, 0 off. Outcomes: left sinks, right sinks, level.
using Weighing = std::array<int, 12>;

std::size_t outcome(const Weighing& weighing, std::size_t hypothesis) {
  const int pull = weighing[hypothesis / 2] * (hypothesis % 2 == 0 ? 1 : -1);
  return pull < 0 ? 0 : pull > 0 ? 1 : 2;
}

Weighing random_weighing(Dice& dice, std::size_t in_a_pan) {
  Weighing weighing{};
  for (const int pan : {-1, 1}) {
    for (std::size_t placed = 0; placed < in_a_pan;) {
      auto& coin = weighing[dice.below(12)];
      if (coin == 0) coin = pan, ++placed;
    }
  }
  return weighing;
}

double bits_of(const Weighing& weighing) {
  std::vector<double> cases(3);
  for (std::size_t h = 0; h < 24; ++h) ++cases[outcome(weighing, h)];
  return entropy_bits(cases);
}

TEST(TwelveCoins, TheFirstWeighingTellsAsPublished) {
  Dice dice(1);
  const double published[] = {0.816689, 1.251629, 1.5, 1.584963, 1.483356, 1};
  for (std::size_t n = 1; n <= 6; ++n) EXPECT_NEAR(bits_of(random_weighing(dice, n)), published[n - 1], 5e-7) << n;
}

// The most checks that any coin needs when the plan is followed; each ends with the one right remedy.
std::size_t most_checks(const RepairProblem& problem) {
  const auto first = plan(problem, usual).options.front();
  if (first.act != Act::check) {
    EXPECT_EQ(std::count_if(problem.chance.begin(), problem.chance.end(), [](double p) { return p > 0; }), 1);
    return 0;
  }
  std::size_t most = 0;
  for (std::size_t o = 0; o < problem.checks[first.index].outcomes.size(); ++o) {
    const auto next = after_check(problem, first.index, o);
    if (std::any_of(next.chance.begin(), next.chance.end(), [](double p) { return p > 0; })) most = std::max(most, most_checks(next));
  }
  return 1 + most;
}

// The fixed scheme of inference.md § 14, by weighing.
constexpr std::array<Weighing, 3> scheme{{{0, 0, 0, 0, -1, 1, -1, -1, -1, 1, 1, 1}, {0, -1, -1, -1, 1, -1, 0, 0, 0, 1, 1, 1}, {-1, 1, 0, -1, 0, 1, 1, 0, -1, -1, 0, 1}}};

RepairProblem twelve_coins(std::uint64_t seed) {
  auto problem = search_for(std::vector<double>(24, 1.0));
  const auto offer = [&](const Weighing& weighing) { add_check(problem, 3, [&](std::size_t h) { return outcome(weighing, h); }); };
  Dice dice(seed);
  for (const auto& [in_a_pan, count] : {std::pair{4U, 60}, {3U, 40}, {2U, 20}, {1U, 20}}) {
    for (int i = 0; i < count; ++i) offer(random_weighing(dice, in_a_pan));
  }
  for (const auto& weighing : scheme) offer(weighing);
  return problem;
}

TEST(TwelveCoins, ThePlanNeedsThreeWeighings) {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) EXPECT_EQ(most_checks(twelve_coins(seed)), 3U) << seed;
}

// Nothing but the fixed scheme, which works in any order: three weighings that mislead nobody.
TEST(TwelveCoins, TheFixedSchemeAloneIsEnough) {
  auto problem = search_for(std::vector<double>(24, 1.0));
  for (const auto& weighing : scheme) add_check(problem, 3, [&](std::size_t h) { return outcome(weighing, h); });
  EXPECT_EQ(most_checks(problem), 3U);
  EXPECT_NEAR(plan(problem, usual).options.front().expected, 3 + remedy_minutes, 1e-9);
}

}  // namespace
}  // namespace leadline::planning
