// The record of one boat: what nobody stated is assumed and listed; what cannot be is refused with its place.
#include "engine/installation/record.h"

#include <gtest/gtest.h>

#include <stdexcept>

#include "tests/knowledge/minimal_base.h"

namespace leadline::installation {
namespace {

using testing::minimal_base;

std::string listed(const Installation& installation) {
  std::string all;
  for (const auto& [path, value] : installation.assumed()) all += path + "=" + value + " ";
  return all;
}

std::string verdict(const std::string& content) {
  const text::Source file{"boat.xml", content};
  const auto loaded = read_installation(minimal_base(), file);
  EXPECT_EQ(loaded.value.has_value(), loaded.problems.empty());
  return loaded.value ? "accepted" : text::render(loaded.problems, std::vector{file});
}

TEST(ReadInstallation, AssumesWhatNobodyStatesAndListsIt) {
  const auto loaded = read_installation(minimal_base(), {"boat.xml", "<installation name=\"Grey Plover\"><bank volts=\"48\" age=\"9\"/></installation>"});
  ASSERT_TRUE(loaded.value.has_value());
  const auto bank = loaded.value->root().child("bank");
  EXPECT_EQ(loaded.value->name(), "Grey Plover");
  EXPECT_STREQ(bank.attribute("volts").value(), "48");
  EXPECT_STREQ(bank.attribute("kind").value(), "agm");
  EXPECT_STREQ(bank.attribute("label").value(), "bank");
  EXPECT_STREQ(loaded.value->root().child("station").attribute("number").value(), "1");
  EXPECT_EQ(listed(*loaded.value), "bank/@kind=agm bank/@strings=1 station/@number=1 station/@spare=no ");
}

std::string station_numbers(const Installation& boat) {
  std::string numbers;
  for (const auto station : boat.root().children("station")) numbers += station.attribute("number").value() + std::string(" ");
  return numbers;
}

TEST(ReadInstallation, AssumesForEachStationANumberOfItsOwn) {
  const auto loaded = read_installation(minimal_base(), {"boat.xml", "<installation><station number=\"2\"/><station/><station/></installation>"});
  ASSERT_TRUE(loaded.value.has_value());
  EXPECT_EQ(station_numbers(*loaded.value), "2 1 3 ");
  EXPECT_EQ(listed(*loaded.value), "bank/@volts=24 bank/@kind=agm bank/@age=4 bank/@strings=1 station/@spare=no station/@number=1 station/@number=3 ");
  EXPECT_EQ(loaded.value->name(), "");
  const auto again = read_installation(minimal_base(), {"again", to_xml(*loaded.value)});
  ASSERT_TRUE(again.value.has_value());
  EXPECT_EQ(station_numbers(*again.value), "2 1 3 ");
}

TEST(ReadInstallation, AssumesOneNumberTwiceWhenAllAreBorne) {
  std::string record = "<installation>";
  for (int station = 0; station < 10; ++station) record += "<station/>";
  const auto loaded = read_installation(minimal_base(), {"boat.xml", record + "</installation>"});
  ASSERT_TRUE(loaded.value.has_value());
  EXPECT_EQ(station_numbers(*loaded.value), "1 2 3 4 5 6 7 8 9 1 ");  // from 1 to 9
}

struct BadRow {
  std::string_view name, content, wanted;
};

class BadRecord : public ::testing::TestWithParam<BadRow> {};

TEST_P(BadRecord, IsReported) { EXPECT_EQ(verdict(std::string(GetParam().content)), GetParam().wanted); }

const BadRow records[] = {
    {"other_root", "<boat/>", "boat.xml:1:2: error: the root element is 'boat'\n    <boat/>\n     ^ expected <installation>\n"},
    {"unknown_element", "<installation><bnak/></installation>",
     "boat.xml:1:16: error: the record has no element 'bnak'\n    <installation><bnak/></installation>\n                   ^ did you mean 'bank'?\n"},
    {"unknown_fact", "<installation><bank volt=\"24\"/></installation>",
     "boat.xml:1:21: error: 'bank' has no fact 'volt'\n    <installation><bank volt=\"24\"/></installation>\n                        ^ did you mean 'volts'?\n"},
    {"number_that_is_no_choice", "<installation><bank volts=\"23\"/></installation>",
     "boat.xml:1:21: error: '23' cannot be bank/@volts\n    <installation><bank volts=\"23\"/></installation>\n                        ^ one of 12 24 48 V\n"},
    {"comma", "<installation><bank age=\"3,5\"/></installation>",
     "boat.xml:1:21: error: '3,5' cannot be bank/@age\n    <installation><bank age=\"3,5\"/></installation>\n                        ^ write a point as decimal mark: 3.5\n"},
    {"nan", "<installation><bank age=\"nan\"/></installation>",
     "boat.xml:1:21: error: 'nan' cannot be bank/@age\n    <installation><bank age=\"nan\"/></installation>\n                        ^ write a plain decimal number, for instance 0.5\n"},
    {"beyond_the_range", "<installation><bank age=\"31\"/></installation>",
     "boat.xml:1:21: error: '31' cannot be bank/@age\n    <installation><bank age=\"31\"/></installation>\n                        ^ from 0 to 30 year\n"},
    {"word_that_is_no_choice", "<installation><bank kind=\"lithum\"/></installation>",
     "boat.xml:1:21: error: 'lithum' cannot be bank/@kind\n    <installation><bank kind=\"lithum\"/></installation>\n                        ^ did you mean 'lithium'?\n"},
    {"empty_number", "<installation><bank age=\"\"/></installation>",
     "boat.xml:1:21: error: '' cannot be bank/@age\n    <installation><bank age=\"\"/></installation>\n                        ^ a number is missing\n"},
    {"second_bank", "<installation><bank/><bank/></installation>",
     "boat.xml:1:23: error: a second 'bank'\n    <installation><bank/><bank/></installation>\n                          ^ a boat has one\n"},
    {"attribute_of_the_root", "<installation nmae=\"x\"/>",
     "boat.xml:1:15: error: 'installation' has no attribute 'nmae'\n    <installation nmae=\"x\"/>\n                  ^ only 'name'\n"},
    {"element_inside_element", "<installation><bank><cell/></bank></installation>",
     "boat.xml:1:22: error: 'bank' holds facts as attributes only\n    <installation><bank><cell/></bank></installation>\n                         ^\n"},
    {"text_inside_element", "<installation><bank>big</bank></installation>",
     "boat.xml:1:21: error: 'bank' holds facts as attributes only\n    <installation><bank>big</bank></installation>\n                        ^\n"},
    {"stray_text", "<installation>big</installation>",
     "boat.xml:1:15: error: text stands directly in 'installation'\n    <installation>big</installation>\n                  ^ state facts as attributes of elements\n"},
    {"not_well_formed", "<installation><bank></installation>",
     "boat.xml:1:21: error: '</installation>' does not close 'bank'\n    <installation><bank></installation>\n                        ^ expected </bank>\n"},
    {"several_by_place", "<installation><bank volts=\"1\"/>\n<tunnel/><station number=\"0\"/></installation>",
     "boat.xml:1:21: error: '1' cannot be bank/@volts\n    <installation><bank volts=\"1\"/>\n                        ^ one of 12 24 48 V\n"
     "boat.xml:2:2: error: the record has no element 'tunnel'\n    <tunnel/><station number=\"0\"/></installation>\n     ^ known: bank, station\n"
     "boat.xml:2:19: error: '0' cannot be station/@number\n    <tunnel/><station number=\"0\"/></installation>\n                      ^ from 1 to 9\n"},
};

INSTANTIATE_TEST_SUITE_P(Records, BadRecord, ::testing::ValuesIn(records), [](const auto& row) { return std::string(row.param.name); });

TEST(MakeInstallation, TakesStatedFactsAndAssumesTheRest) {
  const auto installation = make_installation(minimal_base(), {{"bank/@volts", "12"}, {"station/@spare", "yes"}, {"bank/@volts", "48"}});
  EXPECT_STREQ(installation.root().child("bank").attribute("volts").value(), "48");  // said again: the later one
  EXPECT_STREQ(installation.root().child("station").attribute("spare").value(), "yes");
  EXPECT_EQ(listed(installation), "bank/@kind=agm bank/@age=4 bank/@strings=1 station/@number=1 ");
}

TEST(MakeInstallation, ThrowsOnUnknownPaths) {
  EXPECT_THROW((void)make_installation(minimal_base(), {{"bank/@volt", "12"}}), std::invalid_argument);
  EXPECT_THROW((void)make_installation(minimal_base(), {{"bank", "12"}}), std::invalid_argument);
}

// A book in which some choices hang on the volts: lithium there is at 48 V only, where it is also assumed, and at 12 V a single string.
knowledge::KnowledgeBase base_by_volts() {
  auto text = testing::minimal_with("<choice id=\"lithium\">lithium</choice>", "<choice id=\"lithium\" where=\"bank/@volts = 48\">lithium</choice><assume value=\"lithium\" where=\"bank/@volts = 48\"/>");
  text = testing::changed_once(text, "assume=\"1\"/>\n    <fact name=\"label\"",
                               "assume=\"2\"><assume value=\"1\" where=\"bank/@volts = 12\"/><assume value=\"4\" where=\"bank/@volts &lt; 30\"/></fact>\n    <fact name=\"label\"");
  return testing::base_from(text);
}

TEST(Assumed, HangsOnWhatIsKnownBefore) {
  const auto base = base_by_volts();
  const auto assumed = [&](const char* volts) { return listed(make_installation(base, {{"bank/@volts", volts}})); };
  EXPECT_EQ(assumed("12"), "bank/@kind=agm bank/@age=4 bank/@strings=1 station/@number=1 station/@spare=no ");
  EXPECT_EQ(assumed("24"), "bank/@kind=agm bank/@age=4 bank/@strings=4 station/@number=1 station/@spare=no ");
  EXPECT_EQ(assumed("48"), "bank/@kind=lithium bank/@age=4 bank/@strings=2 station/@number=1 station/@spare=no ");
  EXPECT_EQ(assumed_for(make_installation(base, {{"bank/@volts", "48"}}), base.facts[1]), "lithium");
  EXPECT_EQ(assumed_for(make_installation(base, {{"bank/@volts", "48"}}), base.facts[0]), std::nullopt);
}

TEST(Assumed, ReadsBackTheSame) {
  const auto base = base_by_volts();
  const auto boat = make_installation(base, {{"bank/@volts", "48"}});
  const auto again = read_installation(base, {"again", to_xml(boat)});
  ASSERT_TRUE(again.value.has_value());
  EXPECT_EQ(listed(*again.value), listed(boat));
}

TEST(Assumed, OfOneOfTwoStationsIsToldFromWhatTheOtherStates) {
  const auto read = read_installation(minimal_base(), {"boat.xml", "<installation><bank volts=\"48\"/><station number=\"2\"/><station/></installation>"});
  ASSERT_TRUE(read.value.has_value());
  EXPECT_TRUE(is_assumed(*read.value, "station/@number"));
  EXPECT_TRUE(is_assumed(*read.value, "station/@number", "1"));
  EXPECT_FALSE(is_assumed(*read.value, "station/@number", "2"));
  EXPECT_TRUE(is_assumed(*read.value, "bank/@kind"));
  EXPECT_FALSE(is_assumed(*read.value, "bank/@volts"));
  EXPECT_FALSE(is_assumed(*read.value, "segment"));
}

TEST(Choices, AreThoseOfThisBoat) {
  const auto base = base_by_volts();
  EXPECT_EQ(knowledge::ids_of(possible_choices(make_installation(base, {}), base.facts[1])), std::vector<std::string>{"agm"});
  EXPECT_EQ(knowledge::ids_of(possible_choices(make_installation(base, {{"bank/@volts", "48"}}), base.facts[1])), (std::vector<std::string>{"agm", "lithium"}));
}

// Whether what a record states goes together is for the review to say.
TEST(Choices, OfAnotherBoatMayBeStated) {
  EXPECT_TRUE(read_installation(base_by_volts(), {"boat.xml", "<installation><bank volts=\"24\" kind=\"lithium\"/></installation>"}).value.has_value());
}

TEST(ToXml, LeavesAssumedFactsOutAndReadsBackTheSame) {
  const auto base = minimal_base();
  const auto first = read_installation(base, {"a", "<installation name=\"Tern &amp; Co\"><bank volts=\"48\"/><station number=\"2\"/><station number=\"3\"/></installation>"});
  ASSERT_TRUE(first.value.has_value());
  const auto written = to_xml(*first.value);
  EXPECT_EQ(written.find("kind"), std::string::npos);
  const auto second = read_installation(base, {"b", written});
  ASSERT_TRUE(second.value.has_value()) << written;
  EXPECT_EQ(second.value->name(), "Tern & Co");
  EXPECT_EQ(listed(*second.value), listed(*first.value));
  EXPECT_EQ(to_xml(*second.value), written);
}

TEST(WhyNot, SaysNothingAboutWhatCanBe) {
  const auto base = minimal_base();
  EXPECT_EQ(why_not(base.facts[0], "24"), "");
  EXPECT_EQ(why_not(base.facts[0], "24.0"), "");  // the same number
  EXPECT_EQ(why_not(base.facts[1], "lithium"), "");
  EXPECT_EQ(why_not(base.facts[2], "0"), "");
  EXPECT_EQ(why_not(base.facts[4], "anything"), "");
}

}  // namespace
}  // namespace leadline::installation
