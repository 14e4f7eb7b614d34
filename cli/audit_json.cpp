// Beside rank_json.cpp, review_json.cpp and trial_page.cpp the only file that includes the JSON library.
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/audit_page.h"

namespace leadline::cli {

namespace {

using knowledge::KnowledgeBase;
using nlohmann::ordered_json;

constexpr int schema = 1;

// Rounded: the same bytes from every compiler.
ordered_json number(double value) { return std::round(value * 1e6) / 1e6; }

ordered_json place_json(const text::Place& place) { return {{"file", place.file}, {"line", place.line}, {"column", place.column}}; }

ordered_json remark_json(const audit::Remark& remark) {
  ordered_json json{{"rule", remark.rule}};
  json.update(place_json(remark.place));
  json["what"] = remark.what;
  json["way_out"] = remark.way_out;
  return json;
}

ordered_json pairs_json(const KnowledgeBase& base, const audit::Separability& found) {
  auto pairs = ordered_json::array();
  for (const auto& pair : found.pairs) {
    pairs.push_back({{"a", base.causes[pair.a].id}, {"b", base.causes[pair.b].id}, {"check", pair.check ? ordered_json(base.checks[*pair.check].id) : ordered_json(nullptr)},
                     {"weight_db", number(pair.best)}, {"all_checks_db", number(pair.all)}});
  }
  return pairs;
}

ordered_json groups_json(const KnowledgeBase& base, const audit::Separability& found) {
  auto groups = ordered_json::array();
  for (const auto& group : found.groups) {
    auto causes = ordered_json::array();
    for (const auto cause : group.causes) causes.push_back(base.causes[cause].id);
    groups.push_back({{"causes", causes}, {"remedy", group.remedy ? ordered_json(base.remedies[*group.remedy].id) : ordered_json(nullptr)}});
  }
  return groups;
}

ordered_json testability_json(const audit::Report& report) {
  ordered_json all;
  const char* who[] = {"owner", "technician", "specialist"};
  for (std::size_t w = 0; w < report.testability.size(); ++w) {
    const auto& one = report.testability[w];
    auto isolated = ordered_json::array(), by_count = ordered_json::array();
    for (const double share : one.isolated) isolated.push_back(number(share));
    for (const double share : one.isolated_by_count) by_count.push_back(number(share));
    all[who[w]] = {{"detected", number(one.detected)}, {"detected_by_count", number(one.detected_by_count)}, {"isolated", isolated}, {"isolated_by_count", by_count}, {"mean_group", number(one.mean_group)}};
  }
  return all;
}

ordered_json jobs_json(const KnowledgeBase& base, const audit::Report& report) {
  auto jobs = ordered_json::array();
  for (const auto& job : report.jobs) {
    jobs.push_back({{"cause", base.causes[job.cause].id}, {"called", job.called}, {"minutes", number(job.minutes)}, {"checks", job.checks}, {"remedies", job.remedies}, {"mended", job.mended}});
  }
  return jobs;
}

ordered_json unconfirmed_json(const KnowledgeBase& base, const audit::Report& report) {
  auto all = ordered_json::array();
  for (const auto& one : report.unconfirmed) {
    ordered_json json{{"finding", base.findings[one.finding].id}};
    json.update(place_json(base.findings[one.finding].place));
    json["measured"] = one.measured;
    json["rules"] = one.rules;
    all.push_back(json);
  }
  return all;
}

ordered_json sensitivity_json(const audit::Report& report, const std::vector<std::string>& titles) {
  auto decisive = ordered_json::array();
  for (const auto& one : report.sensitivity.decisive) {
    auto json = place_json(one.place);
    json.update(ordered_json{{"what", one.what}, {"moved", one.up ? "up" : "down"}, {"callout", titles[one.record]}, {"now", one.now}, {"then", one.then}});
    decisive.push_back(json);
  }
  return {{"callouts", titles.size()}, {"numbers", report.sensitivity.numbers}, {"decisive", decisive}};
}

ordered_json report_json(const KnowledgeBase& base, const audit::Report& report, const std::vector<std::string>& titles) {
  const auto& apart = report.separability;
  return {{"boats", report.boats},
          {"pairs", pairs_json(base, apart)},
          {"pairs_never_together", apart.never_together},
          {"pairs_not_judged", apart.not_judged},
          {"groups", groups_json(base, apart)},
          {"testability", testability_json(report)},
          {"jobs", jobs_json(base, report)},
          {"electrical_rules", report.electrical_rules},
          {"unconfirmed", unconfirmed_json(base, report)},
          {"sensitivity", sensitivity_json(report, titles)}};
}

}  // namespace

std::string audit_json(const audit::Audited& audited, const audit::Report* report, const std::vector<std::string>& titles) {
  auto remarks = ordered_json::array();
  for (const auto& remark : audited.remarks) remarks.push_back(remark_json(remark));
  ordered_json document{{"schema", schema}, {"readable", audited.base.has_value()}, {"remarks", remarks}};
  if (report != nullptr) document["report"] = report_json(*audited.base, *report, titles);
  return document.dump(2, ' ', true, ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace leadline::cli
