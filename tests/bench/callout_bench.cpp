// What a person waits for: the first question, an answer, the next check; with the shipped knowledge and with generated bases.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <map>
#include <stdexcept>
#include <string>

#include "cli/embedded.h"
#include "engine/callout/callout.h"
#include "engine/diagnosis/after_remedy.h"
#include "engine/knowledge/reader.h"
#include "tests/bench/networks.h"

namespace leadline::bench {
namespace {

using knowledge::KnowledgeBase;

std::string number(std::size_t n) { return std::to_string(n); }

// A base of so many causes: as many findings and half as many checks, six rules a cause, every third finding of three states.
std::string generated_text(std::size_t causes) {
  std::mt19937 random(7);
  std::string xml = "<knowledge subsystem='made'><source id='s' kind='estimate'><title>made up</title></source>";
  for (std::size_t j = 0; j < causes; ++j) {
    xml += "<finding id='f" + number(j) + "'><title>t</title><ask>a</ask><state id='n'>normal</state><state id='b' leak='0.01'>bad</state>";
    xml += j % 3 == 0 ? "<state id='w' leak='0.005'>worse</state></finding>" : "</finding>";
  }
  for (std::size_t c = 0; c < causes / 2; ++c) {
    xml += "<check id='c" + number(c) + "' minutes='" + number(1 + random() % 15) + "' who='owner' place='p'><title>t</title><step>s</step>";
    xml += "<observes finding='f" + number(2 * c) + "'/><observes finding='f" + number(2 * c + 1) + "'/></check>";
  }
  xml += "<remedy id='r' minutes='5' who='owner'><title>t</title><step>s</step><proof check='c0'>p</proof></remedy>";
  for (std::size_t i = 0; i < causes; ++i) {
    xml += "<cause id='k" + number(i) + "' item='i' per-1000='" + std::to_string(0.2 + 1000.0 / static_cast<double>(causes) * uniform(random)) + "'><title>t</title><what>w</what><why>y</why>";
    for (std::size_t k = 0; k < 6; ++k) xml += "<shows finding='f" + number((i * 31 + k * (1 + i % 97) + random() % 5 * 200) % causes) + "' state='b' chance='" + std::to_string(0.1 + 0.85 * uniform(random)) + "' when='1 = 1'/>";
    xml += "<remedy ref='r'/><source ref='s'/></cause>";
  }
  return xml + "</knowledge>";
}

KnowledgeBase read(const std::vector<text::Source>& files) {
  auto loaded = knowledge::read_knowledge(files);
  if (!loaded.value) throw std::logic_error(text::render(loaded.problems, files).substr(0, 500));
  return *std::move(loaded.value);
}

const KnowledgeBase& base_of(std::size_t causes) {
  static std::map<std::size_t, KnowledgeBase> bases;
  if (!bases.contains(causes)) bases.emplace(causes, causes == 0 ? read(cli::embedded_knowledge()) : read({{"made.xml", generated_text(causes)}}));
  return bases.at(causes);
}

// So many findings seen, four abnormal: those that the first causes with four rules show, so that the answers hang together.
callout::Record job_for(const KnowledgeBase& base, std::size_t seen = 20) {
  callout::Record record{"", installation::make_installation(base, {}), knowledge::Who::technician, diagnosis::InstrumentClass::pocket, {}};
  std::vector<bool> answered(base.findings.size(), false);
  const auto answer = [&](std::size_t finding, std::size_t state) {
    if (answered[finding] || record.answers.size() == seen) return;
    answered[finding] = true;
    record.answers.push_back({{finding}, diagnosis::Seen{state}, knowledge::Who::technician});
  };
  for (std::size_t i = 0; record.answers.size() < 4; ++i) {
    for (std::size_t r = 0; r < 2 && r < base.causes[i].rules.size() && record.answers.size() < 4; ++r) answer(base.causes[i].rules[r].finding.index, base.causes[i].rules[r].state);
  }
  for (std::size_t j = 0; j < base.findings.size(); ++j) answer(j * 7 % base.findings.size(), 0);
  return record;
}

void Answer(benchmark::State& state) {
  const auto& base = base_of(static_cast<std::size_t>(state.range(0)));
  const auto record = job_for(base);
  const callout::Assessment assessment(base, record);
  for (auto step : state) benchmark::DoNotOptimize(diagnosis::diagnose(assessment.boat().model, assessment.evidence()));
  state.counters["causes"] = static_cast<double>(base.causes.size());
  state.counters["explanations"] = static_cast<double>(assessment.diagnosis().explanations.size());
}
BENCHMARK(Answer)->Arg(0)->Arg(200)->Arg(500)->Arg(2000)->Unit(benchmark::kMicrosecond);

void AnswerWithConflict(benchmark::State& state) {
  const auto& base = base_of(static_cast<std::size_t>(state.range(0)));
  const auto record = job_for(base);
  callout::Assessment assessment(base, record);
  for (auto step : state) assessment.update();
}
BENCHMARK(AnswerWithConflict)->Arg(0)->Arg(200)->Arg(500)->Arg(2000)->Unit(benchmark::kMicrosecond);

// Thirty findings seen; the first suspect is mended and the abnormal ones looked at again, half of them now normal; then what is suspected still is mended
// with a chance of 0.9, and all are normal.
diagnosis::History history_for(const diagnosis::Model& model, const diagnosis::Evidence& evidence) {
  diagnosis::History history{{evidence}};
  for (const double chance : {1.0, 0.9}) {
    const auto suspects = diagnosis::diagnose_after(model, history).now.explanations;
    const auto suspect = std::find_if(suspects.begin(), suspects.end(), [](const auto& e) { return !e.causes.empty(); });
    history.push_back({{}, {{{suspect->causes[0], chance}}}});
    for (const auto& observation : evidence) {
      if (observation.likelihood[0] > 0) continue;
      auto again = observation;
      const bool mended = chance < 1 || history.back().evidence.size() % 2 == 0;
      if (mended) std::fill(again.likelihood.begin(), again.likelihood.end(), 0.0), again.likelihood[0] = 1;
      history.back().evidence.push_back(std::move(again));
    }
  }
  return history;
}

void AfterTwoRemedies(benchmark::State& state) {
  const auto& base = base_of(static_cast<std::size_t>(state.range(0)));
  const callout::Assessment assessment(base, job_for(base, 30));
  const auto& model = assessment.boat().model;
  const auto history = history_for(model, assessment.evidence());
  const auto found = diagnosis::diagnose_after(model, history);
  for (auto step : state) benchmark::DoNotOptimize(diagnosis::diagnose_after(model, history));
  state.counters["observed"] = static_cast<double>(history[0].evidence.size());
  state.counters["courses"] = static_cast<double>(found.courses.size());
  state.counters["unweighed"] = found.unweighed_at_most;
  state.counters["mended"] = found.mended;
}
BENCHMARK(AfterTwoRemedies)->Arg(0)->Arg(200)->Unit(benchmark::kMicrosecond);

void NextCheck(benchmark::State& state) {
  const auto& base = base_of(static_cast<std::size_t>(state.range(0)));
  const auto record = job_for(base);
  const callout::Assessment assessment(base, record);
  const auto now = assessment.circumstances();
  for (auto step : state) benchmark::DoNotOptimize(planning::advise(assessment.job(now)));
}
BENCHMARK(NextCheck)->Arg(0)->Arg(200)->Arg(500)->Arg(2000)->Unit(benchmark::kMicrosecond);

void StartToFirstQuestion(benchmark::State& state) {
  for (auto step : state) {
    const auto base = read(cli::embedded_knowledge());
    const callout::Record record{"", installation::make_installation(base, {}), knowledge::Who::technician, diagnosis::InstrumentClass::pocket, {}};
    const callout::Assessment assessment(base, record);
    benchmark::DoNotOptimize(planning::advise(assessment.job(assessment.circumstances())));
  }
}
BENCHMARK(StartToFirstQuestion)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace leadline::bench
