#include "engine/planning/look_ahead.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <tuple>

namespace leadline::planning {

namespace {

constexpr double negligible = 1e-9;          // minutes times weight: no gain
constexpr double no_limit = std::numeric_limits<double>::infinity();
// Narrow and deep gives far better values for the same work than wide and shallow (docs/planning.md); with work left, twice as wide.
constexpr std::size_t first_steps_followed = 6;   // so many first steps are followed further, times the width, …
constexpr std::size_t steps_followed = 1;         // … so many of each step after them …
constexpr std::size_t thought_of = 10;            // … and so many checks, and remedies, are thought of there
constexpr double worthwhile = 1e-3;               // of the value of the whole, over the width: where less can be won, no further step is looked at

// By value in steps too small for a person to see, so that rounding decides nothing; then what costs least to be wrong about.
bool sooner(const Option& a, const Option& b) {
  const auto rank = [](const Option& o) { return std::tuple(std::round(o.expected * 1e7), static_cast<int>(o.act), o.index); };
  return rank(a) < rank(b);
}

const RepairProblem& checked(const RepairProblem& problem) {
  if (const auto why = why_invalid(problem); !why.empty()) throw std::invalid_argument(why);
  return problem;
}

// Those that looked best.
std::vector<std::size_t> best_checks(const std::vector<Option>& steps, std::size_t at_most) {
  std::vector<std::size_t> kept;
  for (const auto& step : steps) {
    if (step.act == Act::check && kept.size() < at_most) kept.push_back(step.index);
  }
  return kept;
}

}  // namespace

LookAhead::LookAhead(const RepairProblem& problem) : problem_(checked(problem)), sequence_(problem) {}

double LookAhead::remaining(const Point& point) const {
  return std::inner_product(point.weight.begin(), point.weight.end(), point.uncured.begin(), 0.0);
}

double LookAhead::least_possible(const Point& point) const {
  double sum = 0;
  for (std::size_t h = 0; h < point.weight.size(); ++h) sum += point.weight[h] * point.uncured[h] * sequence_.least(h);
  return sum;
}

bool LookAhead::anything_left(const Point& point) const {
  return std::count(point.checked.begin(), point.checked.end(), false) + std::count(point.done.begin(), point.done.end(), false) > 0;
}

double LookAhead::weigh(const Point& point, std::size_t check, std::size_t outcome, std::vector<double>& weight) {
  const auto& chances = problem_.checks[check].outcomes[outcome];
  weight.resize(chances.size());
  double least = 0;
  for (std::size_t h = 0; h < chances.size(); ++h) {
    weight[h] = point.weight[h] * chances[h];
    least += weight[h] * point.uncured[h] * sequence_.least(h);
  }
  work_ += weight.size();
  return least;
}

double LookAhead::value_at_once(const Point& point, const Option& option, double best) {
  double total = option.minutes * remaining(point);
  if (option.act == Act::remedy) {
    auto next = point;
    sequence_.do_remedy(next, option.index);
    return total + sequence_.cost(next, next.weight, next.standing);
  }
  const auto standing = after(problem_.checks[option.index].doing, point.standing);
  double to_come = least_possible(point);
  const auto outcomes = problem_.checks[option.index].outcomes.size();
  for (std::size_t o = 0; o < outcomes && total + to_come <= best; ++o) {
    to_come -= weigh(point, option.index, o, weight_);
    total += sequence_.cost(point, weight_, standing);
  }
  return total + std::max(to_come, 0.0);
}

std::vector<Option> LookAhead::first_steps(const Point& point, const Checks& checks, std::size_t most_remedies, double best) {
  std::vector<Option> steps;
  const double weight = remaining(point), bound = least_possible(point);
  const auto consider = [&](Option option, double at_least) {
    if (option.minutes * weight + at_least > best) return;
    option.expected = value_at_once(point, option, best);
    steps.push_back(option);
  };
  for (const auto c : checks) {
    // Even with the truth in hand after it, the rest costs the bound.
    if (!point.checked[c]) consider({Act::check, c, minutes_of(problem_.checks[c].doing, problem_.terrain, point.standing), 0}, bound);
  }
  for (const auto r : sequence_.most_promising(point, most_remedies)) consider({Act::remedy, r, sequence_.minutes(r, point.standing), 0}, 0);
  std::sort(steps.begin(), steps.end(), sooner);
  return steps;
}

// The value of the option followed by `depth` steps chosen freely and then remedies alone. Once it cannot get below `best` any more: some
// value above `best`.
double LookAhead::value_after(const Point& point, const Option& option, const Checks& checks, std::size_t depth, double best) {
  double total = option.minutes * remaining(point);
  auto next = point;
  if (option.act == Act::remedy) {
    sequence_.do_remedy(next, option.index);
    return total + value(next, checks, depth);
  }
  next.checked[option.index] = true;
  next.standing = after(problem_.checks[option.index].doing, point.standing);
  double to_come = least_possible(point);
  const auto outcomes = problem_.checks[option.index].outcomes.size();
  for (std::size_t o = 0; o < outcomes && total + to_come <= best; ++o) {
    to_come -= weigh(point, option.index, o, next.weight);
    total += value(next, checks, depth);
  }
  return total + std::max(to_come, 0.0);
}

double LookAhead::value(const Point& point, const Checks& checks, std::size_t depth) {
  double best = sequence_.cost(point, point.weight, point.standing);
  const double to_win = best - least_possible(point);
  if (to_win <= negligible || !anything_left(point)) return best;
  if (depth == 0 || spent()) cut_short_ = true;
  if (depth == 0 || spent() || to_win <= least_worthwhile_) {
    narrowed_ = true;
    return best;
  }
  const auto steps = first_steps(point, checks, thought_of * width_, best);
  const auto next_checks = best_checks(steps, thought_of * width_);
  narrowed_ |= steps.size() > steps_followed * width_;
  for (std::size_t s = 0; s < steps.size(); ++s) {
    best = std::min(best, steps[s].expected);
    if (depth > 1 && s < steps_followed * width_ && !spent()) best = std::min(best, value_after(point, steps[s], next_checks, depth - 1, best));
    cut_short_ |= depth == 1;
  }
  return best;
}

RemedyOrder LookAhead::order() {
  RemedyOrder order;
  const auto from = sequence_.start();
  order.minutes = sequence_.best_order(from, order.remedies);
  if (const double weight = remaining(from); weight > 0) order.minutes /= weight;
  return order;
}

LookAhead::Checks LookAhead::all_checks() const {
  Checks all(problem_.checks.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  return all;
}

void LookAhead::deepen(Plan& plan, const Point& from, std::size_t depth) {
  std::sort(plan.options.begin(), plan.options.end(), sooner);
  least_worthwhile_ = worthwhile / static_cast<double>(width_) * plan.options.front().expected;
  const auto checks = best_checks(plan.options, thought_of * width_);
  const auto followed = std::min(plan.options.size(), first_steps_followed * width_);
  narrowed_ |= followed < plan.options.size();
  for (std::size_t o = 0; o < followed && !spent(); ++o) {
    auto& option = plan.options[o];
    if (option.act != Act::give_up) option.expected = std::min(option.expected, value_after(from, option, checks, depth, no_limit));
  }
}

// Step by step deeper, as long as work is left. All values are costs of policies one could follow, so what is already known stays true when
// the work runs out in the middle.
Plan LookAhead::plan(const PlanOptions& options) {
  most_work_ = options.most_work;
  Plan plan;
  const auto from = sequence_.start();
  const double weight = remaining(from);
  plan.without_checks = order();
  plan.options = first_steps(from, all_checks(), problem_.remedies.size(), no_limit);
  for (auto& option : plan.options) {
    const auto& order = plan.without_checks.remedies;
    if (option.act == Act::remedy && !order.empty() && option.index == order.front()) option.expected = std::min(option.expected, plan.without_checks.minutes * weight);
  }
  plan.options.push_back({Act::give_up, 0, problem_.giving_up, weight * problem_.giving_up});
  plan.least_possible = least_possible(from);
  narrowed_ = true;
  for (width_ = 1; narrowed_ && !spent(); width_ *= 2) {
    cut_short_ = true;
    narrowed_ = false;
    for (std::size_t depth = 1; depth < options.deepest && cut_short_ && !spent(); ++depth) {
      cut_short_ = false;
      deepen(plan, from, depth);
      plan.depth = std::max(plan.depth, depth);
    }
  }
  std::sort(plan.options.begin(), plan.options.end(), sooner);
  if (weight > 0) {
    for (auto& option : plan.options) option.expected /= weight;
    plan.least_possible /= weight;
  }
  return plan;
}

}  // namespace leadline::planning
