#include "engine/diagnosis/model.h"

#include <algorithm>
#include <limits>
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

// What a sound boat reads, for bands that are drawn about it. NaN where no circuit describes the reading here: then the limits do not ascend.
std::map<std::string, double> healthy_range(const circuit::Expectation& expectation, std::size_t finding) {
  const double unknown = std::numeric_limits<double>::quiet_NaN();
  const auto tie = expectation.tie_of(finding);
  if (!tie) return {{"healthy", unknown}, {"healthy_low", unknown}, {"healthy_high", unknown}};
  const auto healthy = circuit::expected(expectation, *tie, {});
  return {{"healthy", healthy.middle}, {"healthy_low", healthy.low}, {"healthy_high", healthy.high}};
}

std::vector<double> ascending_limits(const KnowledgeBase& base, std::size_t finding, const circuit::Expectation& expectation, const installation::Evaluation& evaluation) {
  const auto& page = base.findings[finding];
  std::map<std::string, double> healthy;
  if (page.measure) healthy = healthy_range(expectation, finding);
  std::vector<double> limits;
  for (const auto band : page.bands) {
    if (page.states[band].below) limits.push_back(evaluation.number(*page.states[band].below, healthy));
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

struct Gathered {
  std::vector<double> chances;
  std::vector<text::Place> places;
};

// What the circuits say of a cause, in place of what is written.
void gather_computed(const KnowledgeBase& base, std::size_t cause, const BoatModel& boat, std::map<std::size_t, Gathered>& by_finding) {
  const auto& expectation = *boat.expectation;
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    const auto tie = expectation.tie_of(j);
    if (!tie || !boat.finding_applies[j] || !expectation.governs(cause, tie->circuit)) continue;
    std::vector<text::Place> places;
    for (const auto& effect : base.causes[cause].effects) {
      if (effect.circuit == tie->circuit) places.push_back(effect.place);
    }
    by_finding[j] = {computed_chances(base.findings[j], expectation, *tie, cause, boat.band_limits[j]), std::move(places)};
  }
}

std::vector<Push> pushes_of(const KnowledgeBase& base, std::size_t cause, const BoatModel& boat, const installation::Evaluation& evaluation) {
  std::map<std::size_t, Gathered> by_finding;
  for (const auto& rule : base.causes[cause].rules) {
    if (!boat.finding_applies[rule.finding.index] || !evaluation.holds(rule.when)) continue;
    auto& gathered = by_finding[rule.finding.index];
    gathered.chances.resize(base[rule.finding].states.size(), 0.0);
    gathered.chances[rule.state] = std::max(gathered.chances[rule.state], rule.chance);
    gathered.places.push_back(rule.place);
  }
  gather_computed(base, cause, boat, by_finding);
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
void add_findings(BoatModel& boat, const KnowledgeBase& base, const installation::Evaluation& evaluation, const std::vector<bool>* wanted) {
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    const bool left_out = wanted != nullptr && !(*wanted)[j];
    boat.model.findings.push_back(model_finding(base.findings[j]));
    boat.finding_applies.push_back(!left_out && evaluation.holds(base.findings[j].applies));
    boat.band_limits.push_back(left_out ? std::vector<double>{} : ascending_limits(base, j, *boat.expectation, evaluation));
  }
  for (const auto finding : descending_limits(boat)) boat.finding_applies[finding.index] = false;
}

std::shared_ptr<const CircuitLink> link_of(const KnowledgeBase& base, const BoatModel& boat) {
  CircuitLink link;
  link.expectation = boat.expectation;
  for (const auto& cause : boat.cause_refs) link.book_cause.push_back(cause ? std::optional(cause->index) : std::nullopt);
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    link.bands.push_back(base.findings[j].bands);
    const auto tie = boat.finding_applies[j] ? boat.expectation->tie_of(j) : std::nullopt;
    link.judged_limits.push_back(tie ? judged_limits(*boat.expectation, *tie, boat.band_limits[j]) : std::vector<double>{});
  }
  return std::make_shared<const CircuitLink>(std::move(link));
}

BoatModel built(const KnowledgeBase& base, const installation::Evaluation& evaluation, const std::vector<bool>* wanted, std::shared_ptr<const circuit::Expectation> circuits) {
  BoatModel boat;
  boat.expectation = std::move(circuits);
  add_findings(boat, base, evaluation, wanted);
  for (std::size_t i = 0; i < base.causes.size(); ++i) {
    const auto& cause = base.causes[i];
    if (!evaluation.holds(cause.applies)) continue;
    const double prior = prior_of(cause, base.unlisted.together, evaluation);
    if (prior <= 0) continue;
    boat.model.causes.push_back({prior, pushes_of(base, i, boat, evaluation)});
    boat.cause_refs.emplace_back(knowledge::Ref<Cause>{i});
  }
  boat.model.causes.push_back(unlisted_cause(base, boat));
  boat.cause_refs.emplace_back(std::nullopt);
  boat.model.circuits = link_of(base, boat);
  return boat;
}

}  // namespace

const Push* push_on(const ModelCause& cause, std::size_t finding) {
  const auto push = std::lower_bound(cause.pushes.begin(), cause.pushes.end(), finding, [](const Push& p, std::size_t f) { return p.finding < f; });
  return push == cause.pushes.end() || push->finding != finding ? nullptr : &*push;
}

std::vector<std::size_t> governing(const CircuitLink& link, std::size_t circuit, const std::vector<std::size_t>& causes) {
  constexpr std::size_t most_together = 2;
  std::vector<std::size_t> book;
  for (const auto cause : causes) {
    const auto at = link.book_cause[cause];
    if (book.size() < most_together && at && link.expectation->governs(*at, circuit)) book.push_back(*at);
  }
  return book;
}

std::vector<double> states_by_outlook(const CircuitLink& link, std::size_t finding, std::size_t measure, const circuit::Outlook& outlook,
                                      const circuit::Informed& informed) {
  const auto by_band = circuit::chances_between(outlook, informed, measure, link.judged_limits[finding]);
  const auto& bands = link.bands[finding];
  std::vector<double> states(bands.size(), 0.0);
  for (std::size_t b = 0; b < bands.size(); ++b) states[bands[b]] += by_band[b];
  states[0] += circuit::chance_untold(outlook, informed, measure);  // what cannot be read pushes nothing
  return states;
}

const std::vector<double>& CircuitLink::states_unread(std::size_t finding, const circuit::Tie& tie, const std::vector<std::size_t>& causes) const {
  const auto [at, fresh] = states_unread_.try_emplace({finding, causes});
  if (fresh) at->second = states_by_outlook(*this, finding, tie.measure, expectation->under(tie.circuit, causes), expectation->unread(tie.circuit, causes));
  return at->second;
}

std::vector<double> judged_limits(const circuit::Expectation& expectation, const circuit::Tie& tie, const std::vector<double>& band_limits) {
  const bool ohms = expectation.bench(tie.circuit)->measures()[tie.measure].ohms;
  std::vector<double> limits;
  for (const double limit : band_limits) limits.push_back(circuit::judged_scale(limit, ohms));
  return limits;
}

std::vector<double> computed_chances(const Finding& finding, const circuit::Expectation& expectation, const circuit::Tie& tie, std::size_t cause,
                                     const std::vector<double>& band_limits) {
  const auto limits = judged_limits(expectation, tie, band_limits);
  const auto& outlook = expectation.under(tie.circuit, {cause});
  const auto shares = circuit::chances_between(outlook, expectation.unread(tie.circuit, {cause}), tie.measure, limits);
  std::vector<double> chances(finding.states.size(), 0.0);
  for (std::size_t b = 0; b < shares.size(); ++b) chances[finding.bands[b]] += shares[b];
  chances[0] = 0;
  return chances;
}

BoatModel build_model(const KnowledgeBase& base, const installation::Evaluation& evaluation) {
  return built(base, evaluation, nullptr, std::make_shared<const circuit::Expectation>(base, evaluation));
}

BoatModel build_model_of(const KnowledgeBase& base, const installation::Evaluation& evaluation, const std::vector<bool>& wanted, std::shared_ptr<const circuit::Expectation> circuits) {
  return built(base, evaluation, &wanted, std::move(circuits));
}

BoatModel with_circuits(const KnowledgeBase& base, const BoatModel& boat, const installation::Evaluation& evaluation, const std::vector<bool>& wanted, std::shared_ptr<const circuit::Expectation> circuits) {
  BoatModel other;
  other.expectation = std::move(circuits);
  add_findings(other, base, evaluation, &wanted);
  other.model.causes = boat.model.causes;
  other.cause_refs = boat.cause_refs;
  other.model.circuits = link_of(base, other);
  return other;
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
