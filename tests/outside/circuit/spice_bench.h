#pragma once
// The measurements of one circuit of a boat, as ngspice reads them under any numbers of its parts.
#include <numeric>

#include "engine/circuit/bench.h"
#include "tests/outside/circuit/spice_condition.h"

namespace leadline::testing {

// By measurement of the bench, in the finding's unit.
struct SpiceReadings {
  std::vector<double> values;
  std::vector<std::size_t> stopped;  // conditions under which a constant power could not be had
};

class SpiceBench {
 public:
  SpiceBench(const knowledge::KnowledgeBase& base, const circuit::Bench& bench, const installation::Evaluation& evaluation)
      : circuit_(bench.healthy()), probes_(base.circuits[bench.healthy().page].conditions.size()) {
    for (const auto& tied : bench.measures()) {
      const auto& measure = *base.findings[tied.finding].measure;
      measures_.push_back({measure.take, {}});
      for (const auto& probe : measure.probes) {
        std::vector<pugi::xml_node> elements = {pugi::xml_node()};
        const auto named = evaluation.root().children(probe.each.c_str());
        if (!probe.each.empty()) elements.assign(named.begin(), named.end());
        for (const auto each : elements) note(probe, each);
      }
    }
  }

  // Does a motor or a constant power stand in a circuit that this measurement reads?
  bool follows_volts(std::size_t measure) const {
    return std::any_of(measures_[measure].uses.begin(), measures_[measure].uses.end(), [&](const Use& use) {
      return std::any_of(circuit_.parts.begin(), circuit_.parts.end(), [&](const auto& part) {
        return part.in[use.condition] && (part.kind == PartKind::motor || part.kind == PartKind::power || part.kind == PartKind::step_up);
      });
    });
  }

  // Nothing where ngspice found no operating point.
  std::vector<std::optional<SpiceReadings>> read(const std::vector<std::vector<PartNumbers>>& boats) const {
    std::vector<ConditionReadings> by_condition(probes_.size());
    for (std::size_t c = 0; c < probes_.size(); ++c) {
      if (!probes_[c].empty()) by_condition[c] = read_condition(c, boats);
    }
    std::vector<std::optional<SpiceReadings>> readings;
    for (std::size_t b = 0; b < boats.size(); ++b) readings.push_back(measured(by_condition, b));
    return readings;
  }

 private:
  using ConditionReadings = std::vector<std::optional<SpiceCondition::Reading>>;   // by boat
  struct Use {
    std::size_t condition, probe;
    double weight;
    ProbeKind kind;
  };
  struct Measured {
    knowledge::Take take;
    std::vector<Use> uses;
  };

  bool there(std::size_t condition, const std::string& place) const {
    const auto& parts = circuit_.parts;
    return std::any_of(parts.begin(), parts.end(), [&](const auto& part) { return part.in[condition] && (part.from == place || part.to == place); });
  }
  bool fitted(std::size_t condition, const std::string& id) const {
    return std::any_of(circuit_.parts.begin(), circuit_.parts.end(), [&](const auto& part) { return part.in[condition] && part.id == id; });
  }

  void note(const knowledge::Probe& probe, pugi::xml_node each) {
    SpiceProbe written{probe.kind, circuit::filled_in(probe.from, each), circuit::filled_in(probe.to, each)};
    const bool amps = probe.kind == ProbeKind::amps;
    if (amps) written.to.clear();
    if (amps ? !fitted(probe.condition, written.from) : !there(probe.condition, written.from) || !there(probe.condition, written.to)) return;
    auto& known = probes_[probe.condition];
    const auto found = std::find(known.begin(), known.end(), written);
    measures_.back().uses.push_back({probe.condition, static_cast<std::size_t>(found - known.begin()), probe.weight, probe.kind});
    if (found == known.end()) known.push_back(written);
  }

  // Boats whose parts under this condition are alike are read once.
  ConditionReadings read_condition(std::size_t condition, const std::vector<std::vector<PartNumbers>>& boats) const {
    std::map<std::vector<double>, std::size_t> known;
    std::vector<std::vector<PartNumbers>> different;
    std::vector<std::size_t> which;
    for (const auto& boat : boats) {
      std::vector<double> key;
      for (std::size_t i = 0; i < boat.size(); ++i) {
        if (!circuit_.parts[i].in[condition]) continue;
        for (const double value : {boat[i].ohm, boat[i].volt, boat[i].amp, boat[i].watt, boat[i].load, boat[i].wake}) key.push_back(value);
      }
      const auto [at, is_new] = known.emplace(std::move(key), different.size());
      if (is_new) different.push_back(boat);
      which.push_back(at->second);
    }
    const auto readings = SpiceCondition(circuit_, condition, probes_[condition]).read(different);
    ConditionReadings of_boats;
    for (const auto at : which) of_boats.push_back(readings[at]);
    return of_boats;
  }

  std::optional<SpiceReadings> measured(const std::vector<ConditionReadings>& by_condition, std::size_t boat) const {
    SpiceReadings readings;
    for (std::size_t c = 0; c < by_condition.size(); ++c) {
      if (by_condition[c].empty()) continue;
      if (!by_condition[c][boat]) return std::nullopt;
      if (by_condition[c][boat]->stopped) readings.stopped.push_back(c);
    }
    for (const auto& measure : measures_) readings.values.push_back(taken(measure, by_condition, boat));
    return readings;
  }

  static double taken(const Measured& measure, const std::vector<ConditionReadings>& by_condition, std::size_t boat) {
    std::vector<double> values;
    double volts = 0, amps = 0;
    for (const auto& use : measure.uses) {
      values.push_back(use.weight * by_condition[use.condition][boat]->probes[use.probe]);
      (use.kind == ProbeKind::amps ? amps : volts) += values.back();
    }
    const double sum = std::accumulate(values.begin(), values.end(), 0.0);
    const auto [least, largest] = std::minmax_element(values.begin(), values.end());
    switch (measure.take) {
      case knowledge::Take::sum: return sum;
      case knowledge::Take::largest: return *largest;
      case knowledge::Take::least: return *least;
      case knowledge::Take::spread: return *largest - *least;
      case knowledge::Take::average: return sum / static_cast<double>(values.size());
      case knowledge::Take::ratio: return std::abs(amps) < 1 ? std::nan("") : std::clamp(volts / amps, 0.0, 10.0);  // without current: cannot be told
    }
    return sum;
  }

  const circuit::FittedCircuit& circuit_;
  std::vector<std::vector<SpiceProbe>> probes_;   // by condition
  std::vector<Measured> measures_;
};

}  // namespace leadline::testing
