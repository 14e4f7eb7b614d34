#include "engine/callout/at_stake.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "engine/diagnosis/fact_reach.h"
#include "engine/installation/restated.h"

namespace leadline::callout {

namespace {

using circuit::Expectation;
using diagnosis::BoatModel;
using installation::Evaluation;
using installation::Installation;

constexpr double another_chance = 0.1;       // by which the leader's chance must move to be worth a question
constexpr std::size_t most_weighed = 40;     // explanations, while circuits stay the same
constexpr std::size_t most_solved = 6;       // of another circuit each is solved anew: milliseconds

// An explanation by causes of the book, ascending, the one that stands for all others last: another boat has another model.
struct Weighed {
  std::vector<std::size_t> causes;
  double chance = 0;
  double odds = 0, density = 0;   // now: log odds by priors and plain findings; log density of the readings, of those that may be solved anew
};

// By finding: answered, and on no circuit; measured on a circuit on which one was answered.
struct Findings {
  std::vector<bool> plain, of_circuits;
};

Findings findings_of(const Assessment& assessment) {
  const auto count = assessment.base().findings.size();
  Findings findings{std::vector<bool>(count), std::vector<bool>(count)};
  std::vector<bool> circuits(assessment.base().circuits.size());
  for (const auto& observation : assessment.evidence()) {
    findings.plain[observation.finding] = !observation.tied;
    if (observation.tied) circuits[observation.tied->tie.circuit] = true;
  }
  for (std::size_t j = 0; j < count; ++j) {
    const auto& measure = assessment.base().findings[j].measure;
    findings.of_circuits[j] = measure && circuits[measure->circuit];
  }
  return findings;
}

// Something was seen or read that such a boat has not: it is no such boat.
bool contradicted(const knowledge::KnowledgeBase& base, const Record& record, const Evaluation& boat) {
  return std::any_of(record.answers.begin(), record.answers.end(), [&](const auto& answer) {
    const bool told = std::holds_alternative<diagnosis::Seen>(answer.observed) || std::holds_alternative<diagnosis::Reading>(answer.observed);
    return told && !boat.holds(base[answer.finding].applies);
  });
}

// What a sound boat reads moves by a good part of its range, or can no longer be told.
bool moved_by(const circuit::Expected& here, const circuit::Expected& there) {
  constexpr double good_part = 0.3;   // of half a range: less hardly sways the odds of causes
  if (!std::isfinite(here.middle) || !std::isfinite(there.middle)) return circuit::tells_apart(here, there);
  return std::abs(here.middle - there.middle) > good_part * std::max({here.high - here.low, there.high - there.low, 1e-9}) / 2;
}

// Log odds of sets of causes by their priors and by what was seen that no circuit describes.
class Odds {
 public:
  Odds(const knowledge::KnowledgeBase& base, const BoatModel& boat, diagnosis::Evidence plain) : boat_(boat), plain_(std::move(plain)), at_(base.causes.size() + 1) {
    for (std::size_t i = 0; i < boat.cause_refs.size(); ++i) at_[boat.cause_refs[i] ? boat.cause_refs[i]->index : base.causes.size()] = i;
  }

  bool has(std::size_t book_cause) const { return at_[book_cause].has_value(); }

  // Of the model; empty when the boat has not all of them.
  std::vector<std::size_t> causes_of(const std::vector<std::size_t>& book) const {
    std::vector<std::size_t> causes;
    for (const auto cause : book) {
      if (!at_[cause]) return {};
      causes.push_back(*at_[cause]);
    }
    std::sort(causes.begin(), causes.end());
    return causes;
  }

  double of(const std::vector<std::size_t>& causes) const {
    double sum = 0;
    for (const auto cause : causes) sum += std::log(boat_.model.causes[cause].prior / (1 - boat_.model.causes[cause].prior));
    for (const auto& observation : plain_) sum += std::log(std::max(1e-12, diagnosis::likelihood_under(boat_.model, observation, causes)));
    return sum;
  }

  // Log of P(no cause) over P(something is wrong): with it the odds of different boats are on one scale.
  double scale() const {
    double none = 0;
    for (const auto& cause : boat_.model.causes) none += std::log1p(-cause.prior);
    return none - std::log(-std::expm1(none));
  }

 private:
  const BoatModel& boat_;
  diagnosis::Evidence plain_;
  std::vector<std::optional<std::size_t>> at_;   // by cause of the book
};

// One other value, tried: the explanations with their chances, in the order of now, those that only this boat has behind them.
struct Tried {
  std::string value;
  double moved = 0, log_evidence = 0;
  std::vector<Weighed> explanations;

  const Weighed& first() const { return *std::max_element(explanations.begin(), explanations.end(), [](const auto& a, const auto& b) { return a.chance < b.chance; }); }
};

// By the other boat, as XML, and the findings of its circuits.
using Known = std::map<std::pair<std::string, std::vector<bool>>, std::shared_ptr<const Expectation>>;

class Trying {
 public:
  Trying(const Assessment& assessment, Known& known)
      : assessment_(assessment), base_(assessment.base()), findings_(findings_of(assessment)), known_(known),
        now_(base_, assessment.boat(), diagnosis::plain_part(assessment.evidence())), tied_(diagnosis::tied_part(assessment.evidence())),
        on_circuits_(diagnosis::facts_of_circuits(base_, findings_.of_circuits)), on_pages_(diagnosis::facts_of_pages(base_, findings_.plain)) {
    for (const auto& explanation : assessment.diagnosis().explanations) {
      if (explanations_.size() == most_weighed) break;
      Weighed weighed{{}, explanation.probability};
      for (const auto cause : explanation.causes) weighed.causes.push_back(book_cause(assessment.boat(), cause));
      std::sort(weighed.causes.begin(), weighed.causes.end());
      weighed.odds = now_.of(explanation.causes);
      if (explanations_.size() < most_solved) weighed.density = density_of(explanation.causes);
      explanations_.push_back(std::move(weighed));
    }
  }

  bool ranked() const { return !explanations_.empty(); }

  std::optional<Stake> stake_of(std::size_t fact) const {
    if (!on_circuits_[fact] && !on_pages_[fact]) return std::nullopt;
    std::vector<Tried> all;
    for (const auto& value : installation::other_values(boat(), base_.facts[fact])) {
      if (auto tried = with(fact, value)) all.push_back(std::move(*tried));
    }
    if (std::none_of(all.begin(), all.end(), [&](const auto& tried) { return worth_a_question(tried); })) return std::nullopt;
    const auto& most = *std::max_element(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.moved < b.moved; });
    const auto& leader = explanations_.front();
    return Stake{fact, mean_of(all), *installation::assumed_for(boat(), base_.facts[fact]), most.value, title_of(base_, leader.causes), title_of(base_, most.first().causes),
                 leader.chance, most.explanations.front().chance, most.first().chance};
  }

 private:
  const Installation& boat() const { return assessment_.record().installation; }
  std::size_t book_cause(const BoatModel& boat, std::size_t cause) const { return boat.cause_refs[cause] ? boat.cause_refs[cause]->index : base_.causes.size(); }

  double density_of(const std::vector<std::size_t>& causes) const { return tied_.empty() ? 0 : diagnosis::log_density_under(assessment_.boat().model, tied_, causes); }

  diagnosis::Evidence evidence_on(const BoatModel& boat) const {
    return diagnosis::evidence_of(base_, boat, assessment_.record().answers, diagnosis::instrument_of(assessment_.record().instrument));
  }

  std::optional<Tried> with(std::size_t fact, const std::string& value) const {
    const auto other = installation::with_fact(base_, boat(), base_.facts[fact], value);
    if (!other) return std::nullopt;
    const Evaluation evaluation(base_, *other);
    if (contradicted(base_, assessment_.record(), evaluation)) return std::nullopt;
    const auto circuits = on_circuits_[fact] && !tied_.empty() ? moved_circuits(*other, evaluation) : nullptr;
    if (!circuits && !on_pages_[fact]) return std::nullopt;
    const auto pages = diagnosis::build_model_of(base_, evaluation, findings_.plain, assessment_.boat().expectation);
    const Odds then(base_, pages, evidence_on(pages));
    return weighed(value, then, circuits, evaluation);
  }

  // The circuits of that boat, when a reading that was taken would be another on it, were it sound; else none: what differs is no matter here.
  std::shared_ptr<const Expectation> moved_circuits(const Installation& other, const Evaluation& evaluation) const {
    auto& then = known_[{installation::to_xml(other), findings_.of_circuits}];
    if (!then) then = std::make_shared<const Expectation>(base_, evaluation, &findings_.of_circuits);
    const auto& here = *assessment_.boat().expectation;
    for (const auto& observation : tied_) {
      const auto tie = here.tie_of(observation.finding), there = then->tie_of(observation.finding);
      if (tie && there && moved_by(circuit::expected(here, *tie, {}), circuit::expected(*then, *there, {}))) return then;
    }
    return nullptr;
  }

  // Explanations of now are weighed by what the other boat makes more or less likely of them; those of causes that only it has, by the same scale.
  Tried weighed(const std::string& value, const Odds& then, const std::shared_ptr<const Expectation>& circuits, const Evaluation& evaluation) const {
    Tried tried{value, 0, 0, explanations_};
    std::optional<BoatModel> solved;
    diagnosis::Evidence readings;
    if (circuits) {
      solved = diagnosis::with_circuits(base_, assessment_.boat(), evaluation, findings_.of_circuits, circuits);
      readings = diagnosis::tied_part(evidence_on(*solved));
      tried.explanations.resize(std::min(most_solved, tried.explanations.size()));
    }
    for (auto& explanation : tried.explanations) {
      const auto there = then.causes_of(explanation.causes);
      double told = there.empty() ? -50 : then.of(there) - explanation.odds;
      if (solved) told += diagnosis::log_density_under(solved->model, readings, now_.causes_of(explanation.causes)) - explanation.density;
      explanation.chance *= std::exp(std::clamp(told, -50.0, 50.0));
    }
    if (!circuits) add_new_causes(tried, then);
    scale(tried, then);
    return tried;
  }

  void add_new_causes(Tried& tried, const Odds& then) const {
    const auto& leader = explanations_.front();
    const double known = leader.odds - std::log(leader.chance), readings = density_of({}) - leader.density;
    for (std::size_t cause = 0; cause < base_.causes.size(); ++cause) {
      if (now_.has(cause) || !then.has(cause)) continue;
      tried.explanations.push_back({{cause}, std::exp(std::clamp(then.of(then.causes_of({cause})) + readings - known, -50.0, 50.0))});
    }
  }

  // So that together they are as likely as those of now that they stand for.
  void scale(Tried& tried, const Odds& then) const {
    double sum = 0, before = 0;
    for (const auto& explanation : tried.explanations) sum += explanation.chance;
    for (std::size_t e = 0; e < std::min(tried.explanations.size(), explanations_.size()); ++e) before += explanations_[e].chance;
    tried.log_evidence = std::log(sum / before) + then.scale() - now_.scale();
    for (std::size_t e = 0; e < tried.explanations.size(); ++e) {
      auto& chance = tried.explanations[e].chance;
      chance *= before / sum;
      tried.moved += std::abs(chance - (e < explanations_.size() ? explanations_[e].chance : 0.0)) / 2;
    }
  }

  bool worth_a_question(const Tried& tried) const {
    return &tried.first() != &tried.explanations.front() || std::abs(tried.explanations.front().chance - explanations_.front().chance) >= another_chance;
  }

  // Each value as likely as the one assumed, before anything was seen.
  static double mean_of(const std::vector<Tried>& all) {
    double weights = 1, moved = 0;
    for (const auto& tried : all) {
      const double weight = std::exp(std::min(tried.log_evidence, 50.0));
      weights += weight;
      moved += weight * tried.moved;
    }
    return moved / weights;
  }

  const Assessment& assessment_;
  const knowledge::KnowledgeBase& base_;
  Findings findings_;
  Known& known_;
  Odds now_;
  diagnosis::Evidence tied_;
  diagnosis::Facts on_circuits_, on_pages_;
  std::vector<Weighed> explanations_;
};

}  // namespace

struct AtStake::OtherCircuits {
  std::string boat;   // of which they are kept, as XML
  Known known;
};

std::vector<bool> facts_to_ask(const Assessment& assessment) {
  std::vector<bool> facts;
  for (const auto& fact : assessment.base().facts) {
    facts.push_back(fact.intake != knowledge::Intake::never && installation::assumed_for(assessment.record().installation, fact).has_value());
  }
  return facts;
}

AtStake::AtStake() : circuits_(std::make_unique<OtherCircuits>()) {}
AtStake::~AtStake() = default;

std::vector<Stake> AtStake::among(const Assessment& assessment, const std::vector<bool>& facts) {
  std::vector<Stake> stakes;
  if (!assessment.record().remedies.empty() || assessment.evidence().empty()) return stakes;
  if (const auto boat = installation::to_xml(assessment.record().installation); boat != circuits_->boat) *circuits_ = {boat, {}};
  const Trying trying(assessment, circuits_->known);
  for (std::size_t f = 0; trying.ranked() && f < facts.size(); ++f) {
    if (!facts[f]) continue;
    if (auto stake = trying.stake_of(f)) stakes.push_back(std::move(*stake));
  }
  std::stable_sort(stakes.begin(), stakes.end(), [](const auto& a, const auto& b) { return a.moved > b.moved; });
  return stakes;
}

}  // namespace leadline::callout
