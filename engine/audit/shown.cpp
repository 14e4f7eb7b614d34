#include "engine/audit/shown.h"

#include <algorithm>

namespace leadline::audit {

namespace {

using knowledge::KnowledgeBase;

// Without a `when` the effect is there in every boat, and what is written of readings of that circuit is never used.
bool always_governs(const knowledge::Cause& cause, std::size_t circuit) {
  return std::any_of(cause.effects.begin(), cause.effects.end(), [&](const auto& effect) { return effect.circuit == circuit && !effect.when; });
}

Sample sample_of(const KnowledgeBase& base, const installation::Evaluation& evaluation) {
  Sample sample{&evaluation, diagnosis::build_model(base, evaluation), std::vector<std::optional<std::size_t>>(base.causes.size())};
  for (std::size_t i = 0; i < sample.boat.unlisted(); ++i) sample.model_cause[sample.boat.cause_refs[i]->index] = i;
  return sample;
}

// The boats that samples_of has taken so far.
class Fleet {
 public:
  Fleet(const KnowledgeBase& base, std::size_t most) : base_(base), most_(most) {}

  void add(const installation::Evaluation* boat) {
    const bool known = std::any_of(samples.begin(), samples.end(), [&](const auto& s) { return s.evaluation == boat; });
    if (boat != nullptr && !known && samples.size() < most_) samples.push_back(sample_of(base_, *boat));
  }
  // A boat in which the cause has an effect on the circuit, and the finding is measured there.
  bool judges(std::size_t cause, std::size_t circuit, std::size_t finding) const {
    return std::any_of(samples.begin(), samples.end(), [&](const auto& s) { return s.model_cause[cause] && s.boat.expectation->governs(cause, circuit) && s.measures(finding); });
  }

  bool has(std::size_t cause) const {
    return std::any_of(samples.begin(), samples.end(), [&](const auto& s) { return s.model_cause[cause].has_value(); });
  }

  std::vector<Sample> samples;

 private:
  const KnowledgeBase& base_;
  std::size_t most_;
};

}  // namespace

bool Sample::measures(std::size_t finding) const { return boat.finding_applies[finding] && boat.expectation->tie_of(finding).has_value(); }

std::vector<Sample> samples_of(const KnowledgeBase& base, const BoatSearch& search, std::size_t most, bool every_cause) {
  Fleet fleet(base, most);
  fleet.add(search.where({}));
  for (std::size_t i = 0; i < base.causes.size(); ++i) {
    const auto& cause = base.causes[i];
    for (const auto& effect : cause.effects) {
      for (std::size_t j = 0; j < base.findings.size(); ++j) {
        const auto& finding = base.findings[j];
        const bool tied = finding.measure && finding.measure->circuit == effect.circuit;
        if (tied && !fleet.judges(i, effect.circuit, j)) fleet.add(search.where(together({&cause.applies, &effect.when, &finding.applies})));
      }
    }
  }
  for (std::size_t i = 0; every_cause && i < base.causes.size(); ++i) {
    if (!fleet.has(i)) fleet.add(search.where(together({&base.causes[i].applies})));
  }
  return std::move(fleet.samples);
}

void Shown::note(std::size_t cause, std::size_t finding, std::size_t state, double chance) {
  auto& states = chances_[cause].try_emplace(finding, std::vector<double>(most_[finding].size(), 0.0)).first->second;
  states[state] = std::max(states[state], chance);
  most_[finding][state] = std::max(most_[finding][state], chance);
}

// A cause that no boat can have is one mistake: that nothing else shows its findings is none.
void Shown::note_everything(const KnowledgeBase& base, std::size_t cause) {
  for (std::size_t j = 0; j < base.findings.size(); ++j) {
    const auto& measure = base.findings[j].measure;
    const auto& effects = base.causes[cause].effects;
    const bool changed = measure && std::any_of(effects.begin(), effects.end(), [&](const auto& effect) { return effect.circuit == measure->circuit; });
    for (std::size_t s = 1; changed && s < base.findings[j].states.size(); ++s) note(cause, j, s, least_computed);
  }
}

Shown::Shown(const KnowledgeBase& base, const BoatSearch& search, const std::vector<Sample>& samples) : chances_(base.causes.size()) {
  for (const auto& finding : base.findings) most_.emplace_back(finding.states.size(), 0.0);
  for (std::size_t i = 0; i < base.causes.size(); ++i) {
    const auto& cause = base.causes[i];
    const bool nowhere = search.never(together({&cause.applies}));
    if (nowhere) note_everything(base, i);
    for (const auto& rule : cause.rules) {
      const auto& finding = base[rule.finding];
      const bool replaced = finding.measure && always_governs(cause, finding.measure->circuit);
      const bool used = nowhere || (!replaced && !search.never(together({&cause.applies, &finding.applies, &rule.when})));
      if (used) note(i, rule.finding.index, rule.state, rule.chance);
    }
    for (const auto& sample : samples) {
      if (!sample.model_cause[i]) continue;
      for (const auto& push : sample.boat.model.causes[*sample.model_cause[i]].pushes) {
        const auto tie = sample.boat.expectation->tie_of(push.finding);
        if (!tie || !sample.boat.expectation->governs(i, tie->circuit)) continue;
        for (std::size_t s = 1; s < push.at_most.size(); ++s) {
          const double chance = push.at_most[s] - push.at_most[s - 1];
          if (chance >= least_computed) note(i, push.finding, s, chance);
        }
      }
    }
  }
}

double Shown::chance(std::size_t cause, std::size_t finding, std::size_t state) const {
  const auto found = chances_[cause].find(finding);
  return found == chances_[cause].end() ? 0 : found->second[state];
}

bool Shown::anyhow(std::size_t finding, std::size_t state, double least) const { return most_[finding][state] > least; }

bool Shown::anyhow(std::size_t finding) const {
  return std::any_of(most_[finding].begin(), most_[finding].end(), [](double chance) { return chance > 0; });
}

}  // namespace leadline::audit
