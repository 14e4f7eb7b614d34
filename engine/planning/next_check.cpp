#include "engine/planning/next_check.h"

#include <algorithm>
#include <cmath>

#include "engine/diagnosis/tied.h"

namespace leadline::planning {

namespace {

using diagnosis::BoatModel;
using diagnosis::Diagnosis;
using knowledge::Check;
using knowledge::KnowledgeBase;

constexpr double least_bits = 1e-4;               // below it a check tells nothing worth a walk
constexpr std::size_t most_rivals = 120;          // explanations looked at; the rest hold little and change no order
constexpr std::size_t most_joint_outcomes = 128;  // of a check that observes several findings



// The explanations the planner looks at, as numbers: probabilities that add up to one, and distributions of findings under each.
class Outlook {
 public:
  Outlook(const diagnosis::Model& model, const Diagnosis& diagnosis) : diagnosis_(diagnosis), tied_(model, diagnosis.tied) {
    const auto count = std::min(most_rivals, diagnosis.explanations.size());
    double sum = 0;
    for (std::size_t h = 0; h < count; ++h) sum += diagnosis.explanations[h].probability;
    for (std::size_t h = 0; h < count; ++h) chance_.push_back(diagnosis.explanations[h].probability / sum);
    by_finding_.resize(model.findings.size());
  }

  std::size_t size() const { return chance_.size(); }
  double chance(std::size_t h) const { return chance_[h]; }

  // [explanation][state]
  const std::vector<std::vector<double>>& distributions(std::size_t finding) {
    auto& rows = by_finding_[finding];
    if (rows.empty()) {
      for (std::size_t h = 0; h < size(); ++h) rows.push_back(tied_.states_of(finding, diagnosis_.explanations[h].causes));
    }
    return rows;
  }

 private:
  const Diagnosis& diagnosis_;
  diagnosis::TiedReadings tied_;
  std::vector<double> chance_;
  std::vector<std::vector<std::vector<double>>> by_finding_;
};

// I(explanation; outcomes) = H(outcome) - sum over h of p_h H(outcome | h), over the joint outcomes of the findings, which are independent
// given the explanation. `joint[h]` holds p_h * P(outcome so far | h).
double information(Outlook& outlook, const std::vector<std::size_t>& findings, std::size_t at, const std::vector<double>& joint) {
  double total = 0;
  for (const double p : joint) total += p;
  if (at == findings.size()) {
    double bits = 0;
    for (std::size_t h = 0; h < joint.size(); ++h) {
      if (joint[h] > 0) bits += joint[h] * std::log2(joint[h] / (outlook.chance(h) * total));
    }
    return bits;
  }
  const auto& rows = outlook.distributions(findings[at]);
  double bits = 0;
  for (std::size_t s = 0; s < rows.front().size(); ++s) {
    auto next = joint;
    for (std::size_t h = 0; h < next.size(); ++h) next[h] *= rows[h][s];
    bits += information(outlook, findings, at + 1, next);
  }
  return bits;
}

std::vector<double> chances(const Outlook& outlook) {
  std::vector<double> all;
  for (std::size_t h = 0; h < outlook.size(); ++h) all.push_back(outlook.chance(h));
  return all;
}

std::vector<Outcome> outcomes_of(Outlook& outlook, std::size_t finding) {
  std::vector<Outcome> outcomes;
  const auto& rows = outlook.distributions(finding);
  for (std::size_t s = 0; s < rows.front().size(); ++s) {
    Outcome outcome{s, 0, 0, 0};
    double best = -1;
    for (std::size_t h = 0; h < outlook.size(); ++h) {
      const double joint = outlook.chance(h) * rows[h][s];
      outcome.chance += joint;
      if (joint > best) best = joint, outcome.leading = h;
    }
    outcome.leading_probability = outcome.chance > 0 ? best / outcome.chance : 0;
    outcomes.push_back(outcome);
  }
  return outcomes;
}

std::vector<std::size_t> open_findings(const Check& check, const BoatModel& boat, const Circumstances& circumstances) {
  std::vector<std::size_t> open;
  for (const auto finding : check.observes) {
    const bool answered = finding.index < circumstances.answered.size() && circumstances.answered[finding.index];
    if (boat.finding_applies[finding.index] && !answered) open.push_back(finding.index);
  }
  return open;
}

// The findings that tell most, as many as keep the joint outcomes few; information of a part never exceeds that of the whole.
std::vector<std::size_t> tractable(Outlook& outlook, std::vector<std::size_t> findings) {
  const auto start = chances(outlook);
  std::stable_sort(findings.begin(), findings.end(), [&](auto a, auto b) { return information(outlook, {a}, 0, start) > information(outlook, {b}, 0, start); });
  std::size_t joint = 1, kept = 0;
  while (kept < findings.size() && joint * outlook.distributions(findings[kept]).front().size() <= most_joint_outcomes) {
    joint *= outlook.distributions(findings[kept]).front().size();
    ++kept;
  }
  findings.resize(std::max<std::size_t>(kept, 1));
  return findings;
}

std::vector<Proposal> rated(const KnowledgeBase& base, const BoatModel& boat, const installation::Evaluation& evaluation, const Diagnosis& diagnosis,
                            const Circumstances& circumstances, bool within_role) {
  std::vector<Proposal> proposals;
  Outlook outlook(boat.model, diagnosis);
  if (outlook.size() < 2) return proposals;
  for (std::size_t c = 0; c < base.checks.size(); ++c) {
    const auto& check = base.checks[c];
    if ((check.who <= circumstances.who) != within_role || !evaluation.holds(check.applies)) continue;
    const auto open = open_findings(check, boat, circumstances);
    if (open.empty()) continue;
    const auto looked_at = tractable(outlook, open);
    const double bits = information(outlook, looked_at, 0, chances(outlook));
    if (bits < least_bits) continue;
    proposals.push_back({{c}, bits, bits / std::max(check.effort.minutes, 1.0), {looked_at.front()}, outcomes_of(outlook, looked_at.front())});
  }
  const auto put_off = [&](const Proposal& p) { return p.check.index < circumstances.put_off.size() && circumstances.put_off[p.check.index]; };
  std::stable_sort(proposals.begin(), proposals.end(), [&](const Proposal& a, const Proposal& b) {
    if (put_off(a) != put_off(b)) return put_off(b);
    return a.bits_per_minute > b.bits_per_minute;
  });
  return proposals;
}

}  // namespace

std::vector<Proposal> proposals(const KnowledgeBase& base, const BoatModel& boat, const installation::Evaluation& evaluation, const Diagnosis& diagnosis,
                                const Circumstances& circumstances) {
  return rated(base, boat, evaluation, diagnosis, circumstances, true);
}

std::vector<Proposal> beyond_role(const KnowledgeBase& base, const BoatModel& boat, const installation::Evaluation& evaluation, const Diagnosis& diagnosis,
                                  const Circumstances& circumstances) {
  const auto allowed = rated(base, boat, evaluation, diagnosis, circumstances, true);
  auto beyond = rated(base, boat, evaluation, diagnosis, circumstances, false);
  const double best = allowed.empty() ? 0 : allowed.front().bits_per_minute;
  std::erase_if(beyond, [&](const Proposal& p) { return p.bits_per_minute <= best; });
  return beyond;
}

std::vector<knowledge::Ref<knowledge::Remedy>> remedies_for(const KnowledgeBase& base, const BoatModel& boat, const installation::Evaluation& evaluation,
                                                             const diagnosis::Explanation& explanation) {
  std::vector<knowledge::Ref<knowledge::Remedy>> remedies;
  for (const auto cause : explanation.causes) {
    if (!boat.cause_refs[cause]) continue;
    for (const auto& [remedy, chance] : base[*boat.cause_refs[cause]].mends) {
      const bool known = std::find(remedies.begin(), remedies.end(), remedy) != remedies.end();
      if (!known && evaluation.holds(base[remedy].applies)) remedies.push_back(remedy);
    }
  }
  return remedies;
}

}  // namespace leadline::planning
