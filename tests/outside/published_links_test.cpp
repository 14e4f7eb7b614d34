// Published tables of noisy-OR, noisy-MAX, leaks and soft evidence, through the engine's own model.
// Numbers and their tags (READ, MEMORY, COMPUTED): shared reference inference.md § 3, 4, 7, 8. What fits and what not:
// docs/outside-checks.md.
#include <gtest/gtest.h>

#include <string>

#include "tests/outside/plain_models.h"

namespace leadline {
namespace {

using diagnosis::Evidence;
using diagnosis::Model;
using testing::abnormal;
using testing::cumulated;
using testing::net_link;
using testing::normal;
using testing::of_set;
using testing::published;
using testing::Row;
using testing::Set;
using testing::two_states;

constexpr double computed = 1e-11;  // COMPUTED values stand with twelve decimals
constexpr double exact_table = 1e-14;

// --- § 3: fever from cold, flu, malaria (Russell and Norvig; table READ on a slide "Noisy-OR Example") ---

enum : std::size_t { cold, flu, malaria };

Model fever(double leak) {
  return published({{0.10, {net_link(0, 0.4)}}, {0.05, {net_link(0, 0.8)}}, {0.001, {net_link(0, 0.9)}}},
                   {two_states(leak)});
}

TEST(FeverTable, HoldsInAllEightRows) {
  struct {
    Set causes;
    double fever;
  } const rows[] = {{{}, 0.0},     {{malaria}, 0.9},        {{flu}, 0.8},        {{flu, malaria}, 0.98},
                    {{cold}, 0.4}, {{cold, malaria}, 0.94}, {{cold, flu}, 0.88}, {{cold, flu, malaria}, 0.988}};
  for (const auto& row : rows) {
    const auto distribution = diagnosis::distribution_under(fever(0), 0, row.causes);
    ASSERT_EQ(distribution.size(), 2U);
    EXPECT_NEAR(distribution[1], row.fever, exact_table) << ::testing::PrintToString(row.causes);
    EXPECT_NEAR(distribution[0], 1 - row.fever, exact_table) << ::testing::PrintToString(row.causes);
  }
}

// Priors chosen by the sheet, posteriors COMPUTED there.
TEST(FeverTable, GivesTheComputedPosteriorsAndSets) {
  struct {
    const char* name;
    Row likelihood;
    double evidence;
    Row beliefs;
    Row sets;
  } const rows[] = {{"fever",
                     {0, 1},
                     0.0976448512,
                     {0.446544827138, 0.415797317534, 0.009316243395},
                     {0.174949316734, 0.400439547190, 0.370155922773, 0.007898112297, 0.045138969908}},
                    {"no fever",
                     {1, 0},
                     0.9023551488,
                     {0.0625, 0.010416666667, 0.000100090081},
                     {0.927641517992, 0.061842767866, 0.009764647558, 0.000092857009, 0.000650976504}},
                    {"soft",
                     {0.3, 0.9},
                     0.35858691072,
                     {0.156619442152, 0.109764966716, 0.002358730603},
                     {0.743176150699, 0.144824070393, 0.098087216651, 0.002005722960, 0.011553831655}}};
  const Set sets[] = {{}, {cold}, {flu}, {malaria}, {cold, flu}};
  const auto model = fever(0.02);
  for (const auto& row : rows) {
    const auto result = diagnosis::diagnose(model, {{0, row.likelihood}}, testing::every_set());
    EXPECT_NEAR(std::exp(result.log_evidence), row.evidence, computed) << row.name;
    for (const auto cause : {cold, flu, malaria})
      EXPECT_NEAR(result.belief[cause], row.beliefs[cause], computed) << row.name << cause;
    for (std::size_t k = 0; k < std::size(sets); ++k)
      EXPECT_NEAR(of_set(result, sets[k]), row.sets[k], computed) << row.name << k;
  }
}

TEST(FeverTable, LeavesCausesIndependentAfterANormalFinding) {  // the sheet's check by hand, exact
  EXPECT_NEAR(diagnosis::beliefs(fever(0.02), {normal(0)}).belief[cold], 0.1 * 0.6 / (0.1 * 0.6 + 0.9), 1e-15);
}

// --- § 4: leak conventions (formula READ: "Noisy-Or Distribution" of a general Bayesian-network program; table
// COMPUTED) ---

Model leaky(double first, double second) {
  return published({{0.1, {net_link(0, first)}}, {0.1, {net_link(0, second)}}}, {two_states(0.1)});
}

TEST(LeakConvention, IsTheNetOneWithTheLeakOutside) {
  struct {
    Set causes;
    double chance;
  } const rows[] = {{{}, 0.1}, {{0}, 0.28}, {{1}, 0.46}, {{0, 1}, 0.568}};
  for (const auto& row : rows)
    EXPECT_NEAR(diagnosis::distribution_under(leaky(0.2, 0.4), 0, row.causes)[1], row.chance, exact_table);
}

// Two conventions: MEMORY (Henrion, Diez). A number stated with the leak acting must be converted first.
TEST(LeakConvention, MakesAVisibleErrorWhenAStatedChanceIsTakenForANetLink) {
  const double stated = 0.46, net = 1 - (1 - stated) / (1 - 0.1);
  EXPECT_NEAR(net, 0.4, exact_table);
  EXPECT_NEAR(diagnosis::distribution_under(leaky(0.2, net), 0, {1})[1], stated, exact_table);
  EXPECT_NEAR(diagnosis::distribution_under(leaky(0.2, stated), 0, {1})[1], 0.514, exact_table);
}

// --- § 7: noisy-MAX ---

// READ: forum post on a general Bayesian-network package's NoisyMax call; the two rows with c2 COMPUTED. A parent that
// always pushes (state c1 or c2) is a cause that is present.
TEST(NoisyMax, GivesThePublishedRows) {
  enum : std::size_t { b2, c1, c2 };
  const auto cause = [](Row chances) { return diagnosis::ModelCause{0.5, {{0, cumulated(std::move(chances)), {}}}}; };
  const auto model =
      published({cause({0.5, 0.5, 0}), cause({0.1, 0.8, 0.1}), cause({0, 0.1, 0.9})}, {{cumulated({1, 0, 0})}});
  struct {
    Set causes;
    Row chances;
  } const rows[] = {
      {{c1}, {0.1, 0.8, 0.1}}, {{b2, c1}, {0.05, 0.85, 0.1}}, {{b2, c2}, {0, 0.1, 0.9}}, {{c2}, {0, 0.1, 0.9}}};
  for (const auto& row : rows) {
    const auto distribution = diagnosis::distribution_under(model, 0, row.causes);
    for (std::size_t s = 0; s < 3; ++s)
      EXPECT_NEAR(distribution[s], row.chances[s], exact_table) << ::testing::PrintToString(row.causes) << s;
  }
}

Model three_state_example() {
  const auto push = [](Row chances) { return std::vector<diagnosis::Push>{{0, cumulated(std::move(chances)), {}}}; };
  return published({{0.03, push({0.2, 0.5, 0.3})}, {0.08, push({0.6, 0.3, 0.1})}, {0.01, push({0.1, 0.1, 0.8})}},
                   {{cumulated({0.95, 0.04, 0.01})}});
}

TEST(NoisyMax, GivesTheComputedDistributions) {  // the sheet's own example, COMPUTED x2
  struct {
    Set causes;
    Row chances;
  } const rows[] = {{{0}, {0.19, 0.503, 0.307}},
                    {{1}, {0.57, 0.321, 0.109}},
                    {{2}, {0.095, 0.103, 0.802}},
                    {{0, 1}, {0.114, 0.5097, 0.3763}},
                    {{0, 1, 2}, {0.0114, 0.11334, 0.87526}}};
  for (const auto& row : rows) {
    const auto distribution = diagnosis::distribution_under(three_state_example(), 0, row.causes);
    for (std::size_t s = 0; s < 3; ++s)
      EXPECT_NEAR(distribution[s], row.chances[s], exact_table) << ::testing::PrintToString(row.causes) << s;
  }
}

TEST(NoisyMax, GivesTheComputedPosteriors) {  // COMPUTED x2
  struct {
    const char* name;
    Row likelihood;
    double evidence;
    Row beliefs;
  } const rows[] = {{"state 0", {1, 0, 0}, 0.8894518336, {0.006147540984, 0.049586776860, 0.001009081736}},
                    {"state 1", {0, 1, 0}, 0.07600351616, {0.197237571594, 0.341672647162, 0.013801374107}},
                    {"state 2", {0, 0, 1}, 0.03454465024, {0.276202230265, 0.287356443647, 0.233133564359}},
                    {"soft", {0.1, 0.6, 0.3}, 0.144910688128, {0.085595041527, 0.158507886097, 0.021635256919}}};
  for (const auto& row : rows) {
    const auto result = diagnosis::beliefs(three_state_example(), {{0, row.likelihood}});
    EXPECT_NEAR(std::exp(result.log_evidence), row.evidence, computed) << row.name;
    for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(result.belief[i], row.beliefs[i], computed) << row.name << i;
  }
}

TEST(NoisyMax, RanksFourNearlyLevelSetsInTheComputedOrder) {  // COMPUTED x2
  const auto result = diagnosis::diagnose(three_state_example(), {{0, {0, 0, 1}}}, testing::every_set());
  const std::pair<Set, double> expected[] = {
      {{}, 0.255749007115}, {{0}, 0.242829727374}, {{1}, 0.242405580656}, {{2}, 0.207182528996}};
  ASSERT_GE(result.explanations.size(), std::size(expected));
  for (std::size_t k = 0; k < std::size(expected); ++k) {
    EXPECT_EQ(result.explanations[k].causes, expected[k].first) << k;
    EXPECT_NEAR(result.explanations[k].probability, expected[k].second, computed) << k;
  }
}

// --- § 8: virtual evidence against Jeffrey's rule (figures of the cloth MEMORY, Jeffrey by way of Pearl; results
// COMPUTED) ---

// The cloth's colour is a finding of three states, "sold tomorrow" the cause behind it (Bayes' rule turned round once,
// by hand): P(sold) = 0.56; P(colour | sold) = .12/.56, .12/.56, .32/.56; P(colour | not sold) = .18/.44, .18/.44,
// .08/.44.
Model cloth() {
  const double sold = 0.12 / 0.56, kept = 0.18 / 0.44;
  return published({{0.56, {{0, {sold / kept, sold / kept, 1}, {}}}}}, {{{kept, 2 * kept, 1}}});
}

TEST(VirtualEvidence, KeepsTheClothApartFromJeffreysRule) {
  const Row taken_as_likelihood{0.7, 0.25, 0.05}, that_reproduce_jeffrey{0.7 / 0.3, 0.25 / 0.3, 0.05 / 0.4};
  EXPECT_NEAR(diagnosis::beliefs(cloth(), {{0, taken_as_likelihood}}).belief[0], 0.426229508, 5e-10);
  EXPECT_NEAR(diagnosis::beliefs(cloth(), {{0, that_reproduce_jeffrey}}).belief[0], 0.42, 1e-12);
  const Row scaled{1, 0.357142857142857, 0.053571428571429};  // "or scaled": any constant may be taken out
  EXPECT_NEAR(diagnosis::beliefs(cloth(), {{0, scaled}}).belief[0], 0.42, 1e-12);
}

TEST(VirtualEvidence, GivesTheColoursOfTheCloth) {
  const Row likelihood{0.7, 0.25, 0.05}, colours{0.688524590, 0.245901639, 0.065573770};
  const double all = testing::evidence_of(cloth(), {{0, likelihood}});
  for (std::size_t s = 0; s < 3; ++s) {
    Row one(3, 0.0);
    one[s] = likelihood[s];
    EXPECT_NEAR(testing::evidence_of(cloth(), {{0, one}}) / all, colours[s], 5e-10) << s;
  }
}

TEST(VirtualEvidence, GivesTheColoursOfASoldClothUnderJeffrey) {
  const Row ratios{0.7 / 0.3, 0.25 / 0.3, 0.05 / 0.4}, expected{0.666666667, 0.238095238, 0.095238095};
  const auto sold = diagnosis::distribution_under(cloth(), 0, {0});
  const double all = diagnosis::likelihood_under(cloth(), {0, ratios}, {0});
  for (std::size_t s = 0; s < 3; ++s) EXPECT_NEAR(sold[s] * ratios[s] / all, expected[s], 5e-10) << s;
}

// Figures MEMORY (Pearl 1988), results COMPUTED. P(alarm | burglary) = 0.95 is stated with the false alarms acting: net
// link by § 4.
TEST(VirtualEvidence, WeighsACallOfUncertainMeaning) {
  const auto model = published({{1e-4, {net_link(0, 1 - 0.05 / 0.99)}}}, {two_states(0.01)});
  struct {
    const char* name;
    Row likelihood;
    double burglary;
  } const rows[] = {
      {"alarm certain", {0, 1}, 0.009411531603}, {"4 to 1", {1, 4}, 0.000373684098}, {"1 to 1", {1, 1}, 0.0001}};
  for (const auto& row : rows)
    EXPECT_NEAR(diagnosis::beliefs(model, {{0, row.likelihood}}).belief[0], row.burglary, 5e-13) << row.name;
}

TEST(VirtualEvidence, MultipliesAndCommutes) {  // § 8, properties
  const auto belief = [](const Row& likelihood) {
    return diagnosis::beliefs(three_state_example(), {{0, likelihood}}).belief;
  };
  const Row first{0.2, 0.5, 0.3}, second{0.9, 0.3, 0.6};
  Row both(3), scaled(3);
  for (std::size_t s = 0; s < 3; ++s) both[s] = first[s] * second[s], scaled[s] = 1e-3 * both[s];
  // The second weighs what the first left: odds of each cause after `first`, taken as a new prior together with its
  // sets, is what one vector says.
  const auto result = diagnosis::diagnose(three_state_example(), {{0, first}}, testing::every_set());
  Row after(3, 0.0);
  double all = 0;
  for (const auto& set : result.explanations) {
    const double weight = set.probability * diagnosis::likelihood_under(three_state_example(), {0, both}, set.causes) /
                          diagnosis::likelihood_under(three_state_example(), {0, first}, set.causes);
    all += weight;
    for (const auto cause : set.causes) after[cause] += weight;
  }
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(belief(both)[i], after[i] / all, 1e-14) << i;
    EXPECT_NEAR(belief(both)[i], belief(scaled)[i], 1e-14) << i;
  }
}

}  // namespace
}  // namespace leadline
