#include "engine/diagnosis/explanation.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

#include "engine/diagnosis/joint.h"

namespace leadline::diagnosis {

namespace {

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
  const auto heaviest_single = heaviest_sets(model, evidence, reach, odds, all, {0, 1, 1, options.most_search_work, !model.something_is_wrong});
  const double best = heaviest_single.sets.empty() ? 0 : heaviest_single.sets.front().weight;
  const auto search = heaviest_sets(model, evidence, reach, odds, all, {best * options.least_probability, options.most_explanations, any_size, options.most_search_work, !model.something_is_wrong});
  double total = 0;
  for (const auto& found : search.sets) total += found.weight;
  if (!(total > 0)) return result;
  for (const auto& found : search.sets) {
    for (const auto cause : found.causes) result.belief[cause] += found.weight / total;
  }
  result.log_evidence = log_evidence_of(model, reach, odds, total);
  add_explanations(result, search, total, {});
  order_explanations(result, options.most_explanations);
  result.unlisted_mass = search.passed_over / (total + search.passed_over);
  return result;
}

void check(const Model& model, const Evidence& evidence, const ExplainOptions& options) {
  if (const auto why = why_invalid(options); !why.empty()) throw std::invalid_argument(why);
  if (const auto why = why_invalid(model, evidence); !why.empty()) throw std::invalid_argument(why);
}

Diagnosis judged_plainly(const Model& model, const Evidence& evidence, const Reach& reach, const ExplainOptions& options, bool with_list) {
  Diagnosis result = prepared(model);
  const auto odds = odds_of(reach.odds, model.something_is_wrong);
  const double total = total_and_beliefs(reach, odds, !model.something_is_wrong, result.belief);
  if (!(total > 0)) return result;
  result.log_evidence = log_evidence_of(model, reach, odds, total);
  if (!with_list) return result;
  const SearchOptions search{total * options.least_probability, options.most_explanations, any_size, options.most_search_work, !model.something_is_wrong};
  const auto candidates = candidates_for(result.belief, options.least_probability);
  add_explanations(result, heaviest_sets(model, evidence, reach, odds, candidates, search), total, {});
  order_explanations(result, options.most_explanations);
  return result;
}

// Beliefs, and the list of explanations when it is wanted. Readings tied to circuits are judged by their density, unless the other answers are
// too many and too soft for the table: then all are judged by their states.
Diagnosis judged(const Model& model, const Evidence& evidence, const ExplainOptions& options, bool with_list) {
  check(model, evidence, options);
  const TiedReadings tied(model, evidence);
  if (!tied.empty()) {
    const auto plain = plain_part(evidence);
    const auto reach = reach_of(model, plain, options.most_table_states);
    if (reach.sides.empty()) {
      auto result = judged_together(model, plain, tied, reach, options, with_list);
      result.tied = tied_part(evidence);
      return result;
    }
  }
  const auto reach = reach_of(model, evidence, options.most_table_states);
  if (!reach.sides.empty()) return bounded(model, evidence, reach, options);
  return judged_plainly(model, evidence, reach, options, with_list);
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
    const auto* push = push_on(model.causes[cause], finding);
    if (push == nullptr) continue;
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
