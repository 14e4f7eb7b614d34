// Circuits with every tolerance and size drawn: repeatable, readings that fit one another, spread as the book expects them.
#include "engine/trial/drawn_circuits.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/circuit/shipped_base.h"

namespace leadline::trial {
namespace {

const knowledge::KnowledgeBase& book() { return testing::shipped_base(); }

std::size_t finding(const char* id) { return knowledge::find_id(book().findings, id)->index; }

class Drawn : public ::testing::Test {
 protected:
  std::size_t cause(const char* id) const {
    const auto ref = *knowledge::find_id(book().causes, id);
    return static_cast<std::size_t>(std::find(boat_.cause_refs.begin(), boat_.cause_refs.end(), std::optional(ref)) - boat_.cause_refs.begin());
  }
  std::optional<double> read(const DrawnCircuits& drawn, const char* id, const std::vector<std::size_t>& causes) const {
    return drawn.reading(*boat_.expectation->tie_of(finding(id)), causes);
  }
  installation::Installation installation_ = installation::make_installation(book(), {{"bank/@volts", "24"}, {"thruster/@motor", "brushed"}});
  installation::Evaluation evaluation_{book(), installation_};
  diagnosis::BoatModel boat_ = diagnosis::build_model(book(), evaluation_);
};

TEST_F(Drawn, TheSameDiceAreTheSameReadings) {
  Dice one(1, 1), again(1, 1), other(1, 2);
  const DrawnCircuits a(*boat_.model.circuits, one), b(*boat_.model.circuits, again), c(*boat_.model.circuits, other);
  EXPECT_EQ(read(a, "bank-volts-load", {}), read(b, "bank-volts-load", {}));
  EXPECT_NE(read(a, "bank-volts-load", {}), read(c, "bank-volts-load", {}));
  EXPECT_EQ(one.uniform(), again.uniform());
}

// What is lost in all is what is lost on the two sides, within what the linear sway leaves.
TEST_F(Drawn, WhatIsReadOnOneCircuitFits) {
  for (const auto* fault : {"", "negative-lug-bad", "positive-lug-bad"}) {
    const auto causes = *fault == '\0' ? std::vector<std::size_t>{} : std::vector<std::size_t>{cause(fault)};
    for (std::uint64_t number = 1; number <= 30; ++number) {
      Dice dice(3, number);
      const DrawnCircuits drawn(*boat_.model.circuits, dice);
      const auto bank = *read(drawn, "bank-volts-load", causes), plus = *read(drawn, "positive-run-drop", causes), minus = *read(drawn, "negative-run-drop", causes);
      const auto lost = *read(drawn, "bank-to-motor-drop", causes);
      EXPECT_NEAR(plus + minus, lost, 0.03 * bank) << fault << " " << number;
      EXPECT_GT(plus, 0);
      EXPECT_GT(minus, 0);
    }
  }
}

// Nine of ten sound boats read within the range that the book expects.
TEST_F(Drawn, SoundBoatsReadWhatIsExpectedOfThem) {
  const auto tie = *boat_.expectation->tie_of(finding("bank-volts-load"));
  const auto expected = circuit::expected(*boat_.expectation, tie, {});
  std::size_t within = 0;
  constexpr std::size_t boats = 400;
  for (std::uint64_t number = 1; number <= boats; ++number) {
    Dice dice(5, number);
    const auto reading = *DrawnCircuits(*boat_.model.circuits, dice).reading(tie, {});
    within += reading >= expected.low && reading <= expected.high;
  }
  EXPECT_NEAR(static_cast<double>(within) / boats, 0.9, 0.06);   // the model's own doubt is in the range, and in no reading
}

}  // namespace
}  // namespace leadline::trial
