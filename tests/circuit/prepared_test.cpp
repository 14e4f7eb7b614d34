// Names resolved once, numbers changed again and again: the same answers as from a circuit solved anew.
#include "engine/circuit/prepared.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/circuit/random_networks.h"

namespace leadline::circuit {
namespace {

using testing::Draw;
using testing::node_name;
using testing::random_circuit;

std::shared_ptr<Prepared> prepared(const Circuit& circuit) {
  auto result = Prepared::of(circuit);
  if (const auto* trouble = trouble_of(result)) ADD_FAILURE() << trouble->what;
  return trouble_of(result) ? nullptr : *value_of(result);
}

// New numbers for what is there; ideals stay ideal and switches as they are.
Kind renumbered(const Kind& kind, Draw& draw) {
  if (std::holds_alternative<Resistor>(kind)) return Resistor{std::pow(10.0, draw.between(-4, 4))};
  if (const auto* source = std::get_if<Source>(&kind)) return Source{draw.between(-30, 30), source->internal_ohm == 0 ? 0 : draw.between(0.002, 20)};
  if (std::holds_alternative<CurrentLoad>(kind)) return CurrentLoad{draw.between(-50, 300)};
  if (std::holds_alternative<MotorLoad>(kind)) return MotorLoad{draw.between(6, 48), draw.between(5, 500), 0.004, draw.between(0, 10)};
  if (std::holds_alternative<PowerLoad>(kind)) return PowerLoad{draw.between(0, 2)};
  return kind;
}

void expect_same(const Prepared& now) {
  const auto anew = solve(now.circuit());
  const auto state = now.solved();
  if (const auto* trouble = trouble_of(anew); trouble && trouble->kind == Trouble::Kind::not_trustworthy) return;
  ASSERT_EQ(value_of(anew) == nullptr, value_of(state) == nullptr);
  if (const auto* trouble = trouble_of(state)) {
    EXPECT_EQ(trouble->what, trouble_of(anew)->what);
    return;
  }
  double largest = 1;
  for (const auto& point : value_of(anew)->points()) largest = std::max(largest, std::abs(point.volt));
  for (const auto& point : value_of(anew)->points()) EXPECT_NEAR(value_of(state)->volts[now.node(point.node).value()], point.volt, 1e-9 * largest);
  for (const auto& flow : value_of(anew)->flows()) {
    EXPECT_NEAR(value_of(state)->amps[now.element(flow.element).value()], flow.amp, 1e-8 * (1 + std::abs(flow.amp)));
  }
}

void expect_same_ohms(const Prepared& now, const std::string& a, const std::string& b) {
  const auto anew = ohms_between(now.circuit(), a, b);
  if (!value_of(anew)) return;  // not trustworthy
  EXPECT_NEAR(now.ohms(*now.node(a), *now.node(b)), *value_of(anew), 1e-12 + 1e-8 * *value_of(anew)) << a << b;
}

// Against a circuit prepared for these numbers. Volts that no meter stands, of a load behind an open way, are not looked at.
void expect_near_on_a_meter(const Prepared& now) {
  const auto anew = prepared(now.circuit());
  anew->factor();
  const auto state = std::get<State>(now.solved()), wanted = std::get<State>(anew->solved());
  for (std::size_t n = 0; n < wanted.volts.size(); ++n) {
    if (std::abs(wanted.volts[n]) < 1e4) { EXPECT_NEAR(state.volts[n], wanted.volts[n], 2e-4); }
    const double ohm = anew->ohms(n, *anew->node("n0"));
    EXPECT_NEAR(now.ohms(n, *now.node("n0")), ohm, 1e-7 + 1e-4 * ohm);
  }
  for (std::size_t e = 0; e < wanted.amps.size(); ++e) EXPECT_NEAR(state.amps[e], wanted.amps[e], 1e-5 * (1 + std::abs(wanted.amps[e])));
}

TEST(Prepared, AnswersAsACircuitSolvedAnewAfterEveryChange) {
  Draw draw(31);
  int refused = 0;
  for (int trial = 0; trial < 60; ++trial) {
    auto circuit = random_circuit(draw, 4 + draw.below(12));
    circuit.elements.push_back({"motor", "n1", "n0", MotorLoad{24, 100, 0.01, 1}});
    circuit.elements.push_back({"drive", "n2", "n0", PowerLoad{1}});
    const auto now = prepared(circuit);
    ASSERT_NE(now, nullptr);
    for (int change = 0; change < 5; ++change) {
      for (std::size_t e = 0; change > 0 && e < circuit.elements.size(); ++e) now->set(e, renumbered(circuit.elements[e].kind, draw));
      now->factor();
      expect_same(*now);
      refused += trouble_of(now->solved()) ? 1 : 0;
      expect_same_ohms(*now, "n1", "n3");
      expect_same_ohms(*now, "n0", "p");
    }
    for (std::size_t e = 0; e < circuit.elements.size(); ++e) now->set(e, circuit.elements[e].kind);
    now->factor();
    expect_same(*now);  // and back
    expect_same_ohms(*now, "n1", "n3");
  }
  EXPECT_GT(refused, 5);
  EXPECT_LT(refused, 280);
}

// A few resistances changed by many orders, as faults do, are followed from the first factors; with a leak at every place nothing floats.
// What that costs is far below what a meter shows.
TEST(Prepared, FollowsAFewChangesFromTouchingToOpen) {
  Draw draw(32);
  constexpr double values[] = {1e-4, 1e-3, 0.05, 0.999, 1, 1.001, 30, 1e4, 1e9, 1e12};
  const auto any = [&] { return Resistor{values[draw.below(std::size(values))]}; };
  for (int trial = 0; trial < 100; ++trial) {
    const std::size_t nodes = 5 + draw.below(12);
    auto circuit = random_circuit(draw, nodes);
    for (std::size_t node = 1; node < nodes; ++node) circuit.elements.push_back({"damp" + std::to_string(node), node_name(node), "n0", Resistor{1e9}});
    for (std::size_t k = 0; k < 3; ++k) circuit.elements[k].kind = any();
    const auto now = prepared(circuit);
    for (int change = 0; change < 8; ++change) {
      for (int few = 0; few < 3; ++few) now->set(draw.below(4), any());
      now->factor();
      expect_near_on_a_meter(*now);
    }
    for (std::size_t e = 0; e < circuit.elements.size(); ++e) now->set(e, circuit.elements[e].kind);
    now->factor();
    expect_same(*now);  // and back
  }
}

TEST(Prepared, ClosesAGapToMilliohmsAndOpensItAgain) {
  const auto now = prepared({{{"bank", "a", "m", Source{24, 0.01}}, {"gap", "a", "b", Resistor{1e12}}, {"lamp", "b", "c", Resistor{2}},
                              {"damp b", "b", "m", Resistor{1e9}}, {"damp c", "c", "m", Resistor{1e9}}, {"way back", "c", "m", Resistor{1e12}}}});
  const auto ohms = [&](double gap, double back) {
    now->set(*now->element("gap"), Resistor{gap});
    now->set(*now->element("way back"), Resistor{back});
    now->factor();
    return now->ohms(*now->node("a"), *now->node("m"));
  };
  EXPECT_NEAR(ohms(0.001, 0.002), 0.01 * 2.003 / 2.013, 1e-10);
  EXPECT_NEAR(std::get<State>(now->solved()).amps[*now->element("lamp")], 24 / 2.013, 1e-8);
  EXPECT_NEAR(ohms(1e12, 0.002), 0.01, 1e-10);
  EXPECT_NEAR(std::get<State>(now->solved()).volts[*now->node("b")] - std::get<State>(now->solved()).volts[*now->node("m")], 24 * 2.002e-12, 1e-12);
  EXPECT_NEAR(ohms(0.001, 1e12), 0.01, 1e-10);
}

TEST(Prepared, ChangesCountOnlyOnceFactored) {
  const auto now = prepared({{{"bank", "a", "b", Source{12, 1}}, {"lamp", "a", "b", Resistor{5}}}});
  now->factor();
  EXPECT_NEAR(now->ohms(*now->node("a"), *now->node("b")), 5.0 / 6, 1e-12);
  now->set(*now->element("lamp"), Resistor{11});
  EXPECT_NEAR(now->ohms(*now->node("a"), *now->node("b")), 5.0 / 6, 1e-12);
  now->factor();
  EXPECT_NEAR(now->ohms(*now->node("a"), *now->node("b")), 11.0 / 12, 1e-12);
  EXPECT_NEAR(std::get<State>(now->solved()).amps[*now->element("lamp")], 1, 1e-12);
}

TEST(Prepared, KnowsItsNamesAndTheStateOfNothing) {
  const auto now = prepared({{{"bank", "a", "b", Source{12, 1}}, {"lamp", "a", "b", Resistor{5}}}});
  EXPECT_EQ(now->node("b"), 1U);
  EXPECT_EQ(now->node("c"), std::nullopt);
  EXPECT_EQ(now->element("lamp"), 1U);
  EXPECT_EQ(now->element("lump"), std::nullopt);
  EXPECT_EQ(now->nothing().volts, (std::vector<double>{0, 0}));
  EXPECT_EQ(now->nothing().amps, (std::vector<double>{0, 0}));
}

TEST(Prepared, RefusesBeforeAnyNumberWhatSolveRefuses) {
  struct { const char* name; Circuit circuit; } const rows[] = {
      {"a bad value", {{{"r", "a", "b", Resistor{0}}}}},
      {"an id twice", {{{"r", "a", "b", Resistor{1}}, {"r", "b", "c", Resistor{1}}}}},
      {"a ring without resistance", {{{"s", "a", "b", Source{12, 0}}, {"t", "a", "b", Source{13, 0}}}}}};
  for (const auto& row : rows) {
    SCOPED_TRACE(row.name);
    const auto now = Prepared::of(row.circuit);
    ASSERT_NE(trouble_of(now), nullptr);
    const auto solved = solve(row.circuit);
    EXPECT_EQ(trouble_of(now)->what, trouble_of(solved)->what);
    EXPECT_EQ(trouble_of(now)->kind, trouble_of(solved)->kind);
  }
}

}  // namespace
}  // namespace leadline::circuit
