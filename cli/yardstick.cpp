#include "cli/yardstick.h"

#include <algorithm>
#include <cmath>

#include "cli/phrases.h"
#include "engine/audit/boat_search.h"

namespace leadline::cli {

namespace {

using diagnosis::Model;
using knowledge::Cause;
using knowledge::Check;
using knowledge::Finding;
using knowledge::KnowledgeBase;
using knowledge::Ref;

constexpr double says_little = 1;      // decibans; less does not help
constexpr double worth_a_word = 0.05;  // a computed chance below it is noise of the sizes
constexpr double least_chance = 1e-6;

// How the finding is distributed with one cause alone, the leak included.
std::vector<double> distribution(const diagnosis::ModelFinding& finding, const std::vector<double>* at_most) {
  std::vector<double> chances;
  double below = 0;
  for (std::size_t s = 0; s < finding.leak_at_most.size(); ++s) {
    const double here = finding.leak_at_most[s] * (at_most != nullptr ? (*at_most)[s] : 1);
    chances.push_back(std::max(least_chance, here - below));
    below = here;
  }
  return chances;
}

std::vector<double> distribution(const Model& model, std::size_t cause, std::size_t finding) {
  const auto* push = diagnosis::push_on(model.causes[cause], finding);
  return distribution(model.findings[finding], push != nullptr ? &push->at_most : nullptr);
}

std::optional<std::size_t> in_model(const Yardstick& yardstick, Ref<Cause> cause) {
  const auto& refs = yardstick.boat.cause_refs;
  const auto found = std::find(refs.begin(), refs.end(), std::optional(cause));
  return found == refs.end() ? std::nullopt : std::optional(static_cast<std::size_t>(found - refs.begin()));
}

// A cause that cannot be in the yardstick's boat speaks by its written rules.
std::vector<double> distribution_of(const KnowledgeBase& base, const Yardstick& yardstick, Ref<Cause> cause, std::size_t finding) {
  if (const auto index = in_model(yardstick, cause)) return distribution(yardstick.boat.model, *index, finding);
  std::vector<double> chances(base.findings[finding].states.size(), 0.0);
  for (const auto& rule : base[cause].rules) {
    if (rule.finding.index == finding) chances[rule.state] = std::max(chances[rule.state], rule.chance);
  }
  std::vector<double> at_most(chances.size(), 1.0);
  for (std::size_t s = chances.size() - 1; s-- > 0;) at_most[s] = std::max(0.0, at_most[s + 1] - chances[s + 1]);
  return distribution(yardstick.boat.model.findings[finding], &at_most);
}

// How it is distributed in a call-out that is something else.
std::vector<double> distribution_otherwise(const Yardstick& yardstick, Ref<Cause> cause, std::size_t finding) {
  const auto& model = yardstick.boat.model;
  const auto self = in_model(yardstick, cause);
  std::vector<double> mixed(model.findings[finding].leak_at_most.size(), 0.0);
  double priors = 0;
  for (std::size_t i = 0; i < model.causes.size(); ++i) {
    if (self && *self == i) continue;
    const auto chances = distribution(model, i, finding);
    for (std::size_t s = 0; s < mixed.size(); ++s) mixed[s] += model.causes[i].prior * chances[s];
    priors += model.causes[i].prior;
  }
  for (auto& chance : mixed) chance /= priors;
  return mixed;
}

// Expected weight of evidence, in decibans: sum of p log10(p / q) times ten.
double expected_weight(const std::vector<double>& p, const std::vector<double>& q) {
  double weight = 0;
  for (std::size_t s = 0; s < p.size(); ++s) weight += 10 * p[s] * std::log10(p[s] / q[s]);
  return weight;
}

bool ascend(const std::vector<double>& limits) {
  return std::all_of(limits.begin(), limits.end(), [](double x) { return std::isfinite(x); }) && std::is_sorted(limits.begin(), limits.end());
}

// Findings that the circuit computes for this cause in the yardstick's boat.
bool computed(const Yardstick& yardstick, Ref<Cause> cause, std::size_t finding) {
  const auto& expectation = *yardstick.boat.expectation;
  const auto tie = yardstick.boat.finding_applies[finding] && in_model(yardstick, cause) ? expectation.tie_of(finding) : std::nullopt;
  return tie && expectation.governs(cause.index, tie->circuit);
}

void add_computed(std::vector<Sign>& signs, const KnowledgeBase& base, const Yardstick& yardstick, Ref<Cause> cause) {
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    if (!computed(yardstick, cause, j)) continue;
    const auto& expectation = *yardstick.boat.expectation;
    const auto chances = diagnosis::computed_chances(base.findings[j], expectation, *expectation.tie_of(j), cause.index, yardstick.boat.band_limits[j]);
    for (std::size_t s = 1; s < chances.size(); ++s) {
      if (chances[s] >= worth_a_word) signs.push_back({{j}, s, chances[s], nullptr});
    }
  }
}

template <class Weigh>
std::optional<Telling> best_finding(Ref<Check> ref, const Check& check, const Weigh& weigh) {
  std::optional<Telling> best;
  for (const auto finding : check.observes) {
    const double weight = weigh(finding.index);
    if (weight >= says_little && (!best || weight > best->weight)) best = Telling{ref, finding, weight};
  }
  return best;
}

template <class Weigh>
std::vector<Telling> by_weight(const KnowledgeBase& base, const Yardstick& yardstick, const Weigh& weigh) {
  std::vector<Telling> telling;
  for (std::size_t c = 0; c < base.checks.size(); ++c) {
    if (yardstick.given && !yardstick.evaluation.holds(base.checks[c].applies)) continue;
    if (const auto best = best_finding({c}, base.checks[c], weigh)) telling.push_back(*best);
  }
  std::stable_sort(telling.begin(), telling.end(), [](const auto& a, const auto& b) { return a.weight > b.weight; });
  return telling;
}

}  // namespace

Yardstick yardstick_for(const KnowledgeBase& base, const std::optional<installation::Installation>& given) {
  installation::Evaluation evaluation(base, given ? *given : installation::make_installation(base, {}));
  auto boat = diagnosis::build_model(base, evaluation);
  return {std::move(evaluation), std::move(boat), given.has_value()};
}

Yardstick yardstick_for(const KnowledgeBase& base, const std::optional<installation::Installation>& given, const std::vector<Ref<Cause>>& causes) {
  if (given) return yardstick_for(base, given);
  audit::Conditions conditions;
  for (const auto cause : causes) {
    if (base[cause].applies) conditions.push_back(&*base[cause].applies);
  }
  const audit::BoatSearch search(base);  // the usual boat is the first it tries
  const auto* boat = search.where(conditions);
  auto yardstick = yardstick_for(base, boat != nullptr ? std::optional(boat->installation()) : std::nullopt);
  yardstick.given = false;
  return yardstick;
}

std::string limit_words(const Finding& finding, const std::vector<double>& limits, std::size_t state) {
  if (!finding.is_reading() || limits.size() + 1 != finding.bands.size() || !ascend(limits)) return "";
  const auto band = static_cast<std::size_t>(std::find(finding.bands.begin(), finding.bands.end(), state) - finding.bands.begin());
  if (band == 0) return "below " + reading_words(limits.front(), *finding.unit);
  const auto low = reading_words(limits[band - 1], *finding.unit);
  return band == limits.size() ? low + " or more" : low + " to " + reading_words(limits[band], *finding.unit);
}

std::vector<Sign> signs_of(const KnowledgeBase& base, const Yardstick& yardstick, Ref<Cause> cause) {
  std::vector<Sign> signs;
  for (const auto& rule : base[cause].rules) {
    const bool here = !yardstick.given || (yardstick.boat.finding_applies[rule.finding.index] && yardstick.evaluation.holds(rule.when));
    if (here && !computed(yardstick, cause, rule.finding.index)) signs.push_back({rule.finding, rule.state, rule.chance, &rule});
  }
  add_computed(signs, base, yardstick, cause);
  std::stable_sort(signs.begin(), signs.end(), [](const auto& a, const auto& b) { return a.chance > b.chance; });
  return signs;
}

std::vector<Telling> telling_checks(const KnowledgeBase& base, const Yardstick& yardstick, Ref<Cause> cause) {
  std::vector<bool> shown(base.findings.size(), false);
  for (const auto& sign : signs_of(base, yardstick, cause)) shown[sign.finding.index] = true;
  return by_weight(base, yardstick, [&](std::size_t finding) {
    return shown[finding] ? expected_weight(distribution_of(base, yardstick, cause, finding), distribution_otherwise(yardstick, cause, finding)) : 0.0;
  });
}

std::optional<Telling> parting_check(const KnowledgeBase& base, const Yardstick& yardstick, Ref<Cause> one, Ref<Cause> other) {
  const auto telling = by_weight(base, yardstick, [&](std::size_t finding) {
    const auto p = distribution_of(base, yardstick, one, finding), q = distribution_of(base, yardstick, other, finding);
    return std::min(expected_weight(p, q), expected_weight(q, p));  // it must speak whichever of the two it is
  });
  return telling.empty() ? std::nullopt : std::optional(telling.front());
}

}  // namespace leadline::cli
