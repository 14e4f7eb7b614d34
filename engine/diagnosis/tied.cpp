#include "engine/diagnosis/tied.h"

#include <algorithm>
#include <cmath>

#include "engine/diagnosis/explanation.h"

namespace leadline::diagnosis {

namespace {

constexpr double what_circuits_leave_out = 0.02;  // chance that a boat differs from its page of the book, yet within what is normal (estimate)
constexpr double noticeable = 0.01;            // of the log density: less is nothing

bool effect_on(const Model& model, std::size_t cause, std::size_t circuit) {
  const auto book = model.circuits->book_cause[cause];
  return book && model.circuits->expectation->governs(*book, circuit);
}

// Where the written rules of these causes (those without an effect there) and the leak leave a finding: chances by state, 0 for "nowhere".
std::vector<double> written_states(const Model& model, std::size_t finding, std::size_t circuit, const std::vector<std::size_t>& causes) {
  auto at_most = model.findings[finding].leak_at_most;
  for (const auto cause : causes) {
    const auto* push = effect_on(model, cause, circuit) ? nullptr : push_on(model.causes[cause], finding);
    for (std::size_t s = 0; push != nullptr && s < at_most.size(); ++s) at_most[s] *= push->at_most[s];
  }
  for (std::size_t s = at_most.size(); s-- > 1;) at_most[s] -= at_most[s - 1];
  return at_most;
}

}  // namespace

Evidence tied_part(const Evidence& evidence) {
  Evidence part;
  std::copy_if(evidence.begin(), evidence.end(), std::back_inserter(part), [](const Observation& o) { return o.tied.has_value(); });
  return part;
}

Evidence plain_part(const Evidence& evidence) {
  Evidence part;
  std::copy_if(evidence.begin(), evidence.end(), std::back_inserter(part), [](const Observation& o) { return !o.tied; });
  return part;
}

void TiedReadings::add_readings(const Evidence& evidence) {
  for (const auto& observation : evidence) {
    if (!observation.tied) continue;
    const auto circuit = observation.tied->tie.circuit;
    const auto found = std::find_if(circuits_.begin(), circuits_.end(), [&](const auto& read) { return read.circuit == circuit; });
    if (found != circuits_.end()) found->observations.push_back(&observation);
    else circuits_.push_back({circuit, {&observation}});
  }
}

double log_density_under(const Model& model, const Evidence& evidence, const std::vector<std::size_t>& causes) {
  TiedReadings readings(model);
  readings.add_readings(evidence);
  readings.implicated_ = causes;
  return readings.log_density(causes);
}

TiedReadings::TiedReadings(const Model& model, const Evidence& evidence) : model_(model) {
  add_readings(evidence);
  for (std::size_t i = 0; !circuits_.empty() && i < model.causes.size(); ++i) {
    if (noticed(i)) implicated_.push_back(i);
  }
}

TiedReadings TiedReadings::without(std::size_t finding) const {
  TiedReadings others(model_);
  others.implicated_ = implicated_;
  for (auto read : circuits_) {
    std::erase_if(read.observations, [&](const Observation* o) { return o->finding == finding; });
    if (!read.observations.empty()) others.circuits_.push_back(std::move(read));
  }
  return others;
}

// Can it change what these readings were?
bool TiedReadings::matters(std::size_t cause, const CircuitReadings& read) const {
  const auto pushed = [&](const Observation* o) { return push_on(model_.causes[cause], o->finding) != nullptr; };
  return effect_on(model_, cause, read.circuit) || std::any_of(read.observations.begin(), read.observations.end(), pushed);
}

bool TiedReadings::noticed(std::size_t cause) const {
  for (const auto& read : circuits_) {
    if (effect_on(model_, cause, read.circuit)) {
      const double with = informed(read, {cause}).log_density, without = informed(read, {}).log_density;
      if (std::abs(with - without) > noticeable) return true;
      continue;
    }
    if (matters(cause, read)) return true;
  }
  return false;
}

std::vector<circuit::Taken> TiedReadings::taken(const CircuitReadings& read, const std::vector<std::size_t>& causes) const {
  std::vector<circuit::Taken> readings;
  for (const auto* observation : read.observations) {
    const auto& tied = *observation->tied;
    const auto written = written_states(model_, observation->finding, read.circuit, causes);
    const double unmodelled = what_circuits_leave_out * written[0];
    circuit::Taken reading{tied.tie.measure, tied.value, tied.uncertainty, 1 - written[0] + unmodelled, unmodelled * tied.density_by_state[0]};
    for (std::size_t s = 1; s < written.size(); ++s) reading.slip_density += written[s] * tied.density_by_state[s];
    reading.slip_density /= reading.slip;
    readings.push_back(reading);
  }
  return readings;
}

const TiedReadings::CircuitReadings* TiedReadings::read_on(std::size_t circuit) const {
  const auto read = std::find_if(circuits_.begin(), circuits_.end(), [&](const auto& r) { return r.circuit == circuit; });
  return read == circuits_.end() ? nullptr : &*read;
}

TiedReadings::Judged& TiedReadings::judged(const CircuitReadings& read, const std::vector<std::size_t>& causes) const {
  std::vector<std::size_t> matter;  // the others change nothing here
  std::copy_if(causes.begin(), causes.end(), std::back_inserter(matter), [&](auto cause) { return matters(cause, read); });
  const std::pair key(read.circuit, matter);
  if (const auto known = judged_.find(key); known != judged_.end()) return known->second;
  const auto& outlook = model_.circuits->expectation->under(read.circuit, governing(*model_.circuits, read.circuit, causes));
  return judged_.emplace(key, Judged{circuit::inform(outlook, taken(read, causes)), {}}).first->second;
}

// Two causes that have an effect on the circuit, but were not judged together by these readings: solving them only to foretell would be felt.
bool TiedReadings::needs_new_pair(std::size_t circuit, const std::vector<std::size_t>& causes) const {
  std::size_t count = 0;
  bool judged = read_on(circuit) != nullptr;
  for (const auto cause : causes) {
    if (!effect_on(model_, cause, circuit)) continue;
    ++count;
    judged &= std::binary_search(implicated_.begin(), implicated_.end(), cause);
  }
  return count > 1 && !judged;
}

double TiedReadings::log_density(const std::vector<std::size_t>& causes) const {
  std::vector<std::size_t> speaking;
  std::set_intersection(causes.begin(), causes.end(), implicated_.begin(), implicated_.end(), std::back_inserter(speaking));
  double sum = 0;
  for (const auto& read : circuits_) sum += informed(read, speaking).log_density;
  return sum;
}

std::vector<TiedReadings::FaultSize> TiedReadings::sizes_of(const knowledge::KnowledgeBase& base,
                                                           const std::vector<std::size_t>& causes) const {
  std::vector<FaultSize> sizes;
  for (const auto cause : causes) {
    if (!std::binary_search(implicated_.begin(), implicated_.end(), cause)) continue;
    for (const auto& read : circuits_) {
      const auto together = governing(*model_.circuits, read.circuit, causes);
      const auto book = model_.circuits->book_cause[cause];
      const auto at = std::find(together.begin(), together.end(), book);
      if (!book || at == together.end()) continue;
      sizes.push_back({cause, circuit::quantify(base, *model_.circuits->expectation, read.circuit, together, static_cast<std::size_t>(at - together.begin()),
                                                informed(read, causes))});
    }
  }
  return sizes;
}

const std::vector<double>& TiedReadings::states_by_circuit(std::size_t finding, const circuit::Tie& tie, const std::vector<std::size_t>& causes) const {
  const auto& link = *model_.circuits;
  const auto together = governing(link, tie.circuit, causes);
  const auto* read = read_on(tie.circuit);
  if (read == nullptr) return link.states_unread(finding, tie, together);
  auto& [known, states_known] = judged(*read, causes);
  const auto [at, fresh] = states_known.try_emplace(finding);
  if (fresh) at->second = states_by_outlook(link, finding, tie.measure, link.expectation->under(tie.circuit, together), known);
  return at->second;
}

bool TiedReadings::sways(std::size_t finding, std::size_t cause) const {
  if (push_on(model_.causes[cause], finding) != nullptr) return true;
  const auto tie = model_.circuits ? model_.circuits->expectation->tie_of(finding) : std::nullopt;
  if (!tie) return false;
  const auto* read = read_on(tie->circuit);
  return read != nullptr ? matters(cause, *read) : effect_on(model_, cause, tie->circuit);
}

std::vector<double> TiedReadings::states_of(std::size_t finding, const std::vector<std::size_t>& causes) const {
  const auto tie = model_.circuits ? model_.circuits->expectation->tie_of(finding) : std::nullopt;
  if (!tie || model_.circuits->judged_limits[finding].empty() || needs_new_pair(tie->circuit, causes)) return distribution_under(model_, finding, causes);
  auto states = states_by_circuit(finding, *tie, causes);
  // The stronger of what the circuit gives and what is written is seen.
  auto written = written_states(model_, finding, tie->circuit, causes);
  double circuit_at_most = 0, written_at_most = 0, before = 0;
  for (std::size_t s = 0; s < states.size(); ++s) {
    circuit_at_most += states[s];
    written_at_most += written[s];
    const double at_most = std::min(1.0, circuit_at_most) * std::min(1.0, written_at_most);
    states[s] = std::max(0.0, at_most - before);
    before = at_most;
  }
  return states;
}

}  // namespace leadline::diagnosis
