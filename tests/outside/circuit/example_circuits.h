#pragma once
// The circuits of the shared reference, as values: electrical.md § 9, control-network.md § 1, 4.2 and 8.
#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "engine/circuit/network.h"

namespace leadline::testing {

using circuit::Circuit;
using circuit::CurrentLoad;
using circuit::PowerLoad;
using circuit::Resistor;
using circuit::Source;
using circuit::Switch;

// electrical.md § 9.1: two 12 V batteries in series, a run of 70 mm², one motor. "0" is the bank's negative post.
inline Circuit power_path(double negative_lug_ohm, circuit::Kind motor) {
  return {{{"V1", "b1p", "0", Source{12.70, 0}}, {"R1", "b1p", "mid1", Resistor{0.004}}, {"RL", "mid1", "mid2", Resistor{1e-4}},
           {"V2", "b2p", "mid2", Source{12.70, 0}}, {"R2", "b2p", "bankp", Resistor{0.004}}, {"RL1", "bankp", "n1", Resistor{5e-5}},
           {"RF", "n1", "n2", Resistor{2e-4}}, {"RS", "n2", "n3", Resistor{1.5e-4}}, {"RCP", "n3", "n4", Resistor{0.002176}},
           {"RL2", "n4", "mp", Resistor{5e-5}}, {"M", "mp", "mn", motor}, {"RL3", "mn", "n5", Resistor{5e-5}},
           {"RCN", "n5", "n6", Resistor{0.002176}}, {"RL4", "n6", "0", Resistor{negative_lug_ohm}}}};
}

// electrical.md § 9.2: a step-up charger with one negative between a 12 V and a 24 V bank.
inline Circuit charging_path(double bond_ohm, bool charging) {
  Circuit circuit{{{"V12", "h12p", "n12n", Source{13.8, 0}}, {"R12", "h12p", "n12p", Resistor{0.005}},
                   {"RPOS", "n12p", "chin", Resistor{0.005}}, {"RB", "n12n", "0", Resistor{bond_ohm}},
                   {"V24", "h24p", "0", Source{25.4, 0}}, {"R24", "h24p", "n24p", Resistor{0.008}}}};
  if (charging) {
    circuit.elements.push_back({"IIN", "chin", "0", CurrentLoad{20}});
    circuit.elements.push_back({"IOUT", "0", "n24p", CurrentLoad{10}});
  } else {
    circuit.elements.push_back({"RIN", "chin", "0", Resistor{10e3}});
    circuit.elements.push_back({"RLEAK", "n24p", "0", Resistor{1e3}});
  }
  return circuit;
}

// A trunk with nodes evenly along it, the pair's ends h0 l0 (A) and hB lB; the standing example net of control-network.md unless said.
struct Net {
  double length_m = 25, ohm_per_m = 0.070;
  bool terminator_a = true, terminator_b = true;
  int more_terminators = 0;     // in the middle
  std::size_t nodes = 5;
  double node_ohm = 30e3;
  bool legs = false;            // a node is two halves against a negative they share
  double open_h_m = -1, open_l_m = -1;  // none
  double contact_ohm = 0;       // in H, in place of the break
  double short_m = -1;
  double short_ohm = 0;         // 0: a closed switch
};

// "h625" is H at 6.25 m; the far end is "hB".
inline std::string at(const std::string& line, double metre, double length) {
  return metre == length ? line + "B" : line + std::to_string(static_cast<int>(metre * 1000 + 0.5) / 10);
}

class NetBuilder {
 public:
  explicit NetBuilder(const Net& net) : net_(net) {
    std::set<double> places{0, net.length_m, net.length_m / 2};
    for (std::size_t k = 0; k < net.nodes; ++k) places.insert(node_place(k));
    for (const double place : {net.open_h_m, net.open_l_m, net.short_m}) {
      if (place >= 0) places.insert(place);
    }
    places_.assign(places.begin(), places.end());
    line("h", net.open_h_m);
    line("l", net.open_l_m);
    ends();
    for (std::size_t k = 0; k < net.nodes; ++k) node(k);
  }
  Circuit circuit() const { return circuit_; }
  std::string h(double metre) const { return at("h", metre, net_.length_m); }
  std::string l(double metre) const { return at("l", metre, net_.length_m); }
  double node_place(std::size_t k) const { return net_.length_m * static_cast<double>(k) / static_cast<double>(std::max<std::size_t>(net_.nodes, 2) - 1); }

 private:
  void add(const std::string& a, const std::string& b, circuit::Kind kind) {
    circuit_.elements.push_back({"e" + std::to_string(circuit_.elements.size()), a, b, kind});
  }
  void line(const std::string& name, double open_at) {
    for (std::size_t k = 1; k < places_.size(); ++k) {
      auto from = at(name, places_[k - 1], net_.length_m);
      if (places_[k - 1] == open_at) {
        const bool contact = name == "h" && net_.contact_ohm > 0;
        add(from, from + "'", contact ? circuit::Kind{Resistor{net_.contact_ohm}} : circuit::Kind{Switch{false}});
        from += "'";
      }
      add(from, at(name, places_[k], net_.length_m), Resistor{net_.ohm_per_m * (places_[k] - places_[k - 1])});
    }
  }
  void ends() {
    const double end = net_.length_m;
    if (net_.terminator_a) add(h(0), l(0), Resistor{120});
    if (net_.terminator_b) add(h(end), l(end), Resistor{120});
    for (int k = 0; k < net_.more_terminators; ++k) add(h(end / 2), l(end / 2), Resistor{120});
    if (net_.short_m < 0) return;
    add(h(net_.short_m), l(net_.short_m), net_.short_ohm > 0 ? circuit::Kind{Resistor{net_.short_ohm}} : circuit::Kind{Switch{true}});
  }
  void node(std::size_t k) {
    const auto high = h(node_place(k)), low = l(node_place(k));
    if (!net_.legs) return add(high, low, Resistor{net_.node_ohm});
    add(high, "negative", Resistor{net_.node_ohm / 2});
    add(low, "negative", Resistor{net_.node_ohm / 2});
  }

  Net net_;
  std::vector<double> places_;
  Circuit circuit_;
};

// A network's supply: `amp` per load at each place, r per conductor, fed at 0 m.
inline Circuit supply(double volt, double ohm_per_m, const std::vector<double>& places_m, double amp) {
  Circuit circuit{{{"feed", "p0", "m0", Source{volt, 0}}}};
  double here = 0;
  for (std::size_t k = 0; k < places_m.size(); ++k) {
    const auto now = std::to_string(k + 1), before = std::to_string(k);
    const Resistor piece{ohm_per_m * (places_m[k] - here)};
    circuit.elements.push_back({"rp" + now, "p" + before, "p" + now, piece});
    circuit.elements.push_back({"rm" + now, "m" + before, "m" + now, piece});
    circuit.elements.push_back({"load" + now, "p" + now, "m" + now, CurrentLoad{amp}});
    here = places_m[k];
  }
  return circuit;
}

// Every node biases each line to 2.5 V against its negative, which may be `offset` volts off for the last `shifted` nodes. "drive" at A: 45 Ω from 5 V to H and from L to the negative while dominant.
inline Circuit live_net(const Net& net, std::size_t shifted, double offset, bool dominant) {
  const NetBuilder whole(net);
  Net nodeless = net;
  nodeless.node_ohm = 1e12;  // places only
  Circuit circuit = NetBuilder(nodeless).circuit();
  for (std::size_t k = 0; k < net.nodes; ++k) {
    const auto name = std::to_string(k);
    const double volt = 2.5 + (k + shifted >= net.nodes ? offset : 0);
    circuit.elements.push_back({"bias" + name, "bias" + name, "negative", Source{volt, 0}});
    circuit.elements.push_back({"bh" + name, whole.h(whole.node_place(k)), "bias" + name, Resistor{15e3}});
    circuit.elements.push_back({"bl" + name, whole.l(whole.node_place(k)), "bias" + name, Resistor{15e3}});
  }
  if (!dominant) return circuit;
  circuit.elements.push_back({"five", "five", "negative", Source{5, 0}});
  circuit.elements.push_back({"high side", "five", "h0", Resistor{45}});
  circuit.elements.push_back({"low side", "l0", "negative", Resistor{45}});
  return circuit;
}

}  // namespace leadline::testing
