#include "engine/circuit/network.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/circuit/by_elimination.h"
#include "tests/circuit/random_networks.h"

namespace leadline::circuit {
namespace {

using testing::Draw;
using testing::node_name;
using testing::random_circuit;
using testing::random_resistors;

Solution solved(const Circuit& circuit) {
  auto result = solve(circuit);
  if (const auto* trouble = trouble_of(result)) ADD_FAILURE() << trouble->what;
  return trouble_of(result) ? Solution({}, {}) : *value_of(result);
}
double volts(const Solution& solution, std::string_view plus, std::string_view minus) {
  return std::get<double>(solution.volts(plus, minus));
}
double amps(const Solution& solution, std::string_view element) { return std::get<double>(solution.amps(element)); }
double watts(const Solution& solution, std::string_view element) { return std::get<double>(solution.watts(element)); }

TEST(Network, OneBatteryOneLamp) {
  const auto solution = solved({{{"battery", "plus", "minus", Source{12.6, 0.1}}, {"lamp", "plus", "minus", Resistor{6.2}}}});
  EXPECT_NEAR(volts(solution, "plus", "minus"), 12.4, 1e-13);
  EXPECT_NEAR(volts(solution, "minus", "plus"), -12.4, 1e-13);
  EXPECT_NEAR(amps(solution, "lamp"), 2, 1e-13);
  EXPECT_NEAR(amps(solution, "battery"), -2, 1e-13);
  EXPECT_NEAR(watts(solution, "lamp"), 24.8, 1e-12);
  EXPECT_NEAR(watts(solution, "battery"), -24.8, 1e-12);
}

TEST(Network, SwitchesOpenAndClose) {
  for (const bool closed : {false, true}) {
    const auto solution = solved({{{"battery", "plus", "minus", Source{12, 0}}, {"isolator", "plus", "feed", Switch{closed}},
                                   {"lamp", "feed", "minus", Resistor{6}}}});
    EXPECT_NEAR(volts(solution, "feed", "minus"), closed ? 12 : 0, 1e-13);
    EXPECT_NEAR(amps(solution, "isolator"), closed ? 2 : 0, 1e-13);
    EXPECT_EQ(watts(solution, "isolator"), 0);
  }
}

// --- what is refused, in exact words ---

const Circuit two_loose_banks{{{"bank", "b+", "b-", Source{24, 0.01}}, {"other", "o+", "o-", Source{12, 0.01}}}};

TEST(Network, RefusesCircuitsThatHaveNoAnswer) {
  using Kind = Trouble::Kind;
  struct { const char* name; Circuit circuit; Kind kind; std::vector<std::string> names; const char *what, *hint; } const rows[] = {
      {"no resistance", {{{"r", "a", "b", Resistor{0}}}}, Kind::bad_value, {"r"}, "the resistance of 'r' is 0 ohm",
       "expected 0.000000001 ohm to 10000000000000 ohm"},
      {"negative resistance", {{{"r", "a", "b", Resistor{-1}}}}, Kind::bad_value, {"r"}, "the resistance of 'r' is -1 ohm",
       "expected 0.000000001 ohm to 10000000000000 ohm"},
      {"resistance that is no number", {{{"r", "a", "b", Resistor{std::nan("")}}}}, Kind::bad_value, {"r"},
       "the resistance of 'r' is nan ohm", "expected 0.000000001 ohm to 10000000000000 ohm"},
      {"negative internal resistance", {{{"s", "a", "b", Source{12, -0.1}}}}, Kind::bad_value, {"s"},
       "the internal resistance of 's' is -0.1 ohm", "expected 0.000000001 ohm to 10000000000000 ohm"},
      {"absurd volts", {{{"s", "a", "b", Source{1e6, 0.1}}}}, Kind::bad_value, {"s"}, "the voltage of 's' is 1000000 V",
       "expected -10000 V to 10000 V"},
      {"negative power", {{{"m", "a", "b", PowerLoad{-5}}}}, Kind::bad_value, {"m"}, "the power of 'm' is -5 W",
       "expected 0 W to 10000000 W"},
      {"absurd current", {{{"m", "a", "b", CurrentLoad{1e6}}}}, Kind::bad_value, {"m"}, "the current of 'm' is 1000000 A",
       "expected -100000 A to 100000 A"},
      {"one end twice", {{{"r", "a", "a", Resistor{1}}}}, Kind::bad_value, {"r"}, "both ends of 'r' are at 'a'", ""},
      {"an end without a name", {{{"r", "a", "", Resistor{1}}}}, Kind::bad_value, {"r"}, "an end of 'r' is not named", ""},
      {"no id", {{{"", "a", "b", Resistor{1}}}}, Kind::bad_value, {}, "an element has no id", ""},
      {"an id twice", {{{"r", "a", "b", Resistor{1}}, {"r", "b", "c", Resistor{1}}}}, Kind::repeated_id, {"r"},
       "two elements have the id 'r'", ""},
      {"two ideal sources that differ", {{{"s", "a", "b", Source{12, 0}}, {"t", "a", "b", Source{13, 0}}}}, Kind::contradiction,
       {"t", "s"}, "'t' and 's' form a ring without resistance whose volts add up to 1 V instead of 0",
       "give one of them its resistance"},
      {"two ideal sources alike", {{{"s", "a", "b", Source{12, 0}}, {"t", "b", "a", Source{-12, 0}}}}, Kind::source_loop, {"t", "s"},
       "'t' and 's' form a ring without resistance: how the current divides is undetermined", "give one of them its resistance"},
      {"a shorted ideal source", {{{"s", "a", "b", Source{12, 0}}, {"u", "a", "c", Switch{true}}, {"v", "c", "b", Switch{true}}}},
       Kind::contradiction, {"v", "s", "u"},
       "'v', 's' and 'u' form a ring without resistance whose volts add up to 12 V instead of 0", "give one of them its resistance"},
      {"two closed switches side by side", {{{"s", "a", "b", Source{12, 1}}, {"u", "a", "b", Switch{true}}, {"v", "a", "b", Switch{true}}}},
       Kind::source_loop, {"v", "u"}, "'v' and 'u' form a ring without resistance: how the current divides is undetermined",
       "give one of them its resistance"},
      {"a load behind an open switch", {{{"s", "a", "b", Source{12, 1}}, {"u", "a", "c", Switch{false}}, {"m", "c", "b", CurrentLoad{5}}}},
       Kind::no_return, {"m", "c", "b"}, "the current of 'm' has no way back: no conductor joins 'c' and 'b'",
       "when the circuit is open there, give the load nothing to draw"},
      {"a power load between loose banks",
       {{{"s", "a", "b", Source{12, 1}}, {"t", "c", "d", Source{12, 1}}, {"m", "a", "d", PowerLoad{5}}}}, Kind::no_return,
       {"m", "a", "d"}, "the current of 'm' has no way back: no conductor joins 'a' and 'd'",
       "when the circuit is open there, give the load nothing to draw"},
      {"a motor the bank cannot feed", {{{"s", "a", "b", Source{12, 0.01}}, {"motor", "a", "b", PowerLoad{4000}}}},
       Kind::power_not_available, {"motor"}, "'motor' asks 4000 W, and at most 3600 W can be delivered there",
       "no operating point: with such a load the volts collapse"},
      {"a motor on a dead circuit", {{{"r", "a", "b", Resistor{1}}, {"motor", "a", "b", PowerLoad{1}}}}, Kind::power_not_available,
       {"motor"}, "'motor' asks 1 W, and at most 0 W can be delivered there", "no operating point: with such a load the volts collapse"},
  };
  for (const auto& row : rows) {
    SCOPED_TRACE(row.name);
    const auto result = solve(row.circuit);
    ASSERT_NE(trouble_of(result), nullptr);
    EXPECT_EQ(trouble_of(result)->kind, row.kind);
    EXPECT_EQ(trouble_of(result)->names, row.names);
    EXPECT_EQ(trouble_of(result)->what, row.what);
    EXPECT_EQ(trouble_of(result)->hint, row.hint);
  }
}

TEST(Network, BanksNeverJoinedFloatAgainstEachOtherAndAreSolvedEach) {
  const auto solution = solved(two_loose_banks);
  EXPECT_NEAR(volts(solution, "b+", "b-"), 24, 1e-12);
  EXPECT_NEAR(volts(solution, "o+", "o-"), 12, 1e-12);
  const auto across = solution.volts("b+", "o-");
  ASSERT_NE(trouble_of(across), nullptr);
  EXPECT_EQ(trouble_of(across)->kind, Trouble::Kind::floating);
  EXPECT_EQ(trouble_of(across)->what, "'b+' floats against 'o-': no conductor joins them");
  EXPECT_EQ(std::get<std::vector<std::string>>(solution.floating_from("b-")), (std::vector<std::string>{"o+", "o-"}));
}

TEST(Network, NamesNobodyGaveAreReportedWithWhatMayBeMeant) {
  const auto solution = solved({{{"battery", "plus", "minus", Source{12, 1}}}});
  const auto node = solution.volts("plis", "minus");
  ASSERT_NE(trouble_of(node), nullptr);
  EXPECT_EQ(trouble_of(node)->what, "no node is called 'plis'");
  EXPECT_EQ(trouble_of(node)->hint, "did you mean 'plus'?");
  EXPECT_NE(trouble_of(solution.volts("plus", "minos")), nullptr);
  EXPECT_EQ(trouble_of(solution.amps("batery"))->what, "no element is called 'batery'");
  EXPECT_NE(trouble_of(solution.watts("batery")), nullptr);
  EXPECT_NE(trouble_of(solution.floating_from("nowhere")), nullptr);
  EXPECT_NE(trouble_of(ohms_between({{{"r", "a", "b", Resistor{1}}}}, "a", "z")), nullptr);
}

TEST(Network, NothingIsACircuitToo) {
  const auto solution = solved({});
  EXPECT_TRUE(solution.points().empty());
  EXPECT_EQ(trouble_of(solution.volts("a", "b"))->what, "no node is called 'a'");
}

// --- constant power ---

TEST(PowerLoads, OneMotorFollowsTheQuadratic) {
  for (const double watt : {1.0, 1000.0, 3000.0, 3599.0}) {
    const auto solution = solved({{{"s", "a", "b", Source{12, 0.01}}, {"motor", "a", "b", PowerLoad{watt}}}});
    EXPECT_NEAR(volts(solution, "a", "b"), 6 + std::sqrt(36 - 0.01 * watt), 1e-9) << watt;
    EXPECT_NEAR(watts(solution, "motor"), watt, 1e-8 * watt);
  }
}

TEST(PowerLoads, ReversedTheyTakeTheSamePower) {
  const auto solution = solved({{{"s", "a", "b", Source{12, 0.01}}, {"motor", "b", "a", PowerLoad{1000}}}});
  EXPECT_NEAR(watts(solution, "motor"), 1000, 1e-8);
  EXPECT_LT(amps(solution, "motor"), 0);
}

TEST(PowerLoads, SeveralOnRandomNetworksTakeWhatTheyAsk) {
  Draw draw(11);
  int with_answer = 0;
  for (int trial = 0; trial < 200; ++trial) {
    auto circuit = random_resistors(draw, 8);
    circuit.elements.push_back({"bank", "n0", "n7", Source{24, 0.01}});
    for (std::size_t k = 1; k < 4; ++k) circuit.elements.push_back({"m" + std::to_string(k), node_name(k), "n7", PowerLoad{draw.between(0, 3)}});
    const auto result = solve(circuit);
    if (const auto* trouble = trouble_of(result)) {
      EXPECT_EQ(trouble->kind, Trouble::Kind::power_not_available);
      continue;
    }
    ++with_answer;
    for (std::size_t k = 1; k < 4; ++k) {
      const double asked = std::get<PowerLoad>(circuit.elements[circuit.elements.size() - 4 + k].kind).watt;
      EXPECT_NEAR(watts(*value_of(result), "m" + std::to_string(k)), asked, 1e-7);
    }
  }
  EXPECT_GT(with_answer, 20);
  EXPECT_LT(with_answer, 200);
}

TEST(PowerLoads, TheMostIsTheMost) {  // a hair less has an answer, a hair more has none
  const auto asking = [](double watt) {
    return Circuit{{{"s", "a", "b", Source{24, 0.02}}, {"run", "a", "c", Resistor{0.01}}, {"bow", "a", "b", PowerLoad{watt}},
                    {"stern", "c", "b", PowerLoad{2 * watt}}}};
  };
  const auto refused = solve(asking(10000));
  ASSERT_NE(trouble_of(refused), nullptr);
  const double most = trouble_of(refused)->most_watt / 3;
  EXPECT_NE(value_of(solve(asking(most * 0.99999))), nullptr);
  EXPECT_NE(trouble_of(solve(asking(most * 1.00001))), nullptr);
  EXPECT_EQ(trouble_of(refused)->names, (std::vector<std::string>{"bow", "stern"}));
}

// --- laws, on random networks ---

TEST(Laws, CurrentsAtEveryNodeAndPowersAddUpToNothing) {
  Draw draw(1);
  for (int trial = 0; trial < 200; ++trial) {
    const auto circuit = random_circuit(draw, 4 + draw.below(20));
    const auto solution = solved(circuit);
    std::vector<double> sums(solution.points().size());
    double power = 0, largest = 0;
    for (const auto& flow : solution.flows()) {
      sums[flow.from] += flow.amp;
      sums[flow.to] -= flow.amp;
      power += watts(solution, flow.element);
      largest = std::max(largest, std::abs(watts(solution, flow.element)));
    }
    for (const double sum : sums) EXPECT_NEAR(sum, 0, 1e-7);
    EXPECT_NEAR(power, 0, 1e-9 * largest);
  }
}

TEST(Laws, EveryElementObeysItsOwn) {
  Draw draw(2);
  for (int trial = 0; trial < 100; ++trial) {
    const auto circuit = random_circuit(draw, 4 + draw.below(20));
    const auto solution = solved(circuit);
    for (const auto& element : circuit.elements) {
      const double across = volts(solution, element.from, element.to), through = amps(solution, element.id);
      const double scale = 1e-9 * (1 + std::abs(across));
      if (const auto* r = std::get_if<Resistor>(&element.kind)) { EXPECT_NEAR(across, r->ohm * through, scale + 1e-9 * r->ohm); }
      if (const auto* s = std::get_if<Source>(&element.kind)) { EXPECT_NEAR(across, s->volt + s->internal_ohm * through, scale); }
      if (const auto* l = std::get_if<CurrentLoad>(&element.kind)) { EXPECT_EQ(through, l->amp); }
      const auto* contact = std::get_if<Switch>(&element.kind);
      if (contact && contact->closed) { EXPECT_NEAR(across, 0, 1e-9); }
      if (contact && !contact->closed) { EXPECT_EQ(through, 0); }
    }
  }
}

TEST(Laws, AgreesWithPlainElimination) {
  Draw draw(3);
  int compared = 0;
  for (int trial = 0; trial < 150; ++trial) {
    const auto circuit = random_circuit(draw, 3 + draw.below(15));
    const auto solution = solved(circuit);
    const auto expected = testing::volts_by_elimination(circuit, "n0");
    double largest = 0;
    for (const auto& [node, volt] : expected) largest = std::max(largest, std::abs(volt));
    for (const auto& [node, volt] : expected) {
      EXPECT_NEAR(volts(solution, node, "n0"), volt, 1e-10 * largest) << node;
      ++compared;
    }
  }
  EXPECT_GT(compared, 1000);
}

TEST(Laws, Reciprocity) {  // the volts at one pair for an ampere through another are the same the other way round
  Draw draw(4);
  for (int trial = 0; trial < 200; ++trial) {
    const auto network = random_resistors(draw, 10);
    auto forth = network, back = network;
    forth.elements.push_back({"i", "n1", "n2", CurrentLoad{1}});
    back.elements.push_back({"i", "n7", "n9", CurrentLoad{1}});
    const double one = volts(solved(forth), "n7", "n9"), other = volts(solved(back), "n1", "n2");
    EXPECT_NEAR(one, other, 1e-9 * (1e-3 + std::abs(one)));
  }
}

TEST(Laws, TwiceTheSourcesTwiceTheVoltsAndOhmsScale) {
  Draw draw(5);
  for (int trial = 0; trial < 100; ++trial) {
    const auto circuit = random_circuit(draw, 9);
    auto doubled = circuit, harder = circuit;
    for (auto& element : doubled.elements) {
      if (auto* s = std::get_if<Source>(&element.kind)) s->volt *= 2;
      if (auto* l = std::get_if<CurrentLoad>(&element.kind)) l->amp *= 2;
    }
    for (auto& element : harder.elements) {
      if (auto* r = std::get_if<Resistor>(&element.kind)) r->ohm *= 5;
      if (auto* s = std::get_if<Source>(&element.kind)) s->internal_ohm *= 5;
    }
    const double once = volts(solved(circuit), "n3", "n8"), scale = 1e-8 * (1 + std::abs(once));
    EXPECT_NEAR(volts(solved(doubled), "n3", "n8"), 2 * once, scale);
    const double ohm = std::get<double>(ohms_between(circuit, "n3", "n8"));
    EXPECT_NEAR(std::get<double>(ohms_between(harder, "n3", "n8")), 5 * ohm, 1e-9 * ohm);
  }
}

// --- ohms ---

TEST(Ohms, AreReadWithSourcesDeadAndLoadsAway) {
  const Circuit circuit{{{"bank", "a", "b", Source{24, 2}}, {"r", "a", "b", Resistor{2}}, {"link", "b", "c", Switch{true}},
                         {"link too", "b", "c", Switch{true}}, {"ideal", "d", "c", Source{5, 0}}, {"load", "a", "c", CurrentLoad{7}},
                         {"motor", "a", "c", PowerLoad{1e6}}, {"gap", "d", "e", Switch{false}}, {"tail", "e", "f", Resistor{9}}}};
  struct { const char *a, *b; double ohm; } const rows[] = {
      {"a", "b", 1}, {"b", "a", 1}, {"a", "d", 1}, {"b", "c", 0}, {"c", "d", 0}, {"a", "a", 0}, {"a", "f", HUGE_VAL}, {"f", "e", 9}};
  for (const auto& row : rows) EXPECT_DOUBLE_EQ(std::get<double>(ohms_between(circuit, row.a, row.b)), row.ohm) << row.a << row.b;
}

TEST(Ohms, MilliohmsSurviveBesideMegohms) {  // as conductances in one sum they would lose nine digits
  const Circuit circuit{{{"lug", "a", "b", Resistor{1e-5}}, {"skin", "b", "c", Resistor{1e9}}, {"lug too", "c", "d", Resistor{1e-5}},
                         {"wet", "a", "d", Resistor{1e9}}}};
  EXPECT_NEAR(std::get<double>(ohms_between(circuit, "a", "b")), 1e-5, 1e-15);
  EXPECT_NEAR(std::get<double>(ohms_between(circuit, "a", "d")), 5e8, 1);
}

}  // namespace
}  // namespace leadline::circuit
