// Pearl's burglar alarm through the engine's own model.
// Numbers and their tags (READ, MEMORY, COMPUTED): shared reference inference.md § 1, 10, 23. What fits and what not:
// docs/outside-checks.md.
#include <gtest/gtest.h>

#include "tests/outside/plain_models.h"

namespace leadline {
namespace {

using diagnosis::Model;
using testing::evidence_of;
using testing::of_set;
using testing::published;
using testing::Set;

constexpr double computed = 1e-11;

// --- § 1: burglar alarm (Pearl; Russell and Norvig). Inputs READ. ---

enum : std::size_t { burglary, earthquake };

// P(alarm | burglary, earthquake) is no noisy-OR: that would need 0.9574 where the table has 0.95. It is an exact
// noisy-MAX all the same, of three states of which the first and the last both mean "silent": P(sounds) = F(1) - F(0).
// Four equations for five free numbers; a burglary never reaches the last state (1), then e1 - 0.999 e0 = 0.29 and e1 -
// 0.06 e0 = 0.95 settle the earthquake.
Model alarm() {
  const double e0 = (0.95 - 0.29) / (0.999 - 0.06), e1 = 0.29 + 0.999 * e0;
  return published({{0.001, {{0, {0.06 / 0.999, 1, 1}, {}}}}, {0.002, {{0, {e0, e1, 1}, {}}}}}, {{{0.999, 1, 1}}});
}

// The calls of John and Mary hang on the alarm alone, so they are one likelihood over it.
diagnosis::Observation heard(double if_silent, double if_sounds) {
  return {0, {if_silent, if_sounds, if_silent}};
}
const auto nothing = heard(1, 1), john = heard(0.05, 0.90), mary = heard(0.01, 0.70), sounds = heard(0, 1);
const auto john_and_mary = heard(0.05 * 0.01, 0.90 * 0.70), john_not_mary = heard(0.05 * 0.99, 0.90 * 0.30),
           soft_alarm = heard(0.2, 0.8);

double chance(const diagnosis::Observation& observation) {
  return evidence_of(alarm(), {observation});
}
double alarm_given(const diagnosis::Observation& observation) {
  return chance({0, {0, observation.likelihood[1], 0}}) / chance(observation);
}

TEST(Alarm, HasTheTableOfTheTextbook) {  // READ
  struct {
    Set causes;
    double sounds;
  } const rows[] = {{{}, 0.001}, {{burglary}, 0.94}, {{earthquake}, 0.29}, {{burglary, earthquake}, 0.95}};
  for (const auto& row : rows)
    EXPECT_NEAR(diagnosis::distribution_under(alarm(), 0, row.causes)[1], row.sounds, 1e-14)
        << ::testing::PrintToString(row.causes);
}

TEST(Alarm, GivesTheComputedPosteriors) {  // COMPUTED x2 or more
  struct {
    const char* name;
    diagnosis::Observation seen;
    double evidence, burglary, earthquake, alarm;
  } const rows[] = {{"none", nothing, 1, 0.001, 0.002, 0.002516442},
                    {"J", john, 0.0521389757, 0.0162837299468, 0.0113949687738, 0.0434377117999},
                    {"M", mary, 0.01173634498, 0.0561174540389, 0.0358809152865, 0.1500901177498},
                    {"J, M", john_and_mary, 0.002084100239, 0.2841718353644, 0.1760668384051, 0.7606920388631},
                    {"J, not M", john_not_mary, 0.050054875461, 0.0051298581334, 0.0045386400008, 0.0135738893313},
                    {"A", sounds, 0.002516442, 0.3735512282818, 0.2310087019689, 1},
                    {"A soft", soft_alarm, 0.2015098652, 0.0037914372045, 0.0037159074036, 0.0099903476090}};
  for (const auto& row : rows) {
    const auto result = diagnosis::beliefs(alarm(), {row.seen});
    EXPECT_NEAR(std::exp(result.log_evidence), row.evidence, 1e-12) << row.name;
    EXPECT_NEAR(result.belief[burglary], row.burglary, 1e-12) << row.name;
    EXPECT_NEAR(result.belief[earthquake], row.earthquake, 1e-12) << row.name;
    EXPECT_NEAR(alarm_given(row.seen), row.alarm, 1e-12) << row.name;
  }
}

TEST(Alarm, GivesThePublishedNumbers) {
  EXPECT_NEAR(diagnosis::beliefs(alarm(), {john_and_mary}).belief[burglary], 0.284,
              5e-4);  // READ: doc-test of enumeration_ask
  EXPECT_NEAR(diagnosis::beliefs(alarm(), {sounds}).belief[burglary], 0.373, 1e-3);  // READ; the page rounds early
  // P(x | burglary) = P(burglary | x) P(x) / P(burglary). READ, a wiki page.
  const auto given_burglary = [](const diagnosis::Observation& seen) {
    return diagnosis::beliefs(alarm(), {seen}).belief[burglary] * chance(seen) / 0.001;
  };
  EXPECT_NEAR(given_burglary(sounds), 0.94002, 1e-12);
  EXPECT_NEAR(given_burglary(john), 0.849017, 1e-12);
  EXPECT_NEAR(given_burglary(mary), 0.6586138, 1e-12);
  const auto with_alarm = diagnosis::diagnose(alarm(), {sounds}, testing::every_set());
  EXPECT_NEAR(of_set(with_alarm, {}) * chance(sounds) * 0.90 * 0.70, 0.00062811126,
              1e-13);  // P(j,m,a,-b,-e): MEMORY 0.000628, COMPUTED
  const double burglary_and_quake = of_set(with_alarm, {burglary, earthquake}), quake = with_alarm.belief[earthquake];
  EXPECT_NEAR(burglary_and_quake / quake, 0.003268423587697, 1e-13);  // P(B | A, E): READ 0.003
}

TEST(Alarm, RanksTheSetsOfBothCauses) {  // COMPUTED
  const auto result = diagnosis::diagnose(alarm(), {john_and_mary}, testing::every_set());
  const std::pair<Set, double> expected[] = {{{}, 0.540335698796},
                                             {{burglary}, 0.283597462799},
                                             {{earthquake}, 0.175492465840},
                                             {{burglary, earthquake}, 0.000574372565}};
  ASSERT_EQ(result.explanations.size(), std::size(expected));
  for (std::size_t k = 0; k < std::size(expected); ++k) {
    EXPECT_EQ(result.explanations[k].causes, expected[k].first) << k;
    EXPECT_NEAR(result.explanations[k].probability, expected[k].second, computed) << k;
  }
}

// § 10, COMPUTED. The calls are answers about one finding here, so their separate chances are asked for one by one.
TEST(Alarm, HasTheComputedConflicts) {
  const auto conflict = [](double product, const diagnosis::Observation& joint) {
    return std::log2(product / chance(joint));
  };
  const auto not_john = heard(0.95, 0.10), not_mary = heard(0.99, 0.30), alarm_but_no_call = heard(0, 0.10 * 0.30);
  EXPECT_NEAR(conflict(chance(john) * chance(mary), john_and_mary), -1.768007339359, computed);
  EXPECT_NEAR(conflict(chance(john) * chance(not_mary), john_not_mary), 0.041819532110, computed);
  EXPECT_NEAR(conflict(chance(sounds) * chance(not_john) * chance(not_mary), alarm_but_no_call), 4.964609029644,
              computed);
}

// § 23 trap 2, COMPUTED: the widely copied `earthquake` file has other priors, and then another answer.
TEST(Alarm, DiffersFromTheWidelyCopiedFile) {
  auto copied = alarm();
  copied.causes[burglary].prior = 0.01;
  copied.causes[earthquake].prior = 0.02;
  EXPECT_NEAR(diagnosis::beliefs(copied, {john_and_mary}).belief[burglary], 0.556522062157, computed);
}

}  // namespace
}  // namespace leadline
