// Worst absolute error of any belief against an independent calculation in long double: dynamic programming over subsets of abnormal
// findings accounted for, once for each cause left out and put in, with maps and no cleverness. Prints a table; asserts nothing.
#include <cmath>
#include <cstdio>
#include <map>

#include "tests/bench/random_network.h"

namespace leadline::bench {
namespace {

using Subset = std::uint32_t;
using Weights = std::map<Subset, long double>;

long double stays_normal(const diagnosis::ModelCause& cause, std::size_t finding) {
  for (const auto& push : cause.pushes) {
    if (push.finding == finding) return push.at_most[0];
  }
  return 1;
}

// Adds the fired subsets of one source whose chances to leave each abnormal finding alone are `quiet`.
Weights fire(const Weights& before, const std::vector<long double>& quiet, long double factor) {
  Weights now;
  for (const auto& [subset, weight] : before) now[subset] += weight * factor;
  for (std::size_t k = 0; k < quiet.size(); ++k) {
    if (quiet[k] == 1) continue;
    Weights next;
    for (const auto& [subset, weight] : now) {
      next[subset] += weight * quiet[k];
      next[subset | (Subset{1} << k)] += weight * (1 - quiet[k]);
    }
    now = std::move(next);
  }
  return now;
}

// Sum over all sets of causes (with `forced` present when it is one), the empty set left out.
long double total(const Asked& asked, std::size_t forced) {
  std::vector<std::size_t> bad, good;
  for (const auto& o : asked.evidence) (o.likelihood[0] > 0 ? good : bad).push_back(o.finding);
  std::vector<long double> leak;
  for (const auto j : bad) leak.push_back(asked.model.findings[j].leak_at_most[0]);
  Weights none = fire({{0, 1}}, leak, 1), some;
  for (std::size_t i = 0; i < asked.model.causes.size(); ++i) {
    const auto& cause = asked.model.causes[i];
    long double odds = static_cast<long double>(cause.prior) / (1 - static_cast<long double>(cause.prior));
    for (const auto j : good) odds *= stays_normal(cause, j);
    std::vector<long double> quiet;
    for (const auto j : bad) quiet.push_back(stays_normal(cause, j));
    Weights with = fire(some, quiet, odds);
    for (const auto& [subset, weight] : fire(none, quiet, odds)) with[subset] += weight;
    if (i == forced) {
      some = with;
      none.clear();
    } else {
      for (const auto& [subset, weight] : with) some[subset] += weight;
    }
  }
  return some[(Subset{1} << bad.size()) - 1];
}

void report(std::size_t seen, std::size_t abnormal) {
  const auto asked = random_network(100, 200, seen, abnormal, 1);
  const auto found = diagnosis::beliefs(asked.model, asked.evidence);
  const long double all = total(asked, static_cast<std::size_t>(-1));
  double worst = 0;
  for (std::size_t i = 0; i < asked.model.causes.size(); i += abnormal > 8 ? 7 : 1) {
    worst = std::max(worst, std::abs(found.belief[i] - static_cast<double>(total(asked, i) / all)));
  }
  std::printf("%zu seen, %zu abnormal: worst error %.1e, exact table: %s\n", seen, abnormal, worst, found.exact ? "yes" : "no");
}

}  // namespace
}  // namespace leadline::bench

int main() {
  for (const auto& [seen, abnormal] : {std::pair<std::size_t, std::size_t>{10, 4}, {10, 8}, {20, 8}, {20, 10}, {30, 12}}) leadline::bench::report(seen, abnormal);
}
