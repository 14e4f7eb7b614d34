#include "engine/planning/look_ahead.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <tuple>

namespace leadline::planning {

namespace {

constexpr double negligible = 1e-9;          // minutes times weight: no gain
constexpr std::size_t all_up_to = 16;        // so few things to do are all looked at at every step
constexpr std::size_t narrow = 6;            // of more, the most promising

// By value in steps too small for a person to see, so that rounding decides nothing; then what costs least to be wrong about.
bool sooner(const Option& a, const Option& b) {
  const auto rank = [](const Option& o) { return std::tuple(std::round(o.expected * 1e7), static_cast<int>(o.act), o.index); };
  return rank(a) < rank(b);
}

}  // namespace

LookAhead::LookAhead(const RepairProblem& problem) : problem_(problem) {
  if (const auto why = why_invalid(problem); !why.empty()) throw std::invalid_argument(why);
  for (const auto& causes : problem.causes) {
    for (const auto cause : causes) causes_ = std::max(causes_, cause + 1);
  }
  std::vector<std::vector<std::size_t>> holders(causes_);
  for (std::size_t h = 0; h < problem.causes.size(); ++h) {
    for (const auto cause : problem.causes[h]) holders[cause].push_back(h);
  }
  std::vector<double> cheapest(causes_, problem.giving_up);
  for (const auto& remedy : problem.remedies) {
    auto& touches = touches_.emplace_back();
    for (const auto& [cause, chance] : remedy.mends) {
      if (cause >= causes_ || chance <= 0) continue;
      cheapest[cause] = std::min(cheapest[cause], remedy.doing.minutes + remedy.proof.minutes);
      for (const auto h : holders[cause]) touches.push_back({h, cause, chance});
    }
  }
  for (const auto& causes : problem.causes) {
    double least = 0;
    for (const auto cause : causes) least = std::max(least, cheapest[cause]);
    least_.push_back(least);
  }
}

Point LookAhead::start() const {
  return {problem_.chance, std::vector<double>(causes_, 1.0), std::vector<bool>(problem_.checks.size()), std::vector<bool>(problem_.remedies.size()), problem_.standing};
}

double LookAhead::uncured(const Point& point, std::size_t hypothesis) const {
  double cured = 1;
  for (const auto cause : problem_.causes[hypothesis]) cured *= 1 - point.left[cause];
  return 1 - cured;
}

double LookAhead::remaining(const Point& point) const {
  double sum = 0;
  for (std::size_t h = 0; h < point.weight.size(); ++h) {
    if (point.weight[h] > 0) sum += point.weight[h] * uncured(point, h);
  }
  return sum;
}

double LookAhead::least_possible(const Point& point) const {
  double sum = 0;
  for (std::size_t h = 0; h < point.weight.size(); ++h) {
    if (point.weight[h] > 0) sum += point.weight[h] * uncured(point, h) * least_[h];
  }
  return sum;
}

double LookAhead::remedy_minutes(std::size_t remedy, const Standing& standing) const {
  const auto& option = problem_.remedies[remedy];
  return minutes_of(option.doing, problem_.terrain, standing) + minutes_of(option.proof, problem_.terrain, planning::after(option.doing, standing));
}

LookAhead::Shares LookAhead::shares(const Point& point) const {
  Shares shares(point.weight.size());
  for (std::size_t h = 0; h < shares.size(); ++h) {
    if (!(point.weight[h] > 0)) continue;
    double left = 0;
    for (const auto cause : problem_.causes[h]) left += point.left[cause];
    if (left > 0) shares[h] = point.weight[h] * uncured(point, h) / left;
  }
  return shares;
}

double LookAhead::gain(const Point& point, const Shares& shares, std::size_t remedy) const {
  double gained = 0;
  for (const auto& touch : touches_[remedy]) gained += shares[touch.hypothesis] * touch.chance * point.left[touch.cause];
  return gained;
}

std::optional<LookAhead::Rated> LookAhead::best_remedy(const Point& point) {
  std::optional<Rated> best;
  double best_rate = 0;
  const auto shared = shares(point);
  work_ += 4 * shared.size();
  for (std::size_t r = 0; r < problem_.remedies.size(); ++r) {
    if (point.done[r] || touches_[r].empty()) continue;
    work_ += touches_[r].size() + 8;
    const Rated rated{r, gain(point, shared, r), remedy_minutes(r, point.standing)};
    const double rate = rated.gain / std::max(rated.minutes, negligible);
    if (rate > best_rate * (1 + 1e-12)) best_rate = rate, best = rated;
  }
  return best;
}

void LookAhead::do_remedy(Point& point, std::size_t remedy) const {
  const auto& option = problem_.remedies[remedy];
  for (const auto& [cause, chance] : option.mends) {
    if (cause < causes_) point.left[cause] *= 1 - chance;
  }
  point.done[remedy] = true;
  point.standing = planning::after(option.proof, planning::after(option.doing, point.standing));
}

double LookAhead::remedies_only(const Point& point, std::vector<std::size_t>* order) {
  auto now = point;
  double weight = remaining(now), spent_so_far = 0;
  double best = weight * problem_.giving_up;
  std::vector<std::size_t> done;
  std::size_t kept = 0;
  while (const auto next = best_remedy(now)) {
    // Once the best of them cures too little for its minutes, so do all that follow: giving up is cheaper.
    if (next->gain * problem_.giving_up < next->minutes * weight) break;
    spent_so_far += next->minutes * weight;
    if (spent_so_far >= best) break;
    do_remedy(now, next->remedy);
    done.push_back(next->remedy);
    weight = remaining(now);
    if (const double total = spent_so_far + weight * problem_.giving_up; total < best) best = total, kept = done.size();
  }
  if (order != nullptr) order->assign(done.begin(), done.begin() + static_cast<std::ptrdiff_t>(kept));
  return best;
}

Point LookAhead::after_check(const Point& point, std::size_t check, std::size_t outcome) const {
  auto next = point;
  const auto& chances = problem_.checks[check].outcomes[outcome];
  for (std::size_t h = 0; h < next.weight.size(); ++h) next.weight[h] *= chances[h];
  next.checked[check] = true;
  next.standing = planning::after(problem_.checks[check].doing, point.standing);
  return next;
}

std::vector<Option> LookAhead::first_steps(const Point& point, double best) {
  std::vector<Option> steps;
  const double weight = remaining(point), bound = least_possible(point);
  const auto consider = [&](Option option, double at_least) {
    if (option.minutes * weight + at_least > best) return;
    option.expected = value_after(point, option, 0, best);
    steps.push_back(option);
  };
  for (std::size_t c = 0; c < problem_.checks.size(); ++c) {
    // Even with the truth in hand after it, the rest costs the bound.
    if (!point.checked[c]) consider({Act::check, c, minutes_of(problem_.checks[c].doing, problem_.terrain, point.standing), 0}, bound);
  }
  const auto shared = shares(point);
  for (std::size_t r = 0; r < problem_.remedies.size(); ++r) {
    if (!point.done[r] && gain(point, shared, r) > 0) consider({Act::remedy, r, remedy_minutes(r, point.standing), 0}, 0);
  }
  std::sort(steps.begin(), steps.end(), sooner);
  return steps;
}

// The value of the option followed by `depth` steps chosen freely and then remedies alone. Once it cannot get below `best` any more: some
// value above `best`.
double LookAhead::value_after(const Point& point, const Option& option, std::size_t depth, double best) {
  const double weight = remaining(point);
  if (option.act == Act::give_up) return weight * problem_.giving_up;
  double total = option.minutes * weight;
  if (option.act == Act::remedy) {
    auto next = point;
    do_remedy(next, option.index);
    return total + value(next, depth);
  }
  double to_come = least_possible(point);
  const auto outcomes = problem_.checks[option.index].outcomes.size();
  for (std::size_t o = 0; o < outcomes && total + to_come <= best; ++o) {
    const auto next = after_check(point, option.index, o);
    work_ += 3 * next.weight.size();
    to_come -= least_possible(next);
    total += value(next, depth);
  }
  return total + std::max(to_come, 0.0);
}

double LookAhead::value(const Point& point, std::size_t depth) {
  double best = remedies_only(point);
  if (depth == 0 || spent() || best - least_possible(point) <= negligible) return best;
  const auto steps = first_steps(point, best);
  const bool few = steps.size() <= all_up_to;
  for (std::size_t s = 0; s < steps.size(); ++s) {
    best = std::min(best, steps[s].expected);
    if (depth > 1 && (few || s < narrow) && !spent()) best = std::min(best, value_after(point, steps[s], depth - 1, best));
  }
  return best;
}

RemedyOrder LookAhead::order() {
  RemedyOrder order;
  const auto from = start();
  order.minutes = remedies_only(from, &order.remedies);
  if (const double weight = remaining(from); weight > 0) order.minutes /= weight;
  return order;
}

// Step by step deeper, as long as work is left. All values are costs of policies one could follow, so what is already known stays true when
// the work runs out in the middle.
Plan LookAhead::plan(const PlanOptions& options) {
  most_work_ = options.most_work;
  work_ = 0;
  constexpr double no_limit = std::numeric_limits<double>::infinity();
  Plan plan;
  const auto from = start();
  const double weight = remaining(from);
  plan.without_checks = order();
  plan.options = first_steps(from, no_limit);
  plan.options.push_back({Act::give_up, 0, problem_.giving_up, weight * problem_.giving_up});
  plan.least_possible = least_possible(from);
  const auto shown = plan.options.size() <= all_up_to ? plan.options.size() : 2 * narrow;
  for (std::size_t depth = 1; depth < options.deepest && !spent(); ++depth) {
    std::sort(plan.options.begin(), plan.options.end(), sooner);
    for (std::size_t o = 0; o < std::min(shown, plan.options.size()) && !spent(); ++o) {
      plan.options[o].expected = std::min(plan.options[o].expected, value_after(from, plan.options[o], depth, no_limit));
    }
    plan.depth = depth;
  }
  std::sort(plan.options.begin(), plan.options.end(), sooner);
  if (weight > 0) {
    for (auto& option : plan.options) option.expected /= weight;
    plan.least_possible /= weight;
  }
  return plan;
}

}  // namespace leadline::planning
