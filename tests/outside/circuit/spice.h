#pragma once
// The same circuit written for ngspice, run in batch, and its node volts read back. Nothing of the engine's solver is used.
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iomanip>
#include <map>
#include <optional>
#include <sstream>
#include <string>

#include "engine/circuit/network.h"

namespace leadline::testing {

// Names of nodes as ngspice takes them: 0 is its ground, so the first node named becomes 0, the others n1, n2, …
class SpiceNames {
 public:
  std::string of(const std::string& node) {
    const auto number = numbers_.emplace(node, numbers_.size()).first->second;
    return number == 0 ? "0" : "n" + std::to_string(number);
  }
  const std::map<std::string, std::size_t>& numbers() const { return numbers_; }

 private:
  std::map<std::string, std::size_t> numbers_;
};

// A constant-power load is a behavioural current source, P / V; below half of the open volts, where no stable point lies, it draws a
// constant current, so that ngspice has one answer to find. `half_open_volt` comes from the case, not from our solver.
inline std::string netlist(const circuit::Circuit& circuit, const std::string& ground, double half_open_volt, SpiceNames& names) {
  std::ostringstream out;
  out << std::setprecision(17) << "* written by the test\n.options reltol=1e-9 abstol=1e-12 vntol=1e-9 gmin=1e-15 numdgt=10 itl1=500\n";
  names.of(ground);
  for (std::size_t e = 0; e < circuit.elements.size(); ++e) {
    const auto& element = circuit.elements[e];
    const std::string from = names.of(element.from), to = names.of(element.to), id = std::to_string(e);
    const std::string ends = " " + from + " " + to + " ";
    if (const auto* r = std::get_if<circuit::Resistor>(&element.kind)) out << "R" << id << ends << r->ohm << "\n";
    if (const auto* s = std::get_if<circuit::Source>(&element.kind)) {
      const std::string inner = s->internal_ohm > 0 ? "x" + id : to;
      out << "V" << id << " " << from << " " << inner << " DC " << s->volt << "\n";
      if (s->internal_ohm > 0) out << "Ri" << id << " " << inner << " " << to << " " << s->internal_ohm << "\n";
    }
    if (const auto* l = std::get_if<circuit::CurrentLoad>(&element.kind)) out << "I" << id << ends << "DC " << l->amp << "\n";
    if (const auto* p = std::get_if<circuit::PowerLoad>(&element.kind)) {
      out << "B" << id << ends << "I=" << p->watt << "/max(V(" << from << "," << to << ")," << half_open_volt << ")\n";
    }
    const auto* contact = std::get_if<circuit::Switch>(&element.kind);
    if (contact && contact->closed) out << "V" << id << ends << "DC 0\n";
  }
  out << ".control\nset numdgt=12\nop\n";
  for (const auto& [node, number] : names.numbers()) {
    if (number != 0) out << "print v(n" << number << ")\n";
  }
  out << ".endc\n.end\n";
  return out.str();
}

// Volts by node against `ground`; nothing when ngspice is missing or did not print every node.
inline std::optional<std::map<std::string, double>> spice_volts(const circuit::Circuit& circuit, const std::string& ground,
                                                                double half_open_volt, const std::string& name) {
  namespace fs = std::filesystem;
  const auto folder = fs::temp_directory_path() / ("leadline_spice_" + name);
  fs::create_directories(folder);
  SpiceNames names;
  std::ofstream(folder / "case.cir") << netlist(circuit, ground, half_open_volt, names);
  const auto log = (folder / "log").string();
  const std::string command = "ngspice -b " + (folder / "case.cir").string() + " > " + log + " 2>&1";
  std::remove(log.c_str());
  if (std::system(command.c_str()) == -1) return std::nullopt;
  std::map<std::string, double> printed;
  std::ifstream lines(log);
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::string node, equals;
    double volt = 0;
    if (words >> node >> equals >> volt && equals == "=" && node.starts_with("v(n")) printed[node.substr(2, node.size() - 3)] = volt;
  }
  std::map<std::string, double> volts;
  for (const auto& [node, number] : names.numbers()) {
    const auto found = printed.find("n" + std::to_string(number));
    if (number != 0 && found == printed.end()) return std::nullopt;
    volts[node] = number == 0 ? 0 : found->second;
  }
  fs::remove_all(folder);
  return volts;
}

}  // namespace leadline::testing
