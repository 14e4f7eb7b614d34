#include "engine/diagnosis/explanation.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

#include "engine/diagnosis/search.h"

namespace leadline::diagnosis {

namespace {

constexpr double impossible = -std::numeric_limits<double>::infinity();

void order(std::vector<Explanation>& explanations) {
  std::sort(explanations.begin(), explanations.end(), [](const Explanation& a, const Explanation& b) {
    if (a.probability != b.probability) return a.probability > b.probability;
    if (a.causes.size() != b.causes.size()) return a.causes.size() < b.causes.size();
    return a.causes < b.causes;
  });
}

// Causes at least as believed as the threshold, most believed first: no set above the threshold holds another.
std::vector<std::size_t> candidates_for(const std::vector<double>& belief, double least) {
  std::vector<std::size_t> candidates;
  for (std::size_t i = 0; i < belief.size(); ++i) {
    if (belief[i] >= least) candidates.push_back(i);
  }
  std::stable_sort(candidates.begin(), candidates.end(), [&](auto a, auto b) { return belief[a] > belief[b]; });
  return candidates;
}

void list_explanations(Diagnosis& result, const Search& search, double total) {
  for (const auto& found : search.sets) {
    auto causes = found.causes;
    std::sort(causes.begin(), causes.end());
    result.explanations.push_back({std::move(causes), found.weight / total});
  }
  order(result.explanations);
}

double listed_mass(const Diagnosis& result) {
  double mass = 0;
  for (auto at = result.explanations.rbegin(); at != result.explanations.rend(); ++at) mass += at->probability;  // small ones first
  return mass;
}

Diagnosis prepared(const Model& model) {
  Diagnosis result;
  result.belief.assign(model.causes.size(), 0.0);
  result.log_evidence = impossible;
  return result;
}

// All causes, those with the best odds first.
std::vector<std::size_t> by_odds(const Odds& odds) {
  std::vector<std::size_t> all(odds.later.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  std::stable_sort(all.begin(), all.end(), [&](auto a, auto b) { return odds.first[a] > odds.first[b]; });
  return all;
}

// Some findings did not fit the table: the sets that matter are searched under an upper bound, beliefs come from them.
Diagnosis bounded(const Model& model, const Evidence& evidence, const Reach& reach, const ExplainOptions& options) {
  Diagnosis result = prepared(model);
  result.exact = false;
  const auto odds = odds_of(reach.odds, model.something_is_wrong);
  const auto all = by_odds(odds);
  const auto heaviest_single = heaviest_sets(model, evidence, reach, odds, all, {0, 1, 1, options.most_search_work});
  const double best = heaviest_single.sets.empty() ? 0 : heaviest_single.sets.front().weight;
  const auto search = heaviest_sets(model, evidence, reach, odds, all, {best * options.least_probability, options.most_explanations, any_size, options.most_search_work});
  double total = 0;
  for (const auto& found : search.sets) total += found.weight;
  result.unlisted_mass = 1;
  if (!(total > 0)) return result;
  for (const auto& found : search.sets) {
    for (const auto cause : found.causes) result.belief[cause] += found.weight / total;
  }
  result.log_evidence = log_evidence_of(model, reach, odds, total);
  list_explanations(result, search, total);
  result.unlisted_mass = search.passed_over / (total + search.passed_over);
  return result;
}

void check(const Model& model, const Evidence& evidence, const ExplainOptions& options) {
  if (const auto why = why_invalid(options); !why.empty()) throw std::invalid_argument(why);
  for (std::size_t o = 0; o < evidence.size(); ++o) {
    const bool known = evidence[o].finding < model.findings.size();
    if (!known || evidence[o].likelihood.size() != model.findings[evidence[o].finding].leak_at_most.size()) throw std::invalid_argument("an observation that does not fit its finding");
    if (o > 0 && evidence[o - 1].finding >= evidence[o].finding) throw std::invalid_argument("observations must ascend by finding");
  }
}

// Beliefs, and the list of explanations when it is wanted.
Diagnosis judged(const Model& model, const Evidence& evidence, const ExplainOptions& options, bool with_list) {
  check(model, evidence, options);
  const auto reach = reach_of(model, evidence, options.most_table_states);
  if (!reach.sides.empty()) return bounded(model, evidence, reach, options);
  Diagnosis result = prepared(model);
  const auto odds = odds_of(reach.odds, model.something_is_wrong);
  const double total = total_and_beliefs(model, reach, odds, result.belief);
  result.unlisted_mass = 1;
  if (!(total > 0)) return result;
  result.log_evidence = log_evidence_of(model, reach, odds, total);
  if (!with_list) return result;
  const SearchOptions search{total * options.least_probability, options.most_explanations, any_size, options.most_search_work};
  const auto candidates = candidates_for(result.belief, options.least_probability);
  list_explanations(result, heaviest_sets(model, evidence, reach, odds, candidates, search), total);
  result.unlisted_mass = std::max(0.0, 1 - listed_mass(result));
  return result;
}

}  // namespace

std::string why_invalid(const ExplainOptions& options) {
  if (!(options.least_probability > 0 && options.least_probability < 1)) return "least_probability must lie between 0 and 1";
  if (options.most_explanations == 0) return "most_explanations must be at least 1";
  if (options.most_search_work == 0) return "most_search_work must be at least 1";
  if (options.most_table_states == 0) return "most_table_states must be at least 1";
  return "";
}

Diagnosis beliefs(const Model& model, const Evidence& evidence, const ExplainOptions& options) {
  return judged(model, evidence, options, false);
}

Diagnosis diagnose(const Model& model, const Evidence& evidence, const ExplainOptions& options) {
  return judged(model, evidence, options, true);
}

std::vector<double> distribution_under(const Model& model, std::size_t finding, const std::vector<std::size_t>& causes) {
  auto at_most = model.findings[finding].leak_at_most;
  for (const auto cause : causes) {
    const auto& pushes = model.causes[cause].pushes;
    const auto push = std::lower_bound(pushes.begin(), pushes.end(), finding, [](const Push& p, std::size_t f) { return p.finding < f; });
    if (push == pushes.end() || push->finding != finding) continue;
    for (std::size_t s = 0; s < at_most.size(); ++s) at_most[s] *= push->at_most[s];
  }
  for (std::size_t s = at_most.size(); s-- > 1;) at_most[s] -= at_most[s - 1];
  return at_most;
}

double likelihood_under(const Model& model, const Observation& observation, const std::vector<std::size_t>& causes) {
  const auto distribution = distribution_under(model, observation.finding, causes);
  return std::inner_product(distribution.begin(), distribution.end(), observation.likelihood.begin(), 0.0);
}

}  // namespace leadline::diagnosis
