#include "engine/diagnosis/evidence.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace leadline::diagnosis {

namespace {

constexpr double negligible_share = 1e-6;

// How sure an owner's word is: with this chance he names the state that is there, otherwise any of the others. Estimate.
constexpr double owner_sureness = 0.92;

double normal_cdf(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

std::vector<double> seen_likelihood(std::size_t states, std::size_t state, knowledge::Who by) {
  const double sure = by == knowledge::Who::owner ? owner_sureness : 1.0;
  std::vector<double> likelihood(states, (1 - sure) / static_cast<double>(states - 1));
  likelihood[state] = sure;
  return likelihood;
}

// A reading speaks of bands in ascending order; the finding keeps its states in order of dominance.
std::vector<double> reading_likelihood(const knowledge::Finding& finding, const std::vector<double>& limits, const Reading& reading, const Instrument& instrument) {
  const auto shares = band_shares(limits, reading.value, standard_uncertainty(reading, *finding.unit, instrument));
  std::vector<double> likelihood(finding.states.size(), 0.0);
  for (std::size_t b = 0; b < shares.size(); ++b) likelihood[finding.bands[b]] = shares[b];
  return likelihood;
}

}  // namespace

std::vector<double> band_shares(std::span<const double> ascending_limits, double value, double uncertainty) {
  std::vector<double> shares;
  double below = 0;
  for (std::size_t b = 0; b <= ascending_limits.size(); ++b) {
    const bool last = b == ascending_limits.size();
    double upto = 1;
    if (!last && uncertainty > 0) upto = normal_cdf((ascending_limits[b] - value) / uncertainty);
    else if (!last) upto = value < ascending_limits[b] ? 1 : 0;
    shares.push_back(upto - below < negligible_share ? 0 : upto - below);
    below = upto;
  }
  return shares;
}

std::optional<Observation> observation_of(const knowledge::KnowledgeBase& base, const BoatModel& boat, const Answer& answer, const Instrument& instrument) {
  const auto j = answer.finding.index;
  if (!boat.finding_applies[j]) return std::nullopt;
  const auto& finding = base[answer.finding];
  if (const auto* seen = std::get_if<Seen>(&answer.observed)) return Observation{j, seen_likelihood(finding.states.size(), seen->state, answer.by)};
  if (const auto* reading = std::get_if<Reading>(&answer.observed)) return Observation{j, reading_likelihood(finding, boat.band_limits[j], *reading, instrument)};
  return std::nullopt;
}

Evidence evidence_of(const knowledge::KnowledgeBase& base, const BoatModel& boat, std::span<const Answer> answers, const Instrument& instrument) {
  std::map<std::size_t, std::optional<Observation>> by_finding;
  for (const auto& answer : answers) by_finding[answer.finding.index] = observation_of(base, boat, answer, instrument);
  Evidence evidence;
  for (auto& [finding, observation] : by_finding) {
    if (observation) evidence.push_back(*std::move(observation));
  }
  return evidence;
}

}  // namespace leadline::diagnosis
