// Chances, numbers, units, limits and bands of the knowledge files.
// One variation of the small base in each row, and the whole message it gives. Readers of knowledge_base.h: engine/knowledge/read_*.cpp.
#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::knowledge {
namespace {

struct BadRow {
  std::string_view name, from, to, wanted;
};

class BadNumber : public ::testing::TestWithParam<BadRow> {};

TEST_P(BadNumber, IsReportedWithTheLineACaretAndAWayOut) {
  const std::vector<text::Source> files{{"k.xml", testing::minimal_with(GetParam().from, GetParam().to)}};
  const auto loaded = read_knowledge(files);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, files), GetParam().wanted);
}

const BadRow variations[] = {
    {"chance_nan", "chance=\"usually\"", "chance=\"nan\"",
     R"(k.xml:62:40: error: 'nan' is no chance
        <shows finding="push" state="weak" chance="nan"/>
                                           ^ known: always, nearly-always, usually, often, sometimes, seldom, hardly-ever
)"},
    {"chance_too_large_for_a_number", "chance=\"usually\"", "chance=\"1e400\"",
     R"(k.xml:62:40: error: '1e400' is no chance
        <shows finding="push" state="weak" chance="1e400"/>
                                           ^ write a plain decimal number, for instance 0.5
)"},
    {"chance_with_comma", "chance=\"usually\"", "chance=\"0,5\"",
     R"(k.xml:62:40: error: '0,5' is no chance
        <shows finding="push" state="weak" chance="0,5"/>
                                           ^ write a point as decimal mark: 0.5
)"},
    {"chance_negative", "chance=\"usually\"", "chance=\"-0.1\"",
     R"(k.xml:62:40: error: '-0.1' is no chance
        <shows finding="push" state="weak" chance="-0.1"/>
                                           ^ a number above 0 and at most 1, or a word of the scale
)"},
    {"chance_with_letters", "chance=\"usually\"", "chance=\"0.5abc\"",
     R"(k.xml:62:40: error: '0.5abc' is no chance
        <shows finding="push" state="weak" chance="0.5abc"/>
                                           ^ write a plain decimal number, for instance 0.5
)"},
    {"chance_above_one", "chance=\"usually\"", "chance=\"1.2\"",
     R"(k.xml:62:40: error: '1.2' is no chance
        <shows finding="push" state="weak" chance="1.2"/>
                                           ^ a number above 0 and at most 1, or a word of the scale
)"},
    {"chance_zero", "chance=\"usually\"", "chance=\"0\"",
     R"(k.xml:62:40: error: '0' is no chance
        <shows finding="push" state="weak" chance="0"/>
                                           ^ a number above 0 and at most 1, or a word of the scale
)"},
    {"chance_misspelt", "chance=\"usually\"", "chance=\"usualy\"",
     R"(k.xml:62:40: error: 'usualy' is no chance
        <shows finding="push" state="weak" chance="usualy"/>
                                           ^ did you mean 'usually'?
)"},
    {"chance_missing", " chance=\"usually\"", "",
     R"(k.xml:62:6: error: 'shows' lacks the attribute 'chance'
        <shows finding="push" state="weak"/>
         ^ add chance="…"
)"},
    {"per_thousand_nan", "per-1000=\"60\"", "per-1000=\"nan\"",
     R"(k.xml:57:37: error: 'nan' is not a number
      <cause id="bank-flat" item="bank" per-1000="nan">
                                        ^ write a plain decimal number, for instance 0.5
)"},
    {"per_thousand_too_large_for_a_number", "per-1000=\"60\"", "per-1000=\"1e400\"",
     R"(k.xml:57:37: error: '1e400' is not a number
      <cause id="bank-flat" item="bank" per-1000="1e400">
                                        ^ write a plain decimal number, for instance 0.5
)"},
    {"per_thousand_with_comma", "per-1000=\"60\"", "per-1000=\"0,5\"",
     R"(k.xml:57:37: error: '0,5' is not a number
      <cause id="bank-flat" item="bank" per-1000="0,5">
                                        ^ write a point as decimal mark: 0.5
)"},
    {"per_thousand_negative", "per-1000=\"60\"", "per-1000=\"-0.1\"",
     R"(k.xml:57:37: error: 'per-1000' is -0.1, outside its range
      <cause id="bank-flat" item="bank" per-1000="-0.1">
                                        ^ from 0.001 to 500
)"},
    {"per_thousand_with_letters", "per-1000=\"60\"", "per-1000=\"0.5abc\"",
     R"(k.xml:57:37: error: '0.5abc' is not a number
      <cause id="bank-flat" item="bank" per-1000="0.5abc">
                                        ^ write a plain decimal number, for instance 0.5
)"},
    {"minutes_missing", " minutes=\"4\"", "",
     R"(k.xml:40:4: error: 'check' lacks the attribute 'minutes'
      <check id="measure-bank" who="technician" place="battery box">
       ^ add minutes="…"
)"},
    {"unit_missing", " unit=\"V\" dominance", " dominance",
     R"(k.xml:26:4: error: 'finding' lacks the attribute 'unit'
      <finding id="bank-volts-rest" dominance="normal low flat">
       ^ add unit="…"
)"},
    {"unit_unknown", "unit=\"V\" dominance", "unit=\"volt\" dominance",
     R"(k.xml:26:33: error: 'volt' is no unit
      <finding id="bank-volts-rest" unit="volt" dominance="normal low flat">
                                    ^ known: V, A, ohm, Mohm, degC, min, m, mm2, percent, Ah
)"},
    {"unit_at_a_symptom", "<finding id=\"push\"", "<finding id=\"push\" unit=\"V\"",
     R"(k.xml:17:4: error: a symptom has neither 'unit' nor 'dominance'
      <finding id="push" unit="V" complaint="yes">
       ^ write <band> for a reading
)"},
    {"band_without_limit", "<band id=\"low\" below=\"$bank_volts * 1.02\"", "<band id=\"low\"",
     R"(k.xml:30:6: error: this band has no upper limit
        <band id="low" leak="0.02">low</band>
         ^ add below="…"; only the last band has none
)"},
    {"last_band_with_limit", "<band id=\"normal\">", "<band id=\"normal\" below=\"99\">",
     R"(k.xml:31:23: error: the last band has an upper limit
        <band id="normal" below="99">as expected</band>
                          ^ remove 'below', or add a band above
)"},
    {"limit_that_is_no_number", "below=\"$low_volts\"", "below=\"$low_volts &gt; 2\"",
     R"(k.xml:29:28: error: must be a number, this is true or false
        <band id="flat" below="$low_volts &gt; 2" leak="0.01">flat</band>
                               ^
)"},
    {"dominance_names_no_band", "dominance=\"normal low flat\"", "dominance=\"normal low flet\"",
     R"(k.xml:26:42: error: 'flet' is no band of this finding
      <finding id="bank-volts-rest" unit="V" dominance="normal low flet">
                                             ^ did you mean 'flat'?
)"},
    {"dominance_names_too_few", "dominance=\"normal low flat\"", "dominance=\"normal low\"",
     R"(k.xml:26:42: error: 'dominance' must name every band once
      <finding id="bank-volts-rest" unit="V" dominance="normal low">
                                             ^ the normal one first, the strongest last
)"},
    {"dominance_names_one_twice", "dominance=\"normal low flat\"", "dominance=\"normal low low\"",
     R"(k.xml:26:42: error: 'dominance' must name every band once
      <finding id="bank-volts-rest" unit="V" dominance="normal low low">
                                             ^ the normal one first, the strongest last
)"},
    {"dominance_missing", " dominance=\"normal low flat\"", "",
     R"(k.xml:26:4: error: 'finding' lacks the attribute 'dominance'
      <finding id="bank-volts-rest" unit="V">
       ^ add dominance="…"
)"},
    {"states_and_bands", "<band id=\"normal\">", "<state id=\"odd\">odd</state>\n    <band id=\"normal\">",
     R"(k.xml:29:6: error: a finding has states or bands, not both
        <band id="flat" below="$low_volts" leak="0.01">flat</band>
         ^
)"},
    {"one_state_only", "    <state id=\"weak\" leak=\"0.02\">weak push</state>\n    <state id=\"none\" leak=\"0.01\">no push at all</state>\n", "",
     R"(k.xml:17:4: error: a finding needs at least two states
      <finding id="push" complaint="yes">
       ^ the normal one first
k.xml:60:27: error: the finding 'push' has no state 'weak'
        <shows finding="push" state="weak" chance="usually"/>
                              ^ known: full
k.xml:61:27: error: the finding 'push' has no state 'none'
        <shows finding="push" state="none" chance="seldom"/>
                              ^ known: full
k.xml:71:27: error: the finding 'push' has no state 'none'
        <shows finding="push" state="none" chance="always" when="count(station) = 1"/>
                              ^ known: full
)"},
    {"leak_too_big", "leak=\"0.02\">weak", "leak=\"0.6\">weak",
     R"(k.xml:23:22: error: '0.6' is not a leak
        <state id="weak" leak="0.6">weak push</state>
                         ^ a chance above 0 and at most 0.5
)"},
    {"leak_zero", "leak=\"0.02\">weak", "leak=\"0\">weak",
     R"(k.xml:23:22: error: '0' is not a leak
        <state id="weak" leak="0">weak push</state>
                         ^ a chance above 0 and at most 0.5
)"},
    {"leaks_leave_too_little", "leak=\"0.02\">weak push</state>\n    <state id=\"none\" leak=\"0.01\">", "leak=\"0.5\">weak push</state>\n    <state id=\"none\" leak=\"0.45\">",
     R"(k.xml:17:4: error: the leaks of this finding leave too little for its normal state
      <finding id="push" complaint="yes">
       ^ their sum must stay below 0.9
)"},
    {"complaint_without_lay", "    <lay>What happens when you move the lever?</lay>\n", "",
     R"(k.xml:17:4: error: 'finding' lacks <lay>
      <finding id="push" complaint="yes">
       ^ add <lay>…</lay>
)"},
};

INSTANTIATE_TEST_SUITE_P(Variations, BadNumber, ::testing::ValuesIn(variations), [](const auto& row) { return std::string(row.param.name); });

}  // namespace
}  // namespace leadline::knowledge
