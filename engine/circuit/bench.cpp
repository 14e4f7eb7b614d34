#include "engine/circuit/bench.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace leadline::circuit {

namespace {

constexpr std::size_t none = static_cast<std::size_t>(-1);

using knowledge::ProbeKind;
using knowledge::Take;

double taken(Take take, const std::vector<double>& readings) {
  const auto [least, largest] = std::minmax_element(readings.begin(), readings.end());
  const double sum = std::accumulate(readings.begin(), readings.end(), 0.0);
  switch (take) {
    case Take::sum: return sum;
    case Take::average: return sum / static_cast<double>(readings.size());
    case Take::largest: return *largest;
    case Take::least: return *least;
    case Take::spread: return *largest - *least;
    case Take::ratio: break;  // below: it needs to know which are amperes
  }
  return sum;
}

std::vector<pugi::xml_node> elements_for(const std::string& each, const installation::Evaluation& evaluation) {
  std::vector<pugi::xml_node> elements;
  if (each.empty()) return {pugi::xml_node()};
  for (const auto element : evaluation.root().children(each.c_str())) elements.push_back(element);
  return elements;
}

}  // namespace

Result<Bench> Bench::of(const knowledge::KnowledgeBase& base, FittedCircuit healthy, const installation::Evaluation& evaluation) {
  Bench bench;
  bench.healthy_ = std::move(healthy);
  const auto& parts = bench.healthy_.parts;
  const auto conditions = base.circuits[bench.healthy_.page].conditions.size();
  for (std::size_t c = 0; c < conditions; ++c) {
    auto prepared = Prepared::of(circuit_of(bench.healthy_, c));
    if (trouble_of(prepared)) return *trouble_of(prepared);
    bench.conditions_.push_back(*value_of(prepared));
    std::vector<std::size_t> elements;
    for (const auto& part : parts) elements.push_back(part.in[c] ? *bench.conditions_.back()->element(part.id) : none);
    bench.sleepers_.emplace_back();
    for (std::size_t i = 0; i < parts.size(); ++i) {
      const bool sleeps = parts[i].kind == knowledge::PartKind::step_up && elements[i] != none;
      if (sleeps) bench.sleepers_.back().push_back({i, *bench.conditions_.back()->node(parts[i].from), *bench.conditions_.back()->node(parts[i].to)});
    }
    bench.element_of_part_.push_back(std::move(elements));
  }
  bench.prepare_probes(base, evaluation);
  bench.healthy_probes_.assign(bench.probes_.size(), 0);
  const auto numbers = numbers_of(bench.healthy_);
  for (std::size_t c = 0; c < conditions; ++c) bench.healthy_idle_.push_back(bench.read_condition(c, numbers, bench.healthy_probes_));
  return bench;
}

void Bench::prepare_probes(const knowledge::KnowledgeBase& base, const installation::Evaluation& evaluation) {
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    const auto& measure = base.findings[j].measure;
    if (!measure || measure->circuit != healthy_.page || !evaluation.holds(base.findings[j].applies)) continue;
    TiedMeasure tied{j, measure->take, measure->doubt, measure->probes.front().kind == ProbeKind::ohms, {}};
    bool complete = true;
    for (const auto& probe : measure->probes) {
      for (const auto each : elements_for(probe.each, evaluation)) {
        const auto resolved = fixed(probe, each);
        complete &= resolved.has_value();
        if (!resolved) continue;
        tied.probes.push_back(probes_.size());
        probes_.push_back(*resolved);
      }
    }
    // Of several places the largest or least is taken among those that are there; a sum needs all. Nothing is read where there is none.
    const bool enough = !tied.probes.empty() && (complete || tied.take != Take::sum);
    if (enough) measures_.push_back(std::move(tied));
  }
}

std::optional<Bench::Fixed> Bench::fixed(const knowledge::Probe& probe, pugi::xml_node each) const {
  const auto& prepared = *conditions_[probe.condition];
  const auto from = filled_in(probe.from, each), to = filled_in(probe.to, each);
  if (probe.kind == ProbeKind::amps) {
    const auto element = prepared.element(from);
    if (!element) return std::nullopt;
    return Fixed{probe.kind, probe.condition, *element, 0, probe.weight};
  }
  const auto a = prepared.node(from), b = prepared.node(to);
  if (!a || !b) return std::nullopt;
  return Fixed{probe.kind, probe.condition, *a, *b, probe.weight};
}

std::vector<bool> Bench::conditions_of(const std::vector<std::size_t>& parts) const {
  std::vector<bool> conditions(conditions_.size(), false);
  for (std::size_t c = 0; c < conditions.size(); ++c) {
    conditions[c] = std::any_of(parts.begin(), parts.end(), [&](auto part) { return element_of_part_[c][part] != none; });
  }
  return conditions;
}

std::vector<bool> Bench::moved(const std::vector<double>& probes, const std::vector<double>& reference) const {
  constexpr double worth_noting = 0.002;  // volts, amperes, or that share of the ohms
  std::vector<bool> conditions(conditions_.size(), false);
  for (std::size_t p = 0; p < probes_.size(); ++p) {
    const double scale = probes_[p].kind == ProbeKind::ohms ? 1 + std::abs(reference[p]) : 1;
    if (std::abs(probes[p] - reference[p]) > worth_noting * scale) conditions[probes_[p].condition] = true;
  }
  return conditions;
}

std::vector<double> Bench::probed(const std::vector<PartNumbers>& numbers, const std::vector<bool>& conditions, const std::vector<double>& otherwise,
                                  std::vector<std::size_t>* idle) const {
  auto probes = otherwise;
  for (std::size_t c = 0; c < conditions.size(); ++c) {
    if (!conditions[c]) continue;
    const auto standing_still = read_condition(c, numbers, probes);
    if (idle != nullptr) (*idle)[c] = standing_still;
  }
  return probes;
}

std::size_t Bench::read_condition(std::size_t condition, const std::vector<PartNumbers>& numbers, std::vector<double>& probes) const {
  const auto [state, idle] = operating_point(condition, numbers);
  for (std::size_t p = 0; p < probes_.size(); ++p) {
    const auto& probe = probes_[p];
    if (probe.condition != condition) continue;
    if (probe.kind == ProbeKind::volts) probes[p] = probe.weight * (state.volts[probe.a] - state.volts[probe.b]);
    else if (probe.kind == ProbeKind::amps) probes[p] = probe.weight * state.amps[probe.a];
    else probes[p] = probe.weight * (probe.a == probe.b ? 0 : conditions_[condition]->ohms(probe.a, probe.b));
  }
  return idle;
}

void Bench::set_parts(std::size_t condition, const std::vector<PartNumbers>& numbers, const std::vector<bool>& awake) const {
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const auto element = element_of_part_[condition][i];
    if (element != none) conditions_[condition]->set(element, kind_of(healthy_.parts[i].kind, numbers[i], awake[i]));
  }
  conditions_[condition]->factor();
}

// A step-up charger looks at its input before it takes anything: it works when there are volts enough, and goes back to sleep when its own
// draw pulls them away altogether.
Bench::OperatingPoint Bench::operating_point(std::size_t condition, const std::vector<PartNumbers>& numbers) const {
  const auto& parts = healthy_.parts;
  auto& prepared = *conditions_[condition];
  std::vector<bool> awake(parts.size(), true);
  for (std::size_t i = 0; i < parts.size(); ++i) awake[i] = parts[i].kind != knowledge::PartKind::step_up && parts[i].awake_with.empty();
  set_parts(condition, numbers, awake);
  auto state = prepared.solved();
  for (const auto& sleeper : sleepers_[condition]) {
    const auto* asleep = value_of(state);
    if (asleep == nullptr || asleep->volts[sleeper.from] - asleep->volts[sleeper.to] < numbers[sleeper.part].wake) continue;
    auto now = awake;
    now[sleeper.part] = true;
    for (std::size_t i = 0; i < parts.size(); ++i) now[i] = now[i] || parts[i].awake_with == parts[sleeper.part].id;
    set_parts(condition, numbers, now);
    auto working = prepared.solved();
    if (value_of(working)) awake = now, state = std::move(working);
    else set_parts(condition, numbers, awake);
  }
  const auto idle = [&] { return static_cast<std::size_t>(std::count(awake.begin(), awake.end(), false)); };
  if (const auto* found = value_of(state)) return {*found, idle()};
  for (std::size_t i = 0; i < parts.size(); ++i) awake[i] = awake[i] && parts[i].kind != knowledge::PartKind::power;
  set_parts(condition, numbers, awake);  // a controller that cannot get its power stops
  state = prepared.solved();
  const auto* still = value_of(state);
  return {still ? *still : prepared.nothing(), idle()};
}

std::vector<Bench::PartReading> Bench::part_readings(std::size_t condition, const std::vector<PartNumbers>& numbers) const {
  const auto state = operating_point(condition, numbers).state;
  std::vector<PartReading> readings(healthy_.parts.size());
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const auto& part = healthy_.parts[i];
    const auto element = element_of_part_[condition][i];
    if (element == none) continue;
    const auto &prepared = *conditions_[condition];
    readings[i] = {state.volts[*prepared.node(part.from)] - state.volts[*prepared.node(part.to)], state.amps[element]};
  }
  return readings;
}

// Ohms as a person works them out from a voltmeter and a clamp meter. Without current there is nothing to divide by: it cannot be told.
double Bench::ratio(const TiedMeasure& measure, const std::vector<double>& probes) const {
  constexpr double largest = 10, least_amp = 1;
  constexpr double cannot_be_told = std::numeric_limits<double>::quiet_NaN();
  double volts = 0, amps = 0;
  for (const auto p : measure.probes) (probes_[p].kind == ProbeKind::amps ? amps : volts) += probes[p];
  return std::abs(amps) < least_amp ? cannot_be_told : std::clamp(volts / amps, 0.0, largest);
}

std::vector<double> Bench::measured(const std::vector<double>& probes) const {
  std::vector<double> readings;
  for (const auto& measure : measures_) {
    std::vector<double> own;
    for (const auto p : measure.probes) own.push_back(probes[p]);
    readings.push_back(measure.take == Take::ratio ? ratio(measure, probes) : taken(measure.take, own));
  }
  return readings;
}

}  // namespace leadline::circuit
