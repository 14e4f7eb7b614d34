// ngspice as judge: every node of every circuit within 0.1 %, 0.5 % where a constant-power load makes it non-linear (issue 3).
// Needs the package ngspice; without it these tests fail, for a judge that is away has judged nothing.
#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>

#include "tests/outside/circuit/example_circuits.h"
#include "tests/outside/circuit/spice.h"

namespace leadline {
namespace {

using namespace testing;

struct Case {
  std::string name;
  Circuit circuit;
  std::string ground;
  double half_open_volt = 1;  // of the power loads, where there are any
  bool linear = true;
};

constexpr double floor_volt = 1e-6;  // below it a node is at zero for every meter

// Compares all nodes; the number compared.
std::size_t judged(const Case& example) {
  SCOPED_TRACE(example.name);
  const auto ours = circuit::solve(example.circuit);
  if (const auto* trouble = trouble_of(ours)) ADD_FAILURE() << trouble->what;
  const auto theirs = spice_volts(example.circuit, example.ground, example.half_open_volt, std::to_string(getpid()));
  EXPECT_TRUE(theirs.has_value()) << "ngspice is missing or gave no answer: apt-get install ngspice";
  if (trouble_of(ours) || !theirs) return 0;
  std::size_t compared = 0;
  for (const auto& [node, volt] : *theirs) {
    const auto reading = value_of(ours)->volts(node, example.ground);
    if (trouble_of(reading)) {
      ADD_FAILURE() << trouble_of(reading)->what;
      continue;
    }
    const double share = example.linear ? 0.001 : 0.005;
    EXPECT_NEAR(*value_of(reading), volt, share * std::abs(volt) + floor_volt) << node;
    ++compared;
  }
  return compared - 1;  // the ground is no finding
}

void judge(const std::vector<Case>& cases) {
  std::size_t compared = 0;
  for (const auto& example : cases) compared += judged(example);
  std::printf("ngspice: %zu circuits, %zu node volts compared\n", cases.size(), compared);
  EXPECT_GT(compared, cases.size());
}

TEST(Spice, PowerPaths) {
  judge({{"healthy, 300 A", power_path(5e-5, CurrentLoad{300}), "0"},
         {"bad lug, 300 A", power_path(0.005, CurrentLoad{300}), "0"},
         {"healthy, resistive motor", power_path(5e-5, Resistor{0.0716647}), "0"},
         {"bad lug, resistive motor", power_path(0.005, Resistor{0.0716647}), "0"},
         {"at rest", power_path(5e-5, CurrentLoad{0}), "0"}});
}

TEST(Spice, ConstantPower) {
  std::vector<Case> cases;
  for (const double watt : {100.0, 3000.0, 6000.0, 7000.0}) {
    for (const double lug : {5e-5, 0.002, 0.005}) {
      cases.push_back({std::to_string(watt) + " W, lug " + std::to_string(lug), power_path(lug, PowerLoad{watt}), "0", 12.7, false});
    }
  }
  auto two = power_path(0.001, PowerLoad{3000});
  two.elements.push_back({"stern", "n3", "0", PowerLoad{2500}});
  two.elements.push_back({"house", "bankp", "0", CurrentLoad{15}});
  cases.push_back({"bow and stern on one bank", two, "0", 12.7, false});
  judge(cases);
}

TEST(Spice, ChargingPaths) {
  judge({{"asleep", charging_path(5e-4, false), "0"},
         {"bond missing", charging_path(10e6, false), "0"},
         {"charging", charging_path(5e-4, true), "0"},
         {"stray return", charging_path(0.05, true), "0"}});
}

// Ohms as ngspice sees them: 1 A from L to H at A, every node judged, and the ohms themselves against ohms_between.
TEST(Spice, ControlNetworks) {
  std::vector<Case> cases;
  const auto add = [&cases](const std::string& name, const Net& net) {
    auto circuit = NetBuilder(net).circuit();
    const double ohm = std::get<double>(circuit::ohms_between(circuit, "h0", "l0"));
    circuit.elements.push_back({"meter", "l0", "h0", CurrentLoad{1}});
    const auto theirs = spice_volts(circuit, "l0", 1, std::to_string(getpid()));
    ASSERT_TRUE(theirs.has_value()) << name << ": ngspice is missing or gave no answer: apt-get install ngspice";
    EXPECT_NEAR(ohm, theirs->at("h0"), 0.001 * ohm) << name;
    cases.push_back({name, circuit, "l0"});
  };
  for (std::size_t nodes = 2; nodes <= 8; ++nodes) {
    const auto count = std::to_string(nodes) + " nodes, ";
    add(count + "healthy", {.nodes = nodes});
    add(count + "legs", {.nodes = nodes, .legs = true});
    add(count + "B missing", {.terminator_b = false, .nodes = nodes});
    add(count + "H open", {.nodes = nodes, .open_h_m = 10});
    add(count + "L open, legs", {.nodes = nodes, .legs = true, .open_l_m = 16});
    add(count + "short", {.nodes = nodes, .short_m = 10, .short_ohm = 0.001});
    add(count + "far end shorted", {.nodes = nodes, .short_m = 25});
    add(count + "far end shorted, H open", {.nodes = nodes, .open_h_m = 10, .short_m = 25});
    add(count + "third terminator", {.more_terminators = 1, .nodes = nodes});
  }
  for (const double contact : {10.0, 50.0, 100.0, 500.0, 1000.0}) add("contact", {.open_h_m = 10, .contact_ohm = contact});
  judge(cases);
}

TEST(Spice, LiveNetworksAndTheirSupply) {
  judge({{"idle", live_net(Net{}, 0, 0, false), "negative"},
         {"dominant", live_net(Net{}, 0, 0, true), "negative"},
         {"dominant, B missing", live_net({.terminator_b = false}, 0, 0, true), "negative"},
         {"dominant, H open", live_net({.open_h_m = 10}, 0, 0, true), "negative"},
         {"one shifted", live_net(Net{}, 1, 12, false), "negative"},
         {"two shifted", live_net(Net{}, 2, 4, false), "negative"},
         {"five on the supply", supply(12.6, 0.053, {5, 10, 15, 20, 25}, 0.2), "m0"},
         {"far load", supply(12.6, 0.016, {50}, 3), "m0"}});
}

}  // namespace
}  // namespace leadline
