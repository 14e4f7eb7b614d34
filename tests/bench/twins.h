#pragma once
// Slow twins for two-layer binary networks, written from the definition and sharing nothing with the engine.
#include <cstdint>
#include <vector>

#include "tests/bench/networks.h"

namespace leadline::bench {

// One cause as the abnormal findings see it: odds with the normal findings absorbed, and P(not pushed by it) for each abnormal one.
struct Seen {
  long double odds = 0;
  std::vector<long double> spared;
};

struct Layout {
  std::vector<Seen> causes;
  std::vector<long double> leak_spared;  // by abnormal finding: P(leak does not light it)
};

inline Layout layout_of(const Network& network) {
  Layout layout;
  std::vector<long> place(network.model.findings.size(), -1);  // -1 unseen, -2 normal, else the number of the abnormal finding
  for (const auto& o : network.evidence) {
    const bool abnormal = o.likelihood[1] > 0;
    place[o.finding] = abnormal ? static_cast<long>(layout.leak_spared.size()) : -2;
    if (abnormal) layout.leak_spared.push_back(network.model.findings[o.finding].leak_at_most[0]);
  }
  for (const auto& cause : network.model.causes) {
    Seen seen{static_cast<long double>(cause.prior) / (1 - static_cast<long double>(cause.prior)), std::vector<long double>(layout.leak_spared.size(), 1)};
    for (const auto& push : cause.pushes) {
      if (place[push.finding] == -2) seen.odds *= push.at_most[0];
      if (place[push.finding] >= 0) seen.spared[static_cast<std::size_t>(place[push.finding])] = push.at_most[0];
    }
    layout.causes.push_back(std::move(seen));
  }
  return layout;
}

// covered[mask]: weight of "exactly these abnormal findings are lit so far", by adding causes one at a time; only positive terms. Each cause's
// numerator is found by leaving it to the last: a sum over the others first, so nothing is shared with a forward-backward pass. Cost n² 2^k.
using Masks = std::vector<long double>;

inline Masks with_cause(const Masks& before, const std::vector<long double>& spared) {
  Masks now = before;
  for (std::size_t j = 0; j < spared.size(); ++j) {
    if (spared[j] == 1) continue;
    const std::size_t bit = std::size_t{1} << j;
    for (std::size_t mask = 0; mask < now.size(); ++mask) {
      if ((mask & bit) != 0) continue;
      now[mask | bit] += now[mask] * (1 - spared[j]);
      now[mask] *= spared[j];
    }
  }
  return now;
}

inline std::vector<long double> beliefs_by_subsets(const Network& network) {
  const auto layout = layout_of(network);
  const std::size_t all = (std::size_t{1} << layout.leak_spared.size()) - 1;
  Masks leak(all + 1, 0.0L);
  leak[0] = 1;
  leak = with_cause(leak, layout.leak_spared);
  std::vector<std::size_t> linked;
  for (std::size_t i = 0; i < layout.causes.size(); ++i) {
    for (const auto s : layout.causes[i].spared) if (s != 1) { linked.push_back(i); break; }
  }
  const auto add = [&](Masks& masks, std::size_t i) {
    const auto present = with_cause(masks, layout.causes[i].spared);
    for (std::size_t m = 0; m < masks.size(); ++m) masks[m] += layout.causes[i].odds * present[m];
  };
  std::vector<long double> beliefs;
  for (const auto& cause : layout.causes) beliefs.push_back(cause.odds / (1 + cause.odds));  // right for causes no abnormal finding speaks of
  for (const auto i : linked) {
    Masks others = leak;
    for (const auto k : linked) if (k != i) add(others, k);
    const auto present = with_cause(others, layout.causes[i].spared);
    beliefs[i] = layout.causes[i].odds * present[all] / (others[all] + layout.causes[i].odds * present[all]);
  }
  return beliefs;
}

// The plain way: every set of at most `cap` causes, weighed one after the other, in double. Inexact: larger sets are left out.
inline std::vector<double> beliefs_by_enumeration(const Network& network, std::size_t cap) {
  const auto layout = layout_of(network);
  const auto count = layout.causes.size(), abnormal = layout.leak_spared.size();
  std::vector<double> belief(count, 0.0);
  double total = 0;
  std::vector<std::size_t> set;
  std::vector<std::vector<double>> spared(cap + 1, std::vector<double>(abnormal));
  for (std::size_t j = 0; j < abnormal; ++j) spared[0][j] = static_cast<double>(layout.leak_spared[j]);
  const auto visit = [&](const auto& self, std::size_t next, double odds) -> void {
    double weight = odds;
    for (std::size_t j = 0; j < abnormal; ++j) weight *= 1 - spared[set.size()][j];
    total += weight;
    for (const auto i : set) belief[i] += weight;
    if (set.size() == cap) return;
    for (std::size_t i = next; i < count; ++i) {
      for (std::size_t j = 0; j < abnormal; ++j) spared[set.size() + 1][j] = spared[set.size()][j] * static_cast<double>(layout.causes[i].spared[j]);
      set.push_back(i);
      self(self, i + 1, odds * static_cast<double>(layout.causes[i].odds));
      set.pop_back();
    }
  };
  visit(visit, 0, 1);
  for (auto& b : belief) b /= total;
  return belief;
}

}  // namespace leadline::bench
