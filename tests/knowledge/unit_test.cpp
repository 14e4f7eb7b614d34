// Units by the names of the knowledge files, and the multiples people type.
#include "engine/knowledge/unit.h"

#include <gtest/gtest.h>

namespace leadline::knowledge {
namespace {

TEST(UnitNames, GoThereAndBack) {
  EXPECT_EQ(unit_names(), (std::vector<std::string>{"V", "A", "ohm", "Mohm", "degC", "min", "m", "mm2", "percent", "Ah"}));
  for (const auto& name : unit_names()) {
    const auto unit = unit_of(name);
    ASSERT_TRUE(unit.has_value()) << name;
    EXPECT_EQ(name_of(*unit), name);
    EXPECT_EQ(factor_to(*unit, name), name == "Mohm" ? std::optional(1.0) : factor_to(*unit, "")) << name;
  }
  EXPECT_EQ(unit_of("v"), std::nullopt);
  EXPECT_EQ(unit_of(""), std::nullopt);
}

struct FactorRow {
  std::string_view name;
  Unit expected;
  std::string_view typed;
  std::optional<double> factor;
};

class FactorTo : public ::testing::TestWithParam<FactorRow> {};

TEST_P(FactorTo, BringsToTheExpectedUnit) {
  const auto factor = factor_to(GetParam().expected, GetParam().typed);
  ASSERT_EQ(factor.has_value(), GetParam().factor.has_value());
  EXPECT_DOUBLE_EQ(factor.value_or(0), GetParam().factor.value_or(0));
}

const FactorRow factors[] = {
    {"nothing", Unit::volt, "", 1.0},
    {"volt", Unit::volt, "V", 1.0},
    {"volt_in_words", Unit::volt, "volts", 1.0},
    {"millivolt", Unit::volt, "mV", 1e-3},
    {"ampere", Unit::ampere, "A", 1.0},
    {"milliampere", Unit::ampere, "mA", 1e-3},
    {"ohm_sign", Unit::ohm, "\xE2\x84\xA6", 1.0},
    {"capital_omega", Unit::ohm, "\xCE\xA9", 1.0},
    {"lone_m_is_milli", Unit::ohm, "m", 1e-3},
    {"lone_capital_m_is_mega", Unit::ohm, "M", 1e6},
    {"kilo", Unit::ohm, "k", 1e3},
    {"resistor_letter", Unit::ohm, "R", 1.0},
    {"megohm_in_megohm", Unit::megohm, "M", 1.0},
    {"kilohm_in_megohm", Unit::megohm, "k", 1e-3},
    {"ohm_in_megohm", Unit::megohm, "ohm", 1e-6},
    {"celsius", Unit::celsius, "\xC2\xB0" "C", 1.0},
    {"seconds", Unit::minute, "s", 1.0 / 60},
    {"hours", Unit::minute, "h", 60.0},
    {"centimetre", Unit::metre, "cm", 0.01},
    {"square_millimetre", Unit::square_millimetre, "mm\xC2\xB2", 1.0},
    {"percent_sign", Unit::percent, "%", 1.0},
    {"ampere_hours", Unit::ampere_hour, "Ah", 1.0},
    {"ampere_for_volt", Unit::volt, "A", std::nullopt},
    {"ohm_for_volt", Unit::volt, "ohm", std::nullopt},
    {"megavolt", Unit::volt, "MV", std::nullopt},
    {"lone_m_is_no_volt", Unit::volt, "m", std::nullopt},
    {"fahrenheit", Unit::celsius, "F", std::nullopt},
    {"word", Unit::volt, "lots", std::nullopt},
};

INSTANTIATE_TEST_SUITE_P(Typed, FactorTo, ::testing::ValuesIn(factors), [](const auto& row) { return std::string(row.param.name); });

}  // namespace
}  // namespace leadline::knowledge
