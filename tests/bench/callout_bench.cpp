// What a person waits for: the first question, an answer, the next check; with the shipped knowledge and with generated bases.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <ctime>
#include <filesystem>
#include <map>
#include <stdexcept>
#include <string>

#include "cli/embedded.h"
#include "engine/callout/callout.h"
#include "engine/callout/case_file.h"
#include "engine/diagnosis/after_remedy.h"
#include "engine/knowledge/reader.h"
#include "engine/trial/trial.h"
#include "tests/bench/networks.h"
#include "tests/cli/slurp.h"

namespace leadline::bench {
namespace {

using knowledge::KnowledgeBase;

std::string number(std::size_t n) { return std::to_string(n); }

// A base of so many causes: as many findings and half as many checks, six rules a cause, every third finding of three states.
std::string generated_text(std::size_t causes) {
  std::mt19937 random(7);
  std::string xml = "<knowledge subsystem='made'><source id='s' kind='estimate'><title>made up</title></source><numbers frequency='s rough' strength='s rough' effect='s rough' mends='s rough' leak='s rough' threshold='s rough' doubt='s rough' minutes='s rough' part='s rough'/>";
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

// What each proposal took, the job as the planner sees it included; every evidence asked once, so that nothing was worked out before but what the answer
// itself needed. CPU time of this thread: the machine is shared.
class Proposals {
 public:
  planning::Advice timed(const callout::Assessment& assessment) {
    const double begun = milliseconds();
    auto advice = planning::advise(assessment.job(assessment.circumstances()));
    times_.push_back(milliseconds() - begun);
    return advice;
  }
  std::size_t count() const { return times_.size(); }
  void report(benchmark::State& state) {
    std::sort(times_.begin(), times_.end());
    state.counters["proposals"] = static_cast<double>(times_.size());
    state.counters["p50_ms"] = times_[times_.size() / 2];
    state.counters["p99_ms"] = times_[times_.size() * 99 / 100];
    state.counters["worst_ms"] = times_.back();
  }

 private:
  static double milliseconds() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
  }
  std::vector<double> times_;
};

constexpr std::size_t most_steps = 15;      // of one simulated call-out
constexpr double sure_enough = 0.95;        // of the leading explanation: then something is mended

// An abnormal finding, one an owner calls for where the book has such: the call-out begins with it. None: nobody would have called.
std::optional<std::size_t> complaint_in(const KnowledgeBase& base, const diagnosis::BoatModel& boat, const trial::World& world) {
  std::optional<std::size_t> any;
  for (std::size_t f = 0; f < base.findings.size(); ++f) {
    if (!boat.finding_applies[f] || world.state_of(f) == 0) continue;
    if (base.findings[f].complaint) return f;
    if (!any) any = f;
  }
  const bool owners_call = std::any_of(base.findings.begin(), base.findings.end(), [](const auto& f) { return f.complaint; });
  return owners_call ? std::nullopt : any;
}

void see(callout::Record& record, std::size_t finding, const trial::World& world) {
  record.answers.push_back({{finding}, diagnosis::Seen{world.state_of(finding)}, knowledge::Who::technician});
}

// Follows the first check proposed until the leader is likely, then the first remedy, after which the complaint is looked at again; asks for a proposal
// at every step. The boat's circuits foretell what is still open.
void play(const KnowledgeBase& base, callout::Record& record, callout::Assessment& assessment, trial::Dice& dice, Proposals& proposals) {
  record.answers.clear(), record.remedies.clear();
  const auto& boat = assessment.boat();
  trial::World world(boat.model, dice);
  const auto complaint = complaint_in(base, boat, world);
  if (!complaint) return;
  see(record, *complaint, world);
  for (std::size_t step = 0; step < most_steps && !callout::proved(base, record); ++step) {
    assessment.update();
    const auto advice = proposals.timed(assessment);
    const auto first = [&](planning::Act act) {
      return std::find_if(advice.proposals.begin(), advice.proposals.end(), [&](const auto& p) { return p.act == act; });
    };
    const auto check = first(planning::Act::check), remedy = first(planning::Act::remedy);
    const bool sure = assessment.diagnosis().explanations.front().probability >= sure_enough;
    if (check != advice.proposals.end() && !(sure && remedy != advice.proposals.end())) {
      for (const auto f : base[check->check].observes) {
        if (boat.finding_applies[f.index] && !callout::answered_now(record, f.index)) see(record, f.index, world);
      }
    } else if (remedy != advice.proposals.end()) {
      world.mend(planning::remedy_option(base, boat, remedy->remedy, assessment.circumstances()).mends, remedy->remedy.index, dice);
      record.remedies.push_back({remedy->remedy, record.answers.size()});
      see(record, *complaint, world);
    } else {
      return;
    }
  }
}

constexpr std::size_t boats = 6, evidences_wanted = 600;

// One proposal in simulated call-outs: findings seen, remedies done. Bars: 99th centile below 20 ms (shipped), 100 ms (2,000 causes).
void Proposal(benchmark::State& state) {
  const auto& base = base_of(static_cast<std::size_t>(state.range(0)));
  for (auto step : state) {
    Proposals proposals;
    const auto drawn = trial::drawn_boats(base, boats, 1);
    for (std::size_t b = 0; b < boats; ++b) {
      callout::Record record{"", drawn[b].installation, knowledge::Who::technician, diagnosis::InstrumentClass::pocket, {}};
      callout::Assessment assessment(base, record);
      for (std::uint64_t number = 1; proposals.count() < (b + 1) * evidences_wanted / boats; ++number) {
        trial::Dice dice(b + 1, number);
        play(base, record, assessment, dice, proposals);
      }
    }
    proposals.report(state);
  }
}
BENCHMARK(Proposal)->Arg(0)->Arg(2000)->Iterations(1)->Unit(benchmark::kMillisecond);

// The same after each answer of the recorded call-outs, which hold readings on circuits.
void ProposalWithReadings(benchmark::State& state) {
  const auto& base = base_of(0);
  for (auto step : state) {
    Proposals proposals;
    for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(LEADLINE_SOURCE_DIR) / "cases")) {
      const auto whole = *callout::read_case(base, {"callout.xml", testing::slurp(entry.path() / "callout.xml")}).value;
      auto record = whole;
      record.answers.clear(), record.remedies.clear();
      callout::Assessment assessment(base, record);
      for (const auto& answer : whole.answers) {
        record.answers.push_back(answer);
        assessment.update();
        proposals.timed(assessment);
      }
    }
    proposals.report(state);
  }
}
BENCHMARK(ProposalWithReadings)->Iterations(1)->Unit(benchmark::kMillisecond);

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
