#include "engine/audit/sensitivity.h"

#include <algorithm>
#include <set>

namespace leadline::audit {

namespace {

using diagnosis::Model;
using knowledge::KnowledgeBase;

constexpr double tenth = 0.1;

std::vector<double> chances_of(const std::vector<double>& at_most) {
  auto chances = at_most;
  for (std::size_t s = chances.size(); s-- > 1;) chances[s] -= at_most[s - 1];
  return chances;
}

// The chance of one state times `factor`, at most what is left of 1; the normal state takes what is left.
std::vector<double> moved(const std::vector<double>& at_most, std::size_t state, double factor) {
  auto chances = chances_of(at_most);
  chances[state] += std::min(chances[state] * (factor - 1), chances[0]);
  chances[0] = 1;
  for (std::size_t s = 1; s < chances.size(); ++s) chances[0] -= chances[s];
  std::vector<double> result = chances;
  for (std::size_t s = 1; s + 1 < result.size(); ++s) result[s] += result[s - 1];
  result.back() = 1;
  return result;
}

// One recorded call-out and its list of explanations.
class Call {
 public:
  Call(const KnowledgeBase& base, const Pages& pages, const callout::Record& record, std::size_t index, Sensitivity& found)
      : base_(base), pages_(pages), record_(record), assessment_(base_, record_), model_(assessment_.boat().model), index_(index), found_(found) {
    for (const auto& observation : assessment_.evidence()) {
      if (!observation.tied) plain_.push_back(&observation);
    }
  }

  void run() {
    const auto& list = assessment_.diagnosis().explanations;
    if (list.size() < 2) return;
    std::set<std::size_t> causes;
    for (const auto& explanation : list) causes.insert(explanation.causes.begin(), explanation.causes.end());
    for (const auto cause : causes) {
      move_frequency(cause);
      for (const auto* observation : plain_) move_chances(cause, *observation);
    }
    for (const auto* observation : plain_) move_leaks(*observation);
  }

 private:
  // `ratio` of an explanation: its weight with the number moved, over its weight now.
  template <class Ratio>
  void weigh(const text::Place& place, const std::string& what, bool up, Ratio ratio) {
    const auto& list = assessment_.diagnosis().explanations;
    std::size_t leader = 0;
    double most = 0;
    for (std::size_t e = 0; e < list.size(); ++e) {
      const double weight = list[e].probability * ratio(list[e].causes);
      if (weight > most) most = weight, leader = e;
    }
    if (leader != 0) found_.decisive.push_back({place, what, up, index_, ids_of(list[0].causes), ids_of(list[leader].causes)});
  }

  // Instead of one cause's push on a finding, or of its leak: these chances.
  struct Other {
    std::optional<std::size_t> cause;   // none: the leak
    std::vector<double> at_most;
  };

  // P(the observation | exactly these causes), one thing being other than the model has it.
  double likelihood(const diagnosis::Observation& observation, const std::vector<std::size_t>& causes, const Other& other) const {
    double sum = 0, before = 0;
    for (std::size_t s = 0; s < observation.likelihood.size(); ++s) {
      double at_most = other.cause ? model_.findings[observation.finding].leak_at_most[s] : other.at_most[s];
      for (const auto cause : causes) {
        const auto* push = diagnosis::push_on(model_.causes[cause], observation.finding);
        if (push != nullptr) at_most *= other.cause == cause ? other.at_most[s] : push->at_most[s];
      }
      sum += observation.likelihood[s] * (at_most - before);
      before = at_most;
    }
    return sum;
  }

  void both_ways(const text::Place& place, const std::string& what, const diagnosis::Observation& observation, std::optional<std::size_t> cause, std::size_t state,
                 const std::vector<double>& at_most) {
    ++found_.numbers;
    for (const bool up : {false, true}) {
      const Other other{cause, moved(at_most, state, up ? 1 + tenth : 1 - tenth)};
      weigh(place, what, up, [&](const std::vector<std::size_t>& causes) {
        const double now = diagnosis::likelihood_under(model_, observation, causes);
        return now > 0 ? likelihood(observation, causes, other) / now : 1;
      });
    }
  }

  void move_frequency(std::size_t cause) {
    const auto& ref = assessment_.boat().cause_refs[cause];
    const auto* unlisted = pages_.only("unlisted");
    const auto place = ref ? pages_.of("cause", base_[*ref].id).place("per-1000") : unlisted != nullptr ? unlisted->place("per-1000") : pages_.front();
    ++found_.numbers;
    for (const bool up : {false, true}) {
      const double prior = model_.causes[cause].prior, other = std::min(prior * (up ? 1 + tenth : 1 - tenth), 0.999);
      const double ratio = (other / (1 - other)) / (prior / (1 - prior));
      weigh(place, "the frequency of " + id_of(cause), up, [&](const std::vector<std::size_t>& causes) {
        return std::find(causes.begin(), causes.end(), cause) != causes.end() ? ratio : 1;
      });
    }
  }

  // The written rule whose chance counts here; null where a circuit replaces it.
  const knowledge::Rule* rule_for(std::size_t cause, std::size_t finding, std::size_t state) const {
    const auto& ref = assessment_.boat().cause_refs[cause];
    if (!ref) return nullptr;
    const auto tie = assessment_.boat().expectation->tie_of(finding);
    if (tie && assessment_.boat().expectation->governs(ref->index, tie->circuit)) return nullptr;
    const knowledge::Rule* strongest = nullptr;
    for (const auto& rule : base_[*ref].rules) {
      const bool here = rule.finding.index == finding && rule.state == state && assessment_.evaluation().holds(rule.when);
      if (here && (strongest == nullptr || rule.chance > strongest->chance)) strongest = &rule;
    }
    return strongest;
  }

  void move_chances(std::size_t cause, const diagnosis::Observation& observation) {
    const auto* push = diagnosis::push_on(model_.causes[cause], observation.finding);
    if (push == nullptr) return;
    for (std::size_t s = 1; s < push->at_most.size(); ++s) {
      const auto* rule = rule_for(cause, observation.finding, s);
      if (rule != nullptr) both_ways(rule->place, "the chance of " + state_words(observation.finding, s) + " under " + id_of(cause), observation, cause, s, push->at_most);
    }
  }

  void move_leaks(const diagnosis::Observation& observation) {
    const auto& states = base_.findings[observation.finding].states;
    for (std::size_t s = 1; s < states.size(); ++s) {
      both_ways(states[s].place, "the leak of " + state_words(observation.finding, s), observation, std::nullopt, s, model_.findings[observation.finding].leak_at_most);
    }
  }

  std::string state_words(std::size_t finding, std::size_t state) const { return "'" + base_.findings[finding].id + "' as '" + base_.findings[finding].states[state].id + "'"; }
  std::string id_of(std::size_t cause) const {
    const auto& ref = assessment_.boat().cause_refs[cause];
    return ref ? "'" + base_[*ref].id + "'" : "what is not in the book";
  }
  std::string ids_of(const std::vector<std::size_t>& causes) const {
    std::string ids;
    for (const auto cause : causes) {
      const auto& ref = assessment_.boat().cause_refs[cause];
      ids += (ids.empty() ? "" : " + ") + (ref ? base_[*ref].id : std::string("not in the book"));
    }
    return ids;
  }

  const KnowledgeBase& base_;
  const Pages& pages_;
  const callout::Record& record_;
  callout::Assessment assessment_;
  const Model& model_;
  std::size_t index_;
  Sensitivity& found_;
  std::vector<const diagnosis::Observation*> plain_;
};

}  // namespace

Sensitivity sensitivity(const KnowledgeBase& base, const Pages& pages, const std::vector<callout::Record>& records) {
  Sensitivity found;
  for (std::size_t r = 0; r < records.size(); ++r) {
    auto before = records[r];
    if (!before.remedies.empty()) before.answers.resize(before.remedies.front().after);
    before.remedies.clear();
    Call(base, pages, before, r, found).run();
  }
  return found;
}

}  // namespace leadline::audit
