// Conditions and quantities on one boat; the same under a locale with a decimal comma.
#include "engine/installation/evaluation.h"

#include <gtest/gtest.h>

#include <clocale>
#include <cstdio>
#include <cstdlib>

#include "tests/knowledge/minimal_base.h"

namespace leadline::installation {
namespace {

Installation boat(const knowledge::KnowledgeBase& base) {
  const auto loaded = read_installation(
      base, {"boat.xml", "<installation><bank volts=\"48\" kind=\"lithium\" age=\"2.5\" strings=\"2\"/><station number=\"1\"/><station number=\"3\" spare=\"yes\"/></installation>"});
  return loaded.value.value();
}

struct ConditionRow {
  std::string_view name, condition;
  bool wanted;
};

class Holds : public ::testing::TestWithParam<ConditionRow> {};

TEST_P(Holds, OnThisBoat) {
  const auto base = testing::minimal_base();
  const Evaluation evaluation(base, boat(base));
  EXPECT_EQ(evaluation.holds(knowledge::Expression{std::string(GetParam().condition), {}}), GetParam().wanted);
}

const ConditionRow conditions[] = {
    {"equal", "bank/@volts = 48", true},
    {"not_equal", "bank/@volts != 48", false},
    {"decimal_fact", "bank/@age > 2.4 and bank/@age < 2.6", true},
    {"decimal_limit", "bank/@age >= 2.51", false},
    {"choice", "bank/@kind = 'lithium'", true},
    {"other_choice", "not(bank/@kind = 'agm')", true},
    {"count", "count(station) = 2", true},
    {"one_of_several", "station/@number = 3", true},
    {"none_of_several", "station/@number = 2", false},
    {"one_of_several_differs", "station/@number != 3", true},
    {"sum", "sum(station/@number) = 4", true},
    {"either", "bank/@volts = 24 or station/@spare = 'yes'", true},
    {"quantity", "$low_volts > 45.5 and $low_volts < 45.7", true},
    {"assumed_fact", "bank/@label = 'bank'", true},
    {"rounded", "round(bank/@age) = 3 and floor(bank/@age) = 2", true},
    {"divided", "bank/@volts div bank/@strings = 24", true},
};

INSTANTIATE_TEST_SUITE_P(Conditions, Holds, ::testing::ValuesIn(conditions), [](const auto& row) { return std::string(row.param.name); });

TEST(HoldsWithout, ACondition) {
  const auto base = testing::minimal_base();
  EXPECT_TRUE(Evaluation(base, boat(base)).holds(std::optional<knowledge::Expression>{}));
}

TEST(Number, IsThatOfTheRecord) {
  const auto base = testing::minimal_base();
  const Evaluation evaluation(base, boat(base));
  EXPECT_DOUBLE_EQ(evaluation.number({"$bank_volts * (0.97 + 0.06 * number(bank/@kind = 'lithium'))", {}}), 48 * 1.03);
  EXPECT_DOUBLE_EQ(evaluation.number({"$bank_volts * (0.97 + 0.06 * number(bank/@kind = 'agm'))", {}}), 48 * 0.97);
  EXPECT_EQ(evaluation.number({"count(station) * 2 - 1", {}}), 3);
}

TEST(Quantities, UseEarlierOnes) {
  const auto base = testing::minimal_base();
  const Evaluation evaluation(base, boat(base));
  EXPECT_EQ(evaluation.quantities(), (std::map<std::string, double>{{"bank_volts", 48.0}, {"low_volts", 48 * 0.95}}));
}

// --- one of several elements: its facts are variables ---

TEST(OfOneElement, ItsFactsAreVariables) {
  const auto base = testing::minimal_base();
  const Evaluation evaluation(base, boat(base));
  std::vector<pugi::xml_node> stations(evaluation.root().children("station").begin(), evaluation.root().children("station").end());
  ASSERT_EQ(stations.size(), 2U);
  const knowledge::Expression twice{"2 * $station-number + $bank_volts", {}};
  EXPECT_EQ(evaluation.number(twice, stations[0]), 50);
  EXPECT_EQ(evaluation.number(twice, stations[1]), 54);
  const std::optional<knowledge::Expression> spare{{"$station-spare = 'yes'", {}}};
  EXPECT_FALSE(evaluation.holds(spare, stations[0]));
  EXPECT_TRUE(evaluation.holds(spare, stations[1]));
  EXPECT_TRUE(evaluation.holds(std::optional<knowledge::Expression>{}, stations[0]));
}

TEST(OfOneElement, OnesNumberIsNotTheOthers) {  // the variables of one evaluation do not stay for the next
  const auto base = testing::minimal_base();
  const Evaluation evaluation(base, boat(base));
  const knowledge::Expression number{"$station-number", {}};
  const auto first = evaluation.root().child("station");
  EXPECT_EQ(evaluation.number(number, first.next_sibling("station")), 3);
  EXPECT_EQ(evaluation.number(number, first), 1);
  EXPECT_THROW((void)evaluation.number(number), pugi::xpath_exception);
}

TEST(OfNoElement, ItIsAsWithoutOne) {
  const auto base = testing::minimal_base();
  const Evaluation evaluation(base, boat(base));
  EXPECT_EQ(evaluation.number({"$bank_volts + 1", {}}, pugi::xml_node()), 49);
  EXPECT_TRUE(evaluation.holds(std::optional<knowledge::Expression>{{"count(station) = 2", {}}}, pugi::xml_node()));
}

TEST(WithFurtherVariables, TheyStandBesideTheQuantities) {
  const auto base = testing::minimal_base();
  const Evaluation evaluation(base, boat(base));
  const knowledge::Expression limit{"$healthy_high + 0.5 * ($bank_volts - $healthy)", {}};
  EXPECT_DOUBLE_EQ(evaluation.number(limit, {{"healthy", 44}, {"healthy_high", 51}}), 53);
  EXPECT_DOUBLE_EQ(evaluation.number(limit, {{"healthy", 46}, {"healthy_high", 51}}), 52);
  EXPECT_DOUBLE_EQ(evaluation.number({"$bank_volts", {}}, std::map<std::string, double>{{"bank_volts", 7}}), 7);  // they go first
  EXPECT_DOUBLE_EQ(evaluation.number({"$bank_volts", {}}), 48);                                                  // and are forgotten
  EXPECT_EQ(evaluation.quantities().at("bank_volts"), 48);
}

// The locale is made by tests/CMakeLists.txt with localedef; without it this fails, it is never left out.
class CommaLocale {
 public:
  CommaLocale() {
    setenv("LOCPATH", LEADLINE_LOCALES, 1);
    set_ = std::setlocale(LC_ALL, "de_DE.UTF-8") != nullptr;
  }
  ~CommaLocale() {
    std::setlocale(LC_ALL, "C");
    unsetenv("LOCPATH");
  }
  CommaLocale(const CommaLocale&) = delete;
  CommaLocale& operator=(const CommaLocale&) = delete;
  bool really_writes_commas() const {
    char written[16];
    std::snprintf(written, sizeof written, "%.1f", 0.5);
    return set_ && std::string(written) == "0,5";
  }

 private:
  bool set_ = false;
};

TEST(UnderADecimalComma, EverythingIsTheSame) {
  const CommaLocale locale;
  ASSERT_TRUE(locale.really_writes_commas()) << "no de_DE.UTF-8 in " << LEADLINE_LOCALES;
  EXPECT_EQ(std::strtod("0.95", nullptr), 0.0);  // what would go wrong: pugixml uses strtod
  const auto base = testing::minimal_base();
  const Evaluation evaluation(base, boat(base));
  EXPECT_EQ(base.findings[1].states[1].leak, 0.02);
  EXPECT_DOUBLE_EQ(evaluation.quantities().at("low_volts"), 48 * 0.95);
  EXPECT_DOUBLE_EQ(evaluation.number({"$bank_volts * 1.02", {}}), 48 * 1.02);
  EXPECT_DOUBLE_EQ(evaluation.number({"0.5 * $station-number", {}}, evaluation.root().child("station")), 0.5);
  EXPECT_DOUBLE_EQ(evaluation.number({"0.5 * $healthy", {}}, std::map<std::string, double>{{"healthy", 0.5}}), 0.25);
  for (const auto& row : conditions) EXPECT_EQ(evaluation.holds(knowledge::Expression{std::string(row.condition), {}}), row.wanted) << row.name;
}

TEST(UnderADecimalComma, TheLocaleOfTheHostIsLeftAsItWas) {
  const CommaLocale locale;
  ASSERT_TRUE(locale.really_writes_commas());
  const auto base = testing::minimal_base();
  (void)Evaluation(base, boat(base)).number({"0.5", {}});
  EXPECT_TRUE(locale.really_writes_commas());
}

}  // namespace
}  // namespace leadline::installation
