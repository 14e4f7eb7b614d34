// Parting a run, on the shipped book and invented boats: the record's own order and lengths decide, and every answer leaves less in doubt.
#include "engine/planning/line_search.h"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/diagnosis/explanation.h"
#include "tests/circuit/shipped_base.h"

namespace leadline::planning {
namespace {

// A string of four devices, 9 + 4 + 7 m.
installation::Installation string_of_four() {
  const text::Source file{"boat.xml", R"(<installation name="Grey Plover">
  <network supply="house" shape="string"/>
  <thruster name="bow" role="bow"/>
  <station name="helm" number="1"/><station name="flybridge" number="2"/><station name="aft" number="3"/>
  <segment from="bow" to="helm" length="9"/><segment from="helm" to="flybridge" length="4"/><segment from="flybridge" to="aft" length="7"/>
  <terminator at="bow"/><terminator at="aft"/>
</installation>)"};
  return *installation::read_installation(testing::shipped_base(), file).value;
}

class OnAString : public ::testing::Test {
 protected:
  const knowledge::KnowledgeBase& base_ = testing::shipped_base();
  installation::Installation boat_of_four_ = string_of_four();
  installation::Evaluation evaluation_{base_, boat_of_four_};
  diagnosis::BoatModel boat_ = diagnosis::build_model(base_, evaluation_);
  diagnosis::Diagnosis diagnosis_ = diagnosis::diagnose(boat_.model, {});

  std::size_t cause(std::string_view id) const {
    for (std::size_t c = 0; c < boat_.cause_refs.size(); ++c) {
      if (boat_.cause_refs[c] && base_[*boat_.cause_refs[c]].id == id) return c;
    }
    throw std::invalid_argument("no such cause here");
  }
  std::optional<LineSearch> search(std::string_view id, const std::vector<Parted>& parted = {}, const Circumstances& now = {}) const {
    return line_search({base_, boat_, evaluation_, diagnosis_, {}, predictor_of(boat_, diagnosis_), now}, cause(id), parted);
  }
};

TEST_F(OnAString, PiecesStandInTheOrderOfTheRecordAndTheLongerHoldMore) {
  const auto found = search("line-open-in-trunk");
  ASSERT_TRUE(found);
  ASSERT_EQ(found->pieces.size(), 3U);
  EXPECT_EQ(found->pieces[0].from, "bow");
  EXPECT_EQ(found->pieces[2].to, "aft");
  EXPECT_GT(found->pieces[0].chance, found->pieces[2].chance);
  EXPECT_GT(found->pieces[2].chance, found->pieces[1].chance);
  EXPECT_EQ(base_[found->how].parts_run, "line-");
}

TEST_F(OnAString, TheFirstCutHalvesWhatIsInDoubtAsNearlyAsTheStringAllows) {
  const auto found = search("line-open-in-trunk");
  ASSERT_EQ(found->cuts.size(), 2U);
  EXPECT_LE(std::abs(found->cuts[0].before - 0.5), std::abs(found->cuts[1].before - 0.5));
}

TEST_F(OnAString, EveryAnswerLeavesLessInDoubtUntilThePieceIsKnown) {
  // The fault sits in the last piece: the tester always says "after", or "before" beyond it.
  std::vector<Parted> parted;
  for (int tests = 0; tests < 4; ++tests) {
    const auto found = search("line-open-in-trunk", parted);
    if (found->cuts.empty()) break;
    parted.push_back({found->cuts.front().index, false});
  }
  const auto found = search("line-open-in-trunk", parted);
  EXPECT_TRUE(found->cuts.empty());
  EXPECT_LE(parted.size(), 2U);
  EXPECT_GE(found->pieces[2].chance, 0.9);
}

TEST_F(OnAString, ACauseWithoutAPlaceOrATesterWithoutTheMeansSearchesNothing) {
  EXPECT_FALSE(search("isolator-left-off"));
  EXPECT_FALSE(search("line-open-in-trunk", {}, {.who = knowledge::Who::owner}));
}

TEST_F(OnAString, AHeavyCablesJointsAreARunToo) {
  const auto found = search("crimp-bad");
  ASSERT_TRUE(found);
  EXPECT_GE(found->pieces.size(), 3U);
  EXPECT_EQ(base_[found->how].parts_run, "joint-");
}

}  // namespace
}  // namespace leadline::planning
