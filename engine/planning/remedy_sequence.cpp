#include "engine/planning/remedy_sequence.h"

#include <algorithm>

namespace leadline::planning {

namespace {

constexpr double instant = 1e-9;             // minutes: what takes none is not divided by nothing
constexpr double rounding = 1e-13;           // of the weight at first: what is left of it by adding and taking away is none
constexpr double truly_better = 1 + 1e-12;   // rounding decides nothing: the lower index wins

std::size_t causes_in(const RepairProblem& problem) {
  std::size_t count = 0;
  for (const auto& causes : problem.causes) {
    for (const auto cause : causes) count = std::max(count, cause + 1);
  }
  return count;
}

}  // namespace

RemedySequence::RemedySequence(const RepairProblem& problem) : problem_(problem), holders_(causes_in(problem)), removers_(holders_.size()) {
  for (std::size_t h = 0; h < problem.causes.size(); ++h) {
    for (const auto cause : problem.causes[h]) holders_[cause].push_back(h);
  }
  std::vector<double> cheapest(holders_.size(), problem.giving_up);
  for (std::size_t r = 0; r < problem.remedies.size(); ++r) {
    const auto& remedy = problem.remedies[r];
    const double shortest = remedy.doing.minutes + remedy.proof.minutes;
    per_minute_.push_back(1 / std::max(shortest, instant));
    auto& touches = touches_.emplace_back();
    for (const auto& [cause, chance] : remedy.mends) {
      if (cause >= holders_.size() || chance <= 0) continue;
      cheapest[cause] = std::min(cheapest[cause], shortest);
      removers_[cause].push_back(r);
      for (const auto h : holders_[cause]) touches.push_back({h, cause, chance}), touched_.push_back(static_cast<std::uint32_t>(h));
    }
    touches_end_.push_back(touched_.size());
  }
  for (const auto& causes : problem.causes) {
    double least = 0;
    for (const auto cause : causes) least = std::max(least, cheapest[cause]);
    least_.push_back(least);
    has_remedies_.push_back(std::none_of(causes.begin(), causes.end(), [&](auto cause) { return removers_[cause].empty(); }));
  }
  open_.resize(problem.chance.size());
  share_.resize(problem.chance.size());
  share_there_.resize(problem.chance.size());
  gain_.resize(problem.remedies.size());
  rate_without_trips_.resize(problem.remedies.size());
  is_stale_.resize(problem.remedies.size());
}

Point RemedySequence::start() const {
  Point point{problem_.chance, std::vector<double>(holders_.size(), 1.0), {}, std::vector<bool>(problem_.checks.size()), std::vector<bool>(problem_.remedies.size()), 0, problem_.standing};
  for (std::size_t h = 0; h < problem_.chance.size(); ++h) point.uncured.push_back(uncured(h, point.left));
  return point;
}

double RemedySequence::uncured(std::size_t hypothesis, const std::vector<double>& left) const {
  double cured = 1;
  for (const auto cause : problem_.causes[hypothesis]) cured *= 1 - left[cause];
  return 1 - cured;
}

double RemedySequence::minutes(std::size_t remedy, const Standing& standing) const {
  return minutes_of(problem_.remedies[remedy], problem_.terrain, standing);
}

void RemedySequence::do_remedy(Point& point, std::size_t remedy) {
  const auto& option = problem_.remedies[remedy];
  for (const auto& [cause, chance] : option.mends) {
    if (cause >= holders_.size()) continue;
    point.left[cause] *= 1 - chance;
    for (const auto h : holders_[cause]) point.uncured[h] = uncured(h, point.left);
  }
  point.done[remedy] = true;
  point.mended = ++last_mended_;
  point.standing = after(option, point.standing);
}

double RemedySequence::causes_left(std::size_t hypothesis, const std::vector<double>& left) const {
  double sum = 0;
  for (const auto cause : problem_.causes[hypothesis]) sum += left[cause];
  return sum;
}

double RemedySequence::gain_of(std::size_t remedy) const {
  double gained = 0;
  for (const auto& touch : touches_[remedy]) gained += share_[touch.hypothesis] * touch.chance * left_[touch.cause];
  return gained;
}

void RemedySequence::stand_at(const Point& point, const Standing& standing) {
  const bool same = mended_there_ == point.mended;
  if (!same || standing_there_ != standing) minutes_there_.assign(gain_.size(), -1);
  standing_there_ = standing;
  if (same) return;
  mended_there_ = point.mended;
  for (std::size_t h = 0; h < share_there_.size(); ++h) {
    const double causes = causes_left(h, point.left);
    share_there_[h] = causes > 0 ? point.uncured[h] / causes : 0;
  }
  takes_there_.clear();
  for (const auto& touches : touches_) {
    for (const auto& touch : touches) takes_there_.push_back(touch.chance * point.left[touch.cause]);
  }
}

void RemedySequence::begin(const Point& point, const std::vector<double>& weight, const Standing& standing) {
  stand_at(point, standing);
  weight_ = &weight;
  left_ = point.left;
  double remaining = 0, curable = 0;   // not the members: sums that wait for the memory at every term take three times as long
  for (std::size_t h = 0; h < weight.size(); ++h) {
    open_[h] = weight[h] * point.uncured[h];
    share_[h] = weight[h] * share_there_[h];
    remaining += open_[h];
    if (has_remedies_[h]) curable += open_[h];
  }
  at_first_ = remaining_ = remaining;
  curable_ = curable;
  work_ += weight.size() + gain_.size() + touched_.size();
  for (std::size_t r = 0, touch = 0; r < gain_.size(); ++r) {
    double gain = 0;
    for (; touch < touches_end_[r]; ++touch) gain += share_[touched_[touch]] * takes_there_[touch];
    set_gain(r, point.done[r] ? 0 : gain);
  }
}

void RemedySequence::set_gain(std::size_t remedy, double gain) {
  gain_[remedy] = gain;
  rate_without_trips_[remedy] = gain * per_minute_[remedy];
}

RemedySequence::Rated RemedySequence::rated(std::size_t remedy, double takes) const {
  return {remedy, gain_[remedy] / std::max(takes, instant), takes};
}

double RemedySequence::minutes_there(std::size_t remedy) {
  auto& known = minutes_there_[remedy];
  if (known < 0) known = minutes(remedy, standing_there_);
  return known;
}

std::optional<RemedySequence::Rated> RemedySequence::best_remedy(const Standing& standing) {
  std::optional<Rated> best;
  double rate_to_beat = 0;
  const bool there = standing == standing_there_;
  work_ += gain_.size() / 4;
  for (std::size_t r = 0; r < gain_.size(); ++r) {
    if (rate_without_trips_[r] <= rate_to_beat) continue;   // trips only make it worse: no need to ask for them
    work_ += 8;
    if (const auto candidate = rated(r, there ? minutes_there(r) : minutes(r, standing)); candidate.rate > rate_to_beat) best = candidate, rate_to_beat = candidate.rate * truly_better;
  }
  return best;
}

// Only what shares a hypothesis with the remedy gains something else afterwards.
void RemedySequence::mend(std::size_t remedy) {
  affected_.clear();
  for (const auto& touch : touches_[remedy]) {
    if (open_[touch.hypothesis] > 0) affected_.push_back(touch.hypothesis);
  }
  for (const auto& [cause, chance] : problem_.remedies[remedy].mends) {
    if (cause < left_.size()) left_[cause] *= 1 - chance;
  }
  for (const auto h : affected_) reconsider(h);
  set_gain(remedy, 0);
  mark_removers_of_affected();
  for (const auto r : stale_) {
    set_gain(r, gain_of(r));
    is_stale_[r] = false;
    work_ += touches_[r].size();
  }
}

// Remedies that still gain something in a hypothesis that has changed, each once: hypotheses share causes, and causes share remedies.
void RemedySequence::mark_removers_of_affected() {
  stale_.clear();
  for (const auto h : affected_) {
    for (const auto cause : problem_.causes[h]) {
      for (const auto r : removers_[cause]) {
        if (is_stale_[r] || !(gain_[r] > 0)) continue;
        is_stale_[r] = true;
        stale_.push_back(r);
      }
    }
  }
}

void RemedySequence::reconsider(std::size_t hypothesis) {
  const double still = (*weight_)[hypothesis] * uncured(hypothesis, left_);
  const double cured = open_[hypothesis] - still;
  remaining_ -= cured;
  if (remaining_ < rounding * at_first_) remaining_ = 0;
  if (has_remedies_[hypothesis]) curable_ -= cured;
  open_[hypothesis] = still;
  const double causes = causes_left(hypothesis, left_);
  share_[hypothesis] = still > 0 && causes > 0 ? still / causes : 0;
  work_ += 4;
}

double RemedySequence::cost(const Point& point, const std::vector<double>& weight, const Standing& standing) {
  begin(point, weight, standing);
  return run(standing, 0, nullptr);
}

double RemedySequence::best_order(const Point& point, std::vector<std::size_t>& order) {
  begin(point, point.weight, point.standing);
  return run(point.standing, 0.5, &order);
}

double RemedySequence::run(const Standing& standing, double patience, std::vector<std::size_t>* order) {
  auto now = standing;
  double spent = 0, best = remaining_ * problem_.giving_up;
  std::vector<std::size_t> done;
  std::size_t kept = 0;
  while (const auto next = best_remedy(now)) {
    if (next->rate * problem_.giving_up < remaining_ - patience * curable_) break;
    spent += next->minutes * remaining_;
    if (spent >= best) break;
    mend(next->remedy);
    now = after(problem_.remedies[next->remedy], now);
    if (order != nullptr) done.push_back(next->remedy);
    if (const double total = spent + remaining_ * problem_.giving_up; total < best) best = total, kept = done.size();
  }
  if (order != nullptr) order->assign(done.begin(), done.begin() + static_cast<std::ptrdiff_t>(kept));
  return best;
}

std::vector<std::size_t> RemedySequence::most_promising(const Point& point, std::size_t at_most) {
  begin(point, point.weight, point.standing);
  std::vector<Rated> all;
  for (std::size_t r = 0; r < gain_.size(); ++r) {
    if (gain_[r] > 0) all.push_back(rated(r, minutes_there(r)));
  }
  std::stable_sort(all.begin(), all.end(), [](const Rated& a, const Rated& b) { return a.rate > b.rate; });
  std::vector<std::size_t> remedies;
  for (std::size_t i = 0; i < std::min(at_most, all.size()); ++i) remedies.push_back(all[i].remedy);
  return remedies;
}

}  // namespace leadline::planning
