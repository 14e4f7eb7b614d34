// Laws of a whole call-out: what follows depends on what is known, not on how it became known.
#include "engine/callout/callout.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/knowledge/minimal_base.h"

namespace leadline::callout {
namespace {

using diagnosis::Answer;
using knowledge::Who;

class CallOut : public ::testing::Test {
 protected:
  Answer seen(const char* finding, const char* state, Who by = Who::technician) const {
    const auto ref = *knowledge::find_id(base_.findings, finding);
    const diagnosis::Observed observed = diagnosis::Seen{*knowledge::find_state(base_[ref], state)};
    return {ref, observed, by};
  }
  Answer read(const char* finding, const char* typed) const {
    const auto ref = *knowledge::find_id(base_.findings, finding);
    const diagnosis::Observed observed = *diagnosis::parse_reading(typed, *base_[ref].unit);
    return {ref, observed, Who::technician};
  }
  Answer cannot_tell(const char* finding) const { return {*knowledge::find_id(base_.findings, finding), diagnosis::CannotTell{}, Who::technician}; }

  std::vector<double> belief_after(std::vector<Answer> answers) const {
    const Record record{"t", installation::make_installation(base_, {}), Who::technician, diagnosis::InstrumentClass::pocket, std::move(answers)};
    return Assessment(base_, record).diagnosis().belief;
  }

  knowledge::KnowledgeBase base_ = testing::minimal_base();
};

TEST_F(CallOut, OrderOfAnswersChangesNothing) {
  EXPECT_EQ(belief_after({seen("push", "weak"), read("bank-volts-rest", "22 V")}), belief_after({read("bank-volts-rest", "22 V"), seen("push", "weak")}));
}

TEST_F(CallOut, AnUnknownAnswerChangesNothing) {
  EXPECT_EQ(belief_after({seen("push", "weak"), cannot_tell("bank-volts-rest")}), belief_after({seen("push", "weak")}));
}

TEST_F(CallOut, ARepeatedCheckCountsOnce) {
  EXPECT_EQ(belief_after({seen("push", "weak"), seen("push", "weak")}), belief_after({seen("push", "weak")}));
  EXPECT_EQ(belief_after({seen("push", "none"), seen("push", "weak")}), belief_after({seen("push", "weak")}));
}

TEST_F(CallOut, UndoEqualsNeverAnswered) {
  Record record{"t", installation::make_installation(base_, {}), Who::technician, diagnosis::InstrumentClass::pocket, {seen("push", "weak")}};
  Assessment assessment(base_, record);
  const auto before = assessment.diagnosis().belief;
  record.answers.push_back(read("bank-volts-rest", "25.5"));
  assessment.update();
  EXPECT_NE(assessment.diagnosis().belief, before);
  record.answers.pop_back();
  assessment.update();
  EXPECT_EQ(assessment.diagnosis().belief, before);
}

TEST_F(CallOut, BeliefsInExplanationsAddUpToOne) {
  const Record record{"t", installation::make_installation(base_, {}), Who::technician, diagnosis::InstrumentClass::pocket, {seen("push", "none")}};
  const Assessment assessment(base_, record);
  double sum = assessment.diagnosis().unlisted_mass;
  for (const auto& explanation : assessment.diagnosis().explanations) sum += explanation.probability;
  EXPECT_NEAR(sum, 1, 1e-12);
}

TEST_F(CallOut, OrderOfFilesChangesNoBelief) {
  auto turned = base_;
  std::reverse(turned.causes.begin(), turned.causes.end());
  const Record record{"t", installation::make_installation(base_, {}), Who::technician, diagnosis::InstrumentClass::pocket, {seen("push", "weak")}};
  const auto one = Assessment(base_, record).diagnosis().belief;
  const auto other = Assessment(turned, record).diagnosis().belief;
  EXPECT_NEAR(one[0], other[1], 1e-15);
  EXPECT_NEAR(one[1], other[0], 1e-15);
  EXPECT_NEAR(one[2], other[2], 1e-15);
}

TEST_F(CallOut, AnOwnersWordIsLessSharp) {
  const auto owner = belief_after({seen("push", "none", Who::owner)}), technician = belief_after({seen("push", "none")});
  EXPECT_LT(owner[1], technician[1]);
}

TEST_F(CallOut, TitlesNameTheCausesOrTheUnlistedOne) {
  const Record record{"t", installation::make_installation(base_, {}), Who::technician, diagnosis::InstrumentClass::pocket, {}};
  const Assessment assessment(base_, record);
  EXPECT_EQ(assessment.title_of({{0, 1}, 0.1}), "Bank flat + Main fuse blown");
  EXPECT_EQ(assessment.title_of({{assessment.boat().unlisted()}, 0.1}), "Something this knowledge base does not list");
}

TEST_F(CallOut, ARemedyIsOfferedOnceForTheCausesItMends) {
  const Record record{"t", installation::make_installation(base_, {}), Who::technician, diagnosis::InstrumentClass::pocket, {}};
  const Assessment assessment(base_, record);
  const auto remedies = planning::remedies_for(base_, assessment.boat(), assessment.evaluation(), {{0, 1, assessment.boat().unlisted()}, 0.1});
  ASSERT_EQ(remedies.size(), 2U);
  EXPECT_EQ(base_[remedies[0]].id, "charge-bank");
  EXPECT_EQ(base_[remedies[1]].id, "renew-fuse");
}

}  // namespace
}  // namespace leadline::callout
