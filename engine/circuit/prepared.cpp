#include "engine/circuit/prepared.h"

#include <algorithm>

#include "engine/circuit/power.h"

namespace leadline::circuit {

Result<std::shared_ptr<Prepared>> Prepared::of(Circuit circuit) {
  auto valid = layout_of(circuit);
  if (trouble_of(valid)) return *trouble_of(valid);
  const auto& layout = *value_of(valid);
  if (auto ring = ring_of_ideals(circuit, layout)) return *ring;
  return std::shared_ptr<Prepared>(new Prepared(std::move(circuit), layout));
}

std::optional<std::size_t> Prepared::node(std::string_view name) const {
  const auto found = std::find(layout_.nodes.begin(), layout_.nodes.end(), name);
  if (found == layout_.nodes.end()) return std::nullopt;
  return static_cast<std::size_t>(found - layout_.nodes.begin());
}

std::optional<std::size_t> Prepared::element(std::string_view id) const {
  const auto found = std::find_if(circuit_.elements.begin(), circuit_.elements.end(), [&](const Element& e) { return e.id == id; });
  if (found == circuit_.elements.end()) return std::nullopt;
  return static_cast<std::size_t>(found - circuit_.elements.begin());
}

void Prepared::factor() {
  anew_.reset();
  if (!first_.follow()) anew_ = std::make_unique<LinearSystem>(circuit_, layout_);
}

Result<State> Prepared::solved() const {
  const auto loads = load_currents(circuit_, system());
  if (trouble_of(loads)) return *trouble_of(loads);
  return system().at(*value_of(loads));
}

double Prepared::ohms(std::size_t a, std::size_t b) const { return system().ohms(a, b); }

}  // namespace leadline::circuit
