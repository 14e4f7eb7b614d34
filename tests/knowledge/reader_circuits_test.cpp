// Circuits of the book: as they are read, and every complaint about them, one variation of the small base in each row with the whole message.
// Reader: engine/knowledge/read_circuits.cpp.
#include <gtest/gtest.h>

#include "tests/knowledge/circuit_base.h"

namespace leadline::knowledge {
namespace {

TEST(ReadCircuits, ReadsACircuit) {
  const auto base = testing::base_from(testing::circuits_text);
  ASSERT_EQ(base.circuits.size(), 1U);
  const auto& page = base.circuits[0];
  EXPECT_EQ(page.id, "power");
  EXPECT_EQ(page.title, "Heavy path");
  EXPECT_EQ(page.reference, "bank minus post");
  EXPECT_EQ(ids_of(page.conditions), (std::vector<std::string>{"rest", "push"}));
  EXPECT_EQ(page.conditions[1].title, "full push");
  EXPECT_EQ(ids_of(page.parts), (std::vector<std::string>{"bank", "run", "motor", "input", "output", "float", "drive", "H-{@from}-{@to}"}));
  EXPECT_EQ(page.place, (text::Place{"k.xml", 13, 4}));
}

TEST(ReadCircuits, ReadsEachKindOfPart) {
  const auto base = testing::base_from(testing::circuits_text);
  const auto& parts = base.circuits[0].parts;
  struct { PartKind kind; std::string values; } const rows[] = {
      {PartKind::battery, "amp-hours=100 charge=90 blocks=2 "}, {PartKind::cable, "length=7 area=70 "}, {PartKind::motor, "volt=24 amp=300 ohm=0.01 "},
      {PartKind::step_up, "watt=250 wake=13.2 "},              {PartKind::current, "amp=10 "},         {PartKind::source, "volt=27 ohm=0.1 "},
      {PartKind::power, "watt=50 "},                           {PartKind::resistor, "ohm=0.07 * $segment-length "}};
  for (std::size_t i = 0; i < parts.size(); ++i) {
    std::string values;
    for (const auto& [name, value] : parts[i].values) values += name + "=" + value.text + " ";
    EXPECT_EQ(parts[i].kind, rows[i].kind) << parts[i].id;
    EXPECT_EQ(values, rows[i].values) << parts[i].id;
  }
}

TEST(ReadCircuits, ReadsWhatAllPartsMayHave) {
  const auto base = testing::base_from(testing::circuits_text);
  const auto& parts = base.circuits[0].parts;
  EXPECT_EQ(parts[0].chemistry, "bank/@kind");
  EXPECT_EQ(parts[1].spread, 0.06);
  EXPECT_EQ(parts[1].shared, "copper");
  EXPECT_EQ(parts[1].from, "bank plus post");
  EXPECT_EQ(parts[1].to, "plus stud");
  EXPECT_EQ(parts[1].title, "run");
  EXPECT_TRUE(parts[1].conditions.empty());  // in all
  EXPECT_EQ(parts[2].conditions, std::vector<std::size_t>{1});
  EXPECT_EQ(parts[2].when->text, "bank/@volts = 24");
  EXPECT_EQ(parts[4].awake_with, "input");
  EXPECT_EQ(parts[5].spread_volt, 0.2);
  EXPECT_EQ(parts[7].each, "segment");
  EXPECT_EQ(parts[7].when->text, "$segment-kind = 'trunk'");
  EXPECT_EQ(parts[7].title, "wire, {@from} to {@to}");
}

struct BadRow {
  std::string_view name, from, to, wanted;
};

class BadCircuit : public ::testing::TestWithParam<BadRow> {};

TEST_P(BadCircuit, IsReportedWithTheLineACaretAndAWayOut) {
  const std::vector<text::Source> files{{"k.xml", testing::changed_once(testing::circuits_text, GetParam().from, GetParam().to)}};
  const auto loaded = read_knowledge(files);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, files), GetParam().wanted);
}

const BadRow circuits[] = {
    {"kind_missing", "kind=\"power\" id=\"drive\"", "id=\"drive\"",
     R"x(k.xml:23:6: error: 'part' lacks the attribute 'kind'
        <part id="drive" in="push" from="plus stud" to="bank minus post" watt="50">drive</part>
         ^ add kind="…"
)x"},
    {"kind_misspelt", "kind=\"cable\"", "kind=\"cabel\"",
     R"x(k.xml:18:11: error: 'kind' cannot be 'cabel'
        <part kind="cabel" id="run" from="bank plus post" to="plus stud" length="7" area="70" spread="0.
              ^ did you mean 'cable'?
k.xml:67:12: error: the circuit 'power' has no part 'run'
          <add part="run" of="ohm" from="0.0008" to="0.02"/>
               ^ known: bank, motor, input, output, float, drive, H-{@from}-{@to}
)x"},
    {"value_missing", " length=\"7\"", "",
     R"x(k.xml:18:6: error: 'part' lacks the attribute 'length'
        <part kind="cable" id="run" from="bank plus post" to="plus stud" area="70" spread="0.06" shared=
         ^ add length="…"
)x"},
    {"value_empty", "watt=\"50\"", "watt=\"\"",
     R"x(k.xml:23:83: error: the attribute 'watt' is empty
      <part kind="power" id="drive" in="push" from="plus stud" to="bank minus post" watt="">drive</part>
                                                                                    ^
k.xml:23:89: error: the expression ends too early
    t kind="power" id="drive" in="push" from="plus stud" to="bank minus post" watt="">drive</part>
                                                                                    ^
)x"},
    {"value_of_another_kind", "amp=\"10\" spread=\"0.1\"", "amp=\"10\" ohm=\"3\"",
     R"x(k.xml:21:90: error: a current has no 'ohm'
     kind="current" id="output" from="bank minus post" to="bank plus post" amp="10" ohm="3" awake-with="
                                                                                    ^ known: kind, id, from, to, when, in, each, spread, spread-volt, shared, amp, awake-with
)x"},
    {"attribute_misspelt", "length=\"7\" area", "lenght=\"7\" area",
     R"x(k.xml:18:6: error: 'part' lacks the attribute 'length'
        <part kind="cable" id="run" from="bank plus post" to="plus stud" lenght="7" area="70" spread="0.
         ^ add length="…"
k.xml:18:70: error: a cable has no 'lenght'
        <part kind="cable" id="run" from="bank plus post" to="plus stud" lenght="7" area="70" spread="0.
                                                                         ^ did you mean 'length'?
)x"},
    {"value_faulty", "length=\"7\"", "length=\"bank/@volt\"",
     R"x(k.xml:18:84: error: 'bank' has no fact 'volt'
     <part kind="cable" id="run" from="bank plus post" to="plus stud" length="bank/@volt" area="70" spre
                                                                                    ^ did you mean 'volts'?
)x"},
    {"value_that_is_a_condition", "length=\"7\"", "length=\"bank/@volts = 24\"",
     R"x(k.xml:18:78: error: must be a number, this is true or false
        <part kind="cable" id="run" from="bank plus post" to="plus stud" length="bank/@volts = 24" area=
                                                                                 ^
)x"},
    {"chemistry_missing", " chemistry=\"bank/@kind\"", "",
     R"x(k.xml:17:6: error: 'part' lacks the attribute 'chemistry'
        <part kind="battery" id="bank" from="bank plus post" to="bank minus post" amp-hours="100" charge
         ^ add chemistry="…"
)x"},
    {"chemistry_no_fact", "chemistry=\"bank/@kind\"", "chemistry=\"bank/@sort\"",
     R"x(k.xml:17:118: error: 'bank/@sort' is no fact of the record
    om="bank plus post" to="bank minus post" amp-hours="100" charge="90" blocks="2" chemistry="bank/@sor
                                                                                    ^ for instance bank/@chemistry
)x"},
    {"chemistry_no_path", "chemistry=\"bank/@kind\"", "chemistry=\"agm\"",
     R"x(k.xml:17:118: error: 'agm' is no fact of the record
    om="bank plus post" to="bank minus post" amp-hours="100" charge="90" blocks="2" chemistry="agm">bank
                                                                                    ^ for instance bank/@chemistry
)x"},
    {"chemistry_of_a_cable", "spread=\"0.06\"", "chemistry=\"bank/@kind\"",
     R"x(k.xml:18:91: error: a cable has no 'chemistry'
    kind="cable" id="run" from="bank plus post" to="plus stud" length="7" area="70" chemistry="bank/@kin
                                                                                    ^
)x"},
    {"each_unknown", "<part kind=\"resistor\" id=\"H-{@from}-{@to}\" each=\"segment\" when=\"$segment-kind = 'trunk'\"",
     "<part kind=\"resistor\" id=\"H-{@from}-{@to}\" each=\"segmnt\"",
     R"x(k.xml:24:48: error: the record has no element 'segmnt'
        <part kind="resistor" id="H-{@from}-{@to}" each="segmnt" from="H at {@from}" to="H at {@to}"
                                                   ^ did you mean 'segment'?
k.xml:25:23: error: no quantity '$segment-length' is declared
              ohm="0.07 * $segment-length">wire, {@from} to {@to}</part>
                          ^
)x"},
    {"condition_unknown", "id=\"motor\" in=\"push\"", "id=\"motor\" in=\"rest psh\"",
     R"x(k.xml:19:35: error: this circuit has no condition 'psh'
        <part kind="motor" id="motor" in="rest psh" from="plus stud" to="bank minus post" volt="24" amp=
                                      ^ did you mean 'push'?
)x"},
    {"ends_alike", "from=\"plus stud\" to=\"bank minus post\" watt=\"50\"", "from=\"plus stud\" to=\"plus stud\" watt=\"50\"",
     R"x(k.xml:23:62: error: both ends of 'drive' are at 'plus stud'
        <part kind="power" id="drive" in="push" from="plus stud" to="plus stud" watt="50">drive</part>
                                                                 ^
)x"},
    {"end_missing", "to=\"plus stud\" length", " length",
     R"x(k.xml:18:6: error: 'part' lacks the attribute 'to'
        <part kind="cable" id="run" from="bank plus post"  length="7" area="70" spread="0.06" shared="co
         ^ add to="…"
)x"},
    {"part_twice", "id=\"drive\"", "id=\"run\"",
     R"x(k.xml:23:6: error: the part 'run' is given twice
        <part kind="power" id="run" in="push" from="plus stud" to="bank minus post" watt="50">drive</par
         ^
)x"},
    {"awake_with_nothing", "awake-with=\"input\"", "awake-with=\"inputt\"",
     R"x(k.xml:21:6: error: no step-up part 'inputt' in this circuit
        <part kind="current" id="output" from="bank minus post" to="bank plus post" amp="10" spread="0.1
         ^
)x"},
    {"awake_with_no_step_up", "awake-with=\"input\"", "awake-with=\"bank\"",
     R"x(k.xml:21:6: error: no step-up part 'bank' in this circuit
        <part kind="current" id="output" from="bank minus post" to="bank plus post" amp="10" spread="0.1
         ^
)x"},
    {"awake_with_of_a_cable", "spread=\"0.06\"", "awake-with=\"input\"",
     R"x(k.xml:18:91: error: a cable has no 'awake-with'
    kind="cable" id="run" from="bank plus post" to="plus stud" length="7" area="70" awake-with="input" s
                                                                                    ^
)x"},
    {"spread_too_wide", "spread=\"0.06\"", "spread=\"6\"",
     R"x(k.xml:18:91: error: 'spread' is 6, outside its range
    kind="cable" id="run" from="bank plus post" to="plus stud" length="7" area="70" spread="6" shared="c
                                                                                    ^ from 0 to 2
)x"},
    {"spread_volt_no_number", "spread-volt=\"0.2\"", "spread-volt=\"0,2\"",
     R"x(k.xml:22:109: error: '0,2' is not a number
    float" in="rest" from="bank plus post" to="bank minus post" volt="27" ohm="0.1" spread-volt="0,2">ch
                                                                                    ^ write a point as decimal mark: 0.2
)x"},
    {"title_of_a_part_missing", ">drive</part>", "></part>",
     R"x(k.xml:23:6: error: 'part' is empty
        <part kind="power" id="drive" in="push" from="plus stud" to="bank minus post" watt="50"></part>
         ^
)x"},
    {"condition_missing", "    <condition id=\"rest\">everything off</condition>\n    <condition id=\"push\">full push</condition>\n", "",
     R"x(k.xml:13:4: error: a circuit needs a <condition>
      <circuit id="power" reference="bank minus post">
       ^ <condition id="rest">everything off</condition>
k.xml:17:35: error: this circuit has no condition 'push'
        <part kind="motor" id="motor" in="push" from="plus stud" to="bank minus post" volt="24" amp="300
                                      ^
k.xml:20:36: error: this circuit has no condition 'rest'
        <part kind="source" id="float" in="rest" from="bank plus post" to="bank minus post" volt="27" oh
                                       ^
k.xml:21:35: error: this circuit has no condition 'push'
        <part kind="power" id="drive" in="push" from="plus stud" to="bank minus post" watt="50">drive</p
                                      ^
k.xml:30:6: error: a measurement without a probe
        <measure circuit="power" take="sum" doubt="0.05">
         ^ add <volts in="…" from="…" to="…"/>, <amps> or <ohms>
k.xml:31:14: error: no file declares the condition 'rest'
          <volts in="rest" from="bank plus post" to="bank minus post"/>
                 ^
k.xml:32:14: error: no file declares the condition 'push'
          <volts in="push" from="plus stud" to="bank minus post" weight="-1"/>
                 ^
k.xml:40:6: error: a measurement without a probe
        <measure circuit="power" take="largest"><ohms in="rest" each="segment" from="H at {@from}" to="H
         ^ add <volts in="…" from="…" to="…"/>, <amps> or <ohms>
k.xml:40:51: error: no file declares the condition 'rest'
        <measure circuit="power" take="largest"><ohms in="rest" each="segment" from="H at {@from}" to="H
                                                      ^
k.xml:47:6: error: a measurement without a probe
        <measure circuit="power"><amps in="push" of="motor"/></measure>
         ^ add <volts in="…" from="…" to="…"/>, <amps> or <ohms>
k.xml:47:36: error: no file declares the condition 'push'
        <measure circuit="power"><amps in="push" of="motor"/></measure>
                                       ^
)x"},
    {"reference_missing", " reference=\"bank minus post\"", "",
     R"x(k.xml:13:4: error: 'circuit' lacks the attribute 'reference'
      <circuit id="power">
       ^ add reference="…"
)x"},
    {"reference_nowhere", "reference=\"bank minus post\"", "reference=\"bank minus pole\"",
     R"x(k.xml:13:23: error: no part of this circuit ends at 'bank minus pole'
      <circuit id="power" reference="bank minus pole">
                          ^ the place to which all others leak, for instance the bank minus post
)x"},
    {"title_of_the_circuit_missing", "    <title>Heavy path</title>\n", "",
     R"x(k.xml:13:4: error: 'circuit' lacks <title>
      <circuit id="power" reference="bank minus post">
       ^ add <title>…</title>
)x"},
    {"element_unknown", "<title>Heavy path</title>", "<title>Heavy path</title><parts/>",
     R"x(k.xml:14:31: error: 'circuit' has no element 'parts'
        <title>Heavy path</title><parts/>
                                  ^ did you mean 'part'?
)x"},
    {"attribute_of_the_circuit", "<circuit id=\"power\"", "<circuit id=\"power\" kind=\"heavy\"",
     R"x(k.xml:13:23: error: 'circuit' has no attribute 'kind'
      <circuit id="power" kind="heavy" reference="bank minus post">
                          ^ did you mean 'id'?
)x"},
    {"circuit_twice", "  <finding id=\"sag\"", "  <circuit id=\"power\" reference=\"a\"/>\n  <finding id=\"sag\"",
     R"x(k.xml:27:12: error: the circuit 'power' is declared twice
      <circuit id="power" reference="a"/>
               ^ first at k.xml:13:4
)x"},
    {"condition_faulty", "when=\"bank/@volts = 24\"", "when=\"bank/@volts = 24 an 1 = 1\"",
     R"x(k.xml:19:137: error: 'an' is not expected here
    tud" to="bank minus post" volt="24" amp="300" ohm="0.01" when="bank/@volts = 24 an 1 = 1">motor</par
                                                                                    ^ a joining word such as 'and' may be missing or misspelt
)x"},
    {"variable_of_each_elsewhere", "length=\"7\"", "length=\"$segment-length\"",
     R"x(k.xml:18:78: error: no quantity '$segment-length' is declared
        <part kind="cable" id="run" from="bank plus post" to="plus stud" length="$segment-length" area="
                                                                                 ^
)x"},
    {"variable_of_each_in_an_effect", "from=\"0.0008\"", "from=\"$segment-length\"",
     R"x(k.xml:67:38: error: no quantity '$segment-length' is declared
          <add part="run" of="ohm" from="$segment-length" to="0.02"/>
                                         ^
)x"},
    {"variable_of_each_in_a_band", "$healthy * 2", "$segment-length * 2",
     R"x(k.xml:40:30: error: no quantity '$segment-length' is declared
        <band id="normal" below="$segment-length * 2">normal</band>
                                 ^ known: $healthy, $healthy_low, $healthy_high
)x"},
    {"variable_of_another_element", "0.07 * $segment-length", "0.07 * $bank-volts",
     R"x(k.xml:25:23: error: no quantity '$bank-volts' is declared
              ohm="0.07 * $bank-volts">wire, {@from} to {@to}</part>
                          ^
)x"},
    {"variable_that_is_a_text", "0.07 * $segment-length", "0.07 * $segment-from",
     R"x(k.xml:25:23: error: '*' needs a number, this is a text
              ohm="0.07 * $segment-from">wire, {@from} to {@to}</part>
                          ^
)x"},
    {"variable_that_is_no_fact", "0.07 * $segment-length", "0.07 * $segment-lenght",
     R"x(k.xml:25:23: error: no quantity '$segment-lenght' is declared
              ohm="0.07 * $segment-lenght">wire, {@from} to {@to}</part>
                          ^
)x"},
    {"variable_against_no_choice", "$segment-kind = 'trunk'", "$segment-kind = 'trunc'",
     R"x(k.xml:24:85: error: 'trunc' is no choice of segment/@kind
    <part kind="resistor" id="H-{@from}-{@to}" each="segment" when="$segment-kind = 'trunc'" from="H at 
                                                                                    ^ did you mean 'trunk'?
)x"},
    {"healthy_in_a_part", "length=\"7\"", "length=\"$healthy\"",
     R"x(k.xml:18:78: error: no quantity '$healthy' is declared
        <part kind="cable" id="run" from="bank plus post" to="plus stud" length="$healthy" area="70" spr
                                                                                 ^
)x"},
    {"healthy_without_a_measure",
     "    <measure circuit=\"power\" take=\"largest\"><ohms in=\"rest\" each=\"segment\" from=\"H at {@from}\" to=\"H at {@to}\"/></measure>\n", "",
     R"x(k.xml:40:30: error: no quantity '$healthy' is declared
        <band id="normal" below="$healthy * 2">normal</band>
                                 ^
)x"},
    {"healthy_in_an_effect", "from=\"0.0008\"", "from=\"$healthy_high\"",
     R"x(k.xml:67:38: error: no quantity '$healthy_high' is declared
          <add part="run" of="ohm" from="$healthy_high" to="0.02"/>
                                         ^
)x"},
};

INSTANTIATE_TEST_SUITE_P(Circuits, BadCircuit, ::testing::ValuesIn(circuits), [](const auto& row) { return std::string(row.param.name); });

}  // namespace
}  // namespace leadline::knowledge
