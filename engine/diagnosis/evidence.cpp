#include "engine/diagnosis/evidence.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

namespace leadline::diagnosis {

namespace {

constexpr double negligible_share = 1e-6;

constexpr double owner_sureness = 0.92;

double normal_cdf(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

// A reading speaks of bands in ascending order; the finding keeps its states in order of dominance.
std::vector<double> reading_likelihood(const knowledge::Finding& finding, const std::vector<double>& limits, const Reading& reading, double uncertainty) {
  const auto shares = band_shares(limits, reading.value, uncertainty);
  std::vector<double> likelihood(finding.states.size(), 0.0);
  for (std::size_t b = 0; b < shares.size(); ++b) likelihood[finding.bands[b]] = shares[b];
  return likelihood;
}

// How dense a band is at a reading when nothing but the band is known: even over it. The highest has no end: there it thins out in equal
// ratios over two decades; the lowest begins at nothing.
double band_density(const std::vector<double>& limits, std::size_t band, double value, bool ohms) {
  constexpr double least_width = 0.1, decades = 4.605;  // ln 100
  const double floor = ohms ? circuit::judged_scale(0, true) : 0, ceiling = circuit::judged_scale(HUGE_VAL, true);
  if (band == 0) return 1 / std::max(least_width, std::abs(limits.front() - floor));
  if (band < limits.size()) return 1 / std::max(least_width, limits[band] - limits[band - 1]);
  if (ohms) return 1 / std::max(least_width, ceiling - limits.back());
  return 1 / (decades * std::max({least_width, std::abs(limits.back()), std::abs(value)}));
}

// The reading on its circuit, when there is one: a spread below 0 is a slip of the sign.
std::optional<TiedReading> tied_reading(const knowledge::Finding& finding, const BoatModel& boat, std::size_t j, const Reading& reading, double uncertainty,
                                        const std::vector<double>& likelihood) {
  if (!boat.expectation) return std::nullopt;
  const auto tie = boat.expectation->tie_of(j);
  if (!tie) return std::nullopt;
  const bool ohms = boat.expectation->bench(tie->circuit)->measures()[tie->measure].ohms;
  const auto limits = judged_limits(*boat.expectation, *tie, boat.band_limits[j]);
  TiedReading tied{*tie, circuit::judged_scale(reading.value, ohms), uncertainty * circuit::judged_scale_slope(reading.value, ohms), likelihood};
  for (std::size_t b = 0; b < finding.bands.size(); ++b) tied.density_by_state[finding.bands[b]] *= band_density(limits, b, tied.value, ohms);
  return tied;
}

}  // namespace

std::string why_invalid(const Model& model, const Evidence& evidence) {
  for (std::size_t o = 0; o < evidence.size(); ++o) {
    const bool known = evidence[o].finding < model.findings.size();
    if (!known || evidence[o].likelihood.size() != model.findings[evidence[o].finding].leak_at_most.size()) return "an observation that does not fit its finding";
    if (o > 0 && evidence[o - 1].finding >= evidence[o].finding) return "observations must ascend by finding";
  }
  return "";
}

std::vector<double> named_chances(const knowledge::Finding& finding, std::size_t state, knowledge::Who by) {
  const double sure = by == knowledge::Who::owner ? owner_sureness : 1.0;
  const auto states = finding.states.size();
  std::vector<double> chances(states, (1 - sure) / static_cast<double>(states - 1));
  for (const auto& told : finding.at_once) {
    for (const auto alarming : told.states) chances[alarming] = std::min(chances[alarming], finding.states[alarming].leak);
  }
  chances[state] = 0;
  chances[state] = 1 - std::accumulate(chances.begin(), chances.end(), 0.0);
  return chances;
}

std::vector<double> seen_likelihood(const knowledge::Finding& finding, std::size_t state, knowledge::Who by) {
  std::vector<double> likelihood;
  for (std::size_t there = 0; there < finding.states.size(); ++there) likelihood.push_back(named_chances(finding, there, by)[state]);
  return likelihood;
}

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
  if (const auto* seen = std::get_if<Seen>(&answer.observed)) return Observation{j, seen_likelihood(finding, seen->state, answer.by)};
  if (const auto* reading = std::get_if<Reading>(&answer.observed)) {
    const double uncertainty = standard_uncertainty(*reading, *finding.unit, instrument);
    auto likelihood = reading_likelihood(finding, boat.band_limits[j], *reading, uncertainty);
    auto tied = tied_reading(finding, boat, j, *reading, uncertainty, likelihood);
    return Observation{j, std::move(likelihood), std::move(tied)};
  }
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
