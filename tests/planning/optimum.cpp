#include "tests/planning/optimum.h"

#include <algorithm>
#include <numeric>

namespace leadline::planning {

namespace {

constexpr double unknown = -1;

class Table {
 public:
  explicit Table(const RepairProblem& problem) : problem_(problem), seen_(problem.checks.size(), 0) {
    place_stride_ = std::size_t{1} << problem.remedies.size();
    condition_stride_ = place_stride_ * (problem.terrain.reach.size() + 1);
    std::size_t entries = condition_stride_ * (problem.terrain.setting.size() + 1);
    for (const auto& check : problem.checks) {
      check_stride_.push_back(entries);
      entries *= check.outcomes.size() + 1;
    }
    values_.assign(entries, unknown);
  }

  // The minutes still needed times the weight of what is not cured; `weight` by hypothesis, `done` a set of remedies.
  double value(const std::vector<double>& weight, std::size_t done, const Standing& standing) {
    double& known = values_[index(done, standing)];
    if (known == unknown) known = least(weight, done, standing);   // the table never moves
    return known;
  }

 private:
  std::size_t index(std::size_t done, const Standing& standing) const {
    std::size_t i = done;
    if (standing.place) i += place_stride_ * (*standing.place + 1);
    if (standing.condition) i += condition_stride_ * (*standing.condition + 1);
    for (std::size_t c = 0; c < seen_.size(); ++c) i += check_stride_[c] * seen_[c];
    return i;
  }

  // P(not cured | hypothesis): each remedy done had its own draw at each cause.
  double uncured(std::size_t hypothesis, std::size_t done) const {
    double cured = 1;
    for (const auto cause : problem_.causes[hypothesis]) {
      double left = 1;
      for (std::size_t r = 0; r < problem_.remedies.size(); ++r) {
        if (!(done >> r & 1U)) continue;
        for (const auto& [mended, chance] : problem_.remedies[r].mends) left *= mended == cause ? 1 - chance : 1;
      }
      cured *= 1 - left;
    }
    return 1 - cured;
  }

  double least(const std::vector<double>& weight, std::size_t done, const Standing& standing) {
    double uncured_weight = 0;
    for (std::size_t h = 0; h < weight.size(); ++h) uncured_weight += weight[h] > 0 ? weight[h] * uncured(h, done) : 0;
    if (!(uncured_weight > 0)) return 0;
    double best = uncured_weight * problem_.giving_up;
    for (std::size_t c = 0; c < problem_.checks.size(); ++c) {
      if (seen_[c] == 0) best = std::min(best, uncured_weight * minutes_of(problem_.checks[c].doing, problem_.terrain, standing) + after_checking(c, weight, done, standing));
    }
    for (std::size_t r = 0; r < problem_.remedies.size(); ++r) {
      if (done >> r & 1U) continue;
      const auto& remedy = problem_.remedies[r];
      const auto mended = after(remedy.doing, standing);
      const double minutes = minutes_of(remedy.doing, problem_.terrain, standing) + minutes_of(remedy.proof, problem_.terrain, mended);
      best = std::min(best, uncured_weight * minutes + value(weight, done | std::size_t{1} << r, after(remedy.proof, mended)));
    }
    return best;
  }

  double after_checking(std::size_t c, const std::vector<double>& weight, std::size_t done, const Standing& standing) {
    const auto& check = problem_.checks[c];
    double sum = 0;
    for (std::size_t o = 0; o < check.outcomes.size(); ++o) {
      auto then = weight;
      for (std::size_t h = 0; h < then.size(); ++h) then[h] *= check.outcomes[o][h];
      seen_[c] = o + 1;
      sum += value(then, done, after(check.doing, standing));
    }
    seen_[c] = 0;
    return sum;
  }

  const RepairProblem& problem_;
  std::vector<std::size_t> seen_;        // by check: 0 when not done, else outcome + 1
  std::vector<std::size_t> check_stride_;
  std::size_t place_stride_ = 0, condition_stride_ = 0;
  std::vector<double> values_;
};

double weight_of(const RepairProblem& problem) { return std::accumulate(problem.chance.begin(), problem.chance.end(), 0.0); }

void add_hypothesis(RepairProblem& to, const RepairProblem& from, std::size_t like, std::vector<std::size_t> causes, double chance) {
  to.chance.push_back(chance);
  to.causes.push_back(std::move(causes));
  for (std::size_t c = 0; c < to.checks.size(); ++c) {
    for (std::size_t o = 0; o < to.checks[c].outcomes.size(); ++o) to.checks[c].outcomes[o].push_back(from.checks[c].outcomes[o][like]);
  }
}

double following(const RepairProblem& problem, const Adviser& adviser) {
  const double weight = weight_of(problem);
  if (!(weight > 0)) return 0;
  const auto advice = adviser(problem);
  if (advice.act == Act::give_up) return weight * problem.giving_up;
  double sum = weight * advice.minutes;
  if (advice.act == Act::remedy) return sum + following(after_remedy(problem, advice.index), adviser);
  for (std::size_t o = 0; o < problem.checks[advice.index].outcomes.size(); ++o) sum += following(after_check(problem, advice.index, o), adviser);
  return sum;
}

}  // namespace

double least_minutes(const RepairProblem& problem) { return Table(problem).value(problem.chance, 0, problem.standing) / weight_of(problem); }

RepairProblem after_check(const RepairProblem& problem, std::size_t check, std::size_t outcome) {
  auto next = problem;
  next.standing = after(problem.checks[check].doing, problem.standing);
  for (std::size_t h = 0; h < next.chance.size(); ++h) next.chance[h] *= problem.checks[check].outcomes[outcome][h];
  next.checks.erase(next.checks.begin() + static_cast<std::ptrdiff_t>(check));
  return next;
}

// Of several causes some may be mended and others left: a hypothesis becomes one for each set that may be left. What the checks would show
// stays as it was under the whole hypothesis.
RepairProblem after_remedy(const RepairProblem& problem, std::size_t remedy) {
  const auto& done = problem.remedies[remedy];
  auto next = problem;
  next.standing = after(done.proof, after(done.doing, problem.standing));
  next.remedies.erase(next.remedies.begin() + static_cast<std::ptrdiff_t>(remedy));
  next.chance.clear();
  next.causes.clear();
  for (auto& check : next.checks) {
    for (auto& outcome : check.outcomes) outcome.clear();
  }
  for (std::size_t h = 0; h < problem.chance.size(); ++h) {
    const auto& causes = problem.causes[h];
    for (std::size_t left = 1; left < std::size_t{1} << causes.size(); ++left) {   // as a set of the causes; none left is cured
      double chance = problem.chance[h];
      std::vector<std::size_t> still;
      for (std::size_t i = 0; i < causes.size(); ++i) {
        double stays = 1;
        for (const auto& [cause, mends] : done.mends) stays *= cause == causes[i] ? 1 - mends : 1;
        chance *= left >> i & 1U ? stays : 1 - stays;
        if (left >> i & 1U) still.push_back(causes[i]);
      }
      if (chance > 0) add_hypothesis(next, problem, h, still, chance);
    }
  }
  return next;
}

double minutes_following(const RepairProblem& problem, const Adviser& adviser) { return following(problem, adviser) / weight_of(problem); }

}  // namespace leadline::planning
