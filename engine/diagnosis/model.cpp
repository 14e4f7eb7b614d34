#include "engine/diagnosis/model.h"

#include <algorithm>
#include <map>

namespace leadline::diagnosis {

namespace {

using knowledge::Cause;
using knowledge::Finding;
using knowledge::KnowledgeBase;

constexpr double highest_prior = 0.5;

ModelFinding model_finding(const Finding& finding) {
  const auto states = finding.states.size();
  ModelFinding result;
  result.leak_at_most.assign(states, 1.0);
  for (std::size_t s = states - 1; s-- > 0;) result.leak_at_most[s] = result.leak_at_most[s + 1] - finding.states[s + 1].leak;
  return result;
}

std::vector<double> ascending_limits(const Finding& finding, const installation::Evaluation& evaluation) {
  std::vector<double> limits;
  for (const auto band : finding.bands) {
    if (finding.states[band].below) limits.push_back(evaluation.number(*finding.states[band].below));
  }
  return limits;
}

// Chances of the states of one finding become cumulative; what is left to 1 is the normal state. Of two rules that hold together
// for one state the stronger counts, and chances that add up to more than 1 are scaled: conditions may meet that no author foresaw.
std::vector<double> cumulative(std::vector<double> chances) {
  double sum = 0;
  for (const auto chance : chances) sum += chance;
  const double scale = sum > 1 ? 1 / sum : 1;
  std::vector<double> at_most(chances.size(), 1.0);
  for (std::size_t s = chances.size() - 1; s-- > 0;) at_most[s] = std::max(0.0, at_most[s + 1] - scale * chances[s + 1]);
  return at_most;
}

std::vector<Push> pushes_of(const KnowledgeBase& base, const Cause& cause, const BoatModel& boat, const installation::Evaluation& evaluation) {
  struct Gathered {
    std::vector<double> chances;
    std::vector<text::Place> places;
  };
  std::map<std::size_t, Gathered> by_finding;
  for (const auto& rule : cause.rules) {
    if (!boat.finding_applies[rule.finding.index] || !evaluation.holds(rule.when)) continue;
    auto& gathered = by_finding[rule.finding.index];
    gathered.chances.resize(base[rule.finding].states.size(), 0.0);
    gathered.chances[rule.state] = std::max(gathered.chances[rule.state], rule.chance);
    gathered.places.push_back(rule.place);
  }
  std::vector<Push> pushes;
  for (auto& [finding, gathered] : by_finding) pushes.push_back({finding, cumulative(std::move(gathered.chances)), std::move(gathered.places)});
  return pushes;
}

double prior_of(const Cause& cause, double together, const installation::Evaluation& evaluation) {
  double frequency = cause.per_thousand / 1000;
  for (const auto& adjustment : cause.adjustments) {
    if (evaluation.holds(adjustment.when)) frequency *= adjustment.times;
  }
  return std::min(highest_prior, together * frequency);
}

// chances[j][s]: how often a cause of this boat, drawn by its prior, shows finding j in state s.
std::vector<std::vector<double>> typical_chances(const Model& model) {
  std::vector<std::vector<double>> chances;
  for (const auto& finding : model.findings) chances.emplace_back(finding.leak_at_most.size(), 0.0);
  double priors = 0;
  for (const auto& cause : model.causes) priors += cause.prior;
  for (const auto& cause : model.causes) {
    for (const auto& push : cause.pushes) {
      for (std::size_t s = 1; s < push.at_most.size(); ++s) chances[push.finding][s] += cause.prior / priors * (push.at_most[s] - push.at_most[s - 1]);
    }
  }
  return chances;
}

// The cause that is not in the book shows each finding as often as the causes in it do on average, but each for itself: so it leads
// exactly when the findings do not hang together under anything known (docs/mathematics.md § the unlisted cause). A small chance on top
// keeps every state possible.
ModelCause unlisted_cause(const KnowledgeBase& base, const BoatModel& boat) {
  ModelCause unlisted;
  unlisted.prior = std::min(highest_prior, base.unlisted.together * base.unlisted.per_thousand / 1000);
  auto typical = typical_chances(boat.model);
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    if (!boat.finding_applies[j]) continue;
    auto& chances = typical[j];
    for (std::size_t s = 1; s < chances.size(); ++s) chances[s] += base.unlisted.chance / static_cast<double>(chances.size() - 1);
    unlisted.pushes.push_back({j, cumulative(std::move(chances)), {base.unlisted.place}});
  }
  return unlisted;
}

// A finding whose limits do not ascend in this boat cannot be judged here, so it does not apply.
void add_findings(BoatModel& boat, const KnowledgeBase& base, const installation::Evaluation& evaluation) {
  for (const auto& finding : base.findings) {
    boat.model.findings.push_back(model_finding(finding));
    boat.finding_applies.push_back(evaluation.holds(finding.applies));
    boat.band_limits.push_back(ascending_limits(finding, evaluation));
  }
  for (const auto finding : descending_limits(boat)) boat.finding_applies[finding.index] = false;
}

}  // namespace

BoatModel build_model(const KnowledgeBase& base, const installation::Evaluation& evaluation) {
  BoatModel boat;
  add_findings(boat, base, evaluation);
  for (std::size_t i = 0; i < base.causes.size(); ++i) {
    const auto& cause = base.causes[i];
    if (!evaluation.holds(cause.applies)) continue;
    const double prior = prior_of(cause, base.unlisted.together, evaluation);
    if (prior <= 0) continue;
    boat.model.causes.push_back({prior, pushes_of(base, cause, boat, evaluation)});
    boat.cause_refs.emplace_back(knowledge::Ref<Cause>{i});
  }
  boat.model.causes.push_back(unlisted_cause(base, boat));
  boat.cause_refs.emplace_back(std::nullopt);
  return boat;
}

std::vector<knowledge::Ref<Finding>> descending_limits(const BoatModel& boat) {
  std::vector<knowledge::Ref<Finding>> found;
  for (std::size_t j = 0; j < boat.band_limits.size(); ++j) {
    const auto& limits = boat.band_limits[j];
    const auto descends = [](double a, double b) { return !(a < b); };
    if (std::adjacent_find(limits.begin(), limits.end(), descends) != limits.end()) found.push_back({j});
  }
  return found;
}

}  // namespace leadline::diagnosis
