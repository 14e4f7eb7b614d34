// What a person is told to expect, and which causes and unsaid facts would show.
#include "engine/circuit/expected.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include "tests/circuit/shipped_base.h"
#include "tests/circuit/small_book.h"

namespace leadline::circuit {
namespace {

using testing::Fault;
using testing::Reading;
using testing::SmallBoat;

const std::string run_circuit = R"(<circuit id="c" reference="minus"><title>t</title><condition id="on">r</condition>
    <part kind="source" id="bank" from="plus" to="minus" volt="$volts" ohm="0.000001" spread-volt="0.3">b</part>
    <part kind="cable" id="run" from="plus" to="stud" length="run/@length" area="run/@area" spread="0.06">r</part>
    <part kind="resistor" id="lamp" from="stud" to="minus" ohm="0.1" spread="0.05">l</part>
    <part kind="resistor" id="stub" from="plus" to="loose" ohm="run/@ohm">s</part></circuit><quantity name="volts" value="bank/@volts"/>)";

Reading tied(const std::string& id, const std::string& probes, const std::string& unit = "V") {
  return {id, "<measure circuit=\"c\" doubt=\"0.01\">" + probes + "</measure>", unit};
}
Fault fault(const std::string& id, const std::string& changes) { return {id, "<effect circuit=\"c\"><words>w</words>" + changes + "</effect>"}; }

const std::vector<Reading> readings = {tied("bank", R"(<volts in="on" from="plus" to="minus"/>)"),
                                       tied("drop", R"(<volts in="on" from="plus" to="stud"/>)"),
                                       tied("stub", R"(<ohms in="on" from="plus" to="loose"/>)", "ohm")};
const std::vector<Fault> faults = {fault("bank-low", R"(<set part="bank" of="volt" from="12"/>)"),
                                   fault("poor-joint", R"(<add part="run" of="ohm" from="0.005" to="0.05"/>)"),
                                   fault("stub-off", R"(<open part="stub"/>)"),
                                   fault("a-hair", R"(<add part="run" of="ohm" from="0.000001"/>)"), {"elsewhere", ""}};

struct Boat {
  SmallBoat boat;
  Expectation expectation;
  explicit Boat(const std::string& record = "") : boat({run_circuit, readings, faults}, record), expectation(boat.base, boat.evaluation) {}
  Expected of(const char* finding, const std::vector<const char*>& causes = {}) const {
    std::vector<std::size_t> indices;
    for (const auto* id : causes) indices.push_back(boat.cause(id));
    return expected(expectation, tie(finding), indices);
  }
  Tie tie(const char* finding) const { return expectation.tie_of(boat.finding(finding)).value(); }
};

// Quantiles of many boats drawn by hand.
Expected drawn(bool drop) {
  std::mt19937_64 engine(41);
  const auto normal = [&engine] {  // twelve even draws: near enough between the fifth and the ninety-fifth
    double sum = -6;
    for (int k = 0; k < 12; ++k) sum += static_cast<double>(engine() >> 11) * 0x1p-53;
    return sum;
  };
  const Boat boat;
  const double run = boat.expectation.bench(0)->healthy().parts[1].numbers.ohm;
  std::vector<double> read;
  for (int k = 0; k < 40000; ++k) {
    const double volt = 24 + 0.3 * normal(), cable = run * std::exp(0.06 * normal()), lamp = 0.1 * std::exp(0.05 * normal());
    read.push_back((drop ? volt * cable / (cable + lamp) : volt) + 0.01 * normal());
  }
  std::sort(read.begin(), read.end());
  return {read[20000], read[2000], read[38000]};
}

TEST(Expected, IsTheRangeOfNineBoatsOfTen) {
  const Boat boat;
  for (const bool drop : {false, true}) {
    const auto slow = drawn(drop), fast = boat.of(drop ? "drop" : "bank");
    const double range = slow.high - slow.low;
    EXPECT_NEAR(fast.middle, slow.middle, 0.03 * range) << drop;
    EXPECT_NEAR(fast.low, slow.low, 0.05 * range) << drop;
    EXPECT_NEAR(fast.high, slow.high, 0.05 * range) << drop;
  }
}

TEST(Expected, UnderCauses) {
  const Boat boat;
  EXPECT_NEAR(boat.of("bank", {"bank-low"}).middle, 12, 0.01);
  EXPECT_NEAR(boat.of("bank", {"bank-low"}).high, 12 + 1.645 * 0.01, 0.005);  // what a fault sets does not vary among boats
  EXPECT_GT(boat.of("drop", {"poor-joint"}).low, boat.of("drop").high);
  EXPECT_NEAR(boat.of("drop", {"bank-low", "poor-joint"}).middle, boat.of("drop", {"poor-joint"}).middle / 2, 0.25);
  EXPECT_NEAR(boat.of("stub").middle, 1, 0.02);
  EXPECT_TRUE(std::isinf(boat.of("stub", {"stub-off"}).middle));
  EXPECT_TRUE(std::isinf(boat.of("stub", {"stub-off"}).low));
}

TEST(Expected, IsInOrder) {
  const Boat boat;
  for (const auto* finding : {"bank", "drop", "stub"}) {
    for (const auto& causes : std::vector<std::vector<const char*>>{{}, {"bank-low"}, {"poor-joint"}, {"bank-low", "poor-joint"}, {"stub-off"}}) {
      const auto [middle, low, high] = boat.of(finding, causes);
      EXPECT_LE(low, middle);
      EXPECT_LE(middle, high);
    }
  }
}

TEST(TellsApart, WhenNeitherMiddleLiesInTheOthersRange) {
  constexpr double over = HUGE_VAL;
  struct { const char* name; Expected a, b; bool apart; } const rows[] = {
      {"far", {24, 23, 25}, {12, 11, 13}, true},           {"the same", {24, 23, 25}, {24, 23, 25}, false},
      {"ranges that touch", {24, 23, 25}, {26.5, 24.5, 28}, true}, {"a middle within", {24, 23, 25}, {24.6, 24.2, 29}, false},
      {"wide beside narrow", {24, 10, 40}, {30, 29, 31}, false},  {"open beside closed", {1, 0.9, 1.1}, {over, over, over}, true},
      {"open both", {over, over, over}, {over, over, over}, false}};
  for (const auto& row : rows) {
    EXPECT_EQ(tells_apart(row.a, row.b), row.apart) << row.name;
    EXPECT_EQ(tells_apart(row.b, row.a), row.apart) << row.name;
  }
}

TEST(CausesShownBy, AreThoseThatMoveTheReading) {
  const Boat boat;
  const auto shown = [&](const char* finding) {
    std::string ids;
    for (const auto cause : causes_shown_by(boat.boat.base, boat.expectation, boat.tie(finding))) ids += boat.boat.base.causes[cause].id + " ";
    return ids;
  };
  EXPECT_EQ(shown("bank"), "bank-low ");
  EXPECT_EQ(shown("drop"), "bank-low poor-joint ");
  EXPECT_EQ(shown("stub"), "stub-off ");
}

// "path finding" of each, by path.
std::string matters(const std::string& record) {
  const SmallBoat boat({run_circuit, readings, faults}, record);
  std::vector<std::string> shown;
  for (const auto& weight : assumptions_that_matter(boat.base, boat.record)) {
    shown.push_back(weight.path + " " + boat.base.findings[weight.finding].id + "; ");
    EXPECT_GT(weight.deviations, 1);
    EXPECT_NE(weight.now.middle, weight.then.middle);
  }
  std::sort(shown.begin(), shown.end());
  return std::accumulate(shown.begin(), shown.end(), std::string());
}

TEST(AssumptionsThatMatter, AreUnsaidFactsThatMoveAReadingOutOfItsRange) {  // the bank's age and chemistry are in no circuit here
  EXPECT_EQ(matters(""), "bank/@volts bank; run/@area drop; run/@length drop; run/@ohm stub; ");
}

TEST(AssumptionsThatMatter, SaidFactsAreNone) {
  EXPECT_EQ(matters(R"(<bank volts="24"/><run length="10" area="50"/>)"), "run/@ohm stub; ");
  EXPECT_EQ(matters(R"(<bank volts="24"/><run length="10" area="50" ohm="1"/>)"), "");
}

TEST(AssumptionsThatMatter, AreTriedAtEachOtherChoiceOrAtTwoThirdsAndOneAndAHalf) {
  const SmallBoat boat({run_circuit, readings, faults});
  struct { const char *path, *assumed; std::vector<std::string> instead; } const rows[] = {
      {"bank/@volts", "24", {"12", "48"}}, {"run/@area", "50", {"33.33", "75"}},
      {"run/@length", "10", {"6.67", "15"}}, {"run/@ohm", "1", {"0.67", "1.5"}}};
  const auto weights = assumptions_that_matter(boat.base, boat.record);
  for (const auto& [path, assumed, instead] : rows) {
    const auto found = std::find_if(weights.begin(), weights.end(), [p = path](const auto& weight) { return weight.path == p; });
    ASSERT_NE(found, weights.end()) << path;
    EXPECT_EQ(found->assumed, assumed);
    EXPECT_NE(std::find(instead.begin(), instead.end(), found->instead), instead.end()) << path << " " << found->instead;
  }
}

TEST(AssumptionsThatMatter, ComeStrongestFirstAndSayHowFar) {
  const SmallBoat boat({run_circuit, readings, faults}, R"(<run ohm="1"/>)");
  const auto weights = assumptions_that_matter(boat.base, boat.record);
  ASSERT_EQ(weights.size(), 3U);
  EXPECT_NEAR(weights[0].now.middle, 24, 0.01);
  EXPECT_NEAR(weights[0].then.middle, 48, 0.01);
  EXPECT_NEAR(weights[0].deviations, 24 / (1.645 * 0.3), 0.5);
  for (std::size_t w = 1; w < weights.size(); ++w) EXPECT_LE(weights[w].deviations, weights[w - 1].deviations);
}

TEST(AssumptionsThatMatter, OfTheShippedBookNameFactsThatAreAssumed) {  // the shipped base: that it has any, and only such
  const auto& base = testing::shipped_base();
  const auto boat = installation::make_installation(base, {});
  const auto weights = assumptions_that_matter(base, boat);
  EXPECT_FALSE(weights.empty());
  for (const auto& weight : weights) {
    const auto& assumed = boat.assumed();
    EXPECT_TRUE(std::any_of(assumed.begin(), assumed.end(), [&](const auto& a) { return a.path == weight.path; })) << weight.path;
    EXPECT_NE(weight.assumed, weight.instead) << weight.path;
  }
}

}  // namespace
}  // namespace leadline::circuit
