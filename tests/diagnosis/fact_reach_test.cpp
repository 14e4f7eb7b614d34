// Which facts bear on a model. The twin: another value of a fact that does not bear on it leaves every number as it is.
#include "engine/diagnosis/fact_reach.h"

#include <gtest/gtest.h>

#include "engine/diagnosis/model.h"
#include "engine/installation/restated.h"
#include "tests/circuit/quiet_boat.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::diagnosis {
namespace {

std::string named(const knowledge::KnowledgeBase& base, const Facts& facts) {
  std::string all;
  for (std::size_t f = 0; f < facts.size(); ++f) all += facts[f] ? base.facts[f].path() + " " : "";
  return all;
}

TEST(FactsOfPages, AreThoseNamedByCausesAndByTheFindingsThatAreWanted) {
  const auto base = testing::minimal_base();
  EXPECT_EQ(named(base, facts_of_pages(base, {false, false})), "bank/@volts bank/@age ");                // a cause applies, another is adjusted
  EXPECT_EQ(named(base, facts_of_pages(base, {true, true})), "bank/@volts bank/@age ");                  // the limits hang on a quantity of the volts
  EXPECT_EQ(named(base, facts_of_circuits(base, {true, true})), "");
}

TEST(FactsOfPages, FollowQuantitiesAndAssumedValues) {
  const auto base = testing::base_from(testing::changed_once(
      testing::minimal_with("value=\"bank/@volts\"", "value=\"bank/@volts * bank/@strings\""), "assume=\"1\"/>\n    <fact name=\"label\"",
      "assume=\"1\"><assume value=\"2\" where=\"bank/@kind = 'lithium'\"/></fact>\n    <fact name=\"label\""));
  EXPECT_EQ(named(base, facts_of_pages(base, {false, true})), "bank/@volts bank/@kind bank/@age bank/@strings ");
}

TEST(FactsOfPages, KnowThatCountedStationsHangOnTheirNumber) {
  const auto base = testing::base_from(testing::changed_once(testing::minimal_with("when=\"bank/@age &gt; 8\"", "when=\"count(station) &gt; 1\""),
                                                             "<element path=\"station\"", "<element path=\"network\"><fact name=\"stations\" type=\"number\" assume=\"1\"/></element><element path=\"station\""));
  EXPECT_EQ(named(base, facts_of_pages(base, {true, true})), "bank/@volts network/@stations ");
}

TEST(FactsOfCircuits, FollowTheStringThatIsLaidByFacts) {
  const auto& base = testing::shipped_base();
  std::vector<bool> findings(base.findings.size());
  findings[knowledge::find_id(base.findings, "network-ohms")->index] = true;
  const auto facts = facts_of_circuits(base, findings);
  for (const auto* path : {"network/@terminators", "network/@length", "network/@supply", "network/@stations", "segment/@length", "terminator/@ohm"}) {
    EXPECT_TRUE(facts[*knowledge::find_fact(base, path)]) << path;
  }
  EXPECT_FALSE(facts[*knowledge::find_fact(base, "charging/@absorption")]);
}

// Priors and plain pushes, in full digits.
std::string numbers_of(const BoatModel& boat) {
  std::string all;
  for (std::size_t i = 0; i < boat.model.causes.size(); ++i) {
    all += std::to_string(boat.cause_refs[i] ? boat.cause_refs[i]->index : 9999) + ":" + std::to_string(std::hash<double>{}(boat.model.causes[i].prior)) + " ";
    for (const auto& push : boat.model.causes[i].pushes) {
      for (const auto chance : push.at_most) all += std::to_string(std::hash<double>{}(chance)) + " ";
    }
  }
  return all;
}

TEST(ShippedPages, AreLeftAsTheyAreByFactsThatDoNotBearOnThem) {
  const auto& base = testing::shipped_base();
  std::vector<bool> findings(base.findings.size());
  for (const auto* id : {"push", "panel-lights", "error-kind"}) findings[knowledge::find_id(base.findings, id)->index] = true;
  const auto boat = installation::make_installation(base, {{"bank/@volts", "24"}});
  const installation::Evaluation evaluation(base, boat);
  const auto circuits = std::make_shared<const circuit::Expectation>(base, evaluation, &findings);
  const auto now = numbers_of(build_model_of(base, evaluation, findings, circuits));
  const auto facts = facts_of_pages(base, findings);
  std::size_t tried = 0, moved = 0;
  for (std::size_t f = 0; f < base.facts.size(); ++f) {
    for (const auto& value : installation::other_values(boat, base.facts[f])) {
      const auto other = installation::with_fact(base, boat, base.facts[f], value);
      ASSERT_TRUE(other.has_value()) << base.facts[f].path() << " " << value;
      const auto then = numbers_of(build_model_of(base, installation::Evaluation(base, *other), findings, circuits));
      if (!facts[f]) EXPECT_EQ(then, now) << base.facts[f].path() << " " << value;
      else moved += then != now;
      ++tried;
    }
  }
  EXPECT_GT(tried, 90U);
  EXPECT_GT(moved, 20U);
}

}  // namespace
}  // namespace leadline::diagnosis
