// Whom to send and with what, on a small invented boat: every kind of thing, and the shares by definition. All sets of things: packing_test.cpp.
#include "engine/planning/dispatch.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/knowledge/minimal_base.h"

namespace leadline::planning {
namespace {

using knowledge::Water;
using knowledge::Who;

// The small base with remedies of every kind: an owner's, a technician's with a part, one of two people and an unusual tool, one ashore.
std::string book_text() {
  auto text = testing::minimal_with("  <unlisted", R"(  <precaution id="posts"><title>Posts weld</title><do>Rings off.</do></precaution>
  <precaution id="open-hull" forbids="afloat"><title>Open below the water</title><do>Take the boat out.</do></precaution>
  <spoken precaution="posts"><meanwhile>Do not touch the batteries.</meanwhile></spoken>
  <spoken precaution="make-fast"><before>Nobody in the water, please.</before></spoken>
  <remedy id="renew-motor" minutes="90" who="technician" hands="2" fetch="60">
    <title>Renew the motor</title>
    <precaution ref="posts"/>
    <tool ref="multimeter"/><tool ref="lifter"/>
    <part>motor</part><part>seal</part>
    <step>Renew it.</step>
    <proof check="try-push">full push</proof>
  </remedy>
  <remedy id="renew-leg" minutes="200" who="specialist" fetch="120">
    <title>Renew the leg</title>
    <precaution ref="open-hull"/>
    <step>Renew it.</step>
    <proof check="try-push">full push</proof>
  </remedy>
  <cause id="motor-burnt" item="motor" per-1000="30">
    <title>Motor burnt</title><what>Its winding is open.</what><why>Too long a push.</why>
    <shows finding="push" state="none" chance="always"/>
    <remedy ref="renew-motor" mends="0.8"/>
    <source ref="common-practice"/>
  </cause>
  <cause id="leg-seized" item="leg" per-1000="5">
    <title>Leg seized</title><what>Its gears are jammed.</what><why>Water in the oil.</why>
    <shows finding="push" state="none" chance="always"/>
    <remedy ref="renew-leg" mends="0.5"/>
    <source ref="common-practice"/>
  </cause>
  <giving-up who="owner" minutes="240"><words>send a technician</words><source ref="common-practice"/></giving-up>
  <giving-up who="technician" minutes="480"><words>send a specialist</words><source ref="common-practice"/></giving-up>
  <tool id="lifter" usual="no">lifting strap</tool>
  <unlisted)");
  return testing::changed_once(text, "<proof check=\"measure-bank\">about $25.5 on 24 V</proof>", "<proof check=\"try-push\">full push</proof>");
}

class Dispatching : public ::testing::Test {
 protected:
  // `push`: likelihood of its states.
  Dispatch of(std::vector<double> push, double target = 0.9, Water water = Water::afloat) {
    diagnosis_ = diagnosis::diagnose(boat_.model, {{0, std::move(push)}});
    Circumstances now{.who = Who::owner};
    now.bounds.water = water;
    return dispatch_for({base_, boat_, evaluation_, diagnosis_, {}, predictor_of(boat_, diagnosis_), now}, target);
  }

  std::vector<std::string> words(const Dispatch& dispatch) const {
    std::vector<std::string> out;
    for (const auto& thing : dispatch.things) {
      if (thing.kind == ThingKind::tool) out.push_back(base_.tools[thing.index].title);
      if (thing.kind == ThingKind::part) out.push_back(thing.words);
      if (thing.kind == ThingKind::arrangement) out.push_back("for " + base_.remedies[thing.index].title);
    }
    return out;
  }

  knowledge::KnowledgeBase base_ = testing::base_from(book_text());
  installation::Evaluation evaluation_{base_, installation::make_installation(base_, {})};
  diagnosis::BoatModel boat_ = diagnosis::build_model(base_, evaluation_);
  diagnosis::Diagnosis diagnosis_;
};

TEST_F(Dispatching, NobodyNeedComeForWhatTheCustomerCanDo) {
  const auto dispatch = of({0, 1, 0}, 0.5);  // weak: the bank, which he charges himself
  EXPECT_EQ(dispatch.who, Who::owner);
  EXPECT_FALSE(dispatch.second_person);
  EXPECT_EQ(words(dispatch), std::vector<std::string>{});
  EXPECT_GT(dispatch.share, 0.5);
  EXPECT_LT(dispatch.mended, dispatch.share);
}

TEST_F(Dispatching, TwoPeopleWithTheirPartsForADeadThruster) {
  const auto dispatch = of({0, 0, 1}, 0.7);
  EXPECT_EQ(dispatch.who, Who::technician);
  EXPECT_TRUE(dispatch.second_person);
  EXPECT_FALSE(dispatch.ashore);
  EXPECT_NEAR(dispatch.for_the_second, dispatch.things[0].hangs_on_it, 1e-12);  // the strap is for the same motor
  EXPECT_GT(dispatch.for_the_role, dispatch.for_the_second);
  EXPECT_EQ(words(dispatch), (std::vector<std::string>{"lifting strap", "motor", "seal", "main fuse"}));
  EXPECT_EQ(knowledge::ids_of(base_.tools)[dispatch.usual_tools.at(0).index], "multimeter");
  EXPECT_EQ(dispatch.usual_tools.size(), 1U);
  EXPECT_EQ(dispatch.things[1].minutes, 31);  // an hour's fetching for two parts, and looking one out
  EXPECT_GT(dispatch.things[0].hangs_on_it, dispatch.things[3].hangs_on_it);
}

TEST_F(Dispatching, WhatOpensTheHullIsDoneAshoreByASpecialist) {
  const auto dispatch = of({0, 0, 1}, 0.99);
  EXPECT_EQ(dispatch.who, Who::specialist);
  EXPECT_TRUE(dispatch.ashore);
  const auto all = words(dispatch);
  EXPECT_EQ(std::count(all.begin(), all.end(), "for Renew the leg"), 1);
  EXPECT_FALSE(of({0, 0, 1}, 0.99, Water::ashore).ashore);  // she stands there already
}

TEST_F(Dispatching, SaysWhatIsLeftOut) {
  const auto dispatch = of({0, 0, 1}, 0.8);
  ASSERT_FALSE(dispatch.left_out.empty());
  double left = 0;
  for (const auto e : dispatch.left_out) left += diagnosis_.explanations[e].probability;
  double listed = 0;
  for (const auto& e : diagnosis_.explanations) listed += e.probability;
  EXPECT_NEAR(dispatch.share + left, listed, 1e-9);
  EXPECT_TRUE(std::is_sorted(dispatch.left_out.begin(), dispatch.left_out.end()));
}

// By the chance of the explanations whose remedies carry it; only what has words for him.
TEST_F(Dispatching, WarnsTheCustomerOfWhatTheLikelyRemediesAreAbout) {
  const auto dead = of({0, 0, 1});
  ASSERT_EQ(dead.meanwhile.size(), 1U);
  EXPECT_EQ(base_[dead.meanwhile[0]].meanwhile, "Do not touch the batteries.");
  EXPECT_TRUE(of({0, 1, 0}).meanwhile.empty());
}

// From the book itself, by hand: what a technician and a second person mend, and how surely.
TEST_F(Dispatching, SharesAreThoseOfTheBookByDefinition) {
  const auto dispatch = of({0, 0, 1}, 0.7);
  double share = 0, mended = 0;
  for (const auto& e : diagnosis_.explanations) {
    double all = 1;
    for (const auto cause : e.causes) {
      const auto& ref = boat_.cause_refs[cause];
      const auto id = ref ? base_[*ref].id : "";
      all *= id == "bank-flat" || id == "fuse-blown" ? 0.95 : id == "motor-burnt" ? 0.8 : 0;
    }
    share += all > 0 ? e.probability : 0;
    mended += all * e.probability;
  }
  EXPECT_NEAR(dispatch.share, share, 1e-12);
  EXPECT_NEAR(dispatch.mended, mended, 1e-12);
}

}  // namespace
}  // namespace leadline::planning
