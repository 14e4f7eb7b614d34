// Answers as likelihoods: bands share near an edge, an owner's word is soft, a repeated check counts once.
#include "engine/diagnosis/evidence.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "tests/knowledge/minimal_base.h"

namespace leadline::diagnosis {
namespace {

using Shares = std::vector<double>;
const Shares limits{10, 20};

TEST(BandShares, GoWhollyToTheBandFarFromItsEdges) {
  EXPECT_EQ(band_shares(limits, 5, 0.1), (Shares{1, 0, 0}));
  EXPECT_EQ(band_shares(limits, 15, 0.1), (Shares{0, 1, 0}));
  EXPECT_EQ(band_shares(limits, 25, 0.1), (Shares{0, 0, 1}));
}

TEST(BandShares, AreHalvesAtAnEdge) {
  const auto shares = band_shares(limits, 20, 0.5);
  EXPECT_NEAR(shares[1], 0.5, 1e-12);
  EXPECT_NEAR(shares[2], 0.5, 1e-12);
  EXPECT_EQ(shares[0], 0);
}

// Standard normal distribution: P(z < 1) = 0.8413, P(z < 2) = 0.9772 (any statistical table; from memory).
TEST(BandShares, FollowTheNormalDistribution) {
  EXPECT_NEAR(band_shares(limits, 9.5, 0.5)[0], 0.841344746, 1e-9);
  EXPECT_NEAR(band_shares(limits, 11, 0.5)[0], 1 - 0.977249868, 1e-9);
  EXPECT_NEAR(band_shares(limits, 15, 5)[1], 0.682689492, 1e-9);
}

TEST(BandShares, AddUpToOneAndDropWhatIsNegligible) {
  for (double value = 0; value < 30; value += 0.37) {
    const auto shares = band_shares(limits, value, 0.8);
    EXPECT_NEAR(std::accumulate(shares.begin(), shares.end(), 0.0), 1, 3e-6);
    for (const auto share : shares) EXPECT_TRUE(share == 0 || share >= 1e-6);
  }
}

TEST(BandShares, WithoutUncertaintyAnEdgeBelongsToTheUpperBand) {
  EXPECT_EQ(band_shares(limits, 10, 0), (Shares{0, 1, 0}));
  EXPECT_EQ(band_shares(limits, std::nextafter(10, 0), 0), (Shares{1, 0, 0}));
  EXPECT_EQ(band_shares(limits, HUGE_VAL, 0), (Shares{0, 0, 1}));  // over range
}

// The small base on a 24 V boat: flat below 22.8, low below 24.48, normal above; states in order of dominance: normal, low, flat.
class OnASmallBoat : public ::testing::Test {
 protected:
  Evidence of(const std::vector<Answer>& answers) const { return evidence_of(base_, boat_, answers, instrument_of(InstrumentClass::pocket)); }
  static Answer volts(std::string_view typed) { return {{1}, *parse_reading(typed, knowledge::Unit::volt), knowledge::Who::technician}; }
  static Answer push(std::size_t state, knowledge::Who by = knowledge::Who::technician) { return {{0}, Seen{state}, by}; }

  knowledge::KnowledgeBase base_ = testing::minimal_base();
  installation::Installation installation_ = installation::make_installation(base_, {});
  installation::Evaluation evaluation_{base_, installation_};
  BoatModel boat_ = build_model(base_, evaluation_);
};

TEST_F(OnASmallBoat, AReadingIsGivenInOrderOfDominance) {
  EXPECT_EQ(of({volts("26.00")}).at(0).likelihood, (Shares{1, 0, 0}));
  EXPECT_EQ(of({volts("23.60")}).at(0).likelihood, (Shares{0, 1, 0}));
  EXPECT_EQ(of({volts("20.00")}).at(0).likelihood, (Shares{0, 0, 1}));
}

TEST_F(OnASmallBoat, NearAnEdgeBothBandsGetTheirShare) {
  const auto likelihood = of({volts("24.48")}).at(0).likelihood;
  EXPECT_NEAR(likelihood[0], 0.5, 1e-9);
  EXPECT_NEAR(likelihood[1], 0.5, 1e-9);
  EXPECT_EQ(likelihood[2], 0);
}

TEST_F(OnASmallBoat, ATechnicianIsSharpAnOwnerSoft) {
  EXPECT_EQ(of({push(2)}).at(0).likelihood, (Shares{0, 0, 1}));
  const auto soft = of({push(2, knowledge::Who::owner)}).at(0).likelihood;
  EXPECT_NEAR(soft[2], 0.92, 1e-12);
  EXPECT_NEAR(soft[0], 0.04, 1e-12);
  EXPECT_NEAR(soft[1], 0.04, 1e-12);
}

TEST_F(OnASmallBoat, ARepeatedCheckCountsOnceTheLaterAnswer) {
  const auto once = of({push(2)}), twice = of({push(2), push(2)}), changed = of({push(1), push(2)});
  ASSERT_EQ(twice.size(), 1U);
  EXPECT_EQ(twice[0].likelihood, once[0].likelihood);
  EXPECT_EQ(changed[0].likelihood, once[0].likelihood);
}

TEST_F(OnASmallBoat, CannotTellAndNotFittedChangeNothing) {
  EXPECT_TRUE(of({{{0}, CannotTell{}, knowledge::Who::technician}}).empty());
  EXPECT_TRUE(of({{{0}, NotFitted{}, knowledge::Who::technician}}).empty());
  EXPECT_TRUE(of({push(2), {{0}, CannotTell{}, knowledge::Who::technician}}).empty());  // the later answer takes the earlier one back
}

TEST_F(OnASmallBoat, ObservationsAscendByFinding) {
  const auto evidence = of({volts("26.00"), push(1)});
  ASSERT_EQ(evidence.size(), 2U);
  EXPECT_EQ(evidence[0].finding, 0U);
  EXPECT_EQ(evidence[1].finding, 1U);
}

TEST_F(OnASmallBoat, AFindingThatDoesNotApplyIsNotLookedAt) {
  boat_.finding_applies[0] = false;
  EXPECT_TRUE(of({push(2)}).empty());
}

}  // namespace
}  // namespace leadline::diagnosis
