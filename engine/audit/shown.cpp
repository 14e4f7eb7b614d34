#include "engine/audit/shown.h"

#include <algorithm>
#include <map>

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

// What some sample boat must be like, and how much hangs on it.
struct Need {
  Conditions conditions;
  std::size_t weight = 0;
};

void add_need(std::map<std::string, Need>& needs, Conditions conditions) {
  std::string key;
  for (const auto* condition : conditions) key += condition->text + "\n";
  auto& need = needs.try_emplace(key, Need{std::move(conditions), 0}).first->second;
  ++need.weight;
}

bool meets(const installation::Evaluation& boat, const Conditions& conditions) {
  return std::all_of(conditions.begin(), conditions.end(), [&](const auto* condition) { return boat.holds(*condition); });
}

// Each cause with an effect, where what it changes is measured.
template <class Do>
void for_each_tie(const KnowledgeBase& base, std::size_t cause, Do act) {
  const auto& page = base.causes[cause];
  for (const auto& effect : page.effects) {
    for (std::size_t j = 0; j < base.findings.size(); ++j) {
      const auto& finding = base.findings[j];
      if (finding.measure && finding.measure->circuit == effect.circuit) act(j, together({&page.applies, &effect.when, &finding.applies}));
    }
  }
}

// Boats that meet the needs: each need is met by some, those that cannot be met are left out.
std::vector<const installation::Evaluation*> candidates_for(const std::vector<Need>& needs, const BoatSearch& search) {
  std::vector<const installation::Evaluation*> candidates{search.where({})};
  for (const auto& need : needs) {
    const auto* boat = search.where(need.conditions);
    if (boat != nullptr && std::find(candidates.begin(), candidates.end(), boat) == candidates.end()) candidates.push_back(boat);
  }
  return candidates;
}

}  // namespace

bool Sample::measures(std::size_t finding) const { return boat.finding_applies[finding] && boat.expectation->tie_of(finding).has_value(); }

// The usual boat first; then always the one that meets most of what is still to be met. A model takes half a second, a condition none.
void add_samples(const KnowledgeBase& base, const BoatSearch& search, std::size_t most, bool every_cause, std::vector<Sample>& samples) {
  std::map<std::string, Need> by_key;
  for (std::size_t i = 0; i < base.causes.size(); ++i) {
    for_each_tie(base, i, [&](std::size_t, Conditions conditions) { add_need(by_key, std::move(conditions)); });
    if (every_cause) add_need(by_key, together({&base.causes[i].applies}));
  }
  std::vector<Need> needs;
  for (auto& [key, need] : by_key) needs.push_back(std::move(need));
  const auto candidates = candidates_for(needs, search);
  const auto met = [&](const installation::Evaluation& boat) { std::erase_if(needs, [&](const auto& need) { return meets(boat, need.conditions); }); };
  if (samples.empty()) samples.push_back(sample_of(base, *candidates.front()));
  for (const auto& sample : samples) met(*sample.evaluation);
  const auto gain = [&](const installation::Evaluation* boat) {
    std::size_t sum = 0;
    for (const auto& need : needs) sum += meets(*boat, need.conditions) ? need.weight : 0;
    return sum;
  };
  while (samples.size() < most && !needs.empty()) {
    std::vector<std::size_t> gains;
    for (const auto* boat : candidates) gains.push_back(gain(boat));
    const auto best = std::max_element(gains.begin(), gains.end());
    if (*best == 0) return;  // what is left no boat can be
    samples.push_back(sample_of(base, *candidates[static_cast<std::size_t>(best - gains.begin())]));
    met(*samples.back().evaluation);
  }
}

std::vector<Sample> samples_of(const KnowledgeBase& base, const BoatSearch& search, std::size_t most, bool every_cause) {
  std::vector<Sample> samples;
  add_samples(base, search, most, every_cause, samples);
  return samples;
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
    // Where no sample boat could be asked, what the circuit would show is not held against the book.
    for_each_tie(base, i, [&](std::size_t finding, const Conditions& conditions) {
      const bool asked = std::any_of(samples.begin(), samples.end(), [&](const auto& sample) { return meets(*sample.evaluation, conditions); });
      for (std::size_t s = 1; !asked && !search.never(conditions) && s < most_[finding].size(); ++s) note(i, finding, s, least_computed);
    });
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
