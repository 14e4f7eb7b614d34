#pragma once
// Problems drawn from a seed: small ones that the exact optimum can be found for, and large ones that show what looking ahead costs.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>

#include "engine/planning/repair_problem.h"

namespace leadline::planning {

// The engine's numbers are the same with every compiler; the distributions of the standard library are not.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  double between(double low, double high) { return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1p-53; }
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(engine_() % n); }
  std::size_t from_to(std::size_t low, std::size_t high) { return low + below(high - low + 1); }
  bool chance(double p) { return between(0, 1) < p; }

 private:
  std::mt19937_64 engine_;
};

struct Size {
  std::size_t causes, pairs, checks, remedies, places, conditions, most_outcomes;
  double spread;                         // chances differ by up to e to this
};

inline Doing random_doing(Dice& dice, const Size& size, double low, double high) {
  Doing doing{dice.chance(0.3) ? low : dice.between(low, high), {}, std::nullopt};
  if (size.places > 0 && dice.chance(0.7)) doing.places.push_back(dice.below(size.places));
  if (size.places > 1 && dice.chance(0.15)) doing.places.push_back(dice.below(size.places));
  if (size.conditions > 0 && dice.chance(0.4)) doing.condition = dice.below(size.conditions);
  return doing;
}

// Sharp: each hypothesis shows one outcome. Noisy: it shows its own most of the time. Causes it is not about read as one ("normal").
inline CheckOption random_check(Dice& dice, const Size& size, std::size_t hypotheses) {
  const std::size_t outcomes = dice.from_to(2, size.most_outcomes);
  CheckOption check{random_doing(dice, size, 1, 10), std::vector(outcomes, std::vector<double>(hypotheses))};
  const double noise = dice.chance(0.4) ? 0 : dice.between(0.02, 0.35), about = dice.between(0.3, 0.9);
  for (std::size_t h = 0; h < hypotheses; ++h) {
    const std::size_t shown = dice.chance(about) ? dice.below(outcomes) : 0;
    for (std::size_t o = 0; o < outcomes; ++o) check.outcomes[o][h] = o == shown ? 1 - noise : noise / static_cast<double>(outcomes - 1);
  }
  return check;
}

// A remedy of its own for one cause, sometimes shared by more; it mends for certain or nearly so.
inline RemedyOption random_remedy(Dice& dice, const Size& size, std::size_t cause) {
  RemedyOption remedy{random_doing(dice, size, 5, 90), random_doing(dice, size, 1, 5), {}};
  const auto mend = [&](std::size_t c) { remedy.mends.emplace_back(c, dice.chance(0.5) ? 1.0 : dice.between(0.8, 1)); };
  mend(cause);
  for (std::size_t c = 0; c < size.causes; ++c) {
    if (c != cause && dice.chance(1.0 / static_cast<double>(size.causes))) mend(c);
  }
  return remedy;
}

// Single causes, some pairs, and last a hypothesis that no remedy touches.
inline RepairProblem random_problem(Dice& dice, const Size& size) {
  RepairProblem problem;
  problem.giving_up = dice.between(60, 600);
  for (std::size_t p = 0; p < size.places; ++p) {
    problem.terrain.reach.push_back(dice.between(0, 6));
    problem.terrain.covers.push_back(dice.chance(0.5) ? 0 : dice.between(1, 10));
  }
  for (std::size_t c = 0; c < size.conditions; ++c) problem.terrain.setting.push_back(dice.between(0, 8));
  const auto hypothesis = [&](std::vector<std::size_t> causes, double share) {
    problem.chance.push_back(share * std::exp(dice.between(0, size.spread)));
    problem.causes.push_back(std::move(causes));
  };
  for (std::size_t c = 0; c < size.causes; ++c) hypothesis({c}, 1);
  for (std::size_t p = 0; p < size.pairs; ++p) {
    const auto first = dice.below(size.causes - 1);
    hypothesis({first, dice.from_to(first + 1, size.causes - 1)}, 0.3);
  }
  hypothesis({size.causes}, 0.5);
  for (std::size_t k = 0; k < size.checks; ++k) problem.checks.push_back(random_check(dice, size, problem.chance.size()));
  const auto first = dice.below(size.causes);
  for (std::size_t r = 0; r < size.remedies; ++r) problem.remedies.push_back(random_remedy(dice, size, (first + r) % size.causes));
  return problem;
}

// Entries that the table of the exact optimum needs: outcome of each check or not done, remedies done, place, condition.
inline std::size_t table_size(const RepairProblem& problem) {
  std::size_t entries = (problem.terrain.reach.size() + 1) * (problem.terrain.setting.size() + 1);
  for (const auto& check : problem.checks) entries *= check.outcomes.size() + 1;
  return entries << problem.remedies.size();
}

// At most 8 causes, 8 checks, 6 remedies, 3 places and 2 conditions; without the checks that would make the table too large. In every other
// problem checks are quick and lie at hand, so that several are worth their minutes.
inline RepairProblem small_problem(std::uint64_t seed, std::size_t most_entries) {
  Dice dice(seed);
  const Size size{dice.from_to(3, 8), dice.below(4), dice.from_to(2, 8), dice.from_to(2, 6), dice.from_to(1, 3), dice.below(3), 3, 2.5};
  auto problem = random_problem(dice, size);
  for (auto& check : problem.checks) {
    if (seed % 2 == 0) check.doing = {check.doing.minutes / 4, {}, std::nullopt};
  }
  while (table_size(problem) > most_entries) problem.checks.pop_back();
  return problem;
}

// As large as a shipped book makes it after a few answers: 120 hypotheses, 110 checks of up to 3 outcomes, 60 remedies.
inline RepairProblem large_problem(std::uint64_t seed) {
  Dice dice(seed);
  return random_problem(dice, {80, 39, 110, 60, 6, 4, 3, 5});
}

}  // namespace leadline::planning
