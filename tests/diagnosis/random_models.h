#pragma once
// Small random models and evidence for comparisons with the definition. Seeded: the same on every machine (no std:: distributions).
#include <random>

#include "engine/diagnosis/evidence.h"

namespace leadline::testing {

class RandomModels {
 public:
  explicit RandomModels(unsigned seed) : bits_(seed) {}

  double uniform() { return static_cast<double>(bits_() >> 5U) / 134217728.0; }
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(bits_()) % n; }

  diagnosis::Model model(std::size_t most_causes, std::size_t most_findings) {
    diagnosis::Model model;
    const auto causes = 1 + below(most_causes), findings = 1 + below(most_findings);
    for (std::size_t j = 0; j < findings; ++j) model.findings.push_back({cumulative(2 + below(3), 0.02)});
    for (std::size_t i = 0; i < causes; ++i) model.causes.push_back({0.001 + 0.2 * uniform(), pushes(model)});
    model.something_is_wrong = below(4) != 0;
    return model;
  }

  // Hard, soft, flat and partly impossible answers to some of the findings.
  diagnosis::Evidence evidence(const diagnosis::Model& model) {
    diagnosis::Evidence evidence;
    for (std::size_t j = 0; j < model.findings.size(); ++j) {
      if (below(4) == 0) continue;
      const auto states = model.findings[j].leak_at_most.size();
      std::vector<double> likelihood(states, 0.0);
      const auto kind = below(4);
      if (kind == 0) likelihood[0] = 1;
      if (kind == 1) likelihood[below(states)] = 1;
      if (kind == 2) for (auto& l : likelihood) l = uniform();
      if (kind == 3) likelihood[below(states)] = 0.3, likelihood[below(states)] = 0.7;
      evidence.push_back({j, likelihood});
    }
    return evidence;
  }

 private:
  std::vector<double> cumulative(std::size_t states, double scale) {
    std::vector<double> at_most(states, 1.0);
    for (std::size_t s = states - 1; s-- > 0;) at_most[s] = at_most[s + 1] * (1 - scale * uniform());
    return at_most;
  }

  std::vector<diagnosis::Push> pushes(const diagnosis::Model& model) {
    std::vector<diagnosis::Push> all;
    for (std::size_t j = 0; j < model.findings.size(); ++j) {
      if (uniform() < 0.4) all.push_back({j, cumulative(model.findings[j].leak_at_most.size(), 0.95), {}});
    }
    return all;
  }

  std::mt19937 bits_;
};

}  // namespace leadline::testing
