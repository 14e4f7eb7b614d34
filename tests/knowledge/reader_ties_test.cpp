// Measurements tied to a circuit, and what causes do to it: as they are read, and every complaint about them, one variation of the small base
// in each row with the whole message. Reader: engine/knowledge/read_ties.cpp.
#include <gtest/gtest.h>

#include "tests/knowledge/circuit_base.h"

namespace leadline::knowledge {
namespace {

TEST(ReadTies, ReadsMeasurements) {
  const auto base = testing::base_from(testing::circuits_text);
  const auto &sag = base.findings[0].measure.value(), &wires = base.findings[1].measure.value(), &clamp = base.findings[2].measure.value();
  EXPECT_EQ(sag.take, Take::sum);
  EXPECT_EQ(sag.doubt, 0.05);
  ASSERT_EQ(sag.probes.size(), 2U);
  EXPECT_EQ(sag.probes[0].condition, 0U);
  EXPECT_EQ(sag.probes[0].weight, 1);
  EXPECT_EQ(sag.probes[1].condition, 1U);
  EXPECT_EQ(sag.probes[1].from, "plus stud");
  EXPECT_EQ(sag.probes[1].weight, -1);
  EXPECT_EQ(wires.take, Take::largest);
  EXPECT_EQ(wires.doubt, 0);
  EXPECT_EQ(wires.probes.at(0).kind, ProbeKind::ohms);
  EXPECT_EQ(wires.probes[0].each, "segment");
  EXPECT_EQ(clamp.probes.at(0).kind, ProbeKind::amps);
  EXPECT_EQ(clamp.probes[0].from, "motor");
  EXPECT_FALSE(base.findings[3].measure.has_value());
}

TEST(ReadTies, ReadsEffects) {
  const auto base = testing::base_from(testing::circuits_text);
  const auto& effects = base.causes.at(0).effects;
  ASSERT_EQ(effects.size(), 2U);
  EXPECT_EQ(effects[0].share, 0.9);
  EXPECT_EQ(effects[0].words, "adds a few milliohm");
  EXPECT_EQ(effects[1].when->text, "bank/@kind = 'gel'");
  struct { std::size_t effect; ChangeKind kind; const char *part, *value, *from, *to; bool every; } const rows[] = {
      {0, ChangeKind::add, "run", "ohm", "0.0008", "0.02", false}, {0, ChangeKind::times, "H-*", "ohm", "2", "2", true},
      {1, ChangeKind::set, "motor", "load", "bank/@volts", "100", false}, {1, ChangeKind::open, "output", "", "", "", false},
      {1, ChangeKind::join, "", "ohm", "0.1", "5", false}};
  std::size_t at = 0;
  for (std::size_t e = 0; e < effects.size(); ++e) {
    for (const auto& change : effects[e].changes) {
      const auto& row = rows[at++];
      EXPECT_EQ(e, row.effect);
      EXPECT_EQ(change.kind, row.kind);
      EXPECT_EQ(change.part, row.part);
      EXPECT_EQ(change.value, row.value);
      EXPECT_EQ(change.from ? change.from->text : "", row.from);
      EXPECT_EQ(change.to ? change.to->text : "", row.to);
      EXPECT_EQ(change.every, row.every);
    }
  }
  EXPECT_EQ(at, std::size(rows));
  EXPECT_EQ(effects[1].changes[2].from_node, "H at *");
  EXPECT_EQ(effects[1].changes[2].to_node, "plus stud");
}

struct BadRow {
  std::string_view name, from, to, wanted;
};

class BadTie : public ::testing::TestWithParam<BadRow> {};

TEST_P(BadTie, IsReportedWithTheLineACaretAndAWayOut) {
  const std::vector<text::Source> files{{"k.xml", testing::changed_once(testing::circuits_text, GetParam().from, GetParam().to)}};
  const auto loaded = read_knowledge(files);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, files), GetParam().wanted);
}

const BadRow ties[] = {
    {"circuit_unknown", "circuit=\"power\" take=\"largest\"", "circuit=\"powr\" take=\"largest\"",
     R"x(k.xml:42:14: error: no file declares the circuit 'powr'
        <measure circuit="powr" take="largest"><ohms in="rest" each="segment" from="H at {@from}" to="H 
                 ^ did you mean 'power'?
)x"},
    {"circuit_missing", "circuit=\"power\" take=\"largest\"", "take=\"largest\"",
     R"x(k.xml:42:6: error: 'measure' lacks the attribute 'circuit'
        <measure take="largest"><ohms in="rest" each="segment" from="H at {@from}" to="H at {@to}"/></me
         ^ add circuit="…"
)x"},
    {"take_unknown", "take=\"largest\"", "take=\"biggest\"",
     R"x(k.xml:42:30: error: 'take' cannot be 'biggest'
        <measure circuit="power" take="biggest"><ohms in="rest" each="segment" from="H at {@from}" to="H
                                 ^ did you mean 'largest'?
)x"},
    {"doubt_below_zero", "doubt=\"0.05\"", "doubt=\"-1\"",
     R"x(k.xml:32:41: error: 'doubt' is -1, outside its range
        <measure circuit="power" take="sum" doubt="-1">
                                            ^ from 0 to 1000
)x"},
    {"condition_of_a_probe", "<volts in=\"push\"", "<volts in=\"puhs\"",
     R"x(k.xml:34:14: error: no file declares the condition 'puhs'
          <volts in="puhs" from="plus stud" to="bank minus post" weight="-1"/>
                 ^ did you mean 'push'?
)x"},
    {"condition_of_a_probe_missing", "<volts in=\"push\"", "<volts",
     R"x(k.xml:34:8: error: 'volts' lacks the attribute 'in'
          <volts from="plus stud" to="bank minus post" weight="-1"/>
           ^ add in="…"
)x"},
    {"place_unknown", "<volts in=\"push\" from=\"plus stud\"", "<volts in=\"push\" from=\"plus stut\"",
     R"x(k.xml:34:24: error: the circuit 'power' has no place 'plus stut'
          <volts in="push" from="plus stut" to="bank minus post" weight="-1"/>
                           ^ did you mean 'plus stud'?
)x"},
    {"place_missing", "to=\"bank minus post\" weight=\"-1\"", "weight=\"-1\"",
     R"x(k.xml:34:8: error: 'volts' lacks the attribute 'to'
          <volts in="push" from="plus stud" weight="-1"/>
           ^ add to="…"
)x"},
    {"part_unknown", "of=\"motor\"", "of=\"moter\"",
     R"x(k.xml:49:46: error: the circuit 'power' has no part 'moter'
        <measure circuit="power"><amps in="push" of="moter"/></measure>
                                                 ^ did you mean 'motor'?
)x"},
    {"weight_too_heavy", "weight=\"-1\"", "weight=\"-101\"",
     R"x(k.xml:34:62: error: 'weight' is -101, outside its range
          <volts in="push" from="plus stud" to="bank minus post" weight="-101"/>
                                                                 ^ from -100 to 100
)x"},
    {"each_of_a_probe_unknown", "<ohms in=\"rest\" each=\"segment\"", "<ohms in=\"rest\" each=\"segmnt\"",
     R"x(k.xml:42:61: error: the record has no element 'segmnt'
        <measure circuit="power" take="largest"><ohms in="rest" each="segmnt" from="H at {@from}" to="H 
                                                                ^ did you mean 'segment'?
)x"},
    {"places_of_a_clamp", "<amps in=\"push\" of=\"motor\"/>", "<amps in=\"push\" of=\"motor\" to=\"plus stud\"/>",
     R"x(k.xml:49:57: error: 'amps' has no attribute 'to'
        <measure circuit="power"><amps in="push" of="motor" to="plus stud"/></measure>
                                                            ^ known: in, of, weight, each
)x"},
    {"no_probe", "<amps in=\"push\" of=\"motor\"/>", "",
     R"x(k.xml:49:6: error: a measurement without a probe
        <measure circuit="power"></measure>
         ^ add <volts in="…" from="…" to="…"/>, <amps> or <ohms>
)x"},
    {"probe_unknown", "<amps in=\"push\" of=\"motor\"/>", "<amps in=\"push\" of=\"motor\"/><watts/>",
     R"x(k.xml:49:59: error: 'measure' has no element 'watts'
        <measure circuit="power"><amps in="push" of="motor"/><watts/></measure>
                                                              ^ known: volts, amps, ohms
)x"},
    {"ohms_with_amps", "<amps in=\"push\" of=\"motor\"/>",
     "<amps in=\"push\" of=\"motor\"/><ohms in=\"rest\" from=\"plus stud\" to=\"bank minus post\"/>",
     R"x(k.xml:49:6: error: ohms are not mixed with volts or amps
        <measure circuit="power"><amps in="push" of="motor"/><ohms in="rest" from="plus stud" to="bank m
         ^
)x"},
    {"measure_twice", "<amps in=\"push\" of=\"motor\"/></measure>",
     "<amps in=\"push\" of=\"motor\"/></measure><measure circuit=\"power\"><amps in=\"push\" of=\"motor\"/></measure>",
     R"x(k.xml:49:69: error: a second <measure>
        <measure circuit="power"><amps in="push" of="motor"/></measure><measure circuit="power"><amps in
                                                                        ^ keep one
)x"},
    {"measure_of_a_symptom", "<state id=\"weak\">weak</state>",
     "<state id=\"weak\">weak</state><measure circuit=\"power\"><amps in=\"push\" of=\"motor\"/></measure>",
     R"x(k.xml:51:116: error: only a reading is tied to a circuit
    itle><ask>Push?</ask><state id="full">full</state><state id="weak">weak</state><measure circuit="pow
                                                                                    ^ write <band> for a reading
)x"},
    {"effect_on_no_circuit", "<effect circuit=\"power\" share=\"0.9\">", "<effect circuit=\"pwr\" share=\"0.9\">",
     R"x(k.xml:66:13: error: no file declares the circuit 'pwr'
        <effect circuit="pwr" share="0.9"><words>adds a few milliohm</words>
                ^
)x"},
    {"effect_without_words", "<words>bridged or gone</words>", "",
     R"x(k.xml:70:6: error: 'effect' lacks <words>
        <effect circuit="power" share="0.1" when="bank/@kind = 'gel'">
         ^ add <words>…</words>
)x"},
    {"effect_without_change",
     "      <add part=\"run\" of=\"ohm\" from=\"0.0008\" to=\"0.02\"/>\n      <times part=\"H-*\" every=\"yes\" of=\"ohm\" from=\"2\"/>\n", "",
     R"x(k.xml:66:6: error: an effect that changes nothing
        <effect circuit="power" share="0.9"><words>adds a few milliohm</words>
         ^ add <add>, <times>, <set>, <open> or <join>
)x"},
    {"effect_with_unknown_change", "<open part=\"output\"/>", "<opens part=\"output\"/>",
     R"x(k.xml:72:8: error: 'effect' has no element 'opens'
          <opens part="output"/>
           ^ did you mean 'open'?
)x"},
    {"share_of_nothing", "share=\"0.9\"", "share=\"0\"",
     R"x(k.xml:66:29: error: 'share' is 0, outside its range
        <effect circuit="power" share="0"><words>adds a few milliohm</words>
                                ^ from 0.001 to 1000
)x"},
    {"when_of_an_effect", "when=\"bank/@kind = 'gel'\"", "when=\"bank/@kind\"",
     R"x(k.xml:70:47: error: must be true or false, this is a text
        <effect circuit="power" share="0.1" when="bank/@kind"><words>bridged or gone</words>
                                                  ^
)x"},
    {"part_of_a_change_unknown", "<add part=\"run\"", "<add part=\"runn\"",
     R"x(k.xml:67:12: error: the circuit 'power' has no part 'runn'
          <add part="runn" of="ohm" from="0.0008" to="0.02"/>
               ^ did you mean 'run'?
)x"},
    {"part_of_a_change_missing", "<add part=\"run\"", "<add",
     R"x(k.xml:67:8: error: 'add' lacks the attribute 'part'
          <add of="ohm" from="0.0008" to="0.02"/>
           ^ add part="…"
)x"},
    {"star_fits_nothing", "part=\"H-*\"", "part=\"L-*\"",
     R"x(k.xml:68:14: error: the circuit 'power' has no part 'L-*'
          <times part="L-*" every="yes" of="ohm" from="2"/>
                 ^ known: bank, run, motor, input, output, float, drive, H-{@from}-{@to}
)x"},
    {"of_unknown", "<add part=\"run\" of=\"ohm\"", "<add part=\"run\" of=\"ohms\"",
     R"x(k.xml:67:23: error: 'of' cannot be 'ohms'
          <add part="run" of="ohms" from="0.0008" to="0.02"/>
                          ^ did you mean 'ohm'?
)x"},
    {"of_missing", "<add part=\"run\" of=\"ohm\"", "<add part=\"run\"",
     R"x(k.xml:67:8: error: 'add' lacks the attribute 'of'
          <add part="run" from="0.0008" to="0.02"/>
           ^ add of="…"
)x"},
    {"from_missing", "from=\"0.0008\" to=\"0.02\"", "to=\"0.02\"",
     R"x(k.xml:67:8: error: 'add' lacks the attribute 'from'
          <add part="run" of="ohm" to="0.02"/>
           ^ add from="…"
)x"},
    {"from_faulty", "from=\"0.0008\"", "from=\"0,0008\"",
     R"x(k.xml:67:39: error: ',' is not expected here
          <add part="run" of="ohm" from="0,0008" to="0.02"/>
                                          ^ write a point as decimal mark
)x"},
    {"to_that_is_a_condition", "to=\"0.02\"", "to=\"bank/@volts = 24\"",
     R"x(k.xml:67:50: error: must be a number, this is true or false
          <add part="run" of="ohm" from="0.0008" to="bank/@volts = 24"/>
                                                     ^
)x"},
    {"every_unclear", "every=\"yes\"", "every=\"all\"",
     R"x(k.xml:68:25: error: 'every' cannot be 'all'
          <times part="H-*" every="all" of="ohm" from="2"/>
                            ^ known: yes, no
)x"},
    {"open_with_a_number", "<open part=\"output\"/>", "<open part=\"output\" from=\"1\"/>",
     R"x(k.xml:72:27: error: 'open' has no attribute 'from'
          <open part="output" from="1"/>
                              ^ known: part, every
)x"},
    {"join_without_an_end", "<join from-place=\"H at *\" to-place=\"plus stud\"", "<join from-place=\"H at *\"",
     R"x(k.xml:73:8: error: 'join' lacks the attribute 'to-place'
          <join from-place="H at *" from="0.1" to="5"/>
           ^ add to-place="…"
)x"},
    {"join_with_a_part", "<join from-place", "<join part=\"run\" from-place",
     R"x(k.xml:73:13: error: 'join' has no attribute 'part'
          <join part="run" from-place="H at *" to-place="plus stud" from="0.1" to="5"/>
                ^ known: from-place, to-place, from, to
)x"},
    {"join_to_no_place", "to-place=\"plus stud\"", "to-place=\"plus stut\"",
     R"x(k.xml:73:33: error: the circuit 'power' has no place 'plus stut'
          <join from-place="H at *" to-place="plus stut" from="0.1" to="5"/>
                                    ^ did you mean 'plus stud'?
)x"},
    {"join_from_no_place", "from-place=\"H at *\"", "from-place=\"L at *\"",
     R"x(k.xml:73:13: error: the circuit 'power' has no place 'L at *'
          <join from-place="L at *" to-place="plus stud" from="0.1" to="5"/>
                ^ known: bank plus post, bank minus post, plus stud, H at {@from}, H at {@to}
)x"},
};

INSTANTIATE_TEST_SUITE_P(Ties, BadTie, ::testing::ValuesIn(ties), [](const auto& row) { return std::string(row.param.name); });

}  // namespace
}  // namespace leadline::knowledge
