#include "engine/audit/report.h"

#include <algorithm>

namespace leadline::audit {

namespace {

constexpr std::size_t most_samples = 24;

bool electrical(const knowledge::Finding& finding) {
  using knowledge::Unit;
  return finding.unit && (*finding.unit == Unit::volt || *finding.unit == Unit::ampere || *finding.unit == Unit::ohm || *finding.unit == Unit::megohm);
}

bool confirmed(const knowledge::Cause& cause, const knowledge::Finding& finding) {
  return finding.measure && std::any_of(cause.effects.begin(), cause.effects.end(), [&](const auto& effect) { return effect.circuit == finding.measure->circuit; });
}

template <class Counts>
std::size_t count_rules(const knowledge::KnowledgeBase& base, Counts counts) {
  std::size_t rules = 0;
  for (const auto& cause : base.causes) {
    for (const auto& rule : cause.rules) rules += counts(cause, rule) ? 1 : 0;
  }
  return rules;
}

}  // namespace

std::vector<Unconfirmed> unconfirmed_rules(const knowledge::KnowledgeBase& base) {
  std::vector<Unconfirmed> all;
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    const auto& finding = base.findings[j];
    if (!electrical(finding)) continue;
    const auto rules = count_rules(base, [&](const auto& cause, const auto& rule) { return rule.finding.index == j && !confirmed(cause, finding); });
    if (rules > 0) all.push_back({j, finding.measure.has_value(), rules});
  }
  return all;
}

Report report_on(const knowledge::KnowledgeBase& base, std::span<const text::Source> files, const std::vector<callout::Record>& records) {
  const Pages pages(files);
  const BoatSearch search(base);
  const auto samples = samples_of(base, search, most_samples, true);
  Report report;
  report.boats = samples.size();
  report.separability = separability(base, search, samples);
  for (const auto who : {knowledge::Who::owner, knowledge::Who::technician, knowledge::Who::specialist}) {
    report.testability[static_cast<std::size_t>(who)] = testability_of(base, samples.front(), who);
  }
  report.jobs = typical_jobs(base, samples);
  report.unconfirmed = unconfirmed_rules(base);
  report.electrical_rules = count_rules(base, [&](const auto&, const auto& rule) { return electrical(base[rule.finding]); });
  report.sensitivity = sensitivity(base, pages, records);
  return report;
}

}  // namespace leadline::audit
