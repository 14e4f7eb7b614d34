#pragma once
// The class of network on which general exact libraries were measured: causes and findings in two layers, five parents a finding.
#include <algorithm>
#include <random>

#include "engine/diagnosis/explanation.h"

namespace leadline::bench {

struct Asked {
  diagnosis::Model model;
  diagnosis::Evidence evidence;
};

inline double uniform(std::mt19937& bits) { return static_cast<double>(bits() >> 5U) / 134217728.0; }

// `seen` findings are observed, of which `abnormal` are abnormal; binary states, priors 0.001 … 0.021, links 0.2 … 0.9, leaks 0.001 … 0.011.
inline Asked random_network(std::size_t causes, std::size_t findings, std::size_t seen, std::size_t abnormal, unsigned seed) {
  constexpr std::size_t parents = 5;
  std::mt19937 bits(seed);
  Asked asked;
  for (std::size_t i = 0; i < causes; ++i) asked.model.causes.push_back({0.001 + 0.02 * uniform(bits), {}});
  for (std::size_t j = 0; j < findings; ++j) {
    asked.model.findings.push_back({{1 - 0.001 - 0.01 * uniform(bits), 1.0}});
    std::vector<std::size_t> chosen;
    while (chosen.size() < std::min(parents, causes)) {
      const auto cause = static_cast<std::size_t>(bits() % causes);
      if (std::find(chosen.begin(), chosen.end(), cause) == chosen.end()) chosen.push_back(cause);
    }
    for (const auto cause : chosen) asked.model.causes[cause].pushes.push_back({j, {1 - (0.2 + 0.7 * uniform(bits)), 1.0}, {}});
  }
  for (std::size_t o = 0; o < seen; ++o) {
    const bool bad = o < abnormal;
    asked.evidence.push_back({o * (findings / seen), {bad ? 0.0 : 1.0, bad ? 1.0 : 0.0}});
  }
  return asked;
}

}  // namespace leadline::bench
