#include "engine/circuit/network.h"

#include <cmath>
#include <limits>

#include "engine/circuit/layout.h"
#include "engine/circuit/linear.h"
#include "engine/circuit/power.h"

namespace leadline::circuit {
namespace {

// Rounding leaves 1e-12 of the largest current in a sound circuit; a part in a million is no longer rounding.
constexpr double most_imbalance = 1e-6;

Result<std::size_t> point_of(const std::vector<Solution::Point>& points, std::string_view node) {
  std::vector<std::string> names;
  for (const auto& point : points) names.push_back(point.node);
  return index_of(node, names, "node");
}

Result<std::size_t> flow_of(const std::vector<Solution::Flow>& flows, std::string_view element) {
  std::vector<std::string> names;
  for (const auto& flow : flows) names.push_back(flow.element);
  return index_of(element, names, "element");
}

Trouble not_trustworthy(const Layout& layout) {
  return {Trouble::Kind::not_trustworthy, {layout.nodes.front()}, "the values of this circuit lie too far apart to be solved",
          "leave out resistances that do not matter: a closed or an open switch"};
}

// The circuit without what an ohmmeter does not see: volts dead, loads away, and all that has no resistance one node.
struct Dead {
  Circuit circuit;
  std::string a, b;
};

Dead dead_of(const Circuit& circuit, const Layout& layout, std::size_t a, std::size_t b) {
  Groups merged(layout.nodes.size());
  for (std::size_t e = 0; e < layout.ends.size(); ++e) {
    if (is_ideal(circuit.elements[e].kind)) merged.join(layout.ends[e].from, layout.ends[e].to);
  }
  Dead dead{{}, layout.nodes[merged.of(a)], layout.nodes[merged.of(b)]};
  for (std::size_t e = 0; e < layout.ends.size(); ++e) {
    const auto& element = circuit.elements[e];
    if (!conducts(element.kind) || is_ideal(element.kind)) continue;
    const auto* source = std::get_if<Source>(&element.kind);
    const double ohm = source ? source->internal_ohm : std::get<Resistor>(element.kind).ohm;
    const auto from = merged.of(layout.ends[e].from), to = merged.of(layout.ends[e].to);
    if (from != to) dead.circuit.elements.push_back({element.id, layout.nodes[from], layout.nodes[to], Resistor{ohm}});
  }
  return dead;
}

}  // namespace

Result<double> Solution::volts(std::string_view plus, std::string_view minus) const {
  const auto red = point_of(points_, plus), black = point_of(points_, minus);
  if (trouble_of(red)) return *trouble_of(red);
  if (trouble_of(black)) return *trouble_of(black);
  const auto &at_red = points_[*value_of(red)], &at_black = points_[*value_of(black)];
  if (at_red.island == at_black.island) return at_red.volt - at_black.volt;
  return Trouble{Trouble::Kind::floating, {at_red.node, at_black.node},
                 "'" + at_red.node + "' floats against '" + at_black.node + "': no conductor joins them",
                 "close what is open between them, or measure within one part"};
}

Result<double> Solution::amps(std::string_view element) const {
  const auto flow = flow_of(flows_, element);
  if (trouble_of(flow)) return *trouble_of(flow);
  return flows_[*value_of(flow)].amp;
}

Result<double> Solution::watts(std::string_view element) const {
  const auto found = flow_of(flows_, element);
  if (trouble_of(found)) return *trouble_of(found);
  const auto& flow = flows_[*value_of(found)];
  if (flow.amp == 0) return 0.0;  // whatever the volts: the ends may float against each other
  return (points_[flow.from].volt - points_[flow.to].volt) * flow.amp;
}

Result<std::vector<std::string>> Solution::floating_from(std::string_view node) const {
  const auto here = point_of(points_, node);
  if (trouble_of(here)) return *trouble_of(here);
  std::vector<std::string> floating;
  for (const auto& point : points_) {
    if (point.island != points_[*value_of(here)].island) floating.push_back(point.node);
  }
  return floating;
}

Result<Solution> solve(const Circuit& circuit) {
  const auto valid = layout_of(circuit);
  if (trouble_of(valid)) return *trouble_of(valid);
  const Layout& layout = *value_of(valid);
  if (auto ring = ring_of_ideals(circuit, layout)) return *ring;
  if (auto missing = missing_return(circuit, layout)) return *missing;
  const LinearSystem system(circuit, layout);
  const auto loads = load_currents(circuit, system);
  if (trouble_of(loads)) return *trouble_of(loads);
  const auto state = system.at(*value_of(loads));
  if (!(system.imbalance(state) <= most_imbalance)) return not_trustworthy(layout);
  std::vector<Solution::Point> points;
  for (std::size_t node = 0; node < layout.nodes.size(); ++node) {
    points.push_back({layout.nodes[node], layout.island[node], state.volts[node]});
  }
  std::vector<Solution::Flow> flows;
  for (std::size_t e = 0; e < circuit.elements.size(); ++e) {
    flows.push_back({circuit.elements[e].id, layout.ends[e].from, layout.ends[e].to, state.amps[e]});
  }
  return Solution(std::move(points), std::move(flows));
}

Result<double> ohms_between(const Circuit& circuit, std::string_view a, std::string_view b) {
  const auto valid = layout_of(circuit);
  if (trouble_of(valid)) return *trouble_of(valid);
  const Layout& layout = *value_of(valid);
  const auto at_a = index_of(a, layout.nodes, "node"), at_b = index_of(b, layout.nodes, "node");
  if (trouble_of(at_a)) return *trouble_of(at_a);
  if (trouble_of(at_b)) return *trouble_of(at_b);
  if (layout.island[*value_of(at_a)] != layout.island[*value_of(at_b)]) return std::numeric_limits<double>::infinity();
  auto dead = dead_of(circuit, layout, *value_of(at_a), *value_of(at_b));
  if (dead.a == dead.b) return 0.0;
  std::string meter = "meter";  // an id that no element has
  for (const auto& element : dead.circuit.elements) meter += element.id;
  dead.circuit.elements.push_back({meter, dead.b, dead.a, CurrentLoad{1}});
  const auto solution = solve(dead.circuit);
  if (trouble_of(solution)) return *trouble_of(solution);
  return value_of(solution)->volts(dead.a, dead.b);
}

}  // namespace leadline::circuit
