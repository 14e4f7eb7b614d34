// What the circuits cost: one solution, the outlook of one cause, of two, and all that a boat with eight devices on its network needs before the
// first question. The plain twin factors the system anew for every solution.
#include <benchmark/benchmark.h>

#include "cli/embedded.h"
#include "engine/circuit/expected.h"
#include "engine/diagnosis/model.h"
#include "engine/knowledge/reader.h"

namespace leadline::bench {
namespace {

const knowledge::KnowledgeBase& book() {
  static const auto loaded = knowledge::read_knowledge(cli::embedded_knowledge());
  return *loaded.value;
}

installation::Installation boat(std::size_t stations) {
  std::string record = "<installation><bank volts=\"24\"/><charging step-up=\"yes\"/><network supply=\"house\" length=\"25\"/><thruster name=\"bow\"/>";
  for (std::size_t s = 0; s < stations; ++s) record += "<station name=\"helm " + std::to_string(s) + "\" number=\"" + std::to_string(s + 1) + "\"/>";
  return *installation::read_installation(book(), {"boat", record + "</installation>"}).value;
}

struct Fitted {
  installation::Installation installation = boat(7);
  installation::Evaluation evaluation{book(), installation};
  circuit::Expectation expectation{book(), evaluation};
};

// A number is changed and changed back: each step solves one condition twice.
void OneSolution(benchmark::State& state) {
  const Fitted fitted;
  const auto& bench = *fitted.expectation.bench(static_cast<std::size_t>(state.range(0)));
  auto numbers = circuit::numbers_of(bench.healthy());
  std::vector<bool> conditions(book().circuits[static_cast<std::size_t>(state.range(0))].conditions.size(), false);
  conditions[1] = true;
  for (auto step : state) {
    numbers[3].ohm *= 1.0001;
    benchmark::DoNotOptimize(bench.probed(numbers, conditions, bench.probed_healthy()));
  }
}
BENCHMARK(OneSolution)->Arg(0)->Arg(1)->Unit(benchmark::kMicrosecond);

void OneSolutionFactoredAnew(benchmark::State& state) {
  const Fitted fitted;
  const auto healthy = fitted.expectation.bench(static_cast<std::size_t>(state.range(0)))->healthy();
  for (auto step : state) {
    const auto solution = circuit::solve(circuit::circuit_of(healthy, 1));
    benchmark::DoNotOptimize(solution);
  }
}
BENCHMARK(OneSolutionFactoredAnew)->Arg(0)->Arg(1)->Unit(benchmark::kMicrosecond);

// Everything `leadline expect` computes: all measurements, healthy and under every cause.
void FullExpectation(benchmark::State& state) {
  const auto installation = boat(static_cast<std::size_t>(state.range(0)) - 1);
  const installation::Evaluation evaluation(book(), installation);
  for (auto step : state) {
    const circuit::Expectation expectation(book(), evaluation);
    for (std::size_t k = 0; k < expectation.circuits(); ++k) {
      for (std::size_t i = 0; i < book().causes.size(); ++i) {
        if (expectation.governs(i, k)) benchmark::DoNotOptimize(expectation.under(k, {i}));
      }
    }
  }
}
BENCHMARK(FullExpectation)->Arg(2)->Arg(8)->Unit(benchmark::kMillisecond);

void ModelOfABoat(benchmark::State& state) {
  const auto installation = boat(static_cast<std::size_t>(state.range(0)) - 1);
  const installation::Evaluation evaluation(book(), installation);
  for (auto step : state) benchmark::DoNotOptimize(diagnosis::build_model(book(), evaluation));
}
BENCHMARK(ModelOfABoat)->Arg(2)->Arg(8)->Unit(benchmark::kMillisecond);

void TwoCausesTogether(benchmark::State& state) {
  const auto a = knowledge::find_id(book().causes, "positive-lug-bad")->index, b = knowledge::find_id(book().causes, "bank-aged")->index;
  const Fitted fitted;
  const auto power = knowledge::find_id(book().circuits, "power")->index;
  for (auto step : state) {
    const circuit::Expectation expectation(book(), fitted.evaluation);
    benchmark::DoNotOptimize(expectation.under(power, {std::min(a, b), std::max(a, b)}));
  }
}
BENCHMARK(TwoCausesTogether)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace leadline::bench
