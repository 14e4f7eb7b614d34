// leadline expect: what a page must say, and what it says when it cannot compute.
#include <gtest/gtest.h>

#include <sstream>

#include "engine/text/utf8.h"
#include "tests/circuit/quiet_boat.h"
#include "tests/cli/in_process.h"

namespace leadline {
namespace {

using testing::quiet_record;
using testing::run_program;

TEST(Expect, EveryConditionHasItsReadingsAndTheCircuitIsDrawn) {
  const auto ran = run_program({"expect", "-", "--width", "100"}, quiet_record);
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  for (const char* words : {"With full push commanded:", "Drop of the whole negative side under full push", "Resistance of the network pair", "o bank minus post",
                            "local codes and licensed practice come first"}) {
    EXPECT_NE(ran.out.find(words), std::string::npos) << words << "\n" << ran.out;
  }
}

TEST(Expect, ACauseShowsComputedAndWrittenChancesSideBySide) {
  const auto ran = run_program({"expect", "-", "--cause", "negative-lug-bad"}, quiet_record);
  EXPECT_EQ(ran.code, 0);
  EXPECT_NE(ran.out.find("computed"), std::string::npos) << ran.out;
  EXPECT_NE(ran.out.find("written"), std::string::npos) << ran.out;
  EXPECT_EQ(ran.out.find("Resistance of the network pair"), std::string::npos) << "a lug does nothing there\n" << ran.out;
}

TEST(Expect, ACauseWithoutElectricalEffectIsSaidToBeInvisible) {
  const auto ran = run_program({"expect", "-", "--cause", "wind-too-strong", "--width", "200"}, quiet_record);
  EXPECT_EQ(ran.code, 0);
  EXPECT_NE(ran.out.find("electrically invisible here"), std::string::npos) << ran.out;
}

TEST(Expect, NoLineIsWiderThanAsked) {
  for (const std::string width : {"40", "80"}) {
    std::istringstream lines(run_program({"expect", "-", "--all", "--width", width}, quiet_record).out);
    for (std::string line; std::getline(lines, line);) EXPECT_LE(text::character_count(line), std::stoul(width)) << line;
  }
}

TEST(Expect, FortyDevicesAreRefusedBeforeAnybodyWaits) {
  std::string record = "<installation><thruster name=\"bow\"/>";
  for (int s = 0; s < 40; ++s) record += "<station name=\"s" + std::to_string(s) + "\"/>";
  const auto ran = run_program({"expect", "-", "--width", "200"}, record + "</installation>");
  EXPECT_EQ(ran.code, 0);
  EXPECT_NE(ran.out.find("too many to be solved while a person waits; its readings are judged by what the book writes of them."), std::string::npos) << ran.out;
}

TEST(Expect, ARingHasReadingsToo) {
  const auto ran = run_program({"expect", "-", "--width", "100"}, R"(<installation><thruster name="bow"/><station name="a"/><station name="b" number="2"/>
<segment from="bow" to="a" length="5"/><segment from="a" to="b" length="5"/><segment from="b" to="bow" length="5"/>
<terminator at="bow"/><terminator at="b"/></installation>)");
  const auto at = ran.out.find("Network supply at the thruster plug");
  ASSERT_NE(at, std::string::npos) << ran.out;
  EXPECT_EQ(ran.out.substr(at).find("healthy: 12."), ran.out.substr(at).find("healthy: ")) << "fed, though the record names no feed\n" << ran.out.substr(at, 200);
}

}  // namespace
}  // namespace leadline
