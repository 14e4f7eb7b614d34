// What may be done on a job: one table of obstacles, and what doing costs there.
#include "engine/planning/circumstances.h"

#include <gtest/gtest.h>

namespace leadline::planning {
namespace {

using knowledge::Water;
using knowledge::Who;

knowledge::KnowledgeBase with_tools() {
  knowledge::KnowledgeBase base;
  base.tools.push_back({"multimeter", "multimeter", true, {}});
  base.tools.push_back({"clamp-meter", "DC clamp meter", false, {}});
  base.places.push_back({"bank", "bank", 2, 3, {}, {}});
  base.conditions.push_back({"rested", "rested", 60, {}, {}});
  base.precautions.resize(2);
  base.precautions[1].forbids_afloat = true;
  return base;
}

struct Row {
  const char* name;
  void (*check)(knowledge::Check&);
  void (*now)(Circumstances&);
  Hindrance expected;
};

// A push in three states, normal to none, and its direction, which needs one of the first two.
knowledge::KnowledgeBase with_a_direction() {
  knowledge::KnowledgeBase base;
  base.findings.resize(3);
  base.findings[1].needs = {{{0}, {0, 1}}};
  return base;
}

struct Hidden {
  const char* name;
  diagnosis::Evidence said;
  bool expected;
};
class NotToBeSeen : public testing::TestWithParam<Hidden> {};
TEST_P(NotToBeSeen, IsWhatNeedsAStateThatWasSpokenAgainst) {
  EXPECT_EQ(not_to_be_seen(with_a_direction(), GetParam().said), (std::vector<bool>{false, GetParam().expected, false}));
}
const Hidden hidden[] = {
    {"nothing_was_said", {}, false},
    {"a_push", {{0, {1, 0, 0}}}, false},
    {"a_weak_push", {{0, {0, 1, 0}}}, false},
    {"no_push", {{0, {0, 0, 1}}}, true},
    {"an_owner_says_none", {{0, {0.04, 0.04, 0.92}}}, true},
    {"as_likely_one_as_the_other", {{0, {0, 0.5, 0.5}}}, false},
    {"something_else_was_said", {{2, {0, 0, 1}}}, false},
};
INSTANTIATE_TEST_SUITE_P(Table, NotToBeSeen, testing::ValuesIn(hidden), [](const auto& row) { return row.param.name; });

class Obstacles : public testing::TestWithParam<Row> {};

TEST_P(Obstacles, AreNamed) {
  knowledge::Check check;
  Circumstances now;
  GetParam().check(check);
  GetParam().now(now);
  EXPECT_EQ(obstacle_to(with_tools(), check, now).why, GetParam().expected);
  // What bars a check bars a remedy that takes the same.
  knowledge::Remedy remedy;
  remedy.effort = check.effort, remedy.who = check.who, remedy.precautions = check.precautions;
  EXPECT_EQ(obstacle_to(with_tools(), remedy, now).why, GetParam().expected);
}

const auto nothing = [](Circumstances&) {};
const Row rows[] = {
    {"plain", [](knowledge::Check&) {}, nothing, Hindrance::none},
    {"beyond_role", [](knowledge::Check& c) { c.who = Who::technician; }, [](Circumstances& n) { n.who = Who::owner; }, Hindrance::role},
    {"usual_tool", [](knowledge::Check& c) { c.effort.tools = {{0}}; }, nothing, Hindrance::none},
    {"unusual_tool", [](knowledge::Check& c) { c.effort.tools = {{1}}; }, nothing, Hindrance::tool},
    {"tool_left_behind", [](knowledge::Check& c) { c.effort.tools = {{0}}; }, [](Circumstances& n) { n.bounds.missing = {true, true}; }, Hindrance::tool},
    {"tool_brought", [](knowledge::Check& c) { c.effort.tools = {{1}}; }, [](Circumstances& n) { n.bounds.missing = {false, false}; }, Hindrance::none},
    {"ashore_only", [](knowledge::Check& c) { c.effort.water = Water::ashore; }, nothing, Hindrance::afloat},
    {"ashore_there", [](knowledge::Check& c) { c.effort.water = Water::ashore; }, [](Circumstances& n) { n.bounds.water = Water::ashore; }, Hindrance::none},
    {"afloat_only", [](knowledge::Check& c) { c.effort.water = Water::afloat; }, [](Circumstances& n) { n.bounds.water = Water::ashore; }, Hindrance::ashore},
    {"precaution_forbids", [](knowledge::Check& c) { c.precautions = {{0}, {1}}; }, nothing, Hindrance::afloat},
    {"precaution_ashore", [](knowledge::Check& c) { c.precautions = {{1}}; }, [](Circumstances& n) { n.bounds.water = Water::ashore; }, Hindrance::none},
    {"barred_by_what_was_reported", [](knowledge::Check& c) { c.precautions = {{0}}; }, [](Circumstances& n) { n.barred = {true, false}; }, Hindrance::danger},
    {"another_precaution_is_barred", [](knowledge::Check& c) { c.precautions = {{0}}; }, [](Circumstances& n) { n.barred = {false, true}; }, Hindrance::none},
    {"dark", [](knowledge::Check& c) { c.effort.daylight = true; }, [](Circumstances& n) { n.bounds.daylight = false; }, Hindrance::dark},
    {"engine", [](knowledge::Check& c) { c.effort.engine = true; }, [](Circumstances& n) { n.bounds.engine_may_run = false; }, Hindrance::engine},
    {"alone", [](knowledge::Check& c) { c.effort.hands = 2; }, [](Circumstances& n) { n.bounds.hands = Hands::alone; }, Hindrance::alone},
    {"within_call", [](knowledge::Check& c) { c.effort.hands = 2; }, nothing, Hindrance::none},
};

INSTANTIATE_TEST_SUITE_P(All, Obstacles, testing::ValuesIn(rows), [](const auto& row) { return std::string(row.param.name); });

TEST(Doing, CountsFetchingAndCallingAHand) {
  knowledge::Effort effort{5, {{0}}, knowledge::Ref<knowledge::Condition>{0}, 2, Water::any, false, false, {}};
  Circumstances now;
  const auto called = doing_of(effort, now, 10);
  now.bounds.hands = Hands::helper;
  const auto helped = doing_of(effort, now, 10);
  EXPECT_DOUBLE_EQ(helped.minutes, 15);
  EXPECT_GT(called.minutes, helped.minutes);
  EXPECT_EQ(helped.places, std::vector<std::size_t>{0});
  EXPECT_DOUBLE_EQ(minutes_of(helped, terrain_of(with_tools()), {}), 15 + 2 + 3 + 60);
}

TEST(Doing, ByTelephoneTakesLongerAndTheTelling) {
  Circumstances now;
  now.bounds.by_phone = knowledge::ByPhone{1.5, 2};
  knowledge::Effort effort;
  effort.minutes = 4;
  EXPECT_EQ(doing_of(effort, now).minutes, 8);
  EXPECT_EQ(doing_of(effort, now, 30).minutes, 38);  // fetching is not told
}

TEST(GivingUp, IsThatOfTheRole) {
  auto base = with_tools();
  base.giving_up.push_back({Who::owner, 90, "send a technician", {}, {}});
  EXPECT_DOUBLE_EQ(giving_up(base, Who::owner), 90);
  EXPECT_DOUBLE_EQ(giving_up(base, Who::technician), 480);
}

}  // namespace
}  // namespace leadline::planning
