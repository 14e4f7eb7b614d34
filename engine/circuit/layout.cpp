#include "engine/circuit/layout.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

#include "engine/text/number.h"
#include "engine/text/spelling.h"

namespace leadline::circuit {
namespace {

using Complaint = std::optional<Trouble>;

struct Validity {
  const std::string& id;
  Complaint operator()(const Resistor& r) const { return outside("the resistance of '" + id + "'", r.ohm, 1e-9, 1e13, "ohm"); }
  Complaint operator()(const Source& s) const {
    if (auto bad = outside("the voltage of '" + id + "'", s.volt, -1e4, 1e4, "V")) return bad;
    if (s.internal_ohm == 0) return std::nullopt;
    return outside("the internal resistance of '" + id + "'", s.internal_ohm, 1e-9, 1e13, "ohm");
  }
  Complaint operator()(const CurrentLoad& l) const { return outside("the current of '" + id + "'", l.amp, -1e5, 1e5, "A"); }
  Complaint operator()(const PowerLoad& l) const { return outside("the power of '" + id + "'", l.watt, 0, 1e7, "W"); }
  Complaint operator()(const MotorLoad& m) const {
    if (auto bad = outside("the volts of '" + id + "'", m.volt, 1e-3, 1e4, "V")) return bad;
    if (auto bad = outside("the current of '" + id + "'", m.amp, 1e-3, 1e5, "A")) return bad;
    if (auto bad = outside("the load of '" + id + "'", m.load, 0, 1e6, "")) return bad;
    return outside("the resistance of '" + id + "'", m.ohm, 1e-9, 0.99 * m.volt / m.amp, "ohm");
  }
  Complaint operator()(const Switch&) const { return std::nullopt; }
};

Complaint complaint_of(const Element& element) {
  if (element.id.empty()) return Trouble{Trouble::Kind::bad_value, {}, "an element has no id"};
  if (element.from.empty() || element.to.empty()) {
    return Trouble{Trouble::Kind::bad_value, {element.id}, "an end of '" + element.id + "' is not named"};
  }
  if (element.from == element.to) {
    return Trouble{Trouble::Kind::bad_value, {element.id}, "both ends of '" + element.id + "' are at '" + element.from + "'"};
  }
  auto bad = std::visit(Validity{element.id}, element.kind);
  if (bad) bad->names = {element.id};
  return bad;
}

double ideal_volt(const Kind& kind) {
  const auto* source = std::get_if<Source>(&kind);
  return source ? source->volt : 0;
}

// One step along an ideal element, with the volts gained by it.
struct Step {
  std::size_t element, next;
  double volt;
};

std::vector<Step> steps_from(const Circuit& circuit, const Layout& layout, std::size_t node, std::size_t elements) {
  std::vector<Step> steps;
  for (std::size_t e = 0; e < elements; ++e) {
    if (!is_ideal(circuit.elements[e].kind)) continue;
    const auto [from, to] = layout.ends[e];
    const double volt = ideal_volt(circuit.elements[e].kind);
    if (from == node) steps.push_back({e, to, -volt});
    if (to == node) steps.push_back({e, from, volt});
  }
  return steps;
}

// The only way from `here` to `there` along the ideal elements before `elements`, which hold no ring.
bool walk(const Circuit& circuit, const Layout& layout, std::size_t here, std::size_t there, std::size_t elements,
          std::vector<Step>& path) {
  if (here == there) return true;
  for (const auto& step : steps_from(circuit, layout, here, elements)) {
    if (!path.empty() && path.back().element == step.element) continue;
    path.push_back(step);
    if (walk(circuit, layout, step.next, there, elements, path)) return true;
    path.pop_back();
  }
  return false;
}

std::string quoted_list(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += "'" + names[i] + "'";
  }
  return text;
}

Trouble ring_closed_by(const Circuit& circuit, const Layout& layout, std::size_t last) {
  std::vector<Step> path;
  walk(circuit, layout, layout.ends[last].to, layout.ends[last].from, last, path);
  Trouble trouble{Trouble::Kind::source_loop, {circuit.elements[last].id}, ""};
  double sum = -ideal_volt(circuit.elements[last].kind), size = std::abs(sum);
  for (const auto& step : path) {
    trouble.names.push_back(circuit.elements[step.element].id);
    sum += step.volt;
    size += std::abs(step.volt);
  }
  const auto ring = quoted_list(trouble.names) + " form a ring without resistance";
  if (std::abs(sum) > 1e-12 * size) {
    trouble.kind = Trouble::Kind::contradiction;
    trouble.what = ring + " whose volts add up to " + text::format_number(std::abs(sum), 6) + " V instead of 0";
  } else {
    trouble.what = ring + ": how the current divides is undetermined";
  }
  trouble.hint = "give one of them its resistance";
  return trouble;
}

bool draws(const Kind& kind) {
  if (const auto* load = std::get_if<CurrentLoad>(&kind)) return load->amp != 0;
  if (const auto* load = std::get_if<PowerLoad>(&kind)) return load->watt != 0;
  return std::holds_alternative<MotorLoad>(kind);
}

}  // namespace

Groups::Groups(std::size_t count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), std::size_t{0}); }

std::size_t Groups::of(std::size_t node) const {
  while (parent_[node] != node) node = parent_[node];
  return node;
}

bool Groups::join(std::size_t a, std::size_t b) {
  a = of(a);
  b = of(b);
  parent_[std::max(a, b)] = std::min(a, b);
  return a != b;
}

bool is_ideal(const Kind& kind) {
  if (const auto* source = std::get_if<Source>(&kind)) return source->internal_ohm == 0;
  const auto* contact = std::get_if<Switch>(&kind);
  return contact && contact->closed;
}

bool conducts(const Kind& kind) {
  return is_ideal(kind) || std::holds_alternative<Resistor>(kind) || std::holds_alternative<Source>(kind);
}

Result<Layout> layout_of(const Circuit& circuit) {
  Layout layout;
  std::set<std::string_view> ids;
  const auto index = [&layout](const std::string& name) {
    const auto found = std::find(layout.nodes.begin(), layout.nodes.end(), name);
    const auto at = static_cast<std::size_t>(found - layout.nodes.begin());
    if (found == layout.nodes.end()) layout.nodes.push_back(name);
    return at;
  };
  for (const auto& element : circuit.elements) {
    if (auto bad = complaint_of(element)) return *bad;
    if (!ids.insert(element.id).second) {
      return Trouble{Trouble::Kind::repeated_id, {element.id}, "two elements have the id '" + element.id + "'"};
    }
    const auto from = index(element.from);  // in this order: braces of an aggregate would do, a call's arguments not
    layout.ends.push_back({from, index(element.to)});
  }
  Groups islands(layout.nodes.size());
  for (std::size_t e = 0; e < layout.ends.size(); ++e) {
    if (conducts(circuit.elements[e].kind)) islands.join(layout.ends[e].from, layout.ends[e].to);
  }
  for (std::size_t node = 0; node < layout.nodes.size(); ++node) layout.island.push_back(islands.of(node));
  return layout;
}

std::optional<Trouble> ring_of_ideals(const Circuit& circuit, const Layout& layout) {
  Groups groups(layout.nodes.size());
  for (std::size_t e = 0; e < layout.ends.size(); ++e) {
    if (!is_ideal(circuit.elements[e].kind)) continue;
    if (!groups.join(layout.ends[e].from, layout.ends[e].to)) return ring_closed_by(circuit, layout, e);
  }
  return std::nullopt;
}

std::optional<Trouble> missing_return(const Circuit& circuit, const Layout& layout) {
  for (std::size_t e = 0; e < layout.ends.size(); ++e) {
    const auto& element = circuit.elements[e];
    if (!draws(element.kind) || layout.island[layout.ends[e].from] == layout.island[layout.ends[e].to]) continue;
    return Trouble{Trouble::Kind::no_return, {element.id, element.from, element.to},
                   "the current of '" + element.id + "' has no way back: no conductor joins '" + element.from + "' and '" +
                       element.to + "'",
                   "when the circuit is open there, give the load nothing to draw"};
  }
  return std::nullopt;
}

Result<std::size_t> index_of(std::string_view name, const std::vector<std::string>& names, std::string_view what) {
  const auto found = std::find(names.begin(), names.end(), name);
  if (found != names.end()) return static_cast<std::size_t>(found - names.begin());
  return Trouble{Trouble::Kind::unknown_name, {std::string(name)},
                 "no " + std::string(what) + " is called '" + std::string(name) + "'", text::suggestion(name, names)};
}

}  // namespace leadline::circuit
