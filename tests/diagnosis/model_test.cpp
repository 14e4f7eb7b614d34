// From a knowledge base and one boat to numbers: priors, what applies, noisy-MAX pushes.
#include "engine/diagnosis/model.h"

#include <gtest/gtest.h>

#include "engine/diagnosis/explanation.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::diagnosis {
namespace {

using testing::minimal_base;
using testing::minimal_with;

BoatModel model_of(const knowledge::KnowledgeBase& base, const std::vector<installation::Stated>& stated = {}) {
  return build_model(base, installation::Evaluation(base, installation::make_installation(base, stated)));
}

void expect_numbers(const std::vector<double>& found, const std::vector<double>& wanted) {
  ASSERT_EQ(found.size(), wanted.size());
  for (std::size_t i = 0; i < found.size(); ++i) EXPECT_NEAR(found[i], wanted[i], 1e-12) << i;
}

TEST(Prior, IsFrequencyTimesTogether) {
  const auto boat = model_of(minimal_base());
  ASSERT_EQ(boat.model.causes.size(), 3U);
  EXPECT_DOUBLE_EQ(boat.model.causes[0].prior, 0.12 * 60 / 1000);
  EXPECT_DOUBLE_EQ(boat.model.causes[1].prior, 0.12 * 20 / 1000);
  EXPECT_DOUBLE_EQ(boat.model.causes[2].prior, 0.12 * 30 / 1000);  // the unlisted cause, always the last
  EXPECT_EQ(boat.unlisted(), 2U);
  EXPECT_FALSE(boat.cause_refs[2].has_value());
  EXPECT_TRUE(boat.model.something_is_wrong);
}

TEST(Prior, IsAdjustedWhereTheConditionHolds) {
  EXPECT_DOUBLE_EQ(model_of(minimal_base(), {{"bank/@age", "9"}}).model.causes[0].prior, 2 * 0.12 * 60 / 1000);
}

TEST(Prior, IsNeverAboveOneHalf) {
  const auto base = testing::base_from(minimal_with("times=\"2\"", "times=\"1000\""));
  EXPECT_EQ(model_of(base, {{"bank/@age", "9"}}).model.causes[0].prior, 0.5);
}

TEST(Prior, OfZeroLeavesTheCauseOut) {
  const auto base = testing::base_from(minimal_with("times=\"2\"", "times=\"0\""));
  const auto boat = model_of(base, {{"bank/@age", "9"}});
  ASSERT_EQ(boat.cause_refs.size(), 2U);
  EXPECT_EQ(boat.cause_refs[0], knowledge::Ref<knowledge::Cause>{1});
}

TEST(Applies, LeavesCausesOut) {
  const auto boat = model_of(minimal_base(), {{"bank/@volts", "48"}});  // the fuse exists only where the bank is not of 48 V
  ASSERT_EQ(boat.cause_refs.size(), 2U);
  EXPECT_EQ(boat.cause_refs[0], knowledge::Ref<knowledge::Cause>{0});
}

TEST(Applies, LeavesRulesAndFindingsOut) {
  const auto base = testing::base_from(minimal_with("<finding id=\"bank-volts-rest\"", "<finding id=\"bank-volts-rest\" applies=\"bank/@kind = 'lithium'\""));
  const auto boat = model_of(base);
  EXPECT_FALSE(boat.finding_applies[1]);
  EXPECT_EQ(boat.model.causes[0].pushes.size(), 1U);  // the push only
  EXPECT_EQ(boat.model.causes[2].pushes.size(), 1U);
  EXPECT_EQ(model_of(base, {{"bank/@kind", "lithium"}}).model.causes[0].pushes.size(), 2U);
}

TEST(Rules, HoldOnlyWhereTheirConditionDoes) {
  const auto base = minimal_base();
  EXPECT_EQ(model_of(base).model.causes[1].pushes.size(), 1U);
  const auto two = installation::read_installation(base, {"b", "<installation><station/><station number=\"2\"/></installation>"});
  EXPECT_TRUE(build_model(base, installation::Evaluation(base, *two.value)).model.causes[1].pushes.empty());
}

TEST(Push, IsCumulativeAndNamesItsRules) {
  const auto boat = model_of(minimal_base());
  const auto& push = boat.model.causes[0].pushes.at(0);
  expect_numbers(push.at_most, {0.1, 0.9, 1});  // weak 0.8, none 0.1, the rest full
  ASSERT_EQ(push.because_of.size(), 2U);
  EXPECT_EQ(push.because_of[0], (text::Place{"k.xml", 62, 6}));
  expect_numbers(boat.model.causes[0].pushes.at(1).at_most, {0.05, 0.05, 1});  // flat 0.95: low never by itself
}

TEST(Push, OfConditionalRulesThatMeetIsScaledToOne) {
  const auto base = testing::base_from(minimal_with("state=\"none\" chance=\"seldom\"", "state=\"none\" chance=\"often\" when=\"1 = 1\""));
  expect_numbers(model_of(base).model.causes[0].pushes.at(0).at_most, {0, 0.8 / 1.4, 1});
}

TEST(Push, OfTwoRulesForOneStateIsTheStronger) {
  const auto base = testing::base_from(minimal_with("state=\"none\" chance=\"seldom\"", "state=\"weak\" chance=\"seldom\" when=\"1 = 1\""));
  expect_numbers(model_of(base).model.causes[0].pushes.at(0).at_most, {0.2, 1, 1});
}

TEST(Leak, IsCumulative) {
  const auto boat = model_of(minimal_base());
  expect_numbers(boat.model.findings[0].leak_at_most, {0.97, 0.99, 1});  // weak 0.02, none 0.01
  expect_numbers(boat.model.findings[1].leak_at_most, {0.97, 0.99, 1});  // low 0.02, flat 0.01
}

TEST(Bands, HaveTheLimitsOfThisBoat) {
  expect_numbers(model_of(minimal_base()).band_limits[1], {24 * 0.95, 24 * 1.02});
  expect_numbers(model_of(minimal_base(), {{"bank/@volts", "48"}}).band_limits[1], {48 * 0.95, 48 * 1.02});
}

TEST(Bands, ThatDescendHereCannotBeJudgedHere) {
  const auto base = testing::base_from(minimal_with("below=\"$bank_volts * 1.02\"", "below=\"48\""));
  EXPECT_TRUE(descending_limits(model_of(base, {{"bank/@volts", "24"}})).empty());
  const auto other = testing::base_from(minimal_with("below=\"$bank_volts * 1.02\"", "below=\"24\""));
  const auto boat = model_of(other, {{"bank/@volts", "48"}});
  EXPECT_EQ(descending_limits(boat), std::vector<knowledge::Ref<knowledge::Finding>>{{1}});
  EXPECT_FALSE(boat.finding_applies[1]);
}

// By hand: causes drawn by prior 60 : 20 show "weak" with 0.75 * 0.8 and "none" with 0.75 * 0.1 + 0.25 * 0.99; each state gets 0.02 / 2 on top.
TEST(TheUnlistedCause, ShowsEachFindingAsOftenAsTheKnownOnesOnAverage) {
  const auto boat = model_of(minimal_base());
  const double weak = 0.75 * 0.8 + 0.01, none = 0.75 * 0.1 + 0.25 * 0.99 + 0.01;
  expect_numbers(boat.model.causes[2].pushes.at(0).at_most, {1 - none - weak, 1 - none, 1});
}

// Of the findings that were answered alone: the beliefs of the whole model, to rounding.
TEST(ModelOf, SomeFindingsBelievesTheSameWhileNoOtherIsAnswered) {
  const auto base = minimal_base();
  const installation::Evaluation evaluation(base, installation::make_installation(base, {}));
  const auto whole = build_model(base, evaluation);
  const auto some = build_model_of(base, evaluation, {true, false}, whole.expectation);
  EXPECT_FALSE(some.finding_applies[1]);
  for (const std::size_t state : {0, 1, 2}) {
    std::vector<double> seen(3, 0.0);
    seen[state] = 1;
    const Evidence evidence{{0, seen}};
    expect_numbers(diagnose(some.model, evidence).belief, diagnose(whole.model, evidence).belief);
  }
}

}  // namespace
}  // namespace leadline::diagnosis
