#include "engine/audit/separability.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "engine/diagnosis/explanation.h"

namespace leadline::audit {

namespace {

using knowledge::KnowledgeBase;

constexpr double more_often_than_not = 0.5;

// One boat's causes, each alone, and what they make of its findings.
class Alone {
 public:
  Alone(const KnowledgeBase& base, const Sample& sample) : base_(base), sample_(sample) {
    shown_.resize(sample.boat.unlisted());
    for (const auto& check : base.checks) check_applies_.push_back(sample.evaluation->holds(check.applies));
    for (std::size_t j = 0; j < base.findings.size(); ++j) sound_.push_back(diagnosis::distribution_under(sample.boat.model, j, {}));
    for (std::size_t i = 0; i < shown_.size(); ++i) {
      for (const auto& push : sample.boat.model.causes[i].pushes) shown_[i][push.finding] = diagnosis::distribution_under(sample.boat.model, push.finding, {i});
    }
  }

  // Requires: both causes can be in this boat.
  Pair pair(std::size_t a, std::size_t b) const {
    const auto &of_a = shown_[*sample_.model_cause[a]], &of_b = shown_[*sample_.model_cause[b]];
    std::map<std::size_t, std::pair<double, double>> weights;  // by finding: for a against b, for b against a
    for (const auto* shown : {&of_a, &of_b}) {
      for (const auto& [finding, unused] : *shown) {
        const auto &p = in(of_a, finding), &q = in(of_b, finding);
        weights[finding] = {expected_weight(p, q), expected_weight(q, p)};
      }
    }
    return weighed({a, b, std::nullopt, 0, 0}, weights);
  }

 private:
  const std::vector<double>& in(const std::map<std::size_t, std::vector<double>>& shown, std::size_t finding) const {
    const auto found = shown.find(finding);
    return found == shown.end() ? sound_[finding] : found->second;
  }

  Pair weighed(Pair pair, const std::map<std::size_t, std::pair<double, double>>& weights) const {
    std::vector<bool> counted(base_.findings.size(), false);
    std::pair<double, double> all{0, 0};
    for (std::size_t c = 0; c < base_.checks.size(); ++c) {
      if (!check_applies_[c]) continue;
      std::pair<double, double> here{0, 0};
      for (const auto finding : base_.checks[c].observes) {
        const auto weight = weights.find(finding.index);
        if (weight == weights.end() || !sample_.boat.finding_applies[finding.index]) continue;
        here = {here.first + weight->second.first, here.second + weight->second.second};
        if (!counted[finding.index]) all = {all.first + weight->second.first, all.second + weight->second.second};
        counted[finding.index] = true;
      }
      const double least = std::min(here.first, here.second);
      if (least > pair.best) pair.best = least, pair.check = c;
    }
    pair.best = std::min(pair.best, most_weight);
    pair.all = std::min({all.first, all.second, most_weight});
    return pair;
  }

  const KnowledgeBase& base_;
  const Sample& sample_;
  std::vector<bool> check_applies_;
  std::vector<std::vector<double>> sound_;                         // by finding: without a fault
  std::vector<std::map<std::size_t, std::vector<double>>> shown_;  // by cause of the model, by finding
};

std::optional<std::size_t> one_for_all(const KnowledgeBase& base, const std::vector<std::size_t>& causes) {
  for (std::size_t r = 0; r < base.remedies.size(); ++r) {
    const auto mended = [&](std::size_t cause) {
      const auto& mends = base.causes[cause].mends;
      return std::any_of(mends.begin(), mends.end(), [&](const auto& mend) { return mend.remedy.index == r && mend.chance > more_often_than_not; });
    };
    if (std::all_of(causes.begin(), causes.end(), mended)) return r;
  }
  return std::nullopt;
}

std::vector<Group> groups_of(const KnowledgeBase& base, const std::vector<Pair>& pairs) {
  std::vector<std::size_t> leader(base.causes.size());
  std::iota(leader.begin(), leader.end(), 0U);
  const auto find = [&](std::size_t cause) {
    while (leader[cause] != cause) cause = leader[cause];
    return cause;
  };
  for (const auto& pair : pairs) {
    if (pair.all >= hardly) continue;
    const auto a = find(pair.a), b = find(pair.b);
    leader[std::max(a, b)] = std::min(a, b);
  }
  std::map<std::size_t, Group> groups;
  for (std::size_t i = 0; i < leader.size(); ++i) groups[find(i)].causes.push_back(i);
  std::vector<Group> several;
  for (auto& [first, group] : groups) {
    if (group.causes.size() < 2) continue;
    group.remedy = one_for_all(base, group.causes);
    several.push_back(std::move(group));
  }
  return several;
}

}  // namespace

double expected_weight(const std::vector<double>& p, const std::vector<double>& q) {
  double sum = 0;
  for (std::size_t s = 0; s < p.size(); ++s) {
    if (p[s] <= 0) continue;
    if (q[s] <= 0) return most_weight;
    sum += p[s] * std::log10(p[s] / q[s]);
  }
  return std::clamp(10 * sum, 0.0, most_weight);
}

Separability separability(const KnowledgeBase& base, const BoatSearch& search, const std::vector<Sample>& samples) {
  std::vector<Alone> boats;
  for (const auto& sample : samples) boats.emplace_back(base, sample);
  Separability result;
  for (std::size_t a = 0; a < base.causes.size(); ++a) {
    for (std::size_t b = a + 1; b < base.causes.size(); ++b) {
      std::size_t s = 0;
      while (s < samples.size() && !(samples[s].model_cause[a] && samples[s].model_cause[b])) ++s;
      if (s < samples.size()) result.pairs.push_back(boats[s].pair(a, b));
      else if (search.never(together({&base.causes[a].applies, &base.causes[b].applies}))) ++result.never_together;
      else ++result.not_judged;
    }
  }
  result.groups = groups_of(base, result.pairs);
  return result;
}

Testability testability(const std::vector<double>& rates, const std::vector<std::vector<std::size_t>>& signatures) {
  struct Sum {
    double rate = 0;
    std::size_t count = 0;
  };
  Sum all;
  std::map<std::vector<std::size_t>, Sum> groups;
  for (std::size_t i = 0; i < rates.size(); ++i) {
    all.rate += rates[i], ++all.count;
    const bool seen = std::any_of(signatures[i].begin(), signatures[i].end(), [](auto state) { return state != 0; });
    if (seen) groups[signatures[i]].rate += rates[i], ++groups[signatures[i]].count;
  }
  Sum detected;
  Testability result;
  for (const auto& [signature, group] : groups) {
    detected.rate += group.rate, detected.count += group.count;
    result.mean_group += group.rate * static_cast<double>(group.count);
    for (auto size = group.count; size <= result.isolated.size(); ++size) {
      result.isolated[size - 1] += group.rate;
      result.isolated_by_count[size - 1] += static_cast<double>(group.count);
    }
  }
  if (detected.count == 0) return result;
  for (auto& share : result.isolated) share /= detected.rate;
  for (auto& share : result.isolated_by_count) share /= static_cast<double>(detected.count);
  result.mean_group /= detected.rate;
  result.detected = detected.rate / all.rate;
  result.detected_by_count = static_cast<double>(detected.count) / static_cast<double>(all.count);
  return result;
}

Testability testability_of(const KnowledgeBase& base, const Sample& sample, knowledge::Who who) {
  std::vector<bool> observed(base.findings.size(), false);
  for (const auto& check : base.checks) {
    if (check.who > who || !sample.evaluation->holds(check.applies)) continue;
    for (const auto finding : check.observes) observed[finding.index] = sample.boat.finding_applies[finding.index];
  }
  std::vector<double> rates;
  std::vector<std::vector<std::size_t>> signatures;
  for (std::size_t i = 0; i < sample.boat.unlisted(); ++i) {
    const auto& cause = sample.boat.model.causes[i];
    rates.push_back(cause.prior);
    signatures.emplace_back(base.findings.size(), 0U);
    for (const auto& push : cause.pushes) {
      if (!observed[push.finding]) continue;
      const auto chances = diagnosis::distribution_under(sample.boat.model, push.finding, {i});
      signatures.back()[push.finding] = static_cast<std::size_t>(std::max_element(chances.begin(), chances.end()) - chances.begin());
    }
  }
  return testability(rates, signatures);
}

}  // namespace leadline::audit
