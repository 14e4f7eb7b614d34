// A trial broken off goes on where it stood: nothing is lost but a torn line, and another trial's file is refused.
#include "engine/trial/kept.h"

#include <gtest/gtest.h>

#include "engine/trial/trial.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::trial {
namespace {

const TrialIdentity identity{"0.1", "abc", 7, 3};

bool same(const Played& a, const Played& b) {
  return a.number == b.number && a.boat == b.boat && a.truth == b.truth && a.place == b.place && a.named == b.named && a.led_by == b.led_by && a.proved == b.proved && a.minutes == b.minutes && a.checks == b.checks &&
         a.remedies == b.remedies && a.hazards == b.hazards && a.leader.chance == b.leader.chance && a.leader.happened == b.leader.happened &&
         std::equal(a.beliefs.begin(), a.beliefs.end(), b.beliefs.begin(), b.beliefs.end(), [](const auto& x, const auto& y) { return x.chance == y.chance && x.happened == y.happened; });
}

class Kept : public ::testing::Test {
 protected:
  TrialPlan plan() const {
    TrialPlan plan;
    plan.calls = 12;
    plan.threads = 2;
    plan.policies = {Policy::ours, Policy::chart};
    return plan;
  }
  // Plays what `text` does not hold, and appends it.
  std::vector<std::vector<Played>> play_on(std::string& text, std::size_t& played_now) const {
    auto read = kept_trial(text, identity);
    const auto& kept = std::get<KeptTrial>(read);
    text.resize(kept.whole);
    if (text.empty()) text = line_of(identity);
    played_now = 0;
    const Keeping keeping{kept.played, [&](Policy policy, const Played& played) { text += line_of(policy, played), ++played_now; }};
    return run_trial(base_, boats_, plan(), {}, &keeping);
  }
  knowledge::KnowledgeBase base_ = testing::minimal_base();
  std::vector<TrialBoat> boats_ = drawn_boats(base_, 3, 1);
};

TEST_F(Kept, AnInterruptedTrialEndsAsOneThatWasNot) {
  const auto whole = run_trial(base_, boats_, plan());
  std::string text;
  std::size_t played = 0;
  (void)play_on(text, played);
  EXPECT_EQ(played, 24U);
  for (const std::size_t cut : {text.size(), text.size() / 2, text.size() / 7, std::size_t{3}}) {
    auto torn = text.substr(0, cut);
    const auto again = play_on(torn, played);
    EXPECT_EQ(played == 0, cut == text.size());
    for (std::size_t p = 0; p < whole.size(); ++p) {
      for (std::size_t c = 0; c < whole[p].size(); ++c) EXPECT_TRUE(same(whole[p][c], again[p][c])) << cut << " " << p << " " << c;
    }
  }
}

TEST(KeptFiles, OfAnotherTrialAreRefused) {
  const auto head = line_of(identity);
  const auto other = [&](auto change) { auto copy = identity; change(copy); return line_of(copy); };
  const std::pair<std::string, std::string> rows[] = {
      {other([](auto& i) { i.seed = 8; }), "it was kept by a trial with another --seed"},
      {other([](auto& i) { i.boats = 4; }), "it was kept by a trial with another --boats"},
      {other([](auto& i) { i.book = "abd"; }), "it was kept by a trial with another knowledge base"},
      {other([](auto& i) { i.program = "0.2"; }), "it was kept by a trial with another version of the program"},
      {"a letter\n", "it was kept by a trial with another form of the file"},
      {"a letter without an end", "it was not kept by a trial"},
      {head + "{\"policy\":\"luck\"}\n", "this line is no call-out of a trial"},
      {head + "{}\n", "this line is no call-out of a trial"},
      {head + "nonsense\n", "this line is no call-out of a trial"},
  };
  for (const auto& [text, why] : rows) {
    const auto read = kept_trial(text, identity);
    const auto* wrong = std::get_if<NotThisTrial>(&read);
    ASSERT_NE(wrong, nullptr) << text;
    EXPECT_EQ(wrong->why, why);
    EXPECT_EQ(wrong->line, text.starts_with(head) ? 2U : 1U);
  }
}

}  // namespace
}  // namespace leadline::trial
