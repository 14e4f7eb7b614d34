#include "engine/circuit/fitted.h"

#include <algorithm>
#include <cmath>

#include "engine/circuit/conductor.h"
#include "engine/text/number.h"

namespace leadline::circuit {

namespace {

using knowledge::Part;
using knowledge::PartKind;

constexpr double least_ohm = 1e-6;

// The numbers of one part, by name; what the page does not say keeps the default.
class Numbers {
 public:
  Numbers(const Part& part, const installation::Evaluation& evaluation, pugi::xml_node each) : part_(part), evaluation_(evaluation), each_(each) {}

  double get(std::string_view name, double otherwise = 0) const {
    for (const auto& [known, value] : part_.values) {
      if (known == name) return evaluation_.number(value, each_);
    }
    return otherwise;
  }

 private:
  const Part& part_;
  const installation::Evaluation& evaluation_;
  pugi::xml_node each_;
};

Result<double> cable_ohm(const Numbers& numbers) {
  const Conductor conductor{numbers.get("area"), numbers.get("class-2") != 0 ? Stranding::class_2 : Stranding::class_5,
                            numbers.get("plain") != 0 ? Surface::plain : Surface::tinned};
  return run_ohm_of_any_area(conductor, numbers.get("length"), numbers.get("temperature", 20));
}

std::optional<Trouble> fit_battery(FittedPart& fitted, const Part& part, const Numbers& numbers, const installation::Evaluation& evaluation) {
  const auto chemistry = chemistry_of(installation::attribute_at(evaluation.root(), part.chemistry).value());
  if (!chemistry) return Trouble{Trouble::Kind::bad_value, {fitted.id}, "the kind of battery '" + fitted.id + "' is unknown"};
  const double cranking = numbers.get("cold-cranking"), blocks = numbers.get("blocks", 1);
  const auto emf = emf_v(*chemistry, numbers.get("charge") / 100);
  const auto ohm = cranking >= 50 ? healthy_internal_ohm_of_cca(cranking) : healthy_internal_ohm_of_capacity(numbers.get("amp-hours"));
  const auto factor = ageing_factor(numbers.get("age"), numbers.get("temperature", 20));
  for (const auto* result : {&emf, &ohm, &factor}) {
    if (trouble_of(*result)) return *trouble_of(*result);
  }
  fitted.chemistry = chemistry;
  fitted.blocks = blocks;
  fitted.numbers.volt = blocks * *value_of(emf);
  fitted.numbers.ohm = blocks * *value_of(ohm) * *value_of(factor);
  return std::nullopt;
}

std::optional<Trouble> fit_numbers(FittedPart& fitted, const Part& part, const Numbers& numbers, const installation::Evaluation& evaluation) {
  if (part.kind == PartKind::battery) return fit_battery(fitted, part, numbers, evaluation);
  if (part.kind == PartKind::cable) {
    const auto ohm = cable_ohm(numbers);
    if (trouble_of(ohm)) return *trouble_of(ohm);
    fitted.numbers.ohm = *value_of(ohm);
    return std::nullopt;
  }
  fitted.numbers.ohm = numbers.get("ohm");
  fitted.numbers.volt = numbers.get("volt");
  fitted.numbers.amp = numbers.get("amp");
  fitted.numbers.watt = numbers.get("watt");
  fitted.numbers.load = numbers.get("load", 1);
  fitted.numbers.wake = numbers.get("wake");
  return std::nullopt;
}

std::vector<bool> conditions_of(const Part& part, std::size_t count) {
  std::vector<bool> in(count, part.conditions.empty());
  for (const auto condition : part.conditions) in[condition] = true;
  return in;
}

Result<FittedPart> fit_part(const Part& part, std::size_t conditions, const installation::Evaluation& evaluation, pugi::xml_node each) {
  FittedPart fitted;
  fitted.id = filled_in(part.id, each);
  fitted.title = filled_in(part.title, each);
  fitted.from = filled_in(part.from, each);
  fitted.to = filled_in(part.to, each);
  fitted.kind = part.kind;
  fitted.in = conditions_of(part, conditions);
  fitted.spread = part.spread;
  fitted.spread_volt = part.spread_volt;
  fitted.shared = part.shared;
  fitted.awake_with = part.awake_with;
  if (part.each == "segment" && part.from.find("{@from}") != std::string::npos && part.to.find("{@to}") != std::string::npos) {
    fitted.piece_from = each.attribute("from").value();
    fitted.piece_to = each.attribute("to").value();
  }
  if (auto trouble = fit_numbers(fitted, part, Numbers(part, evaluation, each), evaluation)) {
    trouble->what += " (" + (fitted.title.empty() ? fitted.id : fitted.title) + ")";
    return *trouble;
  }
  fitted.there = fitted.numbers.ohm < leak_ohm;  // the page draws it open: a way that only a fault closes
  return fitted;
}

}  // namespace

std::string filled_in(const std::string& name, pugi::xml_node each) {
  std::string filled;
  for (std::size_t at = 0; at < name.size();) {
    const auto open = name.find("{@", at), close = open == std::string::npos ? open : name.find('}', open);
    if (close == std::string::npos) return filled + name.substr(at);
    filled += name.substr(at, open - at) + each.attribute(name.substr(open + 2, close - open - 2).c_str()).value();
    at = close + 1;
  }
  return filled;
}

Result<FittedCircuit> fit(const knowledge::KnowledgeBase& base, std::size_t page, const installation::Evaluation& evaluation) {
  const auto& book = base.circuits[page];
  FittedCircuit circuit{page, book.reference, {}};
  for (const auto& part : book.parts) {
    std::vector<pugi::xml_node> elements = {pugi::xml_node()};
    if (!part.each.empty()) elements.assign(evaluation.root().children(part.each.c_str()).begin(), evaluation.root().children(part.each.c_str()).end());
    for (const auto each : elements) {
      if (!evaluation.holds(part.when, each)) continue;
      auto fitted = fit_part(part, book.conditions.size(), evaluation, each);
      if (trouble_of(fitted)) return *trouble_of(fitted);
      circuit.parts.push_back(*value_of(fitted));
    }
  }
  return circuit;
}

std::vector<PartNumbers> numbers_of(const FittedCircuit& circuit) {
  std::vector<PartNumbers> numbers;
  for (const auto& part : circuit.parts) numbers.push_back(part.numbers);
  return numbers;
}

Kind kind_of(PartKind kind, const PartNumbers& numbers, bool awake) {
  const double ohm = std::clamp(numbers.ohm, least_ohm, open_ohm);
  switch (kind) {
    case PartKind::resistor:
    case PartKind::cable: return Resistor{ohm};
    case PartKind::battery: return Source{numbers.volt, ohm};
    case PartKind::source: return Source{numbers.volt, awake ? ohm : open_ohm};
    case PartKind::current: return CurrentLoad{awake ? numbers.amp : 0};
    case PartKind::power:
    case PartKind::step_up: return PowerLoad{awake ? std::max(0.0, numbers.watt) : 0};
    case PartKind::motor: return MotorLoad{numbers.volt, numbers.amp, numbers.ohm, std::clamp(numbers.load, 0.0, 1e6)};
  }
  return Switch{false};
}

Circuit circuit_of(const FittedCircuit& fitted, std::size_t condition) {
  Circuit circuit;
  std::vector<std::string> nodes;
  const auto note = [&](const std::string& node) {
    if (std::find(nodes.begin(), nodes.end(), node) == nodes.end()) nodes.push_back(node);
  };
  for (const auto& part : fitted.parts) {
    if (!part.in[condition]) continue;
    circuit.elements.push_back({part.id, part.from, part.to, kind_of(part.kind, part.numbers, true)});
    note(part.from);
    note(part.to);
  }
  for (const auto& node : nodes) {
    if (node != fitted.reference) circuit.elements.push_back({"damp " + node, node, fitted.reference, Resistor{leak_ohm}});
  }
  return circuit;
}

}  // namespace leadline::circuit
