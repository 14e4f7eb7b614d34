// Calls drawn for a trial: normal answers first, then the complaint; nobody calls about nothing; the same dice, the same call.
#include "engine/trial/call.h"

#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::trial {
namespace {

class Calls : public ::testing::Test {
 protected:
  Call drawn(std::uint64_t number, std::size_t most_asked = 4) const {
    Dice dice(7, number);
    return draw_call(base_, boats_, dice, {.most_asked = most_asked});
  }
  knowledge::KnowledgeBase base_ = testing::base_from(testing::changed_once(testing::changed_once(testing::minimal_text,
    R"(<shows finding="push" state="weak" chance="usually"/>)", R"(<shows finding="push" state="weak" chance="usually"/><shows finding="smell" state="burnt" chance="0.3"/>)"),
    "  <finding id=\"bank-volts-rest\"", R"(  <finding id="smell" complaint="yes">
    <title>Smell</title>
    <ask>What is smelt?</ask>
    <lay>What do you smell?</lay>
    <state id="none">nothing</state>
    <state id="burnt" leak="0.02">burnt</state>
  </finding>
  <check id="sniff" minutes="1" who="owner" place="helm"><title>Sniff</title><step>Sniff.</step><observes finding="smell"/></check>
  <finding id="colour" complaint="yes">
    <title>Colour</title>
    <ask>Which colour?</ask>
    <lay>Which colour?</lay>
    <state id="usual">the usual one</state>
    <state id="other" leak="0.5">another one</state>
  </finding>
  <check id="look" minutes="1" who="owner" place="helm"><title>Look</title><step>Look.</step><observes finding="colour"/></check>
  <finding id="bank-volts-rest")"));
  std::vector<TrialBoat> boats_ = drawn_boats(base_, 3, 1);
};

TEST_F(Calls, AreMadeAboutSomethingAndHaveACause) {
  bool asked_twice = false;
  for (std::uint64_t number = 1; number <= 200; ++number) {
    const auto call = drawn(number);
    ASSERT_FALSE(call.said.empty());
    EXPECT_FALSE(call.world.causes().empty());
    EXPECT_LT(call.boat, boats_.size());
    EXPECT_NE(call.said.back().state, 0U);
    for (std::size_t i = 0; i + 1 < call.said.size(); ++i) EXPECT_EQ(call.said[i].state, 0U);
    asked_twice = asked_twice || call.said.size() == 2;
  }
  EXPECT_TRUE(asked_twice);
}

// A colour that says nothing of any cause is abnormal in every second boat, and nobody calls about it.
TEST_F(Calls, AreAboutWhatCausesShow) {
  const auto colour = *knowledge::find_id(base_.findings, "colour"), smell = *knowledge::find_id(base_.findings, "smell");
  std::size_t smells = 0;
  for (std::uint64_t number = 1; number <= 200; ++number) {
    for (const auto& said : drawn(number).said) EXPECT_NE(said.finding, colour.index);
    smells += drawn(number).said.front().finding == smell.index;
  }
  EXPECT_GT(smells, 10U);    // about a fifth: 0.3 of the flat banks, against push of nearly all
  EXPECT_LT(smells, 100U);
}

TEST_F(Calls, AskForNoMoreSymptomsThanWanted) {
  for (std::uint64_t number = 1; number <= 50; ++number) EXPECT_EQ(drawn(number, 1).said.size(), 1U);
}

TEST_F(Calls, MayBeHeldToWhatACauseBroughtAbout) {
  for (std::uint64_t number = 1; number <= 100; ++number) {
    Dice dice(7, number);
    const auto call = draw_call(base_, boats_, dice, {.of_a_cause = true});
    const auto finding = call.said.back().finding;
    EXPECT_NE(call.world.state_of(finding), 0U);
    EXPECT_EQ(call.world.state_without_causes(finding), 0U);
  }
}

TEST_F(Calls, AreTheSameForTheSameDice) {
  for (std::uint64_t number = 1; number <= 50; ++number) {
    const auto one = drawn(number), again = drawn(number);
    EXPECT_EQ(one.boat, again.boat);
    EXPECT_EQ(one.world.causes(), again.world.causes());
    EXPECT_EQ(one.said.back().state, again.said.back().state);
  }
}

}  // namespace
}  // namespace leadline::trial
