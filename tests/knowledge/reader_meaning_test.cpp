// What a finding, a check, a remedy, a cause and a fact must have; unknown elements; faulty conditions.
// One variation of the small base in each row, and the whole message it gives. Readers of knowledge_base.h: engine/knowledge/read_*.cpp.
#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::knowledge {
namespace {

struct BadRow {
  std::string_view name, from, to, wanted;
};

class BadMeaning : public ::testing::TestWithParam<BadRow> {};

TEST_P(BadMeaning, IsReportedWithTheLineACaretAndAWayOut) {
  const std::vector<text::Source> files{{"k.xml", testing::minimal_with(GetParam().from, GetParam().to)}};
  const auto loaded = read_knowledge(files);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, files), GetParam().wanted);
}

const BadRow variations[] = {
    {"finding_without_check", "<observes finding=\"bank-volts-rest\"/>", "<observes finding=\"push\"/>",
     R"(k.xml:26:4: error: no check observes the finding 'bank-volts-rest'
      <finding id="bank-volts-rest" unit="V" dominance="normal low flat">
       ^ add a <check> that does
)"},
    {"complaint_without_owner_check", "minutes=\"1\" who=\"owner\"", "minutes=\"1\" who=\"technician\"",
     R"(k.xml:17:4: error: no check by the owner observes the complaint 'push'
      <finding id="push" complaint="yes">
       ^ add a <check who="owner">
)"},
    {"who_unknown", "minutes=\"1\" who=\"owner\"", "minutes=\"1\" who=\"skipper\"",
     R"(k.xml:17:4: error: no check by the owner observes the complaint 'push'
      <finding id="push" complaint="yes">
       ^ add a <check who="owner">
k.xml:33:36: error: 'who' cannot be 'skipper'
      <check id="try-push" minutes="1" who="skipper" place="helm">
                                       ^ known: owner, technician, specialist
)"},
    {"complaint_yes_or_no", "complaint=\"yes\"", "complaint=\"true\"",
     R"(k.xml:17:22: error: 'complaint' cannot be 'true'
      <finding id="push" complaint="true">
                         ^ known: yes, no, sign
)"},
    {"unknown_attribute", "<cause id=\"bank-flat\" item=\"bank\" per-1000=\"60\">", "<cause id=\"bank-flat\" item=\"bank\" per-1000=\"60\" aplies=\"1 = 1\">",
     R"(k.xml:57:51: error: 'cause' has no attribute 'aplies'
      <cause id="bank-flat" item="bank" per-1000="60" aplies="1 = 1">
                                                      ^ did you mean 'applies'?
)"},
    {"unknown_element", "<why>Overload.</why>", "<why>Overload.</why>\n    <becuase>Age.</becuase>",
     R"(k.xml:73:6: error: 'cause' has no element 'becuase'
        <becuase>Age.</becuase>
         ^ known: title, what, why, adjust, shows, effect, confused-with, remedy, source
)"},
    {"unknown_element_in_root", "  <unlisted", "  <symptom id=\"x\"/>\n  <unlisted",
     R"(k.xml:77:4: error: 'knowledge' has no element 'symptom'
      <symptom id="x"/>
       ^ known: source, precaution, finding, check, remedy, cause, element, quantity, circuit, place, condition, tool, giving-up, by-phone, spoken, unlisted, numbers
)"},
    {"element_in_text", "<why>Overload.</why>", "<why>Over<b>load</b>.</why>",
     R"(k.xml:72:15: error: 'why' holds plain text only
        <why>Over<b>load</b>.</why>
                  ^ remove this element
)"},
    {"stray_text", "<why>Overload.</why>", "<why>Overload.</why> stray",
     R"(k.xml:72:25: error: text stands directly in 'cause'
        <why>Overload.</why> stray
                            ^ put it into an element
)"},
    {"second_rule_for_one_state", "<shows finding=\"push\" state=\"none\" chance=\"seldom\"/>", "<shows finding=\"push\" state=\"weak\" chance=\"seldom\"/>",
     R"(k.xml:63:6: error: a second rule for 'push' in state 'weak'
        <shows finding="push" state="weak" chance="seldom"/>
         ^ first at k.xml:62:6
)"},
    {"chances_over_one", "<shows finding=\"push\" state=\"none\" chance=\"seldom\"/>", "<shows finding=\"push\" state=\"none\" chance=\"often\"/>",
     R"(k.xml:63:6: error: the chances of 'push' under this cause add up to 1.4
        <shows finding="push" state="none" chance="often"/>
         ^ they must not exceed 1
)"},
    {"faulty_condition", "when=\"count(station) = 1\"", "when=\"count(staton) = 1\"",
     R"(k.xml:73:68: error: the record has no element 'staton'
        <shows finding="push" state="none" chance="always" when="count(staton) = 1"/>
                                                                       ^ did you mean 'station'?
)"},
    {"faulty_condition_behind_entities", "when=\"bank/@age &gt; 8\"", "when=\"bank/@age &gt; 8 and &apos;x&apos;\"",
     R"(k.xml:61:40: error: 'and' needs true or false, this is a text
        <adjust when="bank/@age &gt; 8 and &apos;x&apos;" times="2"/>
                                           ^
)"},
    {"condition_that_is_a_number", "applies=\"bank/@volts != 48\"", "applies=\"bank/@volts\"",
     R"(k.xml:69:66: error: must be true or false, this is a number
      <cause id="fuse-blown" item="main fuse" per-1000="20" applies="bank/@volts">
                                                                     ^
)"},
    {"adjust_without_when", "<adjust when=\"bank/@age &gt; 8\" times=\"2\"/>", "<adjust times=\"2\"/>",
     R"(k.xml:61:6: error: 'adjust' lacks the attribute 'when'
        <adjust times="2"/>
         ^ add when="…"
)"},
    {"adjust_beyond_its_range", "times=\"2\"", "times=\"2000\"",
     R"(k.xml:61:37: error: 'times' is 2000, outside its range
        <adjust when="bank/@age &gt; 8" times="2000"/>
                                        ^ from 0 to 1000
)"},
    {"title_missing", "    <title>Main fuse blown</title>\n", "",
     R"(k.xml:69:4: error: 'cause' lacks <title>
      <cause id="fuse-blown" item="main fuse" per-1000="20" applies="bank/@volts != 48">
       ^ add <title>…</title>
)"},
    {"title_twice", "<title>Main fuse blown</title>", "<title>Main fuse blown</title><title>Fuse</title>",
     R"(k.xml:70:36: error: a second <title>
        <title>Main fuse blown</title><title>Fuse</title>
                                       ^ keep one
)"},
    {"why_empty", "<why>Overload.</why>", "<why> </why>",
     R"(k.xml:72:6: error: 'why' is empty
        <why> </why>
         ^
)"},
    {"cause_without_rule", "    <shows finding=\"push\" state=\"none\" chance=\"always\" when=\"count(station) = 1\"/>\n", "",
     R"(k.xml:69:4: error: 'fuse-blown' shows nothing
      <cause id="fuse-blown" item="main fuse" per-1000="20" applies="bank/@volts != 48">
       ^ add <shows finding="…"/>
)"},
    {"cause_without_remedy", "    <remedy ref=\"renew-fuse\"/>\n", "",
     R"(k.xml:69:4: error: 'fuse-blown' has no <remedy>
      <cause id="fuse-blown" item="main fuse" per-1000="20" applies="bank/@volts != 48">
       ^
)"},
    {"cause_without_source", "    <remedy ref=\"renew-fuse\"/>\n    <source ref=\"common-practice\"/>\n", "    <remedy ref=\"renew-fuse\"/>\n",
     R"(k.xml:69:4: error: 'fuse-blown' has no <source>
      <cause id="fuse-blown" item="main fuse" per-1000="20" applies="bank/@volts != 48">
       ^ at least <source ref="estimate"/>
)"},
    {"check_without_step", "    <step>Move the lever.</step>\n", "",
     R"(k.xml:33:4: error: 'try-push' has no <step>
      <check id="try-push" minutes="1" who="owner" place="helm">
       ^ say what to do
)"},
    {"remedy_without_proof", "    <proof check=\"try-push\">full push</proof>\n", "",
     R"(k.xml:51:4: error: 'renew-fuse' has no <proof>
      <remedy id="renew-fuse" minutes="15" who="technician">
       ^ say which check proves it
)"},
    {"source_kind_unknown", "kind=\"common-practice\"", "kind=\"hearsay\"",
     R"(k.xml:2:32: error: 'kind' cannot be 'hearsay'
      <source id="common-practice" kind="hearsay"><title>common practice, no source</title></source>
                                   ^ known: standard, regulation, handbook, paper, common-practice, estimate
)"},
    {"fact_type_unknown", "name=\"label\" type=\"text\"", "name=\"label\" type=\"string\"",
     R"(k.xml:9:6: error: a choice without choices
        <fact name="label" type="string" assume="bank"/>
         ^ add <choice id="…">
k.xml:9:24: error: 'type' cannot be 'string'
        <fact name="label" type="string" assume="bank"/>
                           ^ known: number, choice, yes-no, text
)"},
    {"fact_assumed_outside_its_choices", "assume=\"agm\"", "assume=\"gel\"",
     R"(k.xml:6:37: error: 'gel' is none of the choices
        <fact name="kind" type="choice" assume="gel"><ask>Kind of battery?</ask><choice id="agm">AGM</ch
                                        ^ known: agm, lithium
)"},
    {"fact_assumed_no_number", "least=\"1\" most=\"4\" assume=\"1\"", "least=\"1\" most=\"4\" assume=\"one\"",
     R"(k.xml:8:59: error: 'one' is not a number
        <fact name="strings" type="number" least="1" most="4" assume="one"/>
                                                              ^ write a plain decimal number, for instance 0.5
)"},
    {"fact_assumed_beyond_its_range", "least=\"1\" most=\"4\" assume=\"1\"", "least=\"1\" most=\"4\" assume=\"7\"",
     R"(k.xml:8:59: error: 'assume' is above 'most'
        <fact name="strings" type="number" least="1" most="4" assume="7"/>
                                                              ^
)"},
    {"choices_that_are_no_numbers", "choices=\"12 24 48\"", "choices=\"12 24 4B\"",
     R"(k.xml:5:47: error: '4B' is not a number
        <fact name="volts" type="number" unit="V" choices="12 24 4B" assume="24" intake="first" drawn="y
                                                  ^ write a plain decimal number, for instance 0.5
)"},
    {"assumed_where_it_is_no_choice", "<choice id=\"lithium\">lithium</choice>", "<choice id=\"lithium\">lithium</choice><assume value=\"lithum\" where=\"bank/@volts = 48\"/>",
     R"(k.xml:6:151: error: 'lithum' is none of the choices
    </ask><choice id="agm">AGM</choice><choice id="lithium">lithium</choice><assume value="lithum" where
                                                                                    ^ did you mean 'lithium'?
)"},
    {"assumed_by_a_fact_that_comes_later", "<choice id=\"lithium\">lithium</choice>", "<choice id=\"lithium\">lithium</choice><assume value=\"lithium\" where=\"bank/@age = 1\"/>",
     R"(k.xml:6:180: error: 'bank' has no fact 'age'
    hoice><choice id="lithium">lithium</choice><assume value="lithium" where="bank/@age = 1"/></fact>
                                                                                    ^ known: volts
)"},
    {"choice_by_no_fact", "<choice id=\"lithium\">", "<choice id=\"lithium\" where=\"bank/@vlts = 48\">", R"(k.xml:6:140: error: 'bank' has no fact 'vlts'
    of battery?</ask><choice id="agm">AGM</choice><choice id="lithium" where="bank/@vlts = 48">lithium</
                                                                                    ^ did you mean 'volts'?
)"},
    {"usual_choice_of_some_boats_only", "<choice id=\"agm\">", "<choice id=\"agm\" where=\"bank/@volts = 12\">", R"(k.xml:6:37: error: 'agm' is not possible on every boat
        <fact name="kind" type="choice" assume="agm"><ask>Kind of battery?</ask><choice id="agm" where="
                                        ^ assume a choice without 'where', and this one in an <assume value="…" where="…"/>
)"},
    {"intake_no_such_time", "intake=\"first\"", "intake=\"yes\"", R"(k.xml:5:78: error: 'intake' cannot be 'yes'
        <fact name="volts" type="number" unit="V" choices="12 24 48" assume="24" intake="yes" drawn="yes
                                                                                 ^ known: first, when-needed
)"},
    {"intake_without_question", "<ask>Nominal volts?</ask>", "",
     R"(k.xml:5:6: error: 'fact' lacks <ask>
        <fact name="volts" type="number" unit="V" choices="12 24 48" assume="24" intake="first" drawn="y
         ^ add <ask>…</ask>
)"},
    {"unlisted_twice", "  <unlisted per", "  <unlisted per-1000=\"30\" chance=\"0.02\" together=\"0.12\"/>\n  <unlisted per",
     R"(k.xml:78:4: error: the unlisted cause is given twice
      <unlisted per-1000="30" chance="0.02" together="0.12"/>
       ^ keep one
)"},
    {"unlisted_chance_zero", "chance=\"0.02\"", "chance=\"0\"",
     R"(k.xml:77:27: error: 'chance' is 0, outside its range
      <unlisted per-1000="30" chance="0" together="0.12"/>
                              ^ from 0.01 to 0.95
)"},
    {"subsystem_missing", "<knowledge subsystem=\"trial\">", "<knowledge>",
     R"(k.xml:1:2: error: 'knowledge' lacks the attribute 'subsystem'
    <knowledge><numbers frequency="common-practice rough" strength="common-practice rough" effect="commo
     ^ add subsystem="…"
)"},
};

INSTANTIATE_TEST_SUITE_P(Variations, BadMeaning, ::testing::ValuesIn(variations), [](const auto& row) { return std::string(row.param.name); });

}  // namespace
}  // namespace leadline::knowledge
