// Beliefs of all causes in one pass forward and one backward over the table. Derivation: docs/mathematics.md § all sets at once.
// Tested by tests/diagnosis/explanation_test.cpp against the definition.
#include <algorithm>
#include <cmath>

#include "engine/diagnosis/search.h"

namespace leadline::diagnosis {

namespace {

struct Split {
  std::vector<std::size_t> apart;   // causes without an axis: they multiply the whole table, so a number serves for them
  std::vector<std::size_t> linked;
};

Split split_causes(const Reach& reach) {
  Split split;
  for (std::size_t i = 0; i < reach.odds.size(); ++i) (reach.pushes_of(i).empty() ? split.apart : split.linked).push_back(i);
  return split;
}

// The causes apart go first. Returns the weight of their sets (first-scaled), fills their numerators.
double pass_apart(const std::vector<std::size_t>& apart, const Odds& odds, bool empty_counts, double linked_sets, std::vector<double>& numerator) {
  std::vector<double> suffix(apart.size() + 1, linked_sets);
  for (std::size_t k = apart.size(); k-- > 0;) suffix[k] = suffix[k + 1] * (1 + odds.later[apart[k]]);
  double sets = empty_counts ? 1 : 0;
  for (std::size_t k = 0; k < apart.size(); ++k) {
    const double with = odds.later[apart[k]] * sets + odds.first[apart[k]];
    numerator[apart[k]] = with * suffix[k + 1];
    sets += with;
  }
  return sets;
}

// The linked causes: `reached` holds the sets seen so far, starting with those of the causes apart. Returns the sum over all sets.
double pass_linked(const Reach& reach, const std::vector<std::size_t>& linked, const Odds& odds, double sets_apart, const std::vector<double>& after,
                   std::vector<double>& numerator) {
  const auto n = reach.states;
  Table reached(n), with(n);
  for (std::size_t at = 0; at < n; ++at) reached[at] = sets_apart * reach.start[at];
  for (std::size_t k = 0; k < linked.size(); ++k) {
    const double later = odds.later[linked[k]], first = odds.first[linked[k]];
    for (std::size_t at = 0; at < n; ++at) with[at] = later * reached[at] + first * reach.start[at];
    push_forward(reach, linked[k], with);
    numerator[linked[k]] = dot(with, std::span(after.data() + (k + 1) * n, n));
    for (std::size_t at = 0; at < n; ++at) reached[at] += with[at];
  }
  return dot(reached, reach.finish);
}

// log P(no cause at all), and log P(at least one).
struct Calm {
  double none, some;
};

Calm calm_of(const Model& model) {
  double log_none = 0, none = 1;
  for (const auto& cause : model.causes) {
    none *= 1 - cause.prior;
    if (none < 1e-200) log_none += std::log(none), none = 1;
  }
  log_none += std::log(none);
  return {log_none, std::log(-std::expm1(log_none))};
}

}  // namespace

double total_and_beliefs(const Reach& reach, const Odds& odds, bool empty_counts, std::vector<double>& belief) {
  belief.assign(reach.odds.size(), 0.0);
  if (!odds.any && !empty_counts) return 0;  // every cause is ruled out
  const auto split = split_causes(reach);
  const auto after = tables_after(reach, split.linked, odds);
  const double linked_sets = dot(reach.start, std::span(after.data(), reach.states));
  const double sets_apart = pass_apart(split.apart, odds, empty_counts, linked_sets, belief);
  const double total = pass_linked(reach, split.linked, odds, sets_apart, after, belief);
  for (auto& b : belief) b = total > 0 ? b / total : 0;
  return total;
}

Table reached_by_all(const Reach& reach, const Odds& odds) {
  const auto split = split_causes(reach);
  double apart = 1;
  for (const auto cause : split.apart) apart *= 1 + odds.later[cause];
  Table reached(reach.start);
  for (auto& weight : reached) weight *= apart;
  for (const auto cause : split.linked) {
    Table with(reached);
    for (auto& weight : with) weight *= odds.later[cause];
    push_forward(reach, cause, with);
    for (std::size_t at = 0; at < reached.size(); ++at) reached[at] += with[at];
  }
  return reached;
}

double log_evidence_of(const Model& model, const Reach& reach, const Odds& odds, double total) {
  const auto calm = calm_of(model);
  const double scale = 512 * odds.blocks * std::log(2.0);
  return std::log(total) + scale + reach.log_constant + calm.none - (model.something_is_wrong ? calm.some : 0);
}

}  // namespace leadline::diagnosis
