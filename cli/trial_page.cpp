#include "cli/trial_page.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/phrases.h"
#include "engine/text/number.h"

namespace leadline::cli {

namespace {

using nlohmann::ordered_json;
using text::format_number;
using trial::Played;

constexpr std::size_t most_worst = 20, most_causes = 10;
constexpr std::size_t enough_calls = 10;  // of a cause: with fewer its share says nothing
constexpr int schema = 1;

const char* policy_title(trial::Policy policy) {
  switch (policy) {
    case trial::Policy::ours: return "fewest expected minutes (ours)";
    case trial::Policy::information: return "most information per minute";
    case trial::Policy::frequency: return "by frequency of cause";
    case trial::Policy::chart: return "by fixed chart order";
  }
  return "";
}

std::string interval_words(const std::optional<trial::Interval>& interval, int decimals, double scale = 1) {
  if (!interval) return "";
  return " (" + format_number(interval->low * scale, decimals) + " to " + format_number(interval->high * scale, decimals) + ")";
}

std::string share_words(const trial::Proportion& counted) {
  const auto share = trial::share(counted);
  return share ? format_number(*share * 100, 1) + " %" + interval_words(trial::wilson(counted), 1, 100) : "none";
}

std::string mean_words(const trial::Estimate& mean, int decimals = 1) { return format_number(mean.value, decimals) + interval_words(mean.interval, decimals); }

void add_calibration(Page& page, const trial::Summary& summary) {
  if (summary.calibration) {
    const auto& line = *summary.calibration;
    page.item("-", "calibration of beliefs: slope " + format_number(line.slope, 3) + interval_words(line.slope_interval, 3) + ", intercept " +
                       format_number(line.intercept, 3) + interval_words(line.intercept_interval, 3));
  }
  if (summary.leader) page.item("-", "calibration of the leading explanation: slope " + format_number(summary.leader->slope, 3) + interval_words(summary.leader->slope_interval, 3));
  if (summary.brier) {
    const auto& parts = *summary.brier;
    page.item("-", "Brier score " + format_number(parts.brier, 4) + " = reliability " + format_number(parts.reliability, 4) + " - resolution " +
                       format_number(parts.resolution, 4) + " + uncertainty " + format_number(parts.uncertainty, 4) + " + within bins " +
                       format_number(parts.within_spread - parts.within_joint_spread, 4));
  }
  if (summary.error) page.item("-", "calibration error " + format_number(summary.error->expected, 4) + " on average, " + format_number(summary.error->worst, 4) + " in the worst bin");
}

void add_policy(Page& page, const TrialResult& result, std::size_t at) {
  const auto summary = trial::summary_of(result.played[at]);
  page.heading(std::string(policy_title(result.plan.policies[at])) + ":");
  page.item("-", "minutes to the end of the job: " + mean_words(summary.minutes));
  page.item("-", "checks " + mean_words(summary.checks, 2) + ", remedies " + mean_words(summary.remedies, 2) + ", dangers met " + mean_words(summary.hazards, 2));
  page.item("-", "proved by the technician: " + share_words(summary.proved));
  page.item("-", "a true explanation first when mending begins: " + share_words(summary.first) + ", among the first three: " + share_words(summary.first_three));
  page.item("-", "first of what it had been, when the job ends: " + share_words(summary.named_first) + ", among the first three: " + share_words(summary.named_first_three));
  add_calibration(page, summary);
}

std::string fared_words(const trial::Fared& fared) {
  return count_words(fared.calls(), "call-out", "call-outs") + ", first " + share_words(fared.first) + ", among the first three " + share_words(fared.first_three) + "; when the job ends " +
         share_words(fared.named_first) + " and " + share_words(fared.named_first_three) + "; proved " + share_words(fared.proved) + ", " + mean_words(fared.minutes, 0) + " min";
}

std::string mistaken_words(const knowledge::KnowledgeBase& base, const trial::FaredByCause::Mistaken& mistaken) {
  return (mistaken.cause ? base[*mistaken.cause].title : "something the book does not list") + " (" + std::to_string(mistaken.times) + ")";
}

void add_breakdown(Page& page, const TrialResult& result) {
  page.heading("By what was wrong, the first policy:");
  for (const auto& [subsystem, fared] : trial::by_subsystem(result.base, result.boats, result.played[0])) {
    page.item("-", (subsystem.empty() ? "not in the book" : subsystem) + ": " + fared_words(fared));
  }
  const auto causes = trial::by_cause(result.base, result.boats, result.played[0], enough_calls);
  if (causes.empty()) return;
  page.heading("The causes that fare worst, of those in " + std::to_string(enough_calls) + " call-outs or more:");
  for (std::size_t i = 0; i < std::min(most_causes, causes.size()); ++i) {
    const auto& [cause, fared, mistaken] = causes[i];
    page.item("-", result.base[cause].title + ": " + fared_words(fared));
    if (!mistaken.empty()) page.line("Most often taken for: " + mistaken_words(result.base, mistaken.front()), 4);
  }
}

std::string truth_words(const TrialResult& result, const Played& played) {
  std::vector<std::string> titles;
  for (const auto cause : played.truth) {
    const auto& ref = result.boats[played.boat].boat.cause_refs[cause];
    titles.push_back(ref ? result.base[*ref].title : "something the book does not list");
  }
  return listed(titles);
}

ordered_json number(double value) { return std::round(value * 1e9) / 1e9; }
ordered_json json_of(const std::optional<trial::Interval>& interval) {
  return interval ? ordered_json{number(interval->low), number(interval->high)} : ordered_json(nullptr);
}
ordered_json json_of(const trial::Estimate& estimate) { return {{"mean", number(estimate.value)}, {"interval", json_of(estimate.interval)}}; }
ordered_json json_of(const trial::Proportion& counted) {
  return {{"successes", counted.successes}, {"trials", counted.trials}, {"interval", json_of(trial::wilson(counted))}};
}
ordered_json json_of(const std::optional<trial::CalibrationLine>& line) {
  if (!line) return nullptr;
  return {{"slope", number(line->slope)}, {"slope_interval", json_of(line->slope_interval)}, {"intercept", number(line->intercept)},
          {"intercept_interval", json_of(line->intercept_interval)}};
}
ordered_json json_of(const std::optional<trial::BrierParts>& parts) {
  if (!parts) return nullptr;
  return {{"brier", number(parts->brier)}, {"reliability", number(parts->reliability)}, {"resolution", number(parts->resolution)},
          {"uncertainty", number(parts->uncertainty)}, {"within_spread", number(parts->within_spread)}, {"within_joint_spread", number(parts->within_joint_spread)}};
}

ordered_json json_of(const trial::Fared& fared) {
  return {{"calls", fared.calls()}, {"first", json_of(fared.first)}, {"first_three", json_of(fared.first_three)},
          {"named_first", json_of(fared.named_first)}, {"named_first_three", json_of(fared.named_first_three)}, {"proved", json_of(fared.proved)}, {"minutes", json_of(fared.minutes)}};
}

ordered_json breakdown_json(const TrialResult& result, std::size_t at) {
  auto subsystems = ordered_json::array(), causes = ordered_json::array();
  for (const auto& [subsystem, fared] : trial::by_subsystem(result.base, result.boats, result.played[at])) {
    subsystems.push_back({{"subsystem", subsystem.empty() ? ordered_json(nullptr) : ordered_json(subsystem)}, {"fared", json_of(fared)}});
  }
  for (const auto& [cause, fared, mistaken] : trial::by_cause(result.base, result.boats, result.played[at], 1)) {
    auto instead = ordered_json::array();
    for (const auto& one : mistaken) instead.push_back({{"cause", one.cause ? ordered_json(result.base[*one.cause].id) : ordered_json(nullptr)}, {"times", one.times}});
    causes.push_back({{"cause", result.base[cause].id}, {"fared", json_of(fared)}, {"mistaken_for", instead}});
  }
  return {{"subsystems", subsystems}, {"causes", causes}};
}

ordered_json policy_json(const TrialResult& result, std::size_t at) {
  const auto summary = trial::summary_of(result.played[at]);
  auto worst = ordered_json::array();
  for (const auto& played : trial::worst_of(result.played[at], most_worst)) {
    worst.push_back({{"number", played.number}, {"minutes", number(played.minutes)}, {"proved", played.proved}, {"truth", truth_words(result, played)}});
  }
  const auto ratio = at == 0 ? std::nullopt : trial::minutes_ratio(result.played[0], result.played[at]);
  return {{"policy", std::string(trial::to_string(result.plan.policies[at]))},
          {"minutes", json_of(summary.minutes)},
          {"checks", json_of(summary.checks)},
          {"remedies", json_of(summary.remedies)},
          {"hazards", json_of(summary.hazards)},
          {"proved", json_of(summary.proved)},
          {"first", json_of(summary.first)},
          {"first_three", json_of(summary.first_three)},
          {"named_first", json_of(summary.named_first)},
          {"named_first_three", json_of(summary.named_first_three)},
          {"calibration", json_of(summary.calibration)},
          {"leader_calibration", json_of(summary.leader)},
          {"brier", json_of(summary.brier)},
          {"calibration_error", summary.error ? ordered_json{{"expected", number(summary.error->expected)}, {"worst", number(summary.error->worst)}} : ordered_json(nullptr)},
          {"minutes_of_the_first_policy_over_these", ratio ? ordered_json{{"ratio", number(ratio->value)}, {"interval", json_of(ratio->interval)}} : ordered_json(nullptr)},
          {"by_what_was_wrong", breakdown_json(result, at)},
          {"worst", worst}};
}

}  // namespace

Page trial_page(const TrialResult& result, std::size_t width) {
  Page page(width);
  page.line(count_words(result.plan.calls, "simulated call-out", "simulated call-outs") + " on " + count_words(result.boats.size(), "drawn boat", "drawn boats") +
            ", seed " + std::to_string(result.plan.seed) + "; in brackets 95 % intervals.");
  for (std::size_t p = 0; p < result.played.size(); ++p) add_policy(page, result, p);
  if (result.played.size() > 1) page.heading(std::string("Minutes of '") + policy_title(result.plan.policies[0]) + "' over those of:");
  for (std::size_t p = 1; p < result.played.size(); ++p) {
    const auto ratio = trial::minutes_ratio(result.played[0], result.played[p]);
    if (ratio) page.item("-", std::string(policy_title(result.plan.policies[p])) + ": " + format_number(ratio->value, 3) + interval_words(ratio->interval, 3));
  }
  add_breakdown(page, result);
  page.heading("The longest, by '" + std::string(policy_title(result.plan.policies[0])) + "' (to see one: leadline trial --seed " + std::to_string(result.plan.seed) + " --boats " +
               std::to_string(result.boats.size()) + " --replay NUMBER):");
  for (const auto& played : trial::worst_of(result.played[0], most_worst)) {
    page.item("-", std::to_string(played.number) + ": " + minutes_words(std::round(played.minutes)) + (played.proved ? ", proved: " : ", called in: ") + truth_words(result, played));
  }
  return page;
}

std::string trial_json(const TrialResult& result) {
  auto policies = ordered_json::array();
  for (std::size_t p = 0; p < result.played.size(); ++p) policies.push_back(policy_json(result, p));
  const ordered_json document{{"schema", schema},   {"seed", result.plan.seed}, {"calls", result.plan.calls}, {"boats", result.boats.size()}, {"policies", policies}};
  return document.dump(2, ' ', true, ordered_json::error_handler_t::replace) + "\n";
}

Page replays_page(const std::vector<trial::Replayed>& replayed, std::size_t width) {
  Page page(width);
  page.line(count_words(replayed.size(), "recorded call-out", "recorded call-outs") + " played again: the complaint first, then what the record can answer, in our order.");
  trial::Proportion first, first_three;
  first.trials = first_three.trials = replayed.size();
  for (const auto& one : replayed) {
    first.successes += one.place == std::optional<std::size_t>(0) ? 1 : 0;
    first_three.successes += one.place && *one.place < 3 ? 1 : 0;
    page.item("-", one.title + ": " + minutes_words(std::round(one.minutes)) + (one.proved ? ", proved" : ", called in") + "; " + std::to_string(one.checks) + " of " +
                       count_words(one.recorded, "recorded check", "recorded checks") + ", " + count_words(one.remedies, "remedy", "remedies") + "; what it was stood " +
                       (one.place ? "in place " + std::to_string(*one.place + 1) : "nowhere") + " when mending began");
  }
  page.line("First: " + share_words(first) + "; among the first three: " + share_words(first_three) + ".");
  return page;
}

std::string replays_json(const std::vector<trial::Replayed>& replayed) {
  auto list = ordered_json::array();
  for (const auto& one : replayed) {
    list.push_back({{"title", one.title}, {"minutes", number(one.minutes)}, {"proved", one.proved}, {"checks", one.checks}, {"recorded_checks", one.recorded},
                    {"remedies", one.remedies}, {"place", one.place ? ordered_json(*one.place + 1) : ordered_json(nullptr)}});
  }
  const ordered_json document{{"schema", schema}, {"recorded", list}};
  return document.dump(2, ' ', true, ordered_json::error_handler_t::replace) + "\n";
}

Page story_page(const knowledge::KnowledgeBase& base, const std::vector<trial::TrialBoat>& boats, const Played& played, trial::Policy policy, std::size_t width) {
  Page page(width);
  const trial::TrialPlan plan{.policies = {policy}};
  page.line("Call-out " + std::to_string(played.number) + ", " + policy_title(policy) + ".");
  page.line("What is wrong: " + truth_words({base, boats, plan, {}}, played));
  page.heading("Stated of the boat:");
  for (const auto& stated : boats[played.boat].stated) page.item("-", stated.path + " " + stated.value);
  page.heading("What was done:");
  for (const auto& line : played.story) page.line(line, 2);
  page.blank().line(std::string(played.proved ? "Proved" : "Somebody else called in") + " after " + minutes_words(std::round(played.minutes)) + ".");
  return page;
}

}  // namespace leadline::cli
