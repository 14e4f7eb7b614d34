#pragma once
// Random networks of the size the literature times itself on, seeded: the same on every machine.
#include <algorithm>
#include <random>

#include "engine/diagnosis/explanation.h"

namespace leadline::bench {

struct Network {
  diagnosis::Model model;
  diagnosis::Evidence evidence;
};

inline double uniform(std::mt19937& random) { return static_cast<double>(random() >> 5U) / 134217728.0; }

// Two layers, binary: each finding has `parents` causes with links of 0.1 … 0.95 and a leak of about 0.01; priors 0.005 … 0.05. Nothing is
// conditioned on. `seen` findings are observed, the first `abnormal` of them abnormal.
inline Network two_layers(unsigned seed, std::size_t causes, std::size_t findings, std::size_t parents, std::size_t seen, std::size_t abnormal) {
  std::mt19937 random(seed);
  Network network;
  network.model.something_is_wrong = false;
  for (std::size_t i = 0; i < causes; ++i) network.model.causes.push_back({0.005 + 0.045 * uniform(random), {}});
  for (std::size_t j = 0; j < findings; ++j) {
    network.model.findings.push_back({{1 - (0.002 + 0.016 * uniform(random)), 1.0}});
    std::vector<std::size_t> chosen;
    while (chosen.size() < parents) {
      const auto cause = static_cast<std::size_t>(random()) % causes;
      if (std::find(chosen.begin(), chosen.end(), cause) != chosen.end()) continue;
      chosen.push_back(cause);
      network.model.causes[cause].pushes.push_back({j, {1 - (0.1 + 0.85 * uniform(random)), 1.0}, {}});
    }
  }
  std::vector<std::size_t> order(findings);
  for (std::size_t j = 0; j < findings; ++j) order[j] = j;
  for (std::size_t j = findings; j-- > 1;) std::swap(order[j], order[static_cast<std::size_t>(random()) % (j + 1)]);
  for (std::size_t k = 0; k < seen; ++k) {
    if (k < abnormal) network.evidence.push_back({order[k], {0, 1}});
    else network.evidence.push_back({order[k], {1, 0}});
  }
  std::sort(network.evidence.begin(), network.evidence.end(), [](const auto& a, const auto& b) { return a.finding < b.finding; });
  return network;
}

}  // namespace leadline::bench
