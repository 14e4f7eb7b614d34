#include "engine/planning/halving.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <tuple>

namespace leadline::planning {

namespace {

void require_valid(const OrderedRun& run) {
  if (run.cuts.size() + 1 != run.chance.size()) throw std::invalid_argument("a run has one cut fewer than pieces");
  if (!(run.error >= 0 && run.error < 0.5)) throw std::invalid_argument("a test that errs half of the time tells nothing");
  if (std::any_of(run.chance.begin(), run.chance.end(), [](double p) { return !(p >= 0); })) throw std::invalid_argument("a chance below 0");
}

// Bits that one answer carries at most: 1 - h(error).
double capacity(double error) {
  if (error <= 0) return 1;
  return 1 + error * std::log2(error) + (1 - error) * std::log2(1 - error);
}

// The least minutes, times the weight, to single out the piece by tests without error that take these minutes:
//   cost(i, j) = min over cuts k of minutes_k * weight(i, j) + cost(i, k) + cost(k + 1, j)        pieces i … j
// Pieces of no weight need not be told apart.
double least_cost(const std::vector<double>& weight, const std::vector<double>& minutes) {
  const auto n = weight.size();
  std::vector<std::vector<double>> cost(n, std::vector<double>(n));
  for (std::size_t last = 0; last < n; ++last) {
    double total = weight[last];
    bool doubt = false;
    for (std::size_t first = last; first-- > 0;) {
      doubt |= weight[first] > 0 && total > 0;
      total += weight[first];
      if (!doubt) continue;
      double best = std::numeric_limits<double>::infinity();
      for (std::size_t k = first; k < last; ++k) best = std::min(best, minutes[k] * total + cost[first][k] + cost[k + 1][last]);
      cost[first][last] = best;
    }
  }
  return cost.front().back();
}

// What is left in doubt when the fault sits before (or after) the cut.
std::vector<double> side(const OrderedRun& run, std::size_t cut, bool before) {
  auto weight = run.chance;
  for (std::size_t piece = 0; piece < weight.size(); ++piece) {
    if ((piece <= cut) != before) weight[piece] = 0;
  }
  return weight;
}

Cut rated(const OrderedRun& run, std::size_t index, double total) {
  const auto middle = run.chance.begin() + static_cast<std::ptrdiff_t>(index) + 1;
  Cut cut{index, std::accumulate(run.chance.begin(), middle, 0.0) / total, std::accumulate(middle, run.chance.end(), 0.0) / total, 0, 0};
  cut.minutes = minutes_of(run.cuts[index], run.terrain, run.standing);
  const auto standing = after(run.cuts[index], run.standing);
  std::vector<double> minutes;
  for (const auto& doing : run.cuts) minutes.push_back(minutes_of(doing, run.terrain, standing));
  const double later = least_cost(side(run, index, true), minutes) + least_cost(side(run, index, false), minutes);
  cut.expected_minutes = (cut.minutes + later / total) / capacity(run.error);
  return cut;
}

// In steps too small for a person to see, so that rounding decides nothing.
bool sooner(const Cut& a, const Cut& b) {
  const auto rank = [](const Cut& c) { return std::tuple(std::round(c.expected_minutes * 1e7), std::round(std::abs(c.before - c.after) * 1e7), c.index); };
  return rank(a) < rank(b);
}

}  // namespace

std::vector<Cut> cuts_by_minutes(const OrderedRun& run) {
  require_valid(run);
  const double total = std::accumulate(run.chance.begin(), run.chance.end(), 0.0);
  std::vector<Cut> cuts;
  for (std::size_t i = 0; i < run.cuts.size(); ++i) {
    auto cut = rated(run, i, total);
    if (cut.before > 0 && cut.after > 0) cuts.push_back(cut);
  }
  std::sort(cuts.begin(), cuts.end(), sooner);
  return cuts;
}

}  // namespace leadline::planning
