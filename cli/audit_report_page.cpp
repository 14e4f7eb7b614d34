// How far the book carries, as text.
#include <algorithm>
#include <cmath>

#include "cli/audit_page.h"
#include "cli/phrases.h"
#include "engine/text/number.h"

namespace leadline::cli {

namespace {

using audit::Report;
using knowledge::KnowledgeBase;

constexpr std::size_t most_pairs = 20, most_jobs = 20, most_decisive = 40;
const std::string no_break = "\u00A0";

std::string decimals(double value, int places) { return text::format_number(value, places); }
std::string weight_words(double weight) { return decimals(weight, 1) + no_break + "dB"; }

// A share in whole per cent, with one decimal below 10.
std::string share(double value) { return decimals(100 * value, 0) + no_break + "%"; }

double quantile(const std::vector<double>& ascending, double at) {
  return ascending.empty() ? 0 : ascending[static_cast<std::size_t>(at * static_cast<double>(ascending.size() - 1))];
}

void add_pairs(Page& page, const KnowledgeBase& base, const Report& report) {
  const auto& pairs = report.separability.pairs;
  std::vector<double> weights;
  for (const auto& pair : pairs) weights.push_back(pair.best);
  std::sort(weights.begin(), weights.end());
  const auto weak = std::lower_bound(weights.begin(), weights.end(), audit::hardly) - weights.begin();
  page.heading("What tells causes apart, one alone against another alone (decibans expected of the best single check, whichever of the two is true):");
  page.item("-", std::to_string(pairs.size()) + " pairs judged on " + count_words(report.boats, "sample boat", "sample boats") + "; " + std::to_string(report.separability.never_together) +
                     " that no boat can have both of; " + std::to_string(report.separability.not_judged) + " that no sample boat has both of");
  page.item("-", "a tenth of the pairs below " + weight_words(quantile(weights, 0.1)) + ", half below " + weight_words(quantile(weights, 0.5)) + "; below " + weight_words(audit::hardly) +
                     " (odds of 2 to 1): " + std::to_string(weak));
  auto hardest = pairs;
  std::stable_sort(hardest.begin(), hardest.end(), [](const auto& a, const auto& b) { return a.best < b.best; });
  if (hardest.size() > most_pairs) hardest.resize(most_pairs);
  page.heading("Hardest to tell apart:");
  for (const auto& pair : hardest) {
    page.item("-", base.causes[pair.a].id + " and " + base.causes[pair.b].id + ": " + weight_words(pair.best) + (pair.check ? " by " + base.checks[*pair.check].id : "") + ", all checks together " +
                       weight_words(pair.all));
  }
}

void add_groups(Page& page, const KnowledgeBase& base, const Report& report) {
  page.heading("Groups that even all checks together hardly tell apart (below " + weight_words(audit::hardly) + "):");
  if (report.separability.groups.empty()) page.line("none", 2);
  for (const auto& group : report.separability.groups) {
    std::vector<std::string> ids;
    for (const auto cause : group.causes) ids.push_back(base.causes[cause].id);
    page.item("-", listed(ids) + (group.remedy ? ": one remedy mends them all, " + base.remedies[*group.remedy].id : ": no one remedy mends them all"));
  }
}

void add_testability(Page& page, const Report& report) {
  page.heading("Fault detection and isolation on the usual boat, each cause in its likeliest course (the measures of testability standards, from memory):");
  const char* who[] = {"what an owner may check", "and a technician", "and a specialist"};
  for (std::size_t w = 0; w < report.testability.size(); ++w) {
    const auto& one = report.testability[w];
    page.item("-", std::string(who[w]) + ": detected " + share(one.detected) + " by frequency, " + share(one.detected_by_count) + " of causes; of the detected isolated to one cause " +
                       share(one.isolated[0]) + " by frequency, " + share(one.isolated_by_count[0]) + " of causes, to two or fewer " + share(one.isolated[1]) + ", to three or fewer " +
                       share(one.isolated[2]) + "; mean group " + decimals(one.mean_group, 2));
  }
}

void add_jobs(Page& page, const KnowledgeBase& base, const Report& report) {
  double minutes = 0, weight = 0;
  std::size_t called_in = 0, silent = 0;
  for (const auto& job : report.jobs) {
    if (!job.called) ++silent;
    else minutes += job.minutes * base.causes[job.cause].per_thousand, weight += base.causes[job.cause].per_thousand;
    called_in += job.called && !job.mended ? 1 : 0;
  }
  page.heading("A typical call-out for each cause (a technician; every answer the likeliest one, so no mean):");
  page.item("-", std::to_string(report.jobs.size() - silent) + " causes, " + minutes_words(std::round(weight > 0 ? minutes / weight : 0)) + " by frequency; " + std::to_string(called_in) +
                     " end by calling somebody in; " + std::to_string(silent) + " that nobody would call for");
  auto longest = report.jobs;
  std::stable_sort(longest.begin(), longest.end(), [](const auto& a, const auto& b) { return a.minutes > b.minutes; });
  if (longest.size() > most_jobs) longest.resize(most_jobs);
  for (const auto& job : longest) {
    page.item("-", base.causes[job.cause].id + ": " + minutes_words(std::round(job.minutes)) + (job.mended ? "" : ", called in") + "; " + count_words(job.checks, "check", "checks") + ", " +
                       count_words(job.remedies, "remedy", "remedies"));
  }
}

void add_unconfirmed(Page& page, const KnowledgeBase& base, const Report& report) {
  std::size_t rules = 0;
  for (const auto& one : report.unconfirmed) rules += one.rules;
  page.heading("Electrical rules that no circuit confirms: " + std::to_string(rules) + " of " + std::to_string(report.electrical_rules) + ":");
  for (const auto& one : report.unconfirmed) {
    const auto& finding = base.findings[one.finding];
    page.item("-", to_string(finding.place) + ": " + finding.id + ", " + count_words(one.rules, "rule", "rules") + (one.measured ? " of causes without an effect on its circuit" : ": no <measure>"));
  }
}

void add_sensitivity(Page& page, const Report& report, const std::vector<std::string>& titles) {
  if (titles.empty()) return;
  const auto& found = report.sensitivity;
  page.heading("Numbers that decide: moved by a tenth, another explanation leads in a recorded call-out (" + std::to_string(found.decisive.size()) + " of " + std::to_string(2 * found.numbers) +
               " moves in " + count_words(titles.size(), "call-out", "call-outs") + "):");
  for (std::size_t d = 0; d < std::min(found.decisive.size(), most_decisive); ++d) {
    const auto& one = found.decisive[d];
    page.item("-", to_string(one.place) + ": " + one.what + (one.up ? ", a tenth up" : ", a tenth down") + ", in '" + titles[one.record] + "': " + one.then + " in place of " + one.now);
  }
  if (found.decisive.size() > most_decisive) page.line("and " + std::to_string(found.decisive.size() - most_decisive) + " more (--json)", 2);
}

}  // namespace

Page audit_report_page(const KnowledgeBase& base, const Report& report, const std::vector<std::string>& titles, std::size_t width) {
  Page page(width);
  add_pairs(page, base, report);
  add_groups(page, base, report);
  add_testability(page, report);
  add_jobs(page, base, report);
  add_unconfirmed(page, base, report);
  add_sensitivity(page, report, titles);
  return page;
}

}  // namespace leadline::cli
