// The shipped book, audited: what every check and remedy takes. Judged by the reader alone; nothing here knows a number of the book.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "tests/circuit/shipped_base.h"

namespace leadline::knowledge {
namespace {

const KnowledgeBase& book() { return testing::shipped_base(); }

// Both kinds at once: what is asked of one is asked of the other.
template <class Judge>
void for_each_action(const Judge& judge) {
  for (const auto& check : book().checks) judge(check);
  for (const auto& remedy : book().remedies) judge(remedy);
}

bool has_precaution(const std::vector<Ref<Precaution>>& precautions, std::string_view id) {
  return std::any_of(precautions.begin(), precautions.end(), [&](auto p) { return book()[p].id == id; });
}

TEST(ShippedJob, EveryCheckAndRemedyNamesItsPlaces) {
  for_each_action([](const auto& action) { EXPECT_FALSE(action.effort.places.empty()) << action.id; });
}

TEST(ShippedJob, EveryPriceHasASource) {
  for_each_action([](const auto& action) { EXPECT_FALSE(action.sources.empty()) << action.id; });
  for (const auto& place : book().places) EXPECT_FALSE(place.sources.empty()) << place.id;
  for (const auto& condition : book().conditions) EXPECT_FALSE(condition.sources.empty()) << condition.id;
  for (const auto& price : book().giving_up) EXPECT_FALSE(price.sources.empty()) << price.words;
}

TEST(ShippedJob, NothingIsDoneInNoTime) {
  for_each_action([](const auto& action) { EXPECT_GE(action.effort.minutes, 1) << action.id; });
}

TEST(ShippedJob, EveryRoleHasAPriceOfGivingUp) {
  std::set<Who> priced;
  for (const auto& price : book().giving_up) priced.insert(price.who);
  EXPECT_EQ(priced, (std::set<Who>{Who::owner, Who::technician, Who::specialist}));
}

TEST(ShippedJob, EveryPlaceConditionAndToolIsUsed) {
  std::set<std::size_t> places, conditions, tools;
  for_each_action([&](const auto& action) {
    for (const auto p : action.effort.places) places.insert(p.index);
    for (const auto t : action.effort.tools) tools.insert(t.index);
    if (action.effort.condition) conditions.insert(action.effort.condition->index);
  });
  for (std::size_t i = 0; i < book().places.size(); ++i) EXPECT_TRUE(places.contains(i)) << book().places[i].id;
  for (std::size_t i = 0; i < book().conditions.size(); ++i) EXPECT_TRUE(conditions.contains(i)) << book().conditions[i].id;
  for (std::size_t i = 0; i < book().tools.size(); ++i) EXPECT_TRUE(tools.contains(i)) << book().tools[i].id;
}

bool under_push(const Check& check) {
  return std::any_of(check.observes.begin(), check.observes.end(), [](auto f) {
    const auto& measure = book()[f].measure;
    return measure && std::any_of(measure->probes.begin(), measure->probes.end(), [&](const auto& probe) {
      return book().circuits[measure->circuit].conditions[probe.condition].id == "push";
    });
  });
}

bool needs_a_turning_motor(const Check& check) {
  return std::any_of(check.needs.begin(), check.needs.end(),
                     [](const Needs& needs) { return book()[needs.finding].id == "push" || book()[needs.finding].id == "motor-sound"; });
}

// A drop, a current or a sag read while nothing turns says nothing of the cable; nor does warmth or recovery after a push that was none.
// What the command brings to a dead motor is read on purpose.
TEST(ShippedJob, EveryLoadReadingNeedsAMotorThatTurnsAndABoatAfloat) {
  const std::set<std::string> tracing{"measure-coil-volts", "measure-contactor-studs", "measure-contact-drop"};
  std::size_t seen = 0;
  for (const auto& check : book().checks) {
    if (check.who == Who::owner || !(under_push(check) || has_precaution(check.precautions, "boat-secured"))) continue;
    ++seen;
    EXPECT_EQ(check.effort.water, Water::afloat) << check.id;
    EXPECT_NE(needs_a_turning_motor(check), tracing.contains(check.id)) << check.id;
  }
  EXPECT_GE(seen, 20U);
}

TEST(ShippedJob, WhoReadsAwayFromTheHelmNeedsSomebodyThere) {
  for (const auto& check : book().checks) {
    EXPECT_FALSE(under_push(check) && check.effort.hands < 2) << check.id;
  }
}

// Needed states never hold what stands still.
TEST(ShippedJob, NoLoadReadingIsTakenOfASilentMotor) {
  for (const auto& check : book().checks) {
    for (const auto& needs : check.needs) {
      const auto& finding = book()[needs.finding];
      for (const auto s : needs.states) EXPECT_FALSE(finding.states[s].id == "none" || finding.states[s].id == "silent") << check.id;
    }
  }
}

bool provable_by(const Remedy& remedy, Who who) {
  return std::any_of(remedy.proofs.begin(), remedy.proofs.end(), [&](const auto& proof) { return book()[proof.check].who <= who; });
}

TEST(ShippedJob, WhoeverMayDoARemedyMayAlsoProveIt) {
  for (const auto& remedy : book().remedies) EXPECT_TRUE(provable_by(remedy, remedy.who)) << remedy.id;
}

TEST(ShippedJob, NothingAshoreOnlyIsTheOwners) {
  for_each_action([](const auto& action) {
    const bool forbidden = std::any_of(action.precautions.begin(), action.precautions.end(), [](auto p) { return book()[p].forbids_afloat; });
    EXPECT_FALSE((action.effort.water == Water::ashore || forbidden) && action.who == Who::owner) << action.id;
  });
}

TEST(ShippedJob, WhatOpensTheDriveLegIsForbiddenAfloat) {
  for (const auto* id : {"fit-propeller", "overhaul-drive"}) {
    const auto& remedy = book()[*find_id(book().remedies, id)];
    EXPECT_TRUE(has_precaution(remedy.precautions, "drive-leg-open")) << id;
    EXPECT_EQ(remedy.effort.water, Water::ashore) << id;
  }
  EXPECT_TRUE(book()[*find_id(book().precautions, "drive-leg-open")].forbids_afloat);
}

// A person on the telephone has no tools but a torch, and no trade.
TEST(ShippedJob, TheOwnerNeedsNoToolsAndOpensNoHeavyCircuit) {
  for (const auto& check : book().checks) {
    if (check.who != Who::owner) continue;
    EXPECT_TRUE(check.effort.tools.empty()) << check.id;
    EXPECT_TRUE(!check.effort.condition || book()[*check.effort.condition].id != "bank-minus-off") << check.id;
  }
}

// A pushing thruster, an engine and an isolated bank are conditions: what says it in its precautions must say it in its condition.
TEST(ShippedJob, ConditionsAgreeWithThePrecautions) {
  for_each_action([](const auto& action) {
    const auto condition = action.effort.condition ? book()[*action.effort.condition].id : std::string();
    EXPECT_FALSE(has_precaution(action.precautions, "arc-under-load") && condition == "everything-on") << action.id;
    EXPECT_FALSE(has_precaution(action.precautions, "network-off-for-ohms") && condition != "network-off") << action.id;
    EXPECT_FALSE(condition == "engine-running" && !action.effort.engine) << action.id;
  });
}

TEST(ShippedJob, MendsAreHonestChances) {
  for (const auto& cause : book().causes) {
    EXPECT_TRUE(std::any_of(cause.mends.begin(), cause.mends.end(), [](const auto& mend) { return mend.chance >= 0.4; })) << cause.id << ": nothing mends it";
    for (const auto& mend : cause.mends) EXPECT_LT(mend.chance, 1) << cause.id;
  }
}

}  // namespace
}  // namespace leadline::knowledge
