// The laws of a job: what was said counts, not when; a repeat counts once; undone is never said.
#include "engine/callout/callout.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/knowledge/minimal_base.h"

namespace leadline::callout {
namespace {

using diagnosis::Answer;
using knowledge::Who;

class Job : public ::testing::Test {
 protected:
  static Answer push(std::size_t state, Who by = Who::technician) { return {{0}, diagnosis::Seen{state}, by}; }
  static Answer volts(std::string_view typed) { return {{1}, *diagnosis::parse_reading(typed, knowledge::Unit::volt), Who::technician}; }
  static Answer cannot_tell(std::size_t finding) { return {{finding}, diagnosis::CannotTell{}, Who::technician}; }
  Record record(std::vector<Answer> answers) const {
    return {"trial", installation::make_installation(base_, {}), Who::technician, diagnosis::InstrumentClass::pocket, std::move(answers)};
  }
  // Everything a person would see, in full digits.
  std::string seen(const Record& record) const {
    const Assessment assessment(base_, record);
    std::string all;
    for (const auto b : assessment.diagnosis().belief) all += std::to_string(b) + " " + std::to_string(std::hash<double>{}(b)) + "\n";
    for (const auto& e : assessment.diagnosis().explanations) all += assessment.title_of(e) + " " + std::to_string(std::hash<double>{}(e.probability)) + "\n";
    return all + std::to_string(assessment.conflict().bits);
  }
  knowledge::KnowledgeBase base_ = testing::minimal_base();
};

TEST_F(Job, TheOrderOfAnswersChangesNothing) { EXPECT_EQ(seen(record({push(2), volts("22.0 V")})), seen(record({volts("22.0 V"), push(2)}))); }

TEST_F(Job, ARepeatedCheckCountsOnce) { EXPECT_EQ(seen(record({push(2), volts("22.0 V"), push(2)})), seen(record({push(2), volts("22.0 V")}))); }

TEST_F(Job, ALaterAnswerReplacesTheEarlier) { EXPECT_EQ(seen(record({push(1), volts("26 V"), push(2)})), seen(record({volts("26 V"), push(2)}))); }

TEST_F(Job, UndoneIsNeverAnswered) {
  auto job = record({push(2)});
  Assessment assessment(base_, job);
  const auto before = assessment.diagnosis().belief;
  job.answers.push_back(volts("22.0 V"));
  assessment.update();
  EXPECT_NE(assessment.diagnosis().belief, before);
  job.answers.pop_back();
  assessment.update();
  EXPECT_EQ(assessment.diagnosis().belief, before);
  EXPECT_EQ(seen(job), seen(record({push(2)})));
}

TEST_F(Job, TheConflictIsThatOfTheAnswersAsTheyStand) {
  auto job = record({push(2)});
  Assessment assessment(base_, job);
  EXPECT_EQ(assessment.conflict().bits, 0);
  job.answers.push_back(volts("26 V"));
  assessment.update();
  EXPECT_EQ(assessment.conflict().bits, Assessment(base_, job).conflict().bits);
  EXPECT_NE(assessment.conflict().bits, 0);
}

// What one record was told must not leak into the other by way of what they share.
TEST_F(Job, AnotherRecordOfTheSameBoatIsReckonedAsIfItStoodAlone) {
  const auto told = record({push(1), volts("22.0 V")}), other = record({push(2)});
  const Assessment first(base_, told), second(first, other), alone(base_, other);
  EXPECT_EQ(second.diagnosis().belief, alone.diagnosis().belief);
  EXPECT_EQ(second.conflict().bits, alone.conflict().bits);
  EXPECT_EQ(first.diagnosis().belief, Assessment(base_, told).diagnosis().belief);
}

TEST_F(Job, CannotTellChangesNoBelief) {
  EXPECT_EQ(seen(record({push(2), cannot_tell(1)})), seen(record({push(2)})));
  EXPECT_TRUE(Assessment(base_, record({cannot_tell(1)})).circumstances().answered[1]);  // but it is not asked again
}

TEST_F(Job, BeliefsOfExplanationsAddUpToOne) {
  const auto job = record({push(1), volts("24.4 V")});
  const Assessment assessment(base_, job);
  double mass = assessment.diagnosis().unlisted_mass;
  for (const auto& e : assessment.diagnosis().explanations) mass += e.probability;
  EXPECT_NEAR(mass, 1, 1e-12);
}

TEST_F(Job, AFlatBankLeadsWhenTheBankIsFlat) {
  const auto job = record({push(1), volts("21.0 V")});
  const Assessment assessment(base_, job);
  EXPECT_EQ(assessment.title_of(assessment.diagnosis().explanations.at(0)), "Bank flat");
  const auto reasons = assessment.reasons(0);
  ASSERT_EQ(reasons.size(), 2U);
  EXPECT_GT(reasons[0].weight_db, 0);
}

TEST_F(Job, AnOwnersWordIsLessSharp) {
  const auto fuse_after = [&](Who by) {
    const auto job = record({push(2, by)});
    return Assessment(base_, job).diagnosis().belief.at(1);
  };
  EXPECT_LT(fuse_after(Who::owner), fuse_after(Who::technician));
}

TEST_F(Job, TitlesJoinCausesAndNameTheUnlistedOne) {
  const auto job = record({});
  const Assessment assessment(base_, job);
  EXPECT_EQ(assessment.title_of({{0, 1}, 1}), "Bank flat + Main fuse blown");
  EXPECT_EQ(assessment.title_of({{2}, 1}), "Something this knowledge base does not list");
  EXPECT_EQ(assessment.title_of({{}, 1}), "Nothing any more: mended");
}

TEST_F(Job, CircumstancesHoldRoleAnswersAndWhatWasPutOff) {
  auto job = record({volts("24 V")});
  job.role = Who::owner;
  const auto now = Assessment(base_, job).circumstances({true, false});
  EXPECT_EQ(now.who, Who::owner);
  EXPECT_EQ(now.answered, (std::vector<bool>{false, true}));
  EXPECT_EQ(now.put_off, (std::vector<bool>{true, false}));
}

// The volts can be read only while it pushes: not asked when it is known not to, until a remedy may have changed that.
TEST_F(Job, WhatIsNotToBeSeenIsNotAsked) {
  base_.findings[1].needs = {{{0}, {0, 1}}};
  const auto closed = [&](const Record& record) { return Assessment(base_, record).circumstances().answered; };
  EXPECT_EQ(closed(record({})), (std::vector<bool>{false, false}));
  EXPECT_EQ(closed(record({push(1)})), (std::vector<bool>{true, false}));
  EXPECT_EQ(closed(record({push(2)})), (std::vector<bool>{true, true}));
  EXPECT_EQ(closed(record({cannot_tell(0)})), (std::vector<bool>{true, false}));
  auto mended = record({push(2)});
  mended.remedies.push_back({{0}, 1});
  EXPECT_EQ(closed(mended), (std::vector<bool>{false, false}));
}

TEST_F(Job, WhatIsReportedBarsAnOwnerFromWhatItNames) {
  base_.findings[0].at_once = {{{1, 2}, "Stand back.", {{0}}}};
  const auto barred = [&](std::vector<Answer> answers, Who role) {
    auto job = record(std::move(answers));
    job.role = role;
    return Assessment(base_, job).circumstances().barred;
  };
  EXPECT_EQ(barred({push(2, Who::owner)}, Who::owner), std::vector<bool>{true});
  EXPECT_EQ(barred({push(0, Who::owner)}, Who::owner), std::vector<bool>{false});
  EXPECT_EQ(barred({cannot_tell(0)}, Who::owner), std::vector<bool>{false});
  EXPECT_EQ(barred({push(2)}, Who::technician), std::vector<bool>{false});
  base_.findings[0].at_once[0].bars_all = {{0}};
  EXPECT_EQ(barred({push(2)}, Who::technician), std::vector<bool>{true});
  EXPECT_EQ(barred({push(0)}, Who::technician), std::vector<bool>{false});
}

TEST_F(Job, WhatIsCalledForAtOnceStandsUntilItIsAnsweredAnewOrARemedyIsDone) {
  base_.findings[0].at_once = {{{2}, "Stand back.", {}}};
  const auto standing = [&](const Record& job) { return at_once_now(base_, job).size(); };
  EXPECT_EQ(standing(record({push(2), volts("24 V")})), 1U);
  EXPECT_EQ(standing(record({push(1)})), 0U);
  EXPECT_EQ(standing(record({push(2), push(0)})), 0U);
  EXPECT_EQ(standing(record({push(2), push(2)})), 1U);
  auto mended = record({push(2)});
  mended.remedies.push_back({{0}, 1});
  EXPECT_EQ(standing(mended), 0U);
}

TEST_F(Job, ARemedyThatCarriesWhatIsBarredIsBarred) {
  base_.findings[0].at_once = {{{2}, "Stand back.", {{0}}}};
  base_.remedies[0].precautions = {{0}};
  base_.remedies[0].who = Who::owner;
  auto job = record({push(2, Who::owner)});
  job.role = Who::owner;
  EXPECT_TRUE(Assessment(base_, job).barred({0}));
  base_.remedies[0].precautions.clear();
  EXPECT_FALSE(Assessment(base_, job).barred({0}));
  base_.remedies[0].precautions = {{0}};
  job.role = Who::technician;
  EXPECT_FALSE(Assessment(base_, job).barred({0}));
}

// A flat bank cannot be squared with full push, and nothing else explains a flat bank: either answer may be the wrong one.
TEST_F(Job, TheCheapestSuspectIsRepeated) {
  base_.unlisted.per_thousand = 0.1;
  base_.causes[0].rules[0].chance = 0.89;  // weak; none 0.1
  base_.causes[1].rules[0].chance = 0.5;   // a blown fuse often leaves full push, so full push alone surprises nobody
  base_.findings[0].states[1].leak = base_.findings[0].states[2].leak = 1e-4;
  base_.findings[1].states[1].leak = base_.findings[1].states[2].leak = 1e-4;
  auto job = record({push(0), volts("20.0 V")});
  const Assessment assessment(base_, job);
  EXPECT_EQ(assessment.conflict().suspects.size(), 2U);
  EXPECT_EQ(assessment.cheapest_to_repeat(), 0U);  // one minute at the helm, against four at the battery box
  EXPECT_EQ(Assessment(base_, record({push(1)})).cheapest_to_repeat(), std::nullopt);
}

const std::size_t charge_bank = 0;

TEST_F(Job, TheComplaintIsWhatWasSeenAmissBeforeAnyRemedy) {
  auto job = record({volts("21 V"), push(2), push(0)});
  ASSERT_EQ(complaint_of(base_, job).size(), 1U);
  EXPECT_EQ(complaint_of(base_, job)[0], push(2));
  job.remedies = {{{charge_bank}, 2}};
  EXPECT_EQ(complaint_of(base_, job), std::vector<Answer>{push(2)});
  job.remedies = {{{charge_bank}, 1}};  // the push was first seen after it
  EXPECT_TRUE(complaint_of(base_, job).empty());
  EXPECT_TRUE(complaint_of(base_, record({push(0), cannot_tell(0)})).empty());
}

TEST_F(Job, WithoutASymptomOfOwnersAllThatWasSeenAmissIsTheComplaint) {
  base_.findings[0].complaint = false;
  EXPECT_EQ(complaint_of(base_, record({push(1), push(0)})), std::vector<Answer>{push(1)});
}

struct ProvedRow {
  std::string name;
  std::vector<std::size_t> before;  // states of the push
  std::vector<std::size_t> remedies_after;
  std::vector<std::size_t> since;
  bool proved;
};
class Proof : public Job, public ::testing::WithParamInterface<ProvedRow> {};
TEST_P(Proof, IsTheComplaintSeenNormalSinceTheLastRemedy) {
  const auto& row = GetParam();
  std::vector<Answer> answers;
  for (const auto state : row.before) answers.push_back(push(state));
  for (const auto state : row.since) answers.push_back(push(state));
  auto job = record(answers);
  for (const auto after : row.remedies_after) job.remedies.push_back({{charge_bank}, after});
  EXPECT_EQ(proved(base_, job), row.proved);
}
const ProvedRow proofs[] = {
    {"no_remedy", {2}, {}, {0}, false},
    {"no_complaint", {}, {0}, {0}, false},
    {"not_seen_again", {2}, {1}, {}, false},
    {"seen_abnormal", {2}, {1}, {1}, false},
    {"seen_normal", {2}, {1}, {0}, true},
    {"normal_only_before_the_last_remedy", {2}, {1, 2}, {0}, false},
    {"normal_after_the_last_of_two", {2, 2}, {1, 2}, {0}, true},
    {"normal_then_abnormal", {2}, {1}, {0, 2}, false},
    {"abnormal_then_normal", {2}, {1}, {2, 0}, true},
};
INSTANTIATE_TEST_SUITE_P(Table, Proof, ::testing::ValuesIn(proofs), [](const auto& row) { return row.param.name; });

TEST_F(Job, CannotTellProvesNothing) {
  auto job = record({push(2), cannot_tell(0)});
  job.remedies = {{{charge_bank}, 1}};
  EXPECT_FALSE(proved(base_, job));
}

TEST_F(Job, AnswersBeforeARemedyAreNotOfNow) {
  auto job = record({push(2), volts("21 V")});
  EXPECT_TRUE(answered_now(job, 0));
  job.remedies = {{{charge_bank}, 1}};
  EXPECT_EQ(first_of_now(job), 1U);
  EXPECT_FALSE(answered_now(job, 0));
  EXPECT_TRUE(answered_now(job, 1));
  const auto now = Assessment(base_, job).circumstances();
  EXPECT_EQ(now.answered, (std::vector<bool>{false, true}));
  EXPECT_EQ(now.done, (std::vector<bool>{true, false}));
}

TEST_F(Job, ReasonsAreOfWhatWasSeenSinceTheRemedy) {
  auto job = record({push(2), volts("21 V"), push(1)});
  job.remedies = {{{1}, 2}};
  const auto reasons = Assessment(base_, job).reasons(0);
  ASSERT_EQ(reasons.size(), 1U);
  EXPECT_EQ(reasons[0].finding, 0U);
  EXPECT_EQ(reasons[0].state, 1U);
}

TEST_F(Job, ARemedyThatHelpedTakesItsCauseAwayButNotThatItWasThere) {
  auto job = record({push(1), volts("21 V"), push(0), volts("25.5 V")});
  job.remedies = {{{charge_bank}, 2}};
  const Assessment assessment(base_, job);
  EXPECT_LT(assessment.diagnosis().belief[0], 0.05);
  EXPECT_GT(assessment.had_been()[0], 0.95);
}

TEST(FileOrder, ChangesNoBelief) {
  const auto cut = testing::minimal_text.find("  <cause id=\"fuse-blown\"");
  const std::string one = testing::minimal_text.substr(0, cut) + "</knowledge>", other = testing::head_of("trial", "common-practice") + testing::minimal_text.substr(cut);
  const auto forward = knowledge::read_knowledge(std::vector<text::Source>{{"1", one}, {"2", other}});
  const auto backward = knowledge::read_knowledge(std::vector<text::Source>{{"2", other}, {"1", one}});
  const auto beliefs_of = [](const knowledge::KnowledgeBase& base) {
    const Record job{"", installation::make_installation(base, {}), Who::technician, diagnosis::InstrumentClass::pocket, {{{0}, diagnosis::Seen{2}, Who::owner}}};
    const Assessment assessment(base, job);
    std::vector<std::pair<std::string, double>> named;
    for (std::size_t i = 0; i < assessment.boat().cause_refs.size(); ++i) named.emplace_back(assessment.title_of({{i}, 1}), assessment.diagnosis().belief[i]);
    std::sort(named.begin(), named.end());
    return named;
  };
  const auto first = beliefs_of(*forward.value), second = beliefs_of(*backward.value);
  ASSERT_EQ(first.size(), second.size());
  for (std::size_t i = 0; i < first.size(); ++i) {
    EXPECT_EQ(first[i].first, second[i].first);
    EXPECT_NEAR(first[i].second, second[i].second, 1e-12);
  }
}

}  // namespace
}  // namespace leadline::callout
