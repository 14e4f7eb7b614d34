// The string of the network that a record leaves unsaid: where its devices stand, and where its terminators sit.
#include "engine/installation/network_string.h"

#include <gtest/gtest.h>

#include "engine/installation/restated.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::installation {
namespace {

const std::string string_text = R"(<knowledge subsystem="trial">
  <element path="network">
    <fact name="supply" type="choice" assume="house"><choice id="house">house</choice><choice id="none">no network</choice></fact>
    <fact name="length" type="number" unit="m" least="0.1" most="100" assume="12"/>
    <fact name="terminators" type="choice" assume="two">
      <choice id="two">two</choice><choice id="one">one</choice><choice id="none">none</choice><choice id="more">more</choice></fact>
    <fact name="stations" type="number" choices="1 2 3" assume="1"/>
  </element>
  <element path="thruster" repeats="yes"><fact name="name" type="text" assume="bow"/></element>
  <element path="station" repeats="yes"><fact name="name" type="text" assume="helm"/>
    <fact name="kind" type="choice" assume="panel"><choice id="panel">panel</choice><choice id="remote">remote</choice></fact></element>
  <element path="segment" repeats="yes" optional="yes">
    <fact name="from" type="text" assume="?"/>
    <fact name="to" type="text" assume="?"/>
    <fact name="length" type="number" unit="m" least="0.1" most="100" assume="5"/>
    <fact name="kind" type="choice" assume="trunk"><choice id="trunk">trunk</choice><choice id="drop">drop</choice></fact>
  </element>
  <element path="terminator" repeats="yes" optional="yes">
    <fact name="at" type="text" assume="?"/>
    <fact name="ohm" type="number" unit="ohm" least="1" most="10000" assume="120"/>
  </element>
</knowledge>
)";

const knowledge::KnowledgeBase& string_base() {
  static const auto base = testing::base_from(string_text);
  return base;
}

Installation boat(const std::string& content) {
  const text::Source file{"boat.xml", "<installation>" + content + "</installation>"};
  auto loaded = read_installation(string_base(), file);
  if (!loaded.value) throw std::logic_error(text::render(loaded.problems, std::vector{file}));
  return *std::move(loaded.value);
}

// "bow - helm 12 trunk; bow 120, helm 120": the string as the record now has it.
std::string string_of(const Installation& installation) {
  std::string shown;
  const auto root = installation.root();
  for (const auto segment : root.children("segment")) {
    shown += std::string(shown.empty() ? "" : ", ") + segment.attribute("from").value() + " - " + segment.attribute("to").value() + " " +
             segment.attribute("length").value() + " " + segment.attribute("kind").value();
  }
  shown += ";";
  for (const auto terminator : root.children("terminator"))
    shown += std::string(" ") + terminator.attribute("at").value() + " " + terminator.attribute("ohm").value();
  return shown;
}

std::string assumed_string(const Installation& installation) {
  std::string shown;
  for (const auto& [path, value] : installation.assumed()) {
    if (path == "segment" || path == "terminator") shown += path + ": " + value + "\n";
  }
  return shown;
}

struct StringRow {
  const char *name, *record, *string, *assumed;
};

class CompleteString : public ::testing::TestWithParam<StringRow> {};

TEST_P(CompleteString, LaysWhatIsUnsaid) {
  const auto installation = boat(GetParam().record);
  EXPECT_EQ(string_of(installation), GetParam().string);
  EXPECT_EQ(assumed_string(installation), GetParam().assumed);
}

constexpr const char* two_terminators = "segment: bow - helm 12 m\nterminator: bow, helm\n";

const StringRow strings[] = {
    {"nothing_said", "", "bow - helm 12 trunk; bow 120 helm 120", two_terminators},
    {"length_said", "<network length=\"9.5\"/>", "bow - helm 9.5 trunk; bow 120 helm 120", "segment: bow - helm 9.5 m\nterminator: bow, helm\n"},
    {"three_devices_on_equal_pieces", "<station name=\"helm\"/><station name=\"wing\"/><network length=\"10\"/>",
     "bow - helm 5 trunk, helm - wing 5 trunk; bow 120 wing 120", "segment: bow - helm 5 m, helm - wing 5 m\nterminator: bow, wing\n"},
    {"a_third_does_not_come_out_even", "<station/><station name=\"wing\"/><station name=\"fly\"/><network length=\"10\"/>",
     "bow - helm 3.333 trunk, helm - wing 3.333 trunk, wing - fly 3.333 trunk; bow 120 fly 120",
     "segment: bow - helm 3.333 m, helm - wing 3.333 m, wing - fly 3.333 m\nterminator: bow, fly\n"},
    {"thrusters_before_stations", "<station name=\"helm\"/><thruster name=\"bow\"/><thruster name=\"stern\"/>",
     "bow - stern 6 trunk, stern - helm 6 trunk; bow 120 helm 120", "segment: bow - stern 6 m, stern - helm 6 m\nterminator: bow, helm\n"},
    {"no_terminator", "<network terminators=\"none\"/>", "bow - helm 12 trunk;", "segment: bow - helm 12 m\nterminator: none\n"},
    {"one_terminator", "<network terminators=\"one\"/>", "bow - helm 12 trunk; bow 120", "segment: bow - helm 12 m\nterminator: bow\n"},
    {"a_third_terminator_at_the_first_joint", "<network terminators=\"more\"/><station/><station name=\"wing\"/>",
     "bow - helm 6 trunk, helm - wing 6 trunk; bow 120 wing 120 helm 120",
     "segment: bow - helm 6 m, helm - wing 6 m\nterminator: bow, wing, helm\n"},
    {"terminators_listed", "<terminator at=\"helm\" ohm=\"60\"/>", "bow - helm 12 trunk; helm 60", "segment: bow - helm 12 m\n"},
    {"segments_listed", "<segment from=\"bow\" to=\"tee\" length=\"7\"/><segment from=\"tee\" to=\"helm\" length=\"3\"/>",
     "bow - tee 7 trunk, tee - helm 3 trunk; bow 120 helm 120", "terminator: bow, helm\n"},
    {"a_drop_is_no_end", "<segment from=\"bow\" to=\"tee\"/><segment from=\"tee\" to=\"end\"/><segment from=\"tee\" to=\"helm\" kind=\"drop\"/>",
     "bow - tee 5 trunk, tee - end 5 trunk, tee - helm 5 drop; bow 120 end 120", "terminator: bow, end\n"},
    {"a_loop_is_kept", "<segment from=\"bow\" to=\"helm\"/><segment from=\"helm\" to=\"bow\"/><terminator at=\"bow\"/>",
     "bow - helm 5 trunk, helm - bow 5 trunk; bow 120", ""},
    {"two_of_one_name", "<station/><station/>", "bow - helm 6 trunk, helm - helm 2 6 trunk; bow 120 helm 2 120",
     "segment: bow - helm 6 m, helm - helm 2 6 m\nterminator: bow, helm 2\n"},
    {"two_stations_said", "<network stations=\"2\"/>", "bow - helm 6 trunk, helm - helm 2 6 trunk; bow 120 helm 2 120",
     "segment: bow - helm 6 m, helm - helm 2 6 m\nterminator: bow, helm 2\n"},
    {"one_written_of_two", "<station name=\"wing\"/><network stations=\"2\"/>", "bow - wing 6 trunk, wing - helm 6 trunk; bow 120 helm 120",
     "segment: bow - wing 6 m, wing - helm 6 m\nterminator: bow, helm\n"},
    {"no_network", "<network supply=\"none\"/>", ";", ""},
    {"no_network_but_a_segment", "<network supply=\"none\"/><segment from=\"bow\" to=\"helm\"/>", "bow - helm 5 trunk;", ""},
};

INSTANTIATE_TEST_SUITE_P(Rows, CompleteString, ::testing::ValuesIn(strings), [](const auto& row) { return std::string(row.param.name); });

TEST(NameDevices, NumbersThoseOfOneName) {
  struct { const char *name, *record, *names; } const rows[] = {
      {"two thrusters", "<thruster/><thruster/><station/>", "bow|bow 2|helm"},
      {"three stations", "<station/><station/><station/>", "bow|helm|helm 2|helm 3"},
      {"a station named as the thruster", "<station name=\"bow\"/>", "bow|bow 2"},
      {"a number already taken", "<station name=\"helm 2\"/><station name=\"helm\"/><station name=\"helm\"/>", "bow|helm 2|helm|helm 3"},
      {"without a network too", "<network supply=\"none\"/><station/><station/>", "bow|helm|helm 2"},
  };
  for (const auto& row : rows) {
    const auto installation = boat(row.record);
    std::string names;
    for (const auto* kind : {"thruster", "station"}) {
      for (const auto device : installation.root().children(kind)) names += std::string(names.empty() ? "" : "|") + device.attribute("name").value();
    }
    EXPECT_EQ(names, row.names) << row.name;
  }
}

TEST(ToXmlOfAString, LeavesAssumedOnesOutAndReadsBackTheSame) {
  for (const auto& row : strings) {
    SCOPED_TRACE(row.name);
    const auto first = boat(row.record);
    const auto written = to_xml(first);
    const std::string assumed = row.assumed;
    EXPECT_EQ(written.find("<segment") == std::string::npos, assumed.find("segment") != std::string::npos || string_of(first) == ";") << written;
    const bool no_terminator = assumed.find("terminator") != std::string::npos || string_of(first).back() == ';';
    EXPECT_EQ(written.find("<terminator") == std::string::npos, no_terminator) << written;
    const auto second = read_installation(string_base(), {"again.xml", written});
    ASSERT_TRUE(second.value.has_value()) << written;
    EXPECT_EQ(string_of(*second.value), string_of(first));
    EXPECT_EQ(assumed_string(*second.value), assumed_string(first));
    EXPECT_EQ(to_xml(*second.value), written);
  }
}

TEST(MakeInstallationWithAString, LaysItToo) {
  const auto installation = make_installation(string_base(), {{"network/@length", "20"}, {"network/@terminators", "one"}});
  EXPECT_EQ(string_of(installation), "bow - helm 20 trunk; bow 120");
  EXPECT_EQ(assumed_string(installation), "segment: bow - helm 20 m\nterminator: bow\n");
}

struct StationsRow {
  const char *name, *record;
  const char* number;      // network/@stations
  bool assumed;
  const char* written;     // the stations in the record as XML
};

TEST(Stations, AreCountedWhereWrittenAndMadeWhereSaid) {
  const StationsRow rows[] = {
      {"nothing said", "", "1", true, ""},
      {"only the string's length said", "<network length=\"9\"/>", "1", true, ""},
      {"said to be one", "<network stations=\"1\"/>", "1", false, "<station name=\"helm\">"},
      {"said to be two", "<network stations=\"2\"/>", "2", false, "<station name=\"helm\"><station name=\"helm 2\">"},
      {"one written, bare", "<station/>", "1", false, "<station name=\"helm\">"},
      {"more than may be said", "<station/><station/><station/><station/><station/>", "5", false,
       "<station name=\"helm\"><station name=\"helm 2\"><station name=\"helm 3\"><station name=\"helm 4\"><station name=\"helm 5\">"},
      {"one written of two", "<network stations=\"2\"/><station kind=\"remote\"/>", "2", false, "<station kind=\"remote\" name=\"helm\"><station name=\"helm 2\">"},
  };
  const auto& fact = string_base().facts[*knowledge::find_fact(string_base(), number_of_stations)];
  for (const auto& row : rows) {
    SCOPED_TRACE(row.name);
    const auto first = boat(row.record);
    EXPECT_STREQ(attribute_at(first.root(), number_of_stations).value(), row.number);
    EXPECT_EQ(assumed_for(first, fact).has_value(), row.assumed);
    const auto xml = to_xml(first);
    std::string written;
    for (auto at = xml.find("<station"); at != std::string::npos; at = xml.find("<station", at + 1)) written += xml.substr(at, xml.find(" /", at) - at) + ">";
    EXPECT_EQ(written, row.written) << xml;
    EXPECT_EQ(xml.find("stations="), std::string::npos) << xml;
    EXPECT_EQ(to_xml(*read_installation(string_base(), {"again.xml", xml}).value), xml);
  }
}

TEST(Stations, SaidOfABoatStandOnIt) {
  const auto& fact = string_base().facts[*knowledge::find_fact(string_base(), number_of_stations)];
  const auto two = with_fact(string_base(), boat("<network length=\"9\"/>"), fact, "2");
  ASSERT_TRUE(two.has_value());
  EXPECT_EQ(string_of(*two), "bow - helm 4.5 trunk, helm - helm 2 4.5 trunk; bow 120 helm 2 120");
  EXPECT_EQ(string_of(*with_fact(string_base(), *two, fact, "3")), string_of(*two));  // it is stated
  EXPECT_EQ(string_of(*with_fact(string_base(), boat("<station name=\"wing\"/>"), fact, "2")), "bow - wing 12 trunk; bow 120 wing 120");
}

struct BadRow {
  std::string_view name, content, wanted;
};

class HalfSaid : public ::testing::TestWithParam<BadRow> {};

TEST_P(HalfSaid, IsRefused) {
  const text::Source file{"boat.xml", std::string(GetParam().content)};
  const auto loaded = read_installation(string_base(), file);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, std::vector{file}), GetParam().wanted);
}

const BadRow half_said[] = {
    {"segment_to_nowhere", "<installation><segment from=\"bow\"/></installation>",
     "boat.xml:1:16: error: this segment lacks 'to'\n    <installation><segment from=\"bow\"/></installation>\n                   ^ name the device or joint: to=\"helm\"\n"},
    {"segment_without_ends", "<installation><segment length=\"3\"/></installation>",
     "boat.xml:1:16: error: this segment lacks 'from'\n    <installation><segment length=\"3\"/></installation>\n                   ^ name the device or joint: from=\"helm\"\n"
     "boat.xml:1:16: error: this segment lacks 'to'\n    <installation><segment length=\"3\"/></installation>\n                   ^ name the device or joint: to=\"helm\"\n"},
    {"terminator_nowhere", "<installation><terminator ohm=\"120\"/></installation>",
     "boat.xml:1:16: error: this terminator lacks 'at'\n    <installation><terminator ohm=\"120\"/></installation>\n                   ^ name the device or joint: at=\"helm\"\n"},
    {"more_stations_than_said", "<installation><network stations=\"1\"/><station/><station/></installation>",
     "boat.xml:1:16: error: 'stations' says 1, and 2 are written\n    <installation><network stations=\"1\"/><station/><station/></installation>\n"
     "                   ^ leave 'stations' out: those that are written are counted\n"},
    {"more_stations_than_may_be", "<installation><network stations=\"52222222222\"/></installation>",
     "boat.xml:1:24: error: '52222222222' cannot be network/@stations\n    <installation><network stations=\"52222222222\"/></installation>\n"
     "                           ^ one of 1 2 3\n"},
    {"stations_in_words", "<installation><network stations=\"two\"/></installation>",
     "boat.xml:1:24: error: 'two' cannot be network/@stations\n    <installation><network stations=\"two\"/></installation>\n"
     "                           ^ write a plain decimal number, for instance 0.5\n"},
    {"segment_of_no_kind", "<installation><segment from=\"bow\" to=\"helm\" kind=\"trunc\"/></installation>",
     "boat.xml:1:45: error: 'trunc' cannot be segment/@kind\n    <installation><segment from=\"bow\" to=\"helm\" kind=\"trunc\"/></installation>\n"
     "                                                ^ did you mean 'trunk'?\n"},
};

INSTANTIATE_TEST_SUITE_P(Records, HalfSaid, ::testing::ValuesIn(half_said), [](const auto& row) { return std::string(row.param.name); });

}  // namespace
}  // namespace leadline::installation
