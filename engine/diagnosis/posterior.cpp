// Beliefs of all causes in one pass forward and one backward over the table. Derivation: docs/mathematics.md § all sets at once.
// Tested by tests/diagnosis/explanation_test.cpp against the definition.
#include <algorithm>
#include <cmath>

#include "engine/diagnosis/odds.h"
#include "engine/diagnosis/reach_table.h"
#include "engine/diagnosis/search.h"

namespace leadline::diagnosis {

Odds odds_of(const std::vector<double>& log_odds, bool something_is_wrong) {
  Odds odds;
  if (something_is_wrong && !log_odds.empty()) odds.shift = *std::max_element(log_odds.begin(), log_odds.end());
  for (const double log : log_odds) {
    odds.first.push_back(something_is_wrong ? std::exp(log - odds.shift) : 0.0);
    odds.later.push_back(std::exp(log));
  }
  return odds;
}

namespace {

using Table = std::vector<double>;

// sum <- sum + factor * term, without a copy of either.
void add_scaled(Table& sum, double factor, const Table& term) {
  for (std::size_t at = 0; at < sum.size(); ++at) sum[at] += factor * term[at];
}

struct Split {
  std::vector<std::size_t> apart;   // causes without an axis: they multiply the whole table, so a number serves for them
  std::vector<std::size_t> linked;
};

Split split_causes(const Reach& reach) {
  Split split;
  for (std::size_t i = 0; i < reach.pushes.size(); ++i) (reach.pushes[i].empty() ? split.apart : split.linked).push_back(i);
  return split;
}

// after[k][state]: what all sets of the linked causes from k on make of a table that has reached this state.
std::vector<Table> tables_after(const Reach& reach, const std::vector<std::size_t>& linked, const Odds& odds) {
  std::vector<Table> after(linked.size() + 1);
  after.back() = reach.finish;
  for (std::size_t k = linked.size(); k-- > 0;) {
    after[k] = after[k + 1];
    push_backward(reach, reach.pushes[linked[k]], after[k]);
    for (std::size_t at = 0; at < reach.states; ++at) after[k][at] = after[k + 1][at] + odds.later[linked[k]] * after[k][at];
  }
  return after;
}

// The causes apart go first. Returns the weight of their sets (first-scaled), fills their numerators.
double pass_apart(const std::vector<std::size_t>& apart, const Odds& odds, bool something_is_wrong, double linked_sets, std::vector<double>& numerator) {
  std::vector<double> suffix(apart.size() + 1, linked_sets);
  for (std::size_t k = apart.size(); k-- > 0;) suffix[k] = suffix[k + 1] * (1 + odds.later[apart[k]]);
  double sets = something_is_wrong ? 0 : 1;
  for (std::size_t k = 0; k < apart.size(); ++k) {
    const double with = odds.later[apart[k]] * sets + odds.first[apart[k]];
    numerator[apart[k]] = with * suffix[k + 1];
    sets += with;
  }
  return sets;
}

// log P(no cause at all), and log P(at least one).
struct Calm {
  double none, some;
};

Calm calm_of(const Model& model) {
  double none = 0;
  for (const auto& cause : model.causes) none += std::log1p(-cause.prior);
  return {none, std::log(-std::expm1(none))};
}

}  // namespace

double total_and_beliefs(const Model& model, const Reach& reach, std::vector<double>& belief) {
  belief.assign(model.causes.size(), 0.0);
  const auto odds = odds_of(reach.log_odds, model.something_is_wrong);
  if (!std::isfinite(odds.shift)) return 0;  // every cause is ruled out
  const auto split = split_causes(reach);
  const auto after = tables_after(reach, split.linked, odds);
  const double sets = pass_apart(split.apart, odds, model.something_is_wrong, dot(reach.start, after.front()), belief);
  Table reached = reach.start, with;
  for (auto& weight : reached) weight *= sets;
  for (std::size_t k = 0; k < split.linked.size(); ++k) {
    const auto cause = split.linked[k];
    with.assign(reach.states, 0.0);
    add_scaled(with, odds.later[cause], reached);
    add_scaled(with, odds.first[cause], reach.start);
    push_forward(reach, reach.pushes[cause], with);
    belief[cause] = dot(with, after[k + 1]);
    add_scaled(reached, 1.0, with);
  }
  const double total = dot(reached, reach.finish);
  for (auto& b : belief) b = total > 0 ? b / total : 0;
  return total;
}

double log_evidence_of(const Model& model, const Reach& reach, double total) {
  const auto odds = odds_of(reach.log_odds, model.something_is_wrong);
  const auto calm = calm_of(model);
  return std::log(total) + odds.shift + reach.log_constant + calm.none - (model.something_is_wrong ? calm.some : 0);
}

}  // namespace leadline::diagnosis
