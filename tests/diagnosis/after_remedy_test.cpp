// Remedies as evidence, against a slow twin that draws every push, every mending and everything new one by one.
#include "engine/diagnosis/after_remedy.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "tests/diagnosis/random_models.h"
#include "tests/diagnosis/tied_book.h"

namespace leadline::diagnosis {
namespace {

using testing::RandomModels;
using Causes = std::vector<std::size_t>;

constexpr double tolerance = 1e-12;

// Every candidate there is, so that nothing but the arithmetic is compared.
AfterOptions everything(double new_fault, double drawn_anew = 0) {
  return {new_fault, {1e-30, 5000, 1U << 20, 1'000'000'000}, drawn_anew, 1e-30, 5000};
}

double probability_of(const Present& found, const Causes& causes) {
  for (const auto& explanation : found.now.explanations) {
    if (explanation.causes == causes) return explanation.probability;
  }
  return 0;
}

std::vector<double> foretold(const Model& model, const History& history, const Present& found, std::size_t finding, const Causes& present,
                             const AfterOptions& options) {
  return states_now(model, history, found, options)(finding, present);
}

// --- The twin -------------------------------------------------------------------------------------------------------------------------------------

// One draw of everything: its chance, and for each outcome a number.
struct Drawn {
  std::vector<double> chances;
};

// Calls visit(outcomes, chance) for every combination of outcomes of independent draws.
template <class Visit>
void each_combination(const std::vector<Drawn>& draws, const Visit& visit) {
  std::vector<std::size_t> outcomes(draws.size(), 0);
  for (;;) {
    long double chance = 1;
    for (std::size_t d = 0; d < draws.size(); ++d) chance *= static_cast<long double>(draws[d].chances[outcomes[d]]);
    visit(outcomes, chance);
    std::size_t d = 0;
    while (d < draws.size() && ++outcomes[d] == draws[d].chances.size()) outcomes[d++] = 0;
    if (d == draws.size()) return;
  }
}

Drawn states_of(const std::vector<double>& at_most) {
  Drawn drawn;
  for (std::size_t s = 0; s < at_most.size(); ++s) drawn.chances.push_back(at_most[s] - (s > 0 ? at_most[s - 1] : 0));
  return drawn;
}

const std::vector<double>* likelihood_in(const Phase& phase, std::size_t finding) {
  for (const auto& observation : phase.evidence) {
    if (observation.finding == finding) return &observation.likelihood;
  }
  return nullptr;
}

bool contains(const Causes& causes, std::size_t cause) { return std::find(causes.begin(), causes.end(), cause) != causes.end(); }

// The phases from one drawing of leak and pushes to the next; by state in the last: P(what was seen in them, that state).
std::vector<long double> stretch_by_definition(const Model& model, const History& history, std::size_t finding, const std::vector<Causes>& present,
                                               std::size_t from, std::size_t to, const std::vector<std::size_t>& something_new) {
  const auto states = model.findings[finding].leak_at_most.size();
  std::vector<Drawn> draws{states_of(model.findings[finding].leak_at_most)};
  for (const auto cause : present[0]) {
    const auto* push = push_on(model.causes[cause], finding);
    draws.push_back(push != nullptr ? states_of(push->at_most) : Drawn{{1.0}});
  }
  std::vector<long double> last(states, 0);
  each_combination(draws, [&](const std::vector<std::size_t>& outcomes, long double chance) {
    std::size_t state = 0;
    for (std::size_t k = from; k < to; ++k) {
      state = outcomes[0];
      for (std::size_t c = 0; c < present[0].size(); ++c) {
        if (contains(present[k], present[0][c])) state = std::max(state, outcomes[1 + c]);
      }
      for (std::size_t n = 1; n <= k; ++n) state = std::max(state, something_new[n]);
      if (const auto* likelihood = likelihood_in(history[k], finding)) chance *= static_cast<long double>((*likelihood)[state]);
    }
    last[state] += chance;
  });
  return last;
}

// By state now: P(all that was seen of one finding, that state). What is new holds in all later phases; leak and pushes from one drawing to the next.
std::vector<long double> seen_by_definition(const Model& model, const History& history, std::size_t finding, const std::vector<Causes>& present,
                                            const AfterOptions& options) {
  const auto states = model.findings[finding].leak_at_most.size(), phases = history.size();
  std::vector<Drawn> draws;  // for each remedy: whether leak and pushes are drawn anew, and what is new
  for (std::size_t k = 1; k < phases; ++k) {
    const bool idle = history[k].evidence.empty() && history[k].before.mends.empty();
    draws.push_back({{idle ? 1 : 1 - options.drawn_anew, idle ? 0 : options.drawn_anew}});
    Drawn fresh{std::vector(states, idle ? 0 : options.new_fault / static_cast<double>(states - 1))};
    fresh.chances[0] = idle ? 1 : 1 - options.new_fault;
    draws.push_back(fresh);
  }
  std::vector<long double> now(states, 0);
  each_combination(draws, [&](const std::vector<std::size_t>& outcomes, long double chance) {
    std::vector<std::size_t> something_new(phases, 0);
    for (std::size_t k = 1; k < phases; ++k) something_new[k] = outcomes[2 * k - 1];
    std::size_t from = 0;
    for (std::size_t to = 1; to < phases && chance > 0; ++to) {
      if (outcomes[2 * to - 2] == 0) continue;
      long double seen = 0;
      for (const auto state : stretch_by_definition(model, history, finding, present, from, to, something_new)) seen += state;
      chance *= seen;
      from = to;
    }
    if (!(chance > 0)) return;
    const auto last = stretch_by_definition(model, history, finding, present, from, phases, something_new);
    for (std::size_t s = 0; s < states; ++s) now[s] += chance * last[s];
  });
  return now;
}

struct Twin {
  long double evidence = 0;
  std::vector<long double> belief, had_been;
  std::map<Causes, long double> present;                           // by what is there now
  std::map<Causes, std::vector<std::vector<long double>>> states;  // by what is there now, and by finding
};

// The same draw for the same cause and the same remedy, however often it is done.
std::size_t remedy_at(const History& history, std::size_t k) { return history[k].before.remedy ? *history[k].before.remedy : 1000 + k; }

void add_set(Twin& twin, const Model& model, const History& history, const Causes& causes, long double prior, const AfterOptions& options) {
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> draw_of;  // by cause and remedy
  std::vector<Drawn> draws;
  for (std::size_t k = 1; k < history.size(); ++k) {
    for (const auto& [cause, chance] : history[k].before.mends) {
      if (!contains(causes, cause) || !draw_of.emplace(std::pair(cause, remedy_at(history, k)), draws.size()).second) continue;
      draws.push_back({{1 - chance, chance}});
    }
  }
  each_combination(draws, [&](const std::vector<std::size_t>& outcomes, long double weight) {
    weight *= prior;
    std::vector<Causes> present{causes};
    for (std::size_t k = 1; k < history.size(); ++k) {
      present.push_back(present.back());
      for (const auto& [cause, chance] : history[k].before.mends) {
        if (contains(causes, cause) && outcomes[draw_of.at({cause, remedy_at(history, k)})] == 1) std::erase(present.back(), cause);
      }
    }
    std::vector<std::vector<long double>> states;
    for (std::size_t j = 0; j < model.findings.size(); ++j) {
      states.push_back(seen_by_definition(model, history, j, present, options));
      long double seen = 0;
      for (const auto chance : states.back()) seen += chance;
      weight *= seen;
      for (auto& chance : states.back()) chance = seen > 0 ? chance / seen : 0;
    }
    twin.evidence += weight;
    twin.present[present.back()] += weight;
    for (const auto cause : causes) twin.had_been[cause] += weight;
    for (const auto cause : present.back()) twin.belief[cause] += weight;
    auto& sums = twin.states.try_emplace(present.back(), model.findings.size()).first->second;
    for (std::size_t j = 0; j < sums.size(); ++j) {
      sums[j].resize(states[j].size(), 0);
      for (std::size_t s = 0; s < states[j].size(); ++s) sums[j][s] += weight * states[j][s];
    }
  });
}

Twin twin_of(const Model& model, const History& history, const AfterOptions& options) {
  Twin twin;
  twin.belief.assign(model.causes.size(), 0);
  twin.had_been = twin.belief;
  long double wrong = 0;
  for (std::size_t bits = model.something_is_wrong ? 1 : 0; bits < (std::size_t{1} << model.causes.size()); ++bits) {
    Causes causes;
    long double prior = 1;
    for (std::size_t i = 0; i < model.causes.size(); ++i) {
      if ((bits >> i & 1) != 0) causes.push_back(i);
      prior *= (bits >> i & 1) != 0 ? static_cast<long double>(model.causes[i].prior) : 1 - static_cast<long double>(model.causes[i].prior);
    }
    wrong += prior;
    add_set(twin, model, history, causes, prior, options);
  }
  for (auto& belief : twin.belief) belief /= twin.evidence;
  for (auto& belief : twin.had_been) belief /= twin.evidence;
  for (auto& [causes, weight] : twin.present) weight /= twin.evidence;
  twin.evidence /= wrong;
  return twin;
}

Done random_remedy(RandomModels& random, const Model& model, std::optional<std::size_t> remedy) {
  Done done{{}, remedy};
  for (std::size_t i = 0; i < model.causes.size(); ++i) {
    const auto kind = random.below(4);
    if (kind == 0) done.mends.emplace_back(i, 1.0);
    if (kind == 1) done.mends.emplace_back(i, random.uniform());
  }
  return done;
}

History random_history(RandomModels& random, const Model& model, std::size_t phases) {
  const std::vector<Done> remedies{random_remedy(random, model, 0), random_remedy(random, model, 1), random_remedy(random, model, std::nullopt)};
  History history{{random.evidence(model)}};
  while (history.size() < phases) history.push_back({random.evidence(model), remedies[random.below(3)]});
  return history;
}

TEST(DiagnoseAfter, AgreesWithEveryDrawEnumerated) {
  RandomModels random(20261126);
  std::size_t compared = 0;
  for (int round = 0; round < 400; ++round) {
    SCOPED_TRACE(round);
    const auto model = random.model(4, 2);
    const auto history = random_history(random, model, 1 + random.below(3));
    const auto options = everything(random.below(3) == 0 ? 0 : 0.3 * random.uniform(), random.below(3) == 0 ? 0 : 0.3 * random.uniform());
    const auto wanted = twin_of(model, history, options);
    const auto found = diagnose_after(model, history, options);
    if (!(wanted.evidence > 0)) {
      EXPECT_TRUE(found.now.explanations.empty());
      continue;
    }
    ++compared;
    EXPECT_NEAR(found.now.log_evidence, std::log(static_cast<double>(wanted.evidence)), tolerance);
    for (std::size_t i = 0; i < model.causes.size(); ++i) {
      EXPECT_NEAR(found.now.belief[i], static_cast<double>(wanted.belief[i]), tolerance);
      EXPECT_NEAR(found.had_been[i], static_cast<double>(wanted.had_been[i]), tolerance);
    }
    for (const auto& [causes, probability] : wanted.present) EXPECT_NEAR(probability_of(found, causes), static_cast<double>(probability), tolerance);
    EXPECT_NEAR(found.mended, wanted.present.contains({}) ? static_cast<double>(wanted.present.at({})) : 0, tolerance);
    EXPECT_LT(found.unweighed_at_most, 1e-9);
  }
  EXPECT_GT(compared, 250U);
}

TEST(StatesNow, AgreeWithEveryDrawEnumerated) {
  RandomModels random(31);
  std::size_t compared = 0;
  for (int round = 0; round < 150; ++round) {
    const auto model = random.model(4, 2);
    const auto history = random_history(random, model, 1 + random.below(3));
    const auto options = everything(random.below(3) == 0 ? 0 : 0.3 * random.uniform(), random.below(3) == 0 ? 0 : 0.3 * random.uniform());
    const auto wanted = twin_of(model, history, options);
    if (!(wanted.evidence > 0)) continue;
    const auto found = diagnose_after(model, history, options);
    for (const auto& [present, by_finding] : wanted.states) {
      for (std::size_t j = 0; wanted.present.at(present) > 1e-9L && j < by_finding.size(); ++j) {
        long double sum = 0;
        for (const auto state : by_finding[j]) sum += state;
        const auto states = foretold(model, history, found, j, present, options);
        for (std::size_t s = 0; s < states.size(); ++s, ++compared) EXPECT_NEAR(states[s], static_cast<double>(by_finding[j][s] / sum), tolerance);
      }
    }
  }
  EXPECT_GT(compared, 2000U);
}

// --- The worked example of the shared reference: inference.md § 13 ----------------------------------------------------------------------------------

constexpr std::size_t a = 0, b = 1;
const Evidence normal{{0, {1, 0}}}, abnormal{{0, {0, 1}}};
const Done replace_a{{{a, 1.0}}};

// Cause a (prior 0.02, link 0.9) and b (prior 0.01, link 0.8), leak 0.01, one finding; nothing is conditioned on.
Model worked_example() {
  Model model;
  model.findings = {{{0.99, 1.0}}};
  model.causes = {{0.02, {{0, {0.1, 1.0}, {}}}}, {0.01, {{0, {0.2, 1.0}, {}}}}};
  model.something_is_wrong = false;
  return model;
}

// Some may, and without them the same is foretold.
TEST(StatesNow, CausesThatDoNotSwayMayBeLeftOut) {
  RandomModels random(32);
  std::size_t left_out = 0;
  for (int run = 0; run < 60; ++run) {
    const auto model = random.model(4, 4);
    const auto history = random_history(random, model, 1 + random.below(3));
    const auto options = everything(0.1, 0.1);
    const auto found = diagnose_after(model, history, options);
    const auto now = states_now(model, history, found, options);
    for (std::size_t finding = 0; finding < model.findings.size(); ++finding) {
      for (const auto& explanation : found.now.explanations) {
        auto causes = explanation.causes;
        const auto states = now(finding, causes);
        left_out += std::erase_if(causes, [&](auto cause) { return !now.sways(finding, cause); });
        const auto without = now(finding, causes);
        for (std::size_t s = 0; s < states.size(); ++s) EXPECT_NEAR(without[s], states[s], tolerance) << run << ": finding " << finding << ", state " << s;
      }
    }
  }
  EXPECT_GT(left_out, 30U);
}

TEST(WorkedExample, LinksAndLeakPersistBetweenLooks) {
  const auto model = worked_example();
  const auto before = diagnose(model, abnormal);
  const auto still = diagnose_after(model, {{abnormal}, {abnormal, replace_a}}, everything(0));
  const auto gone = diagnose_after(model, {{abnormal}, {normal, replace_a}}, everything(0));
  EXPECT_NEAR(std::exp(still.now.log_evidence - before.log_evidence), 0.503406986570, tolerance);
  EXPECT_NEAR(still.now.belief[b], 0.447544642857, tolerance);
  EXPECT_NEAR(gone.now.belief[b], 0.002016129032, tolerance);
  EXPECT_NEAR(gone.had_been[a], 1, tolerance);
  EXPECT_EQ(still.now.belief[a], 0);
  EXPECT_EQ(gone.now.belief[a], 0);
}

TEST(WorkedExample, IsNotThatOfAFreshDrawAtEachLook) {
  const auto model = worked_example();
  const auto still = diagnose_after(model, {{abnormal}, {abnormal, replace_a}}, everything(0));
  const auto gone = diagnose_after(model, {{abnormal}, {normal, replace_a}}, everything(0));
  EXPECT_GT(std::abs(std::exp(still.now.log_evidence - diagnose(model, abnormal).log_evidence) - 0.189228250121), 0.3);
  EXPECT_GT(std::abs(still.now.belief[b] - 0.959112780259), 0.5);
  EXPECT_GT(std::abs(gone.now.belief[b] - 0.055264706173), 0.05);
  EXPECT_GT(std::abs(gone.had_been[a] - 0.613283441032), 0.3);
}

TEST(WorkedExample, TheNextLookIsForetoldAsItComesOut) {
  const auto model = worked_example();
  const History repaired{{abnormal}, {{}, replace_a}};
  const auto options = everything(0);
  const auto found = diagnose_after(model, repaired, options);
  double still = 0;
  for (const auto& [causes, probability] : found.now.explanations) still += probability * foretold(model, repaired, found, 0, causes, options)[1];
  EXPECT_NEAR(still, 0.503406986570, tolerance);
}

// --- Laws -------------------------------------------------------------------------------------------------------------------------------------------

void expect_same(const Present& one, const Present& other, double near) {
  ASSERT_EQ(one.now.explanations.size(), other.now.explanations.size());
  for (std::size_t i = 0; i < one.now.belief.size(); ++i) {
    EXPECT_NEAR(one.now.belief[i], other.now.belief[i], near);
    EXPECT_NEAR(one.had_been[i], other.had_been[i], near);
  }
  for (const auto& [causes, probability] : one.now.explanations) EXPECT_NEAR(probability, probability_of(other, causes), near);
  EXPECT_NEAR(one.mended, other.mended, near);
}

TEST(Laws, OnePhaseIsDiagnose) {
  RandomModels random(11);
  for (int round = 0; round < 100; ++round) {
    const auto model = random.model(8, 6);
    const auto evidence = random.evidence(model);
    const auto plain = diagnose(model, evidence);
    const auto found = diagnose_after(model, {{evidence}});
    EXPECT_EQ(found.now.belief, plain.belief);
    EXPECT_EQ(found.had_been, plain.belief);
    EXPECT_EQ(found.now.log_evidence, plain.log_evidence);
    EXPECT_EQ(found.now.unlisted_mass, plain.unlisted_mass);
    EXPECT_EQ(found.now.explanations.size(), plain.explanations.size());
  }
}

TEST(Laws, ARemedyThatMendsNothingChangesNothing) {
  RandomModels random(12);
  for (int round = 0; round < 100; ++round) {
    const auto model = random.model(6, 5);
    auto history = random_history(random, model, 1 + random.below(3));
    const auto before = diagnose_after(model, history, everything(0.05, 0.05));
    history.insert(history.begin() + 1 + static_cast<std::ptrdiff_t>(random.below(history.size())), Phase{});
    expect_same(before, diagnose_after(model, history, everything(0.05, 0.05)), tolerance);
  }
}

// Without anything new, the same look once more tells nothing more; and looks at other findings are as if taken at once.
TEST(Laws, LooksOnBothSidesOfARemedyThatMendsNothingAreOneLook) {
  RandomModels random(13);
  for (int round = 0; round < 100; ++round) {
    const auto model = random.model(6, 5);
    auto second = random.evidence(model);
    Evidence first;
    for (std::size_t o = 0; o < second.size(); o += 2) {  // these are seen twice, without doubt
      const auto state = random.below(second[o].likelihood.size());
      for (std::size_t s = 0; s < second[o].likelihood.size(); ++s) second[o].likelihood[s] = s == state ? 1 : 0;
      first.push_back(second[o]);
    }
    const auto at_once = diagnose(model, second, everything(0).explain);
    const auto found = diagnose_after(model, {{first}, {second}}, everything(0));
    for (std::size_t i = 0; i < model.causes.size(); ++i) EXPECT_NEAR(found.now.belief[i], at_once.belief[i], tolerance);
  }
}

TEST(Laws, TheOrderOfFindingsDoesNotMatter) {
  RandomModels random(14);
  for (int round = 0; round < 100; ++round) {
    auto model = random.model(5, 4);
    auto history = random_history(random, model, 3);
    const auto before = diagnose_after(model, history, everything(0.05, 0.05));
    const auto last = model.findings.size() - 1;
    std::reverse(model.findings.begin(), model.findings.end());
    for (auto& cause : model.causes) {
      for (auto& push : cause.pushes) push.finding = last - push.finding;
      std::reverse(cause.pushes.begin(), cause.pushes.end());
    }
    for (auto& phase : history) {
      for (auto& observation : phase.evidence) observation.finding = last - observation.finding;
      std::reverse(phase.evidence.begin(), phase.evidence.end());
    }
    expect_same(before, diagnose_after(model, history, everything(0.05, 0.05)), tolerance);
  }
}

TEST(Laws, AFlatAnswerAfterARemedyIsNone) {
  RandomModels random(15);
  for (int round = 0; round < 100; ++round) {
    const auto model = random.model(5, 4);
    auto history = random_history(random, model, 2);
    history[1].before.mends = {{0, 0.7}};
    history[1].evidence.clear();
    const auto before = diagnose_after(model, history, everything(0.05, 0.05));
    history[1].evidence = {{0, std::vector(model.findings[0].leak_at_most.size(), 0.4)}};
    expect_same(before, diagnose_after(model, history, everything(0.05, 0.05)), tolerance);
  }
}

// --- What a person expects ----------------------------------------------------------------------------------------------------------------------------

TEST(DiagnoseAfter, ThePerfectRemedyForTheOnlySuspectAndANormalLookMeanMended) {
  Model model;
  model.findings = {{{1.0, 1.0}}};
  model.causes = {{0.02, {{0, {0.1, 1.0}, {}}}}};
  const auto found = diagnose_after(model, {{abnormal}, {normal, replace_a}});
  EXPECT_EQ(found.mended, 1);
  ASSERT_EQ(found.now.explanations.size(), 1U);
  EXPECT_TRUE(found.now.explanations[0].causes.empty());
  EXPECT_NEAR(found.had_been[a], 1, tolerance);
}

TEST(DiagnoseAfter, WhatAPerfectRemedyMendsIsNotThereNow) {
  const auto found = diagnose_after(worked_example(), {{abnormal}, {abnormal, replace_a}});
  EXPECT_EQ(found.now.belief[a], 0);
  EXPECT_GT(found.had_been[a], 0.02);  // it may have been there beside the other
}

TEST(DiagnoseAfter, ASecondFaultIsFoundAndNamed) {
  Model model;
  model.findings = {{{0.998, 1.0}}, {{0.998, 1.0}}};
  model.causes = {{0.02, {{0, {0.1, 1.0}, {}}, {1, {0.2, 1.0}, {}}}}, {0.02, {{1, {0.1, 1.0}, {}}}}};
  const Evidence both{{0, {0, 1}}, {1, {0, 1}}}, second_only{{0, {1, 0}}, {1, {0, 1}}};
  const auto before = diagnose(model, both);
  EXPECT_EQ(before.explanations[0].causes, Causes{a});
  EXPECT_LT(before.belief[b], 0.1);
  const auto found = diagnose_after(model, {{both}, {second_only, replace_a}});
  EXPECT_EQ(found.now.explanations[0].causes, Causes{b});
  EXPECT_GT(found.had_been[a], 0.98);
}

// By hand: a was the only suspect, and a finding without leak still shows it: the remedy failed.
TEST(DiagnoseAfter, ARemedyThatMayFailLeavesItsCauseByItsChance) {
  auto model = worked_example();
  const Done often{{{a, 0.9}}, 7};
  const auto found = diagnose_after(model, {{abnormal}, {abnormal, often}}, everything(0));
  const double odds_a = 0.02 / 0.98, odds_b = 0.01 / 0.99, leak = 0.01;
  const double without = 1 - 0.99, with_b = 1 - 0.99 * 0.2;
  const double only_a_failed = 0.1 * odds_a * (1 - 0.99 * 0.1), both_failed = 0.1 * odds_a * odds_b * (1 - 0.99 * 0.1 * 0.2);
  const double rest = leak + odds_b * with_b + 0.9 * odds_a * without + 0.9 * odds_a * odds_b * with_b;
  EXPECT_NEAR(found.now.belief[a], (only_a_failed + both_failed) / (only_a_failed + both_failed + rest), tolerance);
  const auto again = diagnose_after(model, {{abnormal}, {abnormal, often}, {abnormal, often}}, everything(0));
  EXPECT_NEAR(again.now.belief[a], found.now.belief[a], tolerance);  // done twice it fails twice
  const auto other = diagnose_after(model, {{abnormal}, {abnormal, often}, {abnormal, {{{a, 0.9}}, 8}}}, everything(0));
  EXPECT_LT(other.now.belief[a], found.now.belief[a] / 3);
}

TEST(DiagnoseAfter, WhatGrowsWorseIsSomethingNew) {
  Model model;
  model.findings = {{{0.98, 0.99, 1.0}}};
  model.causes = {{0.02, {{0, {0.1, 1.0, 1.0}, {}}}}};
  const Evidence bad{{0, {0, 1, 0}}}, worse{{0, {0, 0, 1}}};
  EXPECT_TRUE(diagnose_after(model, {{bad}, {worse, replace_a}}, everything(0)).now.explanations.empty());
  const auto found = diagnose_after(model, {{bad}, {worse, replace_a}}, everything(0.01));
  EXPECT_NEAR(std::exp(found.now.log_evidence - diagnose(model, bad).log_evidence), 0.005, tolerance);  // half of what is new is the worse state
  EXPECT_EQ(found.had_been[a], 1);
  EXPECT_EQ(found.mended, 1);
}

// Nothing that a remedy touched had to do with it, yet it is normal now: less rare a thing than an impossible one.
TEST(DiagnoseAfter, WhatMendsItselfIsNotImpossible) {
  const auto model = worked_example();
  const Done replace_b{{{b, 1.0}}};
  const History history{{abnormal}, {abnormal, replace_b}, {abnormal, replace_a}, {normal, {{{a, 1.0}}, 3}}};
  EXPECT_TRUE(diagnose_after(model, history, everything(0, 0)).now.explanations.empty());
  const auto found = diagnose_after(model, history);
  EXPECT_EQ(found.mended, 1);
  EXPECT_FALSE(std::isinf(found.now.log_evidence));
}

TEST(DiagnoseAfter, WhatTheCandidatesLeaveOutIsBounded) {
  RandomModels random(21);
  int looked = 0;
  for (int round = 0; round < 200; ++round) {
    const auto model = random.model(4, 2);
    const auto history = random_history(random, model, 2);
    const AfterOptions few{0.01, {}, 0.01, 1e-2, 2};
    const auto wanted = twin_of(model, history, few);
    if (!(wanted.evidence > 0)) continue;
    const auto found = diagnose_after(model, history, few);
    looked += found.unweighed_at_most > 1e-3 ? 1 : 0;
    for (std::size_t i = 0; i < model.causes.size(); ++i) {
      EXPECT_LE(std::abs(found.now.belief[i] - static_cast<double>(wanted.belief[i])), found.unweighed_at_most + 1e-9);
    }
  }
  EXPECT_GT(looked, 50);
}

TEST(DiagnoseAfter, RefusesWhatDoesNotFit) {
  const auto model = worked_example();
  const auto why = [&](const History& history, const AfterOptions& options = {}) -> std::string {
    try {
      (void)diagnose_after(model, history, options);
    } catch (const std::invalid_argument& refused) {
      return refused.what();
    }
    return "";
  };
  EXPECT_EQ(why({}), "a history needs at least its first phase");
  EXPECT_EQ(why({{abnormal, replace_a}}), "the first phase comes before any remedy");
  EXPECT_EQ(why({{abnormal}, {normal, {{{2, 1.0}}}}}), "a remedy for a cause that is not in the model");
  EXPECT_EQ(why({{abnormal}, {normal, {{{a, 1.5}}}}}), "a remedy's chance must lie from 0 to 1");
  EXPECT_EQ(why({{abnormal}, {normal, {{{b, 1.0}, {a, 1.0}}}}}), "the causes a remedy mends must ascend");
  EXPECT_EQ(why({{abnormal}, {{{0, {1, 0, 0}}}, replace_a}}), "an observation that does not fit its finding");
  EXPECT_EQ(why({{abnormal}}, {1.0, {}}), "new_fault must lie from 0 to below 1");
  EXPECT_EQ(why({{abnormal}}, {0.1, {}, -0.1}), "drawn_anew must lie from 0 to below 1");
  EXPECT_EQ(why({{abnormal}}, {0.1, {}, 0, 0}), "least_candidate must lie between 0 and 1");
  EXPECT_EQ(why({{abnormal}}, {0.1, {}, 0, 1e-7, 0}), "most_candidates must be at least 1");
}

// --- Readings on a circuit ------------------------------------------------------------------------------------------------------------------------------

TEST(DiagnoseAfter, ReadingsOnACircuitAreJudgedInEachPhaseUnderWhatIsThere) {
  const testing::TiedBoat boat;
  const auto lug = boat.cause("lug-bad"), battery = boat.cause("battery-weak");
  const auto before = boat.evidence({boat.read("drop", "1.4 V"), boat.read("amps", "135 A"), boat.read("load-volts", "8.1 V"), boat.read("push", "weak")});
  const auto after = boat.evidence({boat.read("drop", "36 mV"), boat.read("amps", "150 A"), boat.read("load-volts", "9.1 V"), boat.read("push", "weak")});
  const auto sound = boat.evidence({boat.read("drop", "36 mV"), boat.read("amps", "190 A"), boat.read("push", "full")});
  const Done mend_lug{{{lug, 1.0}}}, mend_battery{{{battery, 1.0}}};
  const auto second = diagnose_after(boat.boat.model, {{before}, {after, mend_lug}});
  EXPECT_EQ(second.now.explanations[0].causes, Causes{battery});
  EXPECT_GT(second.now.explanations[0].probability, 0.9);
  EXPECT_TRUE(second.by_circuits);
  EXPECT_EQ(second.now.tied.size(), 3U);
  const auto done = diagnose_after(boat.boat.model, {{before}, {after, mend_lug}, {sound, mend_battery}});
  EXPECT_GT(done.mended, 0.9);
  EXPECT_GT(done.had_been[battery], 0.9);
  EXPECT_GT(done.had_been[lug], 0.5);  // the one large drop may have been a slip of the hand
  EXPECT_EQ(done.now.belief[lug], 0);
  EXPECT_EQ(done.now.belief[battery], 0);
}

// Every candidate by definition: prior odds, the circuit's density in each phase, the plain finding. Like diagnose(), the candidates do without sets of
// more than two causes that the readings notice: before the remedy, or by the latest answers.
TEST(DiagnoseAfter, WithReadingsAgreesWithPlainEnumeration) {
  const testing::TiedBoat boat;
  const auto& model = boat.boat.model;
  const auto lug = boat.cause("lug-bad");
  const auto before = boat.evidence({boat.read("drop", "1.4 V"), boat.read("amps", "160 A")});
  const auto after = boat.evidence({boat.read("drop", "40 mV"), boat.read("push", "weak")});
  const auto latest = boat.evidence({boat.read("drop", "40 mV"), boat.read("amps", "160 A"), boat.read("push", "weak")});
  const TiedReadings tied_before(model, before), tied_after(model, after), tied_latest(model, latest);
  const auto noticed = [](const TiedReadings& tied, const Causes& causes) {
    return std::count_if(causes.begin(), causes.end(), [&](auto cause) { return contains(tied.implicated(), cause); });
  };
  std::map<Causes, double> weights;
  double total = 0;
  for (std::size_t bits = 1; bits < (std::size_t{1} << model.causes.size()); ++bits) {
    Causes causes;
    double weight = 1;
    for (std::size_t i = 0; i < model.causes.size(); ++i) {
      if ((bits >> i & 1) != 0) causes.push_back(i), weight *= model.causes[i].prior / (1 - model.causes[i].prior);
    }
    auto present = causes;
    std::erase(present, lug);
    if (noticed(tied_before, causes) > 2 && noticed(tied_latest, causes) > 2 && (present == causes || noticed(tied_latest, present) > 2)) continue;
    weight *= std::exp(tied_before.log_density(causes) + tied_after.log_density(present));
    for (const auto& observation : plain_part(after)) weight *= likelihood_under(model, observation, present);
    weights[present] += weight;
    total += weight;
  }
  const auto found = diagnose_after(model, {{before}, {after, {{{lug, 1.0}}}}}, everything(0));
  for (const auto& [present, weight] : weights) EXPECT_NEAR(probability_of(found, present), weight / total, 1e-9) << present.size();
}

}  // namespace
}  // namespace leadline::diagnosis
