// What the page of a cause is measured on: limits of bands in words, what it shows, which check tells most.
#include "cli/yardstick.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/circuit/shipped_base.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::cli {
namespace {

TEST(LimitWords, SayTheBandInFigures) {
  const auto base = testing::minimal_base();
  const auto& finding = base.findings.at(1);  // flat, low, normal upwards; in order of dominance normal, low, flat
  const std::vector<double> limits{22.8, 24.48};
  EXPECT_EQ(limit_words(finding, limits, 2), "below 22.8\u00A0V");
  EXPECT_EQ(limit_words(finding, limits, 1), "22.8\u00A0V to 24.5\u00A0V");
  EXPECT_EQ(limit_words(finding, limits, 0), "24.5\u00A0V or more");
}

TEST(LimitWords, AreSilentWhereThereAreNoLimits) {
  const auto base = testing::minimal_base();
  EXPECT_EQ(limit_words(base.findings.at(0), {}, 1), "");
  EXPECT_EQ(limit_words(base.findings.at(1), {22.8, std::nan("")}, 1), "");
  EXPECT_EQ(limit_words(base.findings.at(1), {24.5, 22.8}, 1), "");
}

TEST(SignsOf, LeaveOutWhatDoesNotHoldInTheBoat) {
  const auto base = testing::minimal_base();
  const auto boat = installation::read_installation(base, {"boat.xml", "<installation><station number=\"1\"/><station number=\"2\"/></installation>"});
  const auto blown = *knowledge::find_id(base.causes, "fuse-blown");  // shows only with one station
  EXPECT_TRUE(signs_of(base, yardstick_for(base, *boat.value), blown).empty());
  EXPECT_EQ(signs_of(base, yardstick_for(base, std::nullopt), blown).size(), 1U);
}

TEST(SignsOf, ComeStrongestFirst) {
  const auto base = testing::minimal_base();
  const auto signs = signs_of(base, yardstick_for(base, std::nullopt), *knowledge::find_id(base.causes, "bank-flat"));
  ASSERT_EQ(signs.size(), 3U);
  EXPECT_EQ(signs[0].chance, 0.95);
  EXPECT_EQ(signs[1].chance, 0.80);
  EXPECT_EQ(signs[2].chance, 0.10);
}

// By hand, from the definition: sum of p log10(p / q) over the states, p with the cause alone, q over the other causes of the model by prior.
TEST(TellingChecks, WeighByExpectedEvidence) {
  const auto base = testing::minimal_base();
  const auto yardstick = yardstick_for(base, std::nullopt);
  const auto telling = telling_checks(base, yardstick, *knowledge::find_id(base.causes, "bank-flat"));
  ASSERT_FALSE(telling.empty());
  EXPECT_EQ(base[telling[0].check].id, "measure-bank");
  const auto& model = yardstick.boat.model;
  const auto chances = [&](std::size_t cause, std::size_t s) {
    const auto* push = diagnosis::push_on(model.causes[cause], 1);
    const auto f = [&](std::size_t at) { return model.findings[1].leak_at_most[at] * (push != nullptr ? push->at_most[at] : 1); };
    return f(s) - (s > 0 ? f(s - 1) : 0);
  };
  const double others = model.causes[1].prior + model.causes[2].prior;
  double weight = 0;
  for (std::size_t s = 0; s < 3; ++s) {
    const double q = (model.causes[1].prior * chances(1, s) + model.causes[2].prior * chances(2, s)) / others;
    weight += 10 * chances(0, s) * std::log10(chances(0, s) / q);
  }
  EXPECT_NEAR(telling[0].weight, weight, 1e-9);
}

TEST(TellingChecks, ComeMostTellingFirstAndObserveWhatTheCauseShows) {
  const auto& book = testing::shipped_base();
  const auto usual = yardstick_for(book, std::nullopt);
  for (std::size_t c = 0; c < book.causes.size(); ++c) {
    const auto signs = signs_of(book, usual, {c});
    double before = 1e9;
    for (const auto& telling : telling_checks(book, usual, {c})) {
      EXPECT_LE(telling.weight, before);
      before = telling.weight;
      EXPECT_TRUE(std::any_of(signs.begin(), signs.end(), [&](const auto& sign) { return sign.finding == telling.finding; })) << book.causes[c].id;
    }
  }
}

// A cause that nothing tells apart from another has no parting check: itself.
TEST(PartingCheck, IsNoneForACauseAndItself) {
  const auto& book = testing::shipped_base();
  const auto usual = yardstick_for(book, std::nullopt);
  for (std::size_t c = 0; c < book.causes.size(); c += 10) EXPECT_FALSE(parting_check(book, usual, {c}, {c}).has_value());
}

}  // namespace
}  // namespace leadline::cli
