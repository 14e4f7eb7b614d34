// What a person waits for: the start, an answer, the next check. Shipped knowledge, and generated bases of 200, 500 and 2,000 causes
// (20 findings seen, 4 abnormal).
#include <benchmark/benchmark.h>

#include "cli/embedded.h"
#include "engine/callout/case_file.h"
#include "engine/knowledge/reader.h"
#include "tests/bench/random_network.h"

namespace leadline::bench {
namespace {

const knowledge::KnowledgeBase& shipped() {
  static const auto base = *knowledge::read_knowledge(cli::embedded_knowledge()).value;
  return base;
}

callout::Record dead_panel_record() {
  callout::Record record{"bench", installation::make_installation(shipped(), {{"charging/@step-up", "yes"}}), knowledge::Who::technician, diagnosis::InstrumentClass::pocket, {}};
  for (const auto& [finding, state] : {std::pair{"push", "none"}, {"panel-lights", "dead"}, {"smell", "none"}, {"panel-error", "occasional"}, {"push-intermittent", "sometimes"}}) {
    const auto ref = *knowledge::find_id(shipped().findings, finding);
    const diagnosis::Observed observed = diagnosis::Seen{*knowledge::find_state(shipped()[ref], state)};
    record.answers.emplace_back(diagnosis::Answer{ref, observed, knowledge::Who::technician});
  }
  return record;
}

void shipped_start_to_first_question(benchmark::State& state) {
  for (auto _ : state) {
    const auto base = *knowledge::read_knowledge(cli::embedded_knowledge()).value;
    const callout::Record record{"bench", installation::make_installation(base, {}), knowledge::Who::technician, diagnosis::InstrumentClass::pocket, {}};
    const callout::Assessment assessment(base, record);
    benchmark::DoNotOptimize(planning::proposals(base, assessment.boat(), assessment.evaluation(), assessment.diagnosis(), assessment.circumstances()));
  }
}
BENCHMARK(shipped_start_to_first_question)->Unit(benchmark::kMillisecond);

void shipped_answer(benchmark::State& state) {
  const auto record = dead_panel_record();
  callout::Assessment assessment(shipped(), record);
  for (auto _ : state) assessment.update();
}
BENCHMARK(shipped_answer)->Unit(benchmark::kMillisecond);

void shipped_next_check(benchmark::State& state) {
  const auto record = dead_panel_record();
  const callout::Assessment assessment(shipped(), record);
  for (auto _ : state) {
    benchmark::DoNotOptimize(planning::proposals(shipped(), assessment.boat(), assessment.evaluation(), assessment.diagnosis(), assessment.circumstances()));
  }
}
BENCHMARK(shipped_next_check)->Unit(benchmark::kMillisecond);

// A knowledge base around a random network: as many findings as causes, a check for every two findings.
struct Generated {
  knowledge::KnowledgeBase base;
  diagnosis::BoatModel boat;
  diagnosis::Evidence evidence;
};

Generated generated(std::size_t causes) {
  auto asked = random_network(causes, causes, 20, 4, 3);
  Generated made;
  for (std::size_t j = 0; j < causes; ++j) {
    knowledge::Finding finding;
    finding.states.resize(2);
    made.base.findings.push_back(finding);
    made.boat.finding_applies.push_back(true);
  }
  for (std::size_t c = 0; 2 * c + 1 < causes; ++c) {
    knowledge::Check check;
    check.minutes = 5;
    check.observes = {{2 * c}, {2 * c + 1}};
    made.base.checks.push_back(check);
  }
  for (std::size_t i = 0; i < causes; ++i) made.boat.cause_refs.emplace_back(knowledge::Ref<knowledge::Cause>{i});
  made.boat.model = std::move(asked.model);
  made.evidence = std::move(asked.evidence);
  return made;
}

void generated_answer(benchmark::State& state) {
  const auto made = generated(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(diagnosis::diagnose(made.boat.model, made.evidence));
}
BENCHMARK(generated_answer)->Arg(200)->Arg(500)->Arg(2000)->Unit(benchmark::kMillisecond);

void generated_next_check(benchmark::State& state) {
  const auto made = generated(static_cast<std::size_t>(state.range(0)));
  const auto found = diagnosis::diagnose(made.boat.model, made.evidence);
  const knowledge::KnowledgeBase no_facts;
  const auto installation = installation::make_installation(no_facts, {});
  const installation::Evaluation evaluation(no_facts, installation);
  planning::Circumstances now{knowledge::Who::technician, std::vector<bool>(made.base.findings.size(), false), {}};
  for (const auto& observation : made.evidence) now.answered[observation.finding] = true;
  for (auto _ : state) benchmark::DoNotOptimize(planning::proposals(made.base, made.boat, evaluation, found, now));
}
BENCHMARK(generated_next_check)->Arg(200)->Arg(500)->Arg(2000)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace leadline::bench
