// leadline review: exit codes, inputs, and what a bad record is told.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "engine/text/utf8.h"
#include "tests/circuit/quiet_boat.h"
#include "tests/cli/in_process.h"

namespace leadline {
namespace {

using testing::changed_record;
using testing::quiet_record;
using testing::run_program;

const std::string crooked =
    changed_record({{{"network/@supply", "bank-upper"}, {"station[2]/@number", "1"}, {"power/@area", "50"}, {"power/@tinned", "-"}}});

TEST(Review, QuietRecordEndsWithZero) {
  const auto ran = run_program({"review", "-"}, quiet_record);
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  EXPECT_EQ(ran.out, "Review of the record of Quiet Curlew: nothing in it is wrong or doubtful.\nNothing was measured.\n");
}

TEST(Review, WhatIsOnlyDoubtfulEndsWithZero) {
  const auto ran = run_program({"review", "-"}, changed_record({{{"network/@supply", "starter"}}}));
  EXPECT_EQ(ran.code, 0);
  EXPECT_NE(ran.out.find("1. DOUBTFUL: "), std::string::npos) << ran.out;
}

TEST(Review, WhatIsWrongEndsWithOne) {
  const auto ran = run_program({"review", "-"}, crooked);
  EXPECT_EQ(ran.code, 1);
  EXPECT_EQ(ran.err, "");
  EXPECT_NE(ran.out.find("1. WRONG: "), std::string::npos) << ran.out;
}

TEST(Review, SafetyStandsBeforeTheFirstRemark) {
  const auto out = run_program({"review", "-"}, crooked).out;
  EXPECT_LT(out.find("isolator and chargers off"), out.find("1. "));
}

TEST(Review, AnEmptyRecordSaysHowMuchIsAssumed) {
  const auto ran = run_program({"review", "-", "--width", "120"}, "<installation/>");
  EXPECT_EQ(ran.code, 0);
  EXPECT_NE(ran.out.find("facts that nobody stated were taken as usual"), std::string::npos) << ran.out;
  EXPECT_NE(ran.out.find("Cross-section of the heavy cable? 70 mm² (power/@area)"), std::string::npos) << ran.out;
}

TEST(Review, ACallOutIsReviewedByItsInstallation) {
  const auto callout = "<callout><title>Dead panel</title>" + quiet_record + R"(<complaint finding="push" state="none"/></callout>)";
  const auto ran = run_program({"review", "-"}, callout);
  EXPECT_EQ(ran.err, "");
  EXPECT_EQ(ran.out, run_program({"review", "-"}, quiet_record).out);
}

TEST(Review, JsonSaysWhatThePageSays) {
  const auto ran = run_program({"review", "--json", "-"}, crooked);
  EXPECT_EQ(ran.code, 1);
  const auto json = nlohmann::json::parse(ran.out);
  EXPECT_EQ(json.at("schema"), 1);
  EXPECT_EQ(json.at("installation"), "Quiet Curlew");
  EXPECT_EQ(json.at("remarks").size(), json.at("wrong").get<std::size_t>() + json.at("doubtful").get<std::size_t>());
  const auto page = run_program({"review", "-"}, crooked).out;
  for (const auto& remark : json.at("remarks")) {
    for (const auto& cause : remark.at("causes")) EXPECT_NE(page.find("(" + cause.get<std::string>() + ")"), std::string::npos) << cause;
    EXPECT_FALSE(remark.at("sources").empty());
    EXPECT_NE(remark.at("way_out"), "");
  }
  for (const char c : ran.out) EXPECT_LT(static_cast<unsigned char>(c), 128);
}

TEST(Review, NoLineIsWiderThanAsked) {
  for (const char* width : {"40", "60", "80", "120"}) {
    std::istringstream lines(run_program({"review", "-", "--width", width}, crooked).out);
    for (std::string line; std::getline(lines, line);) EXPECT_LE(text::character_count(line), std::stoul(width)) << line;
  }
}

TEST(Review, NumberAndUnitStayTogether) {
  for (int width = 40; width <= 100; ++width) {
    std::istringstream lines(run_program({"review", "-", "--width", std::to_string(width)}, crooked).out);
    for (std::string line; std::getline(lines, line);) {
      const auto word = line.substr(std::min(line.size(), line.find_first_not_of(' ')));
      for (const std::string unit : {"V ", "A ", "A,", "mm² ", "m ", "% "}) EXPECT_FALSE(word.starts_with(unit)) << width << ": " << line;
    }
  }
}

TEST(Review, NamesOfTheRecordCannotSteerATerminal) {
  const auto ran = run_program({"review", "-"}, changed_record({{{"station[2]/@name", "wing\xE2\x80\xAEgnorw"}}}));
  EXPECT_EQ(ran.code, 1);
  EXPECT_EQ(ran.out.find("\xE2\x80\xAE"), std::string::npos);
}

// What no boat can have is refused with the place and the way out.
struct BadRow {
  std::string name, record, message;
};
class BadRecord : public ::testing::TestWithParam<BadRow> {};
TEST_P(BadRecord, IsRefusedWithPlaceAndWayOut) {
  const auto ran = run_program({"review", "-"}, GetParam().record);
  EXPECT_EQ(ran.code, 65);
  EXPECT_EQ(ran.out, "");
  EXPECT_EQ(ran.err, GetParam().message);
}
INSTANTIATE_TEST_SUITE_P(
    Records, BadRecord,
    ::testing::Values(
        BadRow{"no_length", "<installation>\n<power length=\"0\"/>\n</installation>",
               "standard input:2:8: error: '0' cannot be power/@length\n    <power length=\"0\"/>\n           ^ from 0.2 to 60 m\n"},
        BadRow{"negative_length", "<installation>\n<power length=\"-6\"/>\n</installation>",
               "standard input:2:8: error: '-6' cannot be power/@length\n    <power length=\"-6\"/>\n           ^ from 0.2 to 60 m\n"},
        BadRow{"absurd_area", "<installation>\n<power area=\"7000\"/>\n</installation>",
               "standard input:2:8: error: '7000' cannot be power/@area\n    <power area=\"7000\"/>\n           ^ from 4 to 300 mm2\n"},
        BadRow{"unlucky_bank", "<installation>\n<bank volts=\"13\"/>\n</installation>",
               "standard input:2:7: error: '13' cannot be bank/@volts\n    <bank volts=\"13\"/>\n          ^ one of 12 24 36 48 V\n"},
        BadRow{
            "unknown_chemistry", "<installation>\n<bank chemistry=\"lithum\"/>\n</installation>",
            "standard input:2:7: error: 'lithum' cannot be bank/@chemistry\n    <bank chemistry=\"lithum\"/>\n          ^ did you mean 'lithium'?\n"},
        BadRow{"piece_of_no_length", "<installation>\n<segment from=\"bow\" to=\"helm\" length=\"0\"/>\n</installation>",
               "standard input:2:31: error: '0' cannot be segment/@length\n    <segment from=\"bow\" to=\"helm\" length=\"0\"/>\n"
               "                                  ^ from 0.1 to 250 m\n"},
        BadRow{"other_root", "<boat/>", "standard input:1:2: error: the root element is 'boat'\n    <boat/>\n     ^ expected <installation>\n"}),
    [](const auto& row) { return row.param.name; });

}  // namespace
}  // namespace leadline
