// Do the answers argue? The measure by definition, and the suspects by trying every answer and every pair.
#include "engine/diagnosis/conflict.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/diagnosis/by_definition.h"
#include "tests/diagnosis/random_models.h"

namespace leadline::diagnosis {
namespace {

using testing::by_definition;
using testing::RandomModels;

struct Judged {
  double bits;
  bool unexplained;
  bool mended() const { return bits <= 1 && !unexplained; }
};

// log2 of the product of P(e_i) over P(e), with the answers at `left_out` taken back; the last cause stands for the unlisted one.
Judged judged(const Model& model, const Evidence& evidence, const std::vector<std::size_t>& left_out) {
  Evidence kept;
  long double product = 1;
  for (std::size_t o = 0; o < evidence.size(); ++o) {
    if (std::find(left_out.begin(), left_out.end(), o) != left_out.end()) continue;
    kept.push_back(evidence[o]);
    product *= by_definition(model, {evidence[o]}).evidence;
  }
  const auto whole = by_definition(model, kept);
  if (!(whole.evidence > 0)) return {1e9, true};
  return {static_cast<double>(std::log2(product / whole.evidence)), whole.belief.back() > 0.5L};
}

// One hard answer to every finding, seldom the normal one: random answers argue often.
Evidence arguing_answers(RandomModels& random, const Model& model) {
  Evidence evidence;
  for (std::size_t j = 0; j < model.findings.size(); ++j) {
    const auto states = model.findings[j].leak_at_most.size();
    Observation seen{j, std::vector<double>(states, 0.0)};
    seen.likelihood[random.below(4) == 0 ? 0 : 1 + random.below(states - 1)] = 1;
    evidence.push_back(seen);
  }
  return evidence;
}

bool too_close_to_call(const Judged& j) { return std::abs(j.bits - 1) < 1e-6; }

std::vector<std::size_t> single_suspects(const Model& model, const Evidence& evidence) {
  std::vector<std::size_t> suspects;
  for (std::size_t o = 0; o < evidence.size(); ++o) {
    if (judged(model, evidence, {o}).mended()) suspects.push_back(evidence[o].finding);
  }
  return suspects;
}

bool some_pair_mends(const Model& model, const Evidence& evidence) {
  for (std::size_t a = 0; a < evidence.size(); ++a) {
    for (std::size_t b = 0; b < a; ++b) if (judged(model, evidence, {a, b}).mended()) return true;
  }
  return false;
}

TEST(Conflict, AgreesWithTheDefinition) {
  RandomModels random(71);
  int compared = 0;
  for (int round = 0; round < 150; ++round) {
    const auto model = random.model(6, 5);
    const auto evidence = arguing_answers(random, model);
    if (evidence.size() < 2) continue;
    const auto wanted = judged(model, evidence, {});
    const auto found = conflict_in(model, evidence, model.causes.size() - 1);
    EXPECT_EQ(found.unexplained, wanted.unexplained);
    if (wanted.bits > 1e8) continue;
    EXPECT_NEAR(found.bits, wanted.bits, 1e-9);
    ++compared;
  }
  EXPECT_GT(compared, 80);
}

TEST(Conflict, NamesExactlyTheAnswersWhoseTakingBackMendsIt) {
  RandomModels random(72);
  int singles = 0, pairs = 0;
  for (int round = 0; round < 250; ++round) {
    const auto model = random.model(6, 5);
    const auto evidence = arguing_answers(random, model);
    const auto whole = judged(model, evidence, {});
    if (evidence.size() < 2 || whole.mended() || too_close_to_call(whole)) continue;
    const auto found = conflict_in(model, evidence, model.causes.size() - 1);
    auto named = found.suspects;
    std::sort(named.begin(), named.end());
    const auto wanted = single_suspects(model, evidence);
    if (!wanted.empty()) {
      EXPECT_FALSE(found.together);
      EXPECT_EQ(named, wanted);
      ++singles;
    } else {  // minimal: a pair only when no single answer mends it
      EXPECT_EQ(found.together, some_pair_mends(model, evidence));
      EXPECT_EQ(named.size(), found.together ? 2U : 0U);
      EXPECT_EQ(found.together, !named.empty() && judged(model, evidence, named).mended());  // findings are positions here: all are answered
      pairs += found.together ? 1 : 0;
    }
  }
  EXPECT_GT(singles, 20);
  EXPECT_GT(pairs, 5);
}

// One cause that nearly always lights both lamps; one lamp lit and one dark cannot be squared with it or with anything else.
Model two_lamps() {
  Model model;
  model.findings = {{{0.999, 1.0}}, {{0.999, 1.0}}, {{0.999, 1.0}}};
  model.causes = {{0.05, {{0, {0.01, 1}, {}}, {1, {0.01, 1}, {}}, {2, {0.01, 1}, {}}}}, {0.002, {}}};
  return model;
}

TEST(Conflict, NamesTheAnswerThatContradictsTheOthers) {
  const Evidence contradicting{{0, {0, 1}}, {1, {0, 1}}, {2, {1, 0}}};
  const auto found = conflict_in(two_lamps(), contradicting, 1);
  EXPECT_GT(found.bits, 1);
  EXPECT_EQ(found.suspects, std::vector<std::size_t>{2});
  EXPECT_FALSE(found.together);
}

TEST(Conflict, IsNoneWhenTheAnswersAgree) {
  const auto found = conflict_in(two_lamps(), {{0, {0, 1}}, {1, {0, 1}}, {2, {0, 1}}}, 1);
  EXPECT_LT(found.bits, 0);
  EXPECT_FALSE(found.unexplained);
  EXPECT_TRUE(found.suspects.empty());
}

TEST(Conflict, NeedsTwoAnswers) {
  EXPECT_EQ(conflict_in(two_lamps(), {}, 1).bits, 0);
  EXPECT_EQ(conflict_in(two_lamps(), {{0, {0, 1}}}, 1).bits, 0);
}

TEST(Conflict, OfImpossibleAnswersIsUnexplainedAndNeverNaN) {
  Model model;
  model.findings = {{{1.0, 1.0}}, {{0.9, 1.0}}};
  model.causes = {{0.1, {{1, {0.5, 1}, {}}}}, {0.01, {}}};
  const auto found = conflict_in(model, {{0, {0, 1}}, {1, {0, 1}}}, 1);
  EXPECT_TRUE(found.unexplained);
  EXPECT_FALSE(std::isnan(found.bits));
  EXPECT_EQ(found.suspects, std::vector<std::size_t>{0});
}

}  // namespace
}  // namespace leadline::diagnosis
