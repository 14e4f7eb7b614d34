// Readings tied to a circuit: the sums over sets against plain enumeration, and what readings must and must not do to beliefs.
#include "engine/diagnosis/tied.h"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/diagnosis/reason.h"
#include "tests/diagnosis/tied_book.h"

namespace leadline::diagnosis {
namespace {

using testing::TiedBoat;

struct Enumerated {
  std::vector<double> belief;
  std::map<std::vector<std::size_t>, double> sets;
  double sum = 0;
};

// Every set of causes in turn; those of more than two implicated causes are not looked at, as documented.
Enumerated by_enumeration(const Model& model, const Evidence& evidence) {
  const TiedReadings tied(model, evidence);
  Enumerated result{std::vector<double>(model.causes.size(), 0.0), {}, 0};
  for (std::size_t bits = 1; bits < (std::size_t{1} << model.causes.size()); ++bits) {
    std::vector<std::size_t> causes;
    std::size_t implicated = 0;
    double weight = 1;
    for (std::size_t i = 0; i < model.causes.size(); ++i) {
      if ((bits >> i & 1) == 0) continue;
      causes.push_back(i);
      implicated += std::count(tied.implicated().begin(), tied.implicated().end(), i) > 0 ? 1 : 0;
      weight *= model.causes[i].prior / (1 - model.causes[i].prior);
    }
    if (implicated > 2) continue;
    for (const auto& observation : plain_part(evidence)) weight *= likelihood_under(model, observation, causes);
    weight *= std::exp(tied.log_density(causes));
    result.sets[causes] = weight;
    result.sum += weight;
    for (const auto cause : causes) result.belief[cause] += weight;
  }
  for (auto& b : result.belief) b /= result.sum;
  return result;
}

struct Told {
  const char* name;
  std::vector<std::pair<const char*, std::string>> answers;
};

const std::vector<Told>& tellings() {
  static const std::vector<Told> told = {
      {"sound readings", {{"drop", "36 mV"}, {"amps", "190 A"}}},
      {"a bad lug", {{"drop", "1.9 V"}, {"amps", "165 A"}, {"push", "weak"}}},
      {"a weak battery", {{"amps", "150 A"}, {"load-volts", "9.1 V"}, {"push", "weak"}}},
      {"both at once", {{"drop", "1.4 V"}, {"amps", "135 A"}, {"load-volts", "8.1 V"}}},
      {"one reading far off", {{"drop", "36 mV"}, {"amps", "190 A"}, {"load-volts", "3 V"}}},
      {"only the current", {{"amps", "120 A"}, {"push", "full"}}},
  };
  return told;
}

TEST(TiedReadings, BeliefsAndExplanationsAreThoseOfPlainEnumeration) {
  const TiedBoat boat;
  for (const auto& told : tellings()) {
    SCOPED_TRACE(told.name);
    std::vector<Answer> answers;
    for (const auto& [finding, typed] : told.answers) answers.push_back(boat.read(finding, typed));
    const auto evidence = boat.evidence(answers);
    const auto expected = by_enumeration(boat.boat.model, evidence);
    const auto found = diagnose(boat.boat.model, evidence);
    for (std::size_t i = 0; i < expected.belief.size(); ++i) EXPECT_NEAR(found.belief[i], expected.belief[i], 1e-9) << i;
    ASSERT_FALSE(found.explanations.empty());
    for (const auto& explanation : found.explanations) {
      ASSERT_TRUE(expected.sets.contains(explanation.causes));
      EXPECT_NEAR(explanation.probability, expected.sets.at(explanation.causes) / expected.sum, 1e-9);
    }
  }
}

double belief(const TiedBoat& boat, const char* cause, const std::vector<Answer>& answers) {
  return diagnose(boat.boat.model, boat.evidence(answers)).belief[boat.cause(cause)];
}

TEST(TiedReadings, ALargeDropPointsToTheLugAndASmallOneClearsIt) {
  const TiedBoat boat;
  const double before = belief(boat, "lug-bad", {});
  EXPECT_GT(belief(boat, "lug-bad", {boat.read("drop", "1.9 V")}), 0.9);
  EXPECT_LT(belief(boat, "lug-bad", {boat.read("drop", "36 mV")}), 0.2 * before);
}

// The same information in another form must not raise belief: volts at the load follow from the current and the load.
TEST(TiedReadings, VoltsAndCurrentOfOneLoadAreNotTwoWitnesses) {
  const TiedBoat boat;
  const auto current = boat.read("amps", "150 A"), volts = boat.read("load-volts", "9.0 V");
  const auto odds = [&](const std::vector<Answer>& answers) {
    const double p = belief(boat, "battery-weak", answers);
    return std::log(p / (1 - p));
  };
  const double none = odds({}), one = odds({current}), both = odds({current, volts}), volts_alone = odds({volts});
  EXPECT_LT(both - none, 0.75 * ((one - none) + (volts_alone - none)));
}

TEST(TiedReadings, OneSlipDoesNotOverthrowTheRest) {
  const TiedBoat boat;
  const std::vector<Answer> sound = {boat.read("amps", "165 A"), boat.read("drop", "1.9 V")};
  auto slipped = sound;
  slipped.push_back(boat.read("load-volts", "2 V"));
  EXPECT_GT(belief(boat, "lug-bad", slipped), 0.6);
}

TEST(TiedReadings, StatesToComeAddUpToOneAndFollowTheReadings) {
  const TiedBoat boat;
  const auto evidence = boat.evidence({boat.read("drop", "4 V")});
  const TiedReadings tied(boat.boat.model, evidence);
  const auto amps = knowledge::find_id(boat.base.findings, "amps")->index;
  for (const auto& causes : std::vector<std::vector<std::size_t>>{{}, {boat.cause("lug-bad")}, {boat.cause("lug-bad"), boat.cause("battery-weak")}, {boat.cause("rope")}}) {
    const auto states = tied.states_of(amps, causes);
    double sum = 0;
    for (const double p : states) sum += p;
    EXPECT_NEAR(sum, 1, 1e-9);
  }
  EXPECT_GT(tied.states_of(amps, {boat.cause("lug-bad")})[1], 0.9) << "a drop of 4 V leaves less current";
  EXPECT_GT(TiedReadings(boat.boat.model, {}).states_of(amps, {boat.cause("lug-bad")})[0], 0.05) << "not read: it may be a small one";
}

// Of every finding, under every one or two causes: the same without those said to change nothing; and some are.
TEST(TiedReadings, CausesThatDoNotSwayMayBeLeftOut) {
  const TiedBoat boat;
  const auto& model = boat.boat.model;
  std::size_t left_out = 0;
  for (const auto& told : tellings()) {
    std::vector<diagnosis::Answer> answers;
    for (const auto& [finding, answer] : told.answers) answers.push_back(boat.read(finding, answer));
    const auto evidence = boat.evidence(answers);
    const TiedReadings tied(model, evidence);
    for (std::size_t finding = 0; finding < model.findings.size(); ++finding) {
      for (std::size_t a = 0; a < model.causes.size(); ++a) {
        for (std::size_t b = a; b < model.causes.size(); ++b) {
          auto causes = a == b ? std::vector<std::size_t>{a} : std::vector<std::size_t>{a, b};
          const auto states = tied.states_of(finding, causes);
          left_out += std::erase_if(causes, [&](auto cause) { return !tied.sways(finding, cause); });
          EXPECT_EQ(tied.states_of(finding, causes), states) << told.name << ": " << boat.base.findings[finding].id;
        }
      }
    }
  }
  EXPECT_GT(left_out, 10U);
}

TEST(TiedReadings, SaysHowBigTheFaultIs) {
  const TiedBoat boat;
  const auto evidence = boat.evidence({boat.read("drop", "1.9 V"), boat.read("amps", "165 A")});
  const TiedReadings tied(boat.boat.model, evidence);
  const auto sizes = tied.sizes_of(boat.base, {boat.cause("lug-bad")});
  ASSERT_EQ(sizes.size(), 1U);
  ASSERT_EQ(sizes[0].ways.size(), 1U);
  const auto& amount = sizes[0].ways[0].amounts.at(0);
  const double true_ohm = 1.9 / 165 - 0.0002;
  EXPECT_LT(amount.low, true_ohm);
  EXPECT_GT(amount.high, true_ohm);
  EXPECT_NEAR(amount.middle, true_ohm, 0.15 * true_ohm);
  EXPECT_NEAR(amount.heat_watt, amount.most_amp * amount.most_amp * amount.middle, 0.1 * amount.heat_watt);
}

TEST(TiedReadings, ReasonsOfAReadingAreWhatItAddsToTheOthers) {
  const TiedBoat boat;
  const auto evidence = boat.evidence({boat.read("drop", "1.9 V"), boat.read("amps", "165 A"), boat.read("push", "weak")});
  const auto diagnosis = diagnose(boat.boat.model, evidence);
  ASSERT_EQ(diagnosis.explanations[0].causes, std::vector<std::size_t>{boat.cause("lug-bad")});
  const auto reasons = reasons_for(boat.boat.model, evidence, diagnosis, 0);
  ASSERT_EQ(reasons.size(), 3U);
  EXPECT_EQ(reasons[0].finding, knowledge::find_id(boat.base.findings, "drop")->index);
  EXPECT_GT(reasons[0].weight_db, 10);
}

}  // namespace
}  // namespace leadline::diagnosis
