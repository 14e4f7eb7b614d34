// Beliefs of all 100 causes after an answer, 200 findings, five parents each: the engine's pass beside its plain twin (sets of up to three
// causes enumerated), in one run. A user feels: the time between the Enter key and the new ranking.
#include <benchmark/benchmark.h>

#include "tests/bench/random_network.h"

namespace leadline::bench {
namespace {

using diagnosis::likelihood_under;

// The plain twin: every set of up to three causes, weighed by definition. Misses larger sets, which is part of its price.
double enumerate_up_to_three(const Asked& asked, std::vector<double>& belief) {
  const auto count = asked.model.causes.size();
  std::vector<double> odds;
  for (const auto& cause : asked.model.causes) odds.push_back(cause.prior / (1 - cause.prior));
  belief.assign(count, 0.0);
  double total = 0;
  const auto weigh = [&](const std::vector<std::size_t>& set) {
    double weight = 1;
    for (const auto i : set) weight *= odds[i];
    for (const auto& observation : asked.evidence) weight *= likelihood_under(asked.model, observation, set);
    total += weight;
    for (const auto i : set) belief[i] += weight;
  };
  for (std::size_t a = 0; a < count; ++a) {
    weigh({a});
    for (std::size_t b = a + 1; b < count; ++b) {
      weigh({a, b});
      for (std::size_t c = b + 1; c < count; ++c) weigh({a, b, c});
    }
  }
  for (auto& b : belief) b /= total;
  return total;
}

void engine(benchmark::State& state) {
  const auto asked = random_network(100, 200, static_cast<std::size_t>(state.range(0)), static_cast<std::size_t>(state.range(1)), 1);
  for (auto _ : state) benchmark::DoNotOptimize(diagnosis::beliefs(asked.model, asked.evidence));
}
BENCHMARK(engine)->Args({10, 4})->Args({10, 8})->Args({20, 8})->Args({20, 10})->Args({30, 12})->Unit(benchmark::kMicrosecond);

void plain_twin(benchmark::State& state) {
  const auto asked = random_network(100, 200, static_cast<std::size_t>(state.range(0)), static_cast<std::size_t>(state.range(1)), 1);
  std::vector<double> belief;
  for (auto _ : state) benchmark::DoNotOptimize(enumerate_up_to_three(asked, belief));
}
BENCHMARK(plain_twin)->Args({10, 4})->Unit(benchmark::kMicrosecond)->Iterations(1);

}  // namespace
}  // namespace leadline::bench
