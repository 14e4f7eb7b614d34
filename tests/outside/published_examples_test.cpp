// Published examples with several findings, through the engine's own model, search, reasons, conflict and planner.
// Numbers and their tags (READ, MEMORY, COMPUTED): shared reference inference.md § 5, 6, 9, 10. What fits and what not:
// docs/outside-checks.md.
#include <gtest/gtest.h>

#include <cstdint>
#include <string>

#include "engine/diagnosis/conflict.h"
#include "engine/diagnosis/reason.h"
#include "engine/planning/next_step.h"
#include "tests/outside/plain_models.h"

namespace leadline {
namespace {

using diagnosis::Evidence;
using diagnosis::Model;
using testing::abnormal;
using testing::evidence_of;
using testing::net_link;
using testing::normal;
using testing::of_set;
using testing::published;
using testing::Row;
using testing::Set;
using testing::two_states;

constexpr double computed = 1e-11;

// --- § 5: three causes by three findings, all COMPUTED x2 (the algorithm is Heckerman's Quickscore, 1989: READ
// abstract) ---

Model three_by_three() {
  return published({{0.01, {net_link(0, 0.8), net_link(1, 0.3)}},
                    {0.02, {net_link(0, 0.1), net_link(1, 0.6), net_link(2, 0.4)}},
                    {0.05, {net_link(1, 0.2), net_link(2, 0.7)}}},
                   {two_states(0.01), two_states(0.05), two_states(0.02)});
}

TEST(ThreeByThree, GivesEveryComputedRow) {
  struct {
    const char* name;
    Evidence evidence;
    double chance;
    Row beliefs;
    double tolerance;
  } const rows[] = {
      {"none", {}, 1, {0.01, 0.02, 0.05}, 1e-15},
      {"f1+", {abnormal(0)}, 0.01988416, {0.403535276320, 0.116804531848, 0.05}, 1e-12},
      {"f2+ alone", {abnormal(1)}, 0.073573642, {}, 1e-15},  // the marginals of the sheet
      {"f3+ alone", {abnormal(2)}, 0.0618656, {}, 1e-15},
      // The sheet prints d2 here as 0.367271184134; exact fractions give 0.36727118411413 (its last two digits are a
      // slip).
      {"f2+ f3+", {abnormal(1), abnormal(2)}, 0.0148017619632, {0.019471858818, 0.367271184114, 0.605023311783}, 1e-12},
      {"f1+ f2+ f3-",
       {abnormal(0), abnormal(1), normal(2)},
       0.00382045212070144,
       {0.673714255663769, 0.217051042217797, 0.0268788381566175},
       1e-14},
      {"f1+ f2+ f3+",
       {abnormal(0), abnormal(1), abnormal(2)},
       0.00090941181689856,
       {0.255568177676852, 0.701694734113775, 0.307037900953189},
       1e-14},
      {"f1- f2- f3-",
       {normal(0), normal(1), normal(2)},
       0.865257099968701,
       {0.001412144442, 0.004388816645, 0.012474012474},
       1e-12},
      {"f1+, f2 soft, f3-",
       {abnormal(0), {1, {0.25, 0.75}}, normal(2)},
       0.00639169408915072,
       {0.495716425411674, 0.116414098624296, 0.0189315665347805},
       1e-14}};
  for (const auto& row : rows) {
    const auto result = diagnosis::beliefs(three_by_three(), row.evidence);
    EXPECT_NEAR(std::exp(result.log_evidence), row.chance, 1e-14) << row.name;
    for (std::size_t i = 0; i < row.beliefs.size(); ++i)
      EXPECT_NEAR(result.belief[i], row.beliefs[i], row.tolerance) << row.name << " d" << i + 1;
  }
}

TEST(ThreeByThree, RanksEveryListedSet) {
  struct {
    const char* name;
    Evidence evidence;
    std::vector<std::pair<Set, double>> sets;
  } const rows[] = {{"f1+ f2+ f3-",
                     {abnormal(0), abnormal(1), normal(2)},
                     {{{0}, 0.641623365129},
                      {{1}, 0.195645357875},
                      {{}, 0.118213260036},
                      {{0, 1}, 0.017639178803},
                      {{0, 2}, 0.014153011856},
                      {{2}, 0.008959320761},
                      {{1, 2}, 0.003467805664},
                      {{0, 1, 2}, 0.000298699876}}},
                    {"f1+ f2+ f3+",
                     {abnormal(0), abnormal(1), abnormal(2)},
                     {{{1}, 0.575895395098},
                      {{0, 2}, 0.142777709094},
                      {{2}, 0.090382973338},
                      {{1, 2}, 0.068018441532},
                      {{0}, 0.055009571099},
                      {{0, 1}, 0.051922120494},
                      {{}, 0.010135012355},
                      {{0, 1, 2}, 0.005858776989}}}};
  for (const auto& row : rows) {
    const auto result = diagnosis::diagnose(three_by_three(), row.evidence, testing::every_set());
    ASSERT_EQ(result.explanations.size(), row.sets.size()) << row.name;
    for (std::size_t k = 0; k < row.sets.size(); ++k) {
      EXPECT_EQ(result.explanations[k].causes, row.sets[k].first) << row.name << k;
      EXPECT_NEAR(result.explanations[k].probability, row.sets[k].second, 1e-12) << row.name << k;
    }
  }
}

TEST(ThreeByThree, HasTheComputedConflict) {  // § 10
  const auto conflict = diagnosis::conflict_in(three_by_three(), {abnormal(0), abnormal(1), normal(2)}, 3);
  EXPECT_NEAR(conflict.bits, -1.476996321573, computed);
  EXPECT_EQ(conflict.suspects, std::vector<std::size_t>{});
}

// What the planner tells of the two checks left, f2 and f3, of the given minutes; finding 0 is answered. There is no remedy, so it ranks neither by them.
struct Telling { double bits, bits_per_minute; };
std::vector<Telling> telling_after_f1(double minutes_f2, double minutes_f3) {
  knowledge::KnowledgeBase base;
  base.findings.resize(3);
  base.checks.resize(2);
  base.checks[0].observes = {{1}}, base.checks[0].effort.minutes = minutes_f2;
  base.checks[1].observes = {{2}}, base.checks[1].effort.minutes = minutes_f3;
  diagnosis::BoatModel boat;
  boat.model = three_by_three();
  boat.cause_refs.resize(3);
  boat.finding_applies.assign(3, true);
  const installation::Evaluation evaluation(base, installation::make_installation(base, {}));
  const diagnosis::Evidence evidence{abnormal(0)};
  const auto result = diagnosis::diagnose(boat.model, evidence, testing::every_set());
  planning::Circumstances now;
  now.answered = {true, false, false};
  std::vector<Telling> telling(2);
  for (const auto& proposal : planning::advise({base, boat, evaluation, result, evidence, planning::predictor_of(boat, result), now}).proposals) {
    if (proposal.act == planning::Act::check) telling[proposal.check.index] = {proposal.bits, proposal.bits / proposal.minutes};
  }
  return telling;
}

TEST(ThreeByThree, TellsMoreByTheThirdFindingThanByTheSecond) {
  const auto telling = telling_after_f1(1, 1);
  EXPECT_NEAR(telling[0].bits, 0.163714094183, computed);
  EXPECT_NEAR(telling[1].bits, 0.194514848805, computed);
}

TEST(ThreeByThree, TellsLessPerMinuteByTheMoreTellingFindingWhenItCostsMore) {
  const auto telling = telling_after_f1(1, 1.2);
  EXPECT_NEAR(telling[0].bits_per_minute, 0.16371, 5e-6);
  EXPECT_NEAR(telling[1].bits_per_minute, 0.16210, 5e-6);
}

TEST(ThreeByThree, HasTheComputedEntropyAfterTheFirstFinding) {
  const auto result = diagnosis::diagnose(three_by_three(), {abnormal(0)}, testing::every_set());
  ASSERT_EQ(result.explanations.size(), 8U);
  double bits = 0;
  for (const auto& set : result.explanations) bits -= set.probability * std::log2(set.probability);
  EXPECT_NEAR(bits, 1.725747815121, computed);
}

// --- § 6: fifteen causes, twenty findings, from the sheet's congruential generator; COMPUTED x2 ---

class Congruential {
 public:
  Congruential() {
    for (int i = 0; i < 10; ++i) (void)next();
  }
  double next() {
    state_ = state_ * 1103515245U + 12345U;
    return static_cast<double>((state_ >> 8U) & 0xFFFFFFU) / 16777216.0;
  }
  double rounded(double least, double width, double scale) {
    return std::floor((least + width * next()) * scale + 0.5) / scale;
  }

 private:
  std::uint32_t state_ = 777;
};

Model fifteen_by_twenty() {
  Congruential numbers;
  Model model = published(std::vector<diagnosis::ModelCause>(15), {});
  for (auto& cause : model.causes) cause.prior = numbers.rounded(0.002, 0.05, 1e4);
  for (std::size_t j = 0; j < 20; ++j) model.findings.push_back(two_states(numbers.rounded(0.001, 0.02, 1e4)));
  for (std::size_t j = 0; j < 20; ++j) {
    for (auto& cause : model.causes) {
      if (numbers.next() < 0.35) cause.pushes.push_back(net_link(j, numbers.rounded(0.2, 0.75, 1e3)));
    }
  }
  return model;
}

TEST(FifteenByTwenty, GivesTheComputedPosteriors) {
  Evidence evidence;
  for (std::size_t j = 0; j < 14; ++j)
    evidence.push_back(j < 5 ? abnormal(j) : j < 12 ? normal(j) : diagnosis::Observation{j, {0.3, 0.7}});
  const double expected[] = {0.0660339023125, 0.9370844672983, 0.0143815501282,   0.0145545363625,   0.0032030391600,
                             0.0084261636368, 0.0065596094899, 0.0039228089804,   0.0066225999115,   0.0881634062003,
                             0.0457113782076, 0.0960484754619, 2.60775259943e-05, 0.000391863158805, 0.0383348415006};
  const auto result = diagnosis::beliefs(fifteen_by_twenty(), evidence);
  EXPECT_NEAR(std::exp(result.log_evidence), 1.006283016905e-07, 5e-20);
  for (std::size_t i = 0; i < 15; ++i) EXPECT_NEAR(result.belief[i], expected[i], 1e-12) << "c" << i;
}

// --- § 9: Jaynes's widgets (set-up READ; all values COMPUTED) ---

// Machine B is the state of nothing wrong: 1/6 of its items are bad. Machine A (cause 0) leaves 2/3 good, hypothesis C
// (cause 1) 1/100.
Model widgets(std::size_t items) {
  const double c_to_b = 1e-6 / (10.0 / 11 * (1 - 1e-6));
  diagnosis::ModelCause a{1.0 / 11, {}}, c{c_to_b / (1 + c_to_b), {}};
  Model model = published({}, std::vector<diagnosis::ModelFinding>(items, two_states(1.0 / 6)));
  for (std::size_t j = 0; j < items; ++j) {
    a.pushes.push_back({j, {(2.0 / 3) / (5.0 / 6), 1}, {}});
    c.pushes.push_back({j, {0.01 / (5.0 / 6), 1}, {}});
  }
  model.causes = {a, c};
  return model;
}

Evidence items(std::size_t bad, std::size_t good) {
  Evidence evidence;
  for (std::size_t j = 0; j < bad + good; ++j) evidence.push_back(j < bad ? abnormal(j) : normal(j));
  return evidence;
}

TEST(Widgets, ShiftTheOddsOfTwoMachines) {
  struct {
    std::size_t bad, good;
    double decibels, chance, tolerance;
  } const rows[] = {{0, 0, -10, 0.0909091, 5e-8},          {3, 0, -0.969, 0.444444, 5e-7},
                    {4, 0, 2.041, 0.615385, 5e-7},         {6, 0, 8.062, 0.864865, 5e-7},
                    {8, 0, 14.082, 0.962406, 5e-7},        {10, 0, 20.103, 0.990329, 5e-7},
                    {12, 0, 26.124, 0.997565, 5e-7},       {20, 0, 50.206, 0.9999905, 5e-8},
                    {5, 7, -1.732201, 0.401587698, 5e-10}, {8, 4, 10.205999, 0.912935670, 5e-10},
                    {10, 2, 18.164799, 0.984970542, 5e-10}};
  for (const auto& row : rows) {
    auto model = widgets(row.bad + row.good);
    model.causes.pop_back();  // two hypotheses
    const auto result = diagnosis::beliefs(model, items(row.bad, row.good), testing::every_set());
    const double belief = result.belief[0];
    EXPECT_TRUE(result.exact);
    EXPECT_NEAR(belief, row.chance, row.tolerance) << row.bad << " bad, " << row.good << " good";
    EXPECT_NEAR(10 * std::log10(belief / (1 - belief)), row.decibels, 5e-4)
        << row.bad << " bad, " << row.good << " good";
  }
}

// Twenty abnormal answers are more than the table holds by default: then the bound that the engine states must hold.
TEST(Widgets, StayWithinTheStatedBoundWhereTheTableIsFull) {
  auto model = widgets(20);
  model.causes.pop_back();
  const auto result = diagnosis::beliefs(model, items(20, 0));
  EXPECT_FALSE(result.exact);
  EXPECT_LE(std::fabs(result.belief[0] - 0.9999905), result.unlisted_mass + 5e-8);
  EXPECT_LT(result.unlisted_mass, 1e-3);
}

// The hypotheses exclude one another, causes of the engine do not: the set {A, C} is left out of the comparison.
TEST(Widgets, LetTheUnlikelyThirdHypothesisTakeOver) {
  struct {
    std::size_t bad;
    double a, b, c;
  } const rows[] = {{0, 0.090909, 0.90909, 1.0000e-6},  {3, 0.444388, 0.55548, 1.2806e-4},
                    {4, 0.615061, 0.38441, 5.2643e-4},  {6, 0.859254, 0.13426, 6.4871e-3},
                    {8, 0.904439, 0.035330, 0.060232},  {10, 0.626097, 0.0061142, 0.36779},
                    {12, 0.161704, 3.9479e-4, 0.83790}, {20, 0.000032, 3.0399e-10, 0.99997}};
  for (const auto& row : rows) {
    const auto result = diagnosis::diagnose(widgets(row.bad), items(row.bad, 0), testing::every_set());
    const double a = of_set(result, {0}), b = of_set(result, {}), c = of_set(result, {1}), all = a + b + c;
    EXPECT_NEAR(a / all, row.a, 5.1e-7) << row.bad;
    EXPECT_NEAR(b / all / row.b, 1, 6e-5) << row.bad;
    EXPECT_NEAR(c / all / row.c, 1, 6e-5) << row.bad;
  }
}

TEST(Widgets, WeighThreeDecibansForABadOneAndOneAgainstForAGoodOne) {
  auto model = widgets(2);
  model.causes.pop_back();
  const auto evidence = items(1, 1);
  const auto result = diagnosis::diagnose(model, evidence, testing::every_set());
  const auto is_a = std::find_if(result.explanations.begin(), result.explanations.end(),
                                 [](const auto& e) { return e.causes == Set{0}; });
  ASSERT_NE(is_a, result.explanations.end());
  const auto reasons =
      diagnosis::reasons_for(model, evidence, result, static_cast<std::size_t>(is_a - result.explanations.begin()));
  ASSERT_EQ(reasons.size(), 2U);
  EXPECT_EQ(reasons[0].state, 1U);
  EXPECT_NEAR(reasons[0].weight_db, 3.010299957, 5e-10);
  EXPECT_EQ(reasons[1].state, 0U);
  EXPECT_NEAR(reasons[1].weight_db, -0.969100130, 5e-10);
}

}  // namespace
}  // namespace leadline
