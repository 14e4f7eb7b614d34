// What was read, beside what a sound boat like this shows. Tested by tests/cli/sheet_test.cpp.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "cli/expect_page.h"
#include "cli/phrases.h"
#include "cli/sheet_parts.h"
#include "cli/yardstick.h"

namespace leadline::cli {

namespace {

using callout::Assessment;
using diagnosis::Reading;

constexpr double sure = 0.8;      // of a reading near the limit of a band: the share that makes it one or the other
constexpr double coverage = 2;    // standard uncertainties that a meter may be off

std::optional<double> finite(double value) { return std::isfinite(value) ? std::optional(value) : std::nullopt; }

std::optional<circuit::Expected> healthy_reading(const Assessment& assessment, std::size_t finding) {
  const auto tie = assessment.boat().finding_applies[finding] ? assessment.boat().expectation->tie_of(finding) : std::nullopt;
  if (!tie) return std::nullopt;
  const auto expected = circuit::expected(*assessment.boat().expectation, *tie, {});
  return expected.told() ? std::optional(expected) : std::nullopt;
}

// The share of a reading, widened by its uncertainty, that lies in normal bands of this boat; none without limits.
std::optional<double> normal_share(const Assessment& assessment, const knowledge::Finding& finding, std::size_t index, const Reading& reading, double uncertainty) {
  const auto& limits = assessment.boat().band_limits[index];
  if (!assessment.boat().finding_applies[index] || limits.size() + 1 != finding.bands.size()) return std::nullopt;
  const auto shares = diagnosis::band_shares(limits, reading.value, uncertainty);
  double share = 0;
  for (std::size_t b = 0; b < shares.size(); ++b) share += finding.bands[b] == 0 ? shares[b] : 0;
  return share;
}

// Two yardsticks: the book's band, and what nine of ten sound boats read. They must not contradict each other.
void judge_reading(Sheet::Finding& row, const Assessment& assessment, std::size_t index, const Reading& reading) {
  const auto& finding = assessment.base().findings[index];
  const double uncertainty = diagnosis::standard_uncertainty(reading, *finding.unit, diagnosis::instrument_of(assessment.record().instrument));
  const auto share = normal_share(assessment, finding, index, reading, uncertainty);
  if (!share) {
    row.remark = "this boat has no such reading to compare with";
    return;
  }
  row.judged = *share >= sure ? Judged::normal : *share <= 1 - sure ? Judged::abnormal : Judged::cannot_tell;
  if (row.judged == Judged::cannot_tell) row.remark = "on the limit, within the meter's error";
  const auto healthy = healthy_reading(assessment, index);
  if (!healthy || row.judged == Judged::cannot_tell) return;
  const double margin = coverage * uncertainty;
  const bool inside = reading.value >= healthy->low - margin && reading.value <= healthy->high + margin;
  if (inside == (row.judged == Judged::normal)) return;
  row.remark = inside ? "beyond the limit, but a sound boat like this may read it" : "within the limit, but nine of ten sound boats like this read otherwise";
  row.judged = Judged::cannot_tell;
}

std::string healthy_words(const Assessment& assessment, std::size_t index) {
  const auto& finding = assessment.base().findings[index];
  if (!finding.is_reading()) return finding.states.front().words;
  if (const auto healthy = healthy_reading(assessment, index)) return expected_words(*healthy, *finding.unit);
  const auto limits = assessment.boat().finding_applies[index] ? limit_words(finding, assessment.boat().band_limits[index], 0) : "";
  return limits.empty() ? finding.states.front().words : limits;
}

void add_figures(Sheet::Finding& row, const Assessment& assessment, std::size_t index, const Reading& reading) {
  row.unit = std::string(knowledge::name_of(*assessment.base().findings[index].unit));
  row.value = finite(reading.value);
  const auto healthy = healthy_reading(assessment, index);
  if (!healthy) return;
  row.low = finite(healthy->low), row.middle = finite(healthy->middle), row.high = finite(healthy->high);
}

Sheet::Finding finding_row(const Assessment& assessment, const diagnosis::Answer& answer) {
  const auto& finding = assessment.base()[answer.finding];
  Sheet::Finding row;
  row.id = finding.id, row.title = finding.title, row.by = who_words(answer.by);
  row.read = diagnosis::in_words(finding, answer.observed);
  row.healthy = healthy_words(assessment, answer.finding.index);
  if (const auto* seen = std::get_if<diagnosis::Seen>(&answer.observed)) row.judged = seen->state == 0 ? Judged::normal : Judged::abnormal;
  if (const auto* reading = std::get_if<Reading>(&answer.observed)) {
    row.read = std::isfinite(reading->value) ? reading_words(reading->value, *finding.unit) : "over range";
    add_figures(row, assessment, answer.finding.index, *reading);
    judge_reading(row, assessment, answer.finding.index, *reading);
  }
  return row;
}

}  // namespace

bool told(const diagnosis::Answer& answer) {
  return std::holds_alternative<diagnosis::Seen>(answer.observed) || std::holds_alternative<Reading>(answer.observed);
}

std::vector<Sheet::Finding> sheet_findings(const Assessment& assessment) {
  const auto& record = assessment.record();
  const auto complaint = callout::complaint_of(assessment.base(), record);
  const auto first_remedy = record.remedies.empty() ? record.answers.size() : record.remedies.front().after;
  std::vector<Sheet::Finding> rows;
  for (std::size_t i = 0; i < record.answers.size(); ++i) {
    auto row = finding_row(assessment, record.answers[i]);
    row.number = i + 1;
    row.after_remedies = static_cast<std::size_t>(std::count_if(record.remedies.begin(), record.remedies.end(), [&](const auto& done) { return done.after <= i; }));
    row.complaint = i < first_remedy && std::find(complaint.begin(), complaint.end(), record.answers[i]) != complaint.end();
    rows.push_back(std::move(row));
  }
  return rows;
}

std::optional<knowledge::Ref<knowledge::Check>> check_behind(const Assessment& assessment, std::size_t finding) {
  std::optional<knowledge::Ref<knowledge::Check>> best;
  const auto& base = assessment.base();
  for (std::size_t c = 0; c < base.checks.size(); ++c) {
    const auto& check = base.checks[c];
    const bool observes = std::any_of(check.observes.begin(), check.observes.end(), [&](auto f) { return f.index == finding; });
    if (!observes || check.who > assessment.record().role || !assessment.evaluation().holds(check.applies)) continue;
    if (!best || check.effort.minutes < base[*best].effort.minutes) best = knowledge::Ref<knowledge::Check>{c};
  }
  return best;
}

}  // namespace leadline::cli
