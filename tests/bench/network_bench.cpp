// What an answer costs on the network the literature times: all beliefs of 100 causes after an answer among 200 findings.
#include <benchmark/benchmark.h>

#include "tests/bench/twins.h"

namespace leadline::bench {
namespace {

Network network_of(const benchmark::State& state) {
  return two_layers(1, 100, 200, 5, static_cast<std::size_t>(state.range(0)), static_cast<std::size_t>(state.range(1)));
}

void Beliefs(benchmark::State& state) {
  const auto network = network_of(state);
  for (auto step : state) benchmark::DoNotOptimize(diagnosis::beliefs(network.model, network.evidence));
}
BENCHMARK(Beliefs)->Args({10, 4})->Args({10, 8})->Args({20, 8})->Args({20, 10})->Args({30, 12})->Unit(benchmark::kMicrosecond);

void EnumerationUpToThree(benchmark::State& state) {
  const auto network = network_of(state);
  for (auto step : state) benchmark::DoNotOptimize(beliefs_by_enumeration(network, 3));
}
BENCHMARK(EnumerationUpToThree)->Args({10, 4})->Args({10, 8})->Args({20, 8})->Args({20, 10})->Args({30, 12})->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace leadline::bench
