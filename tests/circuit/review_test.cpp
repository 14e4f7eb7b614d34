// Each rule of the review fires where it should, stays silent just beside that, and says it in the right words.
#include "engine/circuit/review.h"

#include <gtest/gtest.h>

#include <algorithm>

#include <cmath>
#include <random>
#include <set>

#include "engine/circuit/network_map.h"
#include "engine/installation/network_string.h"
#include "engine/text/number.h"
#include "tests/circuit/review_rows.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::circuit {
namespace {

using testing::boat_with;
using testing::Change;
using testing::Row;
using testing::shipped_base;

std::vector<Remark> reviewed(const Change& change) { return review(shipped_base(), boat_with(change)); }

std::string rules_of(const std::vector<Remark>& remarks) {
  std::string all;
  for (const auto& remark : remarks) all += (all.empty() ? "" : " ") + remark.rule + (remark.severity == Severity::wrong ? ":wrong" : ":doubtful");
  return all;
}

// Bow - 8 m - helm - 6 m - wing: counted from whichever place, in whichever direction the piece was listed.
TEST(Stretch, IsCountedAlongTheCable) {
  const auto map = network_map(boat_with({}));
  struct { const char *from, *a, *b; double low, high; } const rows[] = {
      {"bow", "bow", "helm", 0, 8}, {"bow", "helm", "wing", 8, 14}, {"bow", "wing", "helm", 8, 14}, {"wing", "bow", "helm", 6, 14}, {"helm", "helm", "wing", 0, 6}};
  for (const auto& row : rows) {
    const auto stretch = stretch_between(map, row.from, row.a, row.b);
    ASSERT_TRUE(stretch.has_value());
    EXPECT_EQ(stretch->from_m, row.low) << row.from << ": " << row.a << " to " << row.b;
    EXPECT_EQ(stretch->to_m, row.high) << row.from << ": " << row.a << " to " << row.b;
  }
  EXPECT_FALSE(stretch_between(map, "stern", "bow", "helm").has_value()) << "no such place on the string";
  const auto parted = network_map(boat_with({{{"segment[1]", "-"}}, "<segment from='bow' to='saloon' length='3' kind='trunk'/>"}));
  EXPECT_FALSE(stretch_between(parted, "bow", "helm", "wing").has_value()) << "no way leads there";
}

class Rules : public ::testing::TestWithParam<Row> {};
TEST_P(Rules, FireWhereTheyShould) { EXPECT_EQ(rules_of(reviewed(GetParam().change)), GetParam().rules); }
const auto by_name = [](const auto& row) { return row.param.name; };
INSTANTIATE_TEST_SUITE_P(Power, Rules, ::testing::ValuesIn(testing::power_rows()), by_name);
INSTANTIATE_TEST_SUITE_P(Bank, Rules, ::testing::ValuesIn(testing::bank_rows()), by_name);
INSTANTIATE_TEST_SUITE_P(Charging, Rules, ::testing::ValuesIn(testing::charging_rows()), by_name);
INSTANTIATE_TEST_SUITE_P(Network, Rules, ::testing::ValuesIn(testing::network_rows()), by_name);
INSTANTIATE_TEST_SUITE_P(Ends, Rules, ::testing::ValuesIn(testing::end_rows()), by_name);
INSTANTIATE_TEST_SUITE_P(Stations, Rules, ::testing::ValuesIn(testing::station_rows()), by_name);

TEST(Review, EveryRuleFiresInSomeRow) {
  std::set<std::string> fired, known;
  for (const auto* rows : {&testing::power_rows(), &testing::bank_rows(), &testing::charging_rows(),
                           &testing::network_rows(), &testing::end_rows(), &testing::station_rows()}) {
    for (const auto& row : *rows) {
      for (const auto& remark : reviewed(row.change)) fired.insert(remark.rule);
    }
  }
  for (const auto& rule : review_rules()) known.insert(rule.id);
  EXPECT_EQ(fired, known);
}

TEST(Review, EveryCauseItMayRaiseIsInTheBook) {
  for (const auto& rule : review_rules()) {
    for (const auto& cause : rule.causes) EXPECT_TRUE(knowledge::find_id(shipped_base().causes, cause)) << rule.id << ": " << cause;
    EXPECT_FALSE(rule.sources.empty()) << rule.id;
  }
}

TEST(Review, RaisesOnlyCausesThatCanBeInThisBoat) {
  const auto single = reviewed({{{"network/@supply", "bank-upper"}, {"bank/@arrangement", "single"}}});
  ASSERT_EQ(rules_of(single), "supply-upper-half:wrong bank-blocks:doubtful");
  EXPECT_TRUE(single[0].causes.empty());  // the book: upper-half-tap needs a series
  EXPECT_EQ(reviewed({{{"network/@supply", "bank-upper"}}})[0].causes, std::vector<std::string>{"upper-half-tap"});
}

TEST(Review, NamesTheFactsThatNobodyStated) {
  const auto remarks = reviewed({{{"power/@length", "8"}, {"power/@area", "-"}, {"power/@tinned", "-"}}});
  ASSERT_EQ(rules_of(remarks), "cable-drop:doubtful");
  std::string assumed;
  for (const auto& fact : remarks[0].assumed) assumed += fact.path + "=" + fact.value + " ";
  EXPECT_EQ(assumed, "power/@area=70 power/@tinned=yes ");
}

TEST(Review, BankOfNoWholeNumberOfBlocks) {
  auto base = shipped_base();
  const auto volts = knowledge::find_fact(base, "bank", "volts");
  ASSERT_TRUE(volts);
  base.facts[*volts].choices.clear();  // the shipped record refuses 13 V before it gets here
  const auto remarks = review(base, boat_with({{{"bank/@volts", "13"}, {"bank/@arrangement", "single"}, {"power/@length", "1"}}}, base));
  ASSERT_EQ(rules_of(remarks), "bank-blocks:wrong");
  EXPECT_EQ(remarks[0].what, "No whole number of 12 V blocks makes a bank of 13 V");
}

TEST(Review, SaysNothingOfFactsABookDoesNotDeclare) {
  const auto base = testing::minimal_base();
  const auto boat = installation::make_installation(base, {});
  EXPECT_EQ(rules_of(review(base, boat)), "");
}

TEST(Sag, BehindAThinCableTheCableComesFirst) {
  const auto remarks = reviewed({{{"power/@length", "24"}, {"power/@area", "50"}}});
  const auto sag = std::find_if(remarks.begin(), remarks.end(), [](const Remark& remark) { return remark.rule == "bank-sag"; });
  ASSERT_NE(sag, remarks.end()) << rules_of(remarks);
  EXPECT_EQ(sag->way_out, "less lost in the cable first; else a bank of about 250 Ah");
}

struct WordsRow {
  std::string name;
  Change change;
  std::string what, way_out;
};
void PrintTo(const WordsRow& row, std::ostream* out) { *out << row.name; }
class Words : public ::testing::TestWithParam<WordsRow> {};
TEST_P(Words, AreATechnicians) {
  const auto remarks = reviewed(GetParam().change);
  ASSERT_EQ(remarks.size(), 1U) << rules_of(remarks);
  EXPECT_EQ(remarks[0].what, GetParam().what);
  EXPECT_EQ(remarks[0].way_out, GetParam().way_out);
}
INSTANTIATE_TEST_SUITE_P(
    Exact, Words,
    ::testing::Values(WordsRow{"drop",
                               {{{"power/@length", "8"}}},
                               "The heavy cable alone loses 0.94 V at the motor's 280 A: 3.9 % of 24 V, more than the 3 % of good design; joints, "
                               "fuse and isolator come on top",
                               "150 mm² would bring it under 3 %"},
                      WordsRow{"fuse_above",
                               {{{"power/@fuse", "700"}}},
                               "The main fuse of 700 A is too large to guard the heavy cable: the rule allows 578 A, 150 % of the cable's amperage. "
                               "In a short the cable burns before the fuse opens",
                               "a smaller fuse that still bears the motor, or a thicker cable"},
                      WordsRow{"sag",
                               {{{"bank/@cold-cranking", "240"}}},
                               "Healthy, the bank sags to 18 V if the motor draws its full 280 A, and the thruster is left with 17.6 V, joints not "
                               "counted: contactors drop out and controllers stop below some 18 V",
                               "a bank of about 250 Ah, or less lost in the cable"},
                      WordsRow{"sag_of_two_strings",  // each battery 120 A: together as one string of 240 A
                               {{{"bank/@arrangement", "series-parallel"}, {"bank/@cold-cranking", "120"}}},
                               "Healthy, the bank sags to 18 V if the motor draws its full 280 A, and the thruster is left with 17.6 V, joints not "
                               "counted: contactors drop out and controllers stop below some 18 V",
                               "a bank of about 250 Ah, or less lost in the cable"},
                      WordsRow{"wake",
                               {{{"charging/@source-volts", "13.05"}}},
                               "The battery that feeds the step-up charger is charged to 13.05 V; the charger wakes above 13.2 V: it sleeps for "
                               "ever, though nothing is broken",
                               "raise what charges that battery, as far as its kind allows, or set the charger to wake lower"},
                      WordsRow{"upper_half",
                               {{{"network/@supply", "bank-upper"}}},
                               "The network is fed from the upper battery of the series bank: its minus stands 12 V above the common negative, and "
                               "any join between the two shorts a battery "
                               "through the network's minus",
                               "feed the network from the house battery, or from a 24 to 12 V converter whose minus is on the common negative"},
                      WordsRow{"numbers",
                               {{{"station[2]/@number", "1"}}},
                               "helm and wing bear the same station number 1: they come alive together and speak over each other",
                               "give each station a number of its own"},
                      WordsRow{"ring",
                               {{{"network/@length", "18"}}, "<segment from='wing' to='bow' length='4' kind='trunk'/>"},
                               "The network is closed to a ring by the piece wing - bow: it has no ends for its terminators, and a break in it hides",
                               "take out one piece of the ring; terminators at the two ends"},
                      WordsRow{"parts",
                               {{{"segment[2]/@from", "joint"}}},
                               "The network falls into parts: no cable leads from bow to joint and wing",
                               "join the parts, or correct the names of the places in the record"}),
    [](const auto& row) { return row.param.name; });

// The way out that a remark names is one.
TEST(WayOut, NamedCableBringsTheDropUnderThreePercent) {
  for (const std::string length : {"6.2", "8", "12", "15"}) {
    const auto remarks = reviewed({{{"power/@length", length}}});
    ASSERT_EQ(rules_of(remarks), "cable-drop:doubtful") << length;
    const auto named = remarks[0].way_out.substr(0, remarks[0].way_out.find(' '));
    EXPECT_EQ(rules_of(reviewed({{{"power/@length", length}, {"power/@area", named}}})), "") << length << " m, " << named << " mm²";
  }
}

TEST(WayOut, NamedSupplyConductorBringsTheDropUnderItsLimit) {
  for (const std::string area : {"0.2", "0.35", "0.5"}) {
    const auto remarks = reviewed({{{"network/@device-amps", "3"}, {"network/@supply-area", area}}});
    ASSERT_EQ(rules_of(remarks), "supply-drop:wrong") << area;
    const auto tail = remarks[0].way_out.substr(remarks[0].way_out.rfind(": ") + 2);
    EXPECT_EQ(rules_of(reviewed({{{"network/@device-amps", "3"}, {"network/@supply-area", tail.substr(0, tail.find(' '))}}})), "") << area;
  }
}

// Any record the reader accepts: extremes of every fact, strings laid at random.
std::string random_value(const knowledge::Fact& fact, std::mt19937& random) {
  const auto below = [&](std::size_t count) { return static_cast<std::size_t>(random() % count); };
  if (fact.path() == installation::number_of_stations) return "4";  // as many as are ever written below, or more
  if (!fact.choices.empty()) return fact.choices[below(fact.choices.size())].id;
  if (fact.type != knowledge::FactType::number) return "place " + std::to_string(below(6));
  const double part = static_cast<double>(below(5)) / 4;
  return text::format_number(std::lerp(fact.least.value_or(0), fact.most.value_or(100), part * part), 3);
}

std::string random_record(std::mt19937& random) {
  std::string record = "<installation>";
  for (const auto& element : shipped_base().elements) {
    const std::size_t copies = element.repeats ? random() % 5 : 1;
    for (std::size_t c = 0; c < copies; ++c) {
      record += "<" + element.name;
      for (const auto& fact : shipped_base().facts) {
        const bool must = element.optional && fact.type == knowledge::FactType::text;
        if (fact.element == element.name && (must || random() % 5 != 0)) record += " " + fact.name + "='" + random_value(fact, random) + "'";
      }
      record += "/>";
    }
  }
  return record + "</installation>";
}

TEST(Review, NoAcceptedRecordLeadsToNonsense) {
  std::mt19937 random(20261125);
  std::size_t remarks = 0;
  for (int trial = 0; trial < 3000; ++trial) {
    const text::Source file{"boat.xml", random_record(random)};
    const auto loaded = installation::read_installation(shipped_base(), file);
    ASSERT_TRUE(loaded.value) << text::render(loaded.problems, std::vector{file});
    for (const auto& remark : review(shipped_base(), *loaded.value)) {
      ++remarks;
      for (const auto& figure : remark.figures)
        ASSERT_TRUE(std::isfinite(figure.value)) << remark.rule << ": " << figure.what << "\n" << file.content;
      ASSERT_EQ((remark.what + remark.way_out).find("nan"), std::string::npos) << remark.what;
      ASSERT_EQ((remark.what + remark.way_out).find("inf "), std::string::npos) << remark.what;
    }
  }
  EXPECT_GT(remarks, 10000U);
}

TEST(Review, ALongStringIsReadInNoTime) {
  std::string add;
  for (int s = 0; s < 20000; ++s)
    add += "<segment from='j" + std::to_string(s) + "' to='j" + std::to_string(s + 1) + "' length='0.1' kind='branch'/>";
  EXPECT_FALSE(reviewed({{}, add}).empty());
}

}  // namespace
}  // namespace leadline::circuit
