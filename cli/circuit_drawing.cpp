#include "cli/circuit_drawing.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "cli/phrases.h"
#include "engine/text/number.h"

namespace leadline::cli {

namespace {

using circuit::Bench;
using circuit::FittedPart;
using knowledge::PartKind;
using knowledge::Unit;

constexpr double nothing_ohm = 1e-5, least_amp = 0.5;

std::string size_of(const FittedPart& part) {
  switch (part.kind) {
    case PartKind::resistor:
    case PartKind::cable: return part.numbers.ohm <= nothing_ohm ? "" : reading_words(part.numbers.ohm, Unit::ohm);
    case PartKind::battery:
    case PartKind::source: return reading_words(part.numbers.volt, Unit::volt) + " behind " + reading_words(part.numbers.ohm, Unit::ohm);
    case PartKind::current:
    case PartKind::motor: return reading_words(part.numbers.amp, Unit::ampere);
    case PartKind::power:
    case PartKind::step_up: return text::format_number(part.numbers.watt / 1000, 2) + " kW";
  }
  return "";
}

std::string reading_over(const Bench::PartReading& reading) {
  if (std::abs(reading.amp) < least_amp) return "";
  return "; " + reading_words(std::abs(reading.volt), Unit::volt) + " at " + reading_words(std::abs(reading.amp), Unit::ampere);
}

// Goes through the circuit from its first place, each part once.
class Drawing {
 public:
  Drawing(const Bench& bench, std::size_t condition, std::size_t width)
      : parts_(bench.healthy().parts), readings_(bench.part_readings(condition, circuit::numbers_of(bench.healthy()))), condition_(condition), page_(width) {}

  Page draw() {
    for (std::size_t i = 0; i < parts_.size(); ++i) {  // pieces that nothing joins to the first begin anew
      if (shown(i) && !drawn_.contains(i)) walk(parts_[i].to, 0);
    }
    return page_;
  }

 private:
  bool shown(std::size_t part) const { return parts_[part].there && parts_[part].in[condition_]; }

  std::vector<std::size_t> undrawn_at(const std::string& place) const {
    std::vector<std::size_t> parts;
    for (std::size_t i = 0; i < parts_.size(); ++i) {
      if (shown(i) && !drawn_.contains(i) && (parts_[i].from == place || parts_[i].to == place)) parts.push_back(i);
    }
    return parts;
  }

  void walk(const std::string& place, std::size_t depth) {
    const std::string margin(2 + 3 * std::min<std::size_t>(depth, 4), ' ');
    const bool known = !places_.insert(place).second;
    page_.line(margin + (known ? "^ " : "o ") + place + (known ? " (above)" : ""), margin.size());
    if (known) return;
    for (auto next = undrawn_at(place); !next.empty(); next = undrawn_at(place)) {
      const auto part = next.front();
      drawn_.insert(part);
      const bool branch = next.size() > 1;
      const auto size = size_of(parts_[part]);
      const std::string inner = margin + (branch ? "|  " : "");
      const bool bare_post = size.empty() && parts_[part].kind == PartKind::resistor;  // two names of one place
      if (!bare_post) page_.item("|", parts_[part].title + (size.empty() ? "" : ", " + size) + reading_over(readings_[part]), inner.size());
      walk(parts_[part].from == place ? parts_[part].to : parts_[part].from, depth + (branch ? 1 : 0));
      if (!branch) return;
    }
  }

  const std::vector<FittedPart>& parts_;
  std::vector<Bench::PartReading> readings_;
  std::size_t condition_;
  Page page_;
  std::set<std::size_t> drawn_;
  std::set<std::string> places_;
};

}  // namespace

Page circuit_drawing(const Bench& bench, std::size_t condition, std::size_t width) { return Drawing(bench, condition, width).draw(); }

}  // namespace leadline::cli
