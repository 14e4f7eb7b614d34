#pragma once
// Random circuits in one piece, from fixed seeds. The draws are written out: std's distributions differ between libraries.
#include <cmath>
#include <cstdint>
#include <random>
#include <string>

#include "engine/circuit/network.h"

namespace leadline::testing {

class Draw {
 public:
  explicit Draw(std::uint64_t seed) : engine_(seed) {}
  double between(double least, double most) { return least + (most - least) * static_cast<double>(engine_() >> 11) * 0x1p-53; }
  std::size_t below(std::size_t count) { return static_cast<std::size_t>(engine_() % count); }

 private:
  std::mt19937_64 engine_;
};

inline std::string node_name(std::size_t node) { return "n" + std::to_string(node); }

// A tree of resistors, further resistors between any two nodes, 1e-4 … 1e4 Ω.
inline circuit::Circuit random_resistors(Draw& draw, std::size_t nodes) {
  circuit::Circuit circuit;
  const auto add = [&](std::size_t a, std::size_t b) {
    circuit.elements.push_back({"r" + std::to_string(circuit.elements.size()), node_name(a), node_name(b),
                                circuit::Resistor{std::pow(10.0, draw.between(-4, 4))}});
  };
  for (std::size_t node = 1; node < nodes; ++node) add(node, draw.below(node));
  for (std::size_t more = 0; more < nodes; ++more) {
    const auto a = draw.below(nodes), b = draw.below(nodes);
    if (a != b) add(a, b);
  }
  return circuit;
}

// The same with batteries, an ideal source, loads of current and switches, closed and open.
inline circuit::Circuit random_circuit(Draw& draw, std::size_t nodes) {
  auto circuit = random_resistors(draw, nodes);
  circuit.elements.push_back({"ideal", "p", "n0", circuit::Source{draw.between(-30, 30), 0}});
  circuit.elements.push_back({"wire", "p", "q", circuit::Switch{true}});
  circuit.elements.push_back({"lead", "q", node_name(nodes - 1), circuit::Resistor{draw.between(0.001, 1)}});
  circuit.elements.push_back({"gap", "q", node_name(nodes / 2), circuit::Switch{false}});
  for (std::size_t k = 0; k < 3; ++k) {
    const auto a = draw.below(nodes - 1);
    circuit.elements.push_back({"b" + std::to_string(k), node_name(a), node_name(a + 1),
                                circuit::Source{draw.between(-15, 15), draw.between(0.002, 20)}});
    circuit.elements.push_back({"i" + std::to_string(k), node_name(draw.below(nodes - 1)), node_name(nodes - 1),
                                circuit::CurrentLoad{draw.between(-50, 300)}});
  }
  return circuit;
}

}  // namespace leadline::testing
