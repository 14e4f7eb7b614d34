// Ids and references: what is declared twice, what is named and not there, what goes round in a circle.
// One variation of the small base in each row, and the whole message it gives. Readers of knowledge_base.h: engine/knowledge/read_*.cpp.
#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::knowledge {
namespace {

struct BadRow {
  std::string_view name, from, to, wanted;
};

class BadIdentity : public ::testing::TestWithParam<BadRow> {};

TEST_P(BadIdentity, IsReportedWithTheLineACaretAndAWayOut) {
  const std::vector<text::Source> files{{"k.xml", testing::minimal_with(GetParam().from, GetParam().to)}};
  const auto loaded = read_knowledge(files);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, files), GetParam().wanted);
}

const BadRow variations[] = {
    {"duplicate_cause", "<cause id=\"fuse-blown\"", "<cause id=\"bank-flat\"",
     R"(k.xml:65:20: error: no file declares the cause 'fuse-blown'
        <confused-with ref="fuse-blown">no push either</confused-with>
                       ^
k.xml:69:10: error: the cause 'bank-flat' is declared twice
      <cause id="bank-flat" item="main fuse" per-1000="20" applies="bank/@volts != 48">
             ^ first at k.xml:57:4
)"},
    {"duplicate_finding", "<finding id=\"bank-volts-rest\"", "<finding id=\"push\"",
     R"(k.xml:26:12: error: the finding 'push' is declared twice
      <finding id="push" unit="V" dominance="normal low flat">
               ^ first at k.xml:17:4
k.xml:44:15: error: no file declares the finding 'bank-volts-rest'
        <observes finding="bank-volts-rest"/>
                  ^
k.xml:64:12: error: no file declares the finding 'bank-volts-rest'
        <shows finding="bank-volts-rest" state="flat" chance="nearly-always"/>
               ^
)"},
    {"duplicate_check", "<check id=\"measure-bank\"", "<check id=\"try-push\"",
     R"(k.xml:26:4: error: no check observes the finding 'bank-volts-rest'
      <finding id="bank-volts-rest" unit="V" dominance="normal low flat">
       ^ add a <check> that does
k.xml:40:10: error: the check 'try-push' is declared twice
      <check id="try-push" minutes="4" who="technician" place="battery box">
             ^ first at k.xml:33:4
k.xml:49:12: error: no file declares the check 'measure-bank'
        <proof check="measure-bank">about $25.5 on 24 V</proof>
               ^
)"},
    {"duplicate_remedy", "<remedy id=\"renew-fuse\"", "<remedy id=\"charge-bank\"",
     R"(k.xml:51:11: error: the remedy 'charge-bank' is declared twice
      <remedy id="charge-bank" minutes="15" who="technician">
              ^ first at k.xml:46:4
k.xml:74:13: error: no file declares the remedy 'renew-fuse'
        <remedy ref="renew-fuse"/>
                ^
)"},
    {"duplicate_precaution", "  <element path=\"bank\">", "  <precaution id=\"make-fast\"><title>Again</title><do>Again.</do></precaution>\n  <element path=\"bank\">",
     R"(k.xml:4:15: error: the precaution 'make-fast' is declared twice
      <precaution id="make-fast"><title>Again</title><do>Again.</do></precaution>
                  ^ first at k.xml:3:4
)"},
    {"duplicate_source", "  <element path=\"bank\">", "  <source id=\"common-practice\" kind=\"estimate\"><title>Again</title></source>\n  <element path=\"bank\">",
     R"(k.xml:4:11: error: the source 'common-practice' is declared twice
      <source id="common-practice" kind="estimate"><title>Again</title></source>
              ^ first at k.xml:2:4
)"},
    {"duplicate_element", "<element path=\"station\" repeats=\"yes\">", "<element path=\"bank\">",
     R"(k.xml:11:12: error: the element 'bank' is declared twice
      <element path="bank">
               ^
k.xml:73:68: error: the record has no element 'station'
        <shows finding="push" state="none" chance="always" when="count(station) = 1"/>
                                                                       ^ known: bank, bank
)"},
    {"duplicate_fact", "<fact name=\"strings\"", "<fact name=\"age\"",
     R"(k.xml:8:11: error: the fact 'bank/@age' is declared twice
        <fact name="age" type="number" least="1" most="4" assume="1"/>
              ^
)"},
    {"duplicate_quantity", "<quantity name=\"low_volts\"", "<quantity name=\"bank_volts\"",
     R"(k.xml:16:13: error: the quantity '$bank_volts' is declared twice
      <quantity name="bank_volts" unit="V" value="$bank_volts * 0.95"/>
                ^
k.xml:29:28: error: no quantity '$low_volts' is declared
        <band id="flat" below="$low_volts" leak="0.01">flat</band>
                               ^ known: $bank_volts, $bank_volts
)"},
    {"duplicate_state", "<state id=\"none\"", "<state id=\"weak\"",
     R"(k.xml:24:12: error: the state 'weak' is given twice
        <state id="weak" leak="0.01">no push at all</state>
               ^
k.xml:63:27: error: the finding 'push' has no state 'none'
        <shows finding="push" state="none" chance="seldom"/>
                              ^ known: full, weak, weak
k.xml:73:27: error: the finding 'push' has no state 'none'
        <shows finding="push" state="none" chance="always" when="count(station) = 1"/>
                              ^ known: full, weak, weak
)"},
    {"duplicate_choice", "<choice id=\"lithium\">", "<choice id=\"agm\">",
     R"(k.xml:6:114: error: the choice 'agm' is given twice
    e" assume="agm"><ask>Kind of battery?</ask><choice id="agm">AGM</choice><choice id="agm">lithium</ch
                                                                                    ^
)"},
    {"id_in_capitals", "<cause id=\"fuse-blown\"", "<cause id=\"Fuse blown\"",
     R"(k.xml:65:20: error: no file declares the cause 'fuse-blown'
        <confused-with ref="fuse-blown">no push either</confused-with>
                       ^ did you mean 'Fuse blown'?
k.xml:69:10: error: 'Fuse blown' is no id
      <cause id="Fuse blown" item="main fuse" per-1000="20" applies="bank/@volts != 48">
             ^ lower-case letters, digits and hyphens
)"},
    {"id_missing", "<check id=\"try-push\"", "<check",
     R"(k.xml:17:4: error: no check observes the finding 'push'
      <finding id="push" complaint="yes">
       ^ add a <check> that does
k.xml:33:4: error: 'check' lacks the attribute 'id'
      <check minutes="1" who="owner" place="helm">
       ^ add id="…"
k.xml:55:12: error: no file declares the check 'try-push'
        <proof check="try-push">full push</proof>
               ^
)"},
    {"rule_names_no_finding", "<shows finding=\"bank-volts-rest\"", "<shows finding=\"bank-volts-resd\"",
     R"(k.xml:64:12: error: no file declares the finding 'bank-volts-resd'
        <shows finding="bank-volts-resd" state="flat" chance="nearly-always"/>
               ^ did you mean 'bank-volts-rest'?
)"},
    {"rule_names_no_state", "state=\"flat\" chance=\"nearly-always\"", "state=\"flet\" chance=\"nearly-always\"",
     R"(k.xml:64:38: error: the finding 'bank-volts-rest' has no state 'flet'
        <shows finding="bank-volts-rest" state="flet" chance="nearly-always"/>
                                         ^ did you mean 'flat'?
)"},
    {"rule_names_the_normal_state", "state=\"flat\" chance=\"nearly-always\"", "state=\"normal\" chance=\"nearly-always\"",
     R"(k.xml:64:38: error: 'normal' is the normal state of 'bank-volts-rest'
        <shows finding="bank-volts-rest" state="normal" chance="nearly-always"/>
                                         ^ leave the rule out: no rule means no push
)"},
    {"check_observes_no_finding", "<observes finding=\"bank-volts-rest\"/>", "<observes finding=\"bank-volts-rest\"/>\n    <observes finding=\"smell\"/>",
     R"(k.xml:45:15: error: no file declares the finding 'smell'
        <observes finding="smell"/>
                  ^
)"},
    {"precaution_that_is_not_there", "<precaution ref=\"make-fast\"/>", "<precaution ref=\"make-fest\"/>",
     R"(k.xml:35:17: error: no file declares the precaution 'make-fest'
        <precaution ref="make-fest"/>
                    ^ did you mean 'make-fast'?
)"},
    {"source_that_is_not_there", "<observes finding=\"push\"/>\n    <source ref=\"common-practice\"/>", "<observes finding=\"push\"/>\n    <source ref=\"common-practise\"/>",
     R"(k.xml:38:13: error: no file declares the source 'common-practise'
        <source ref="common-practise"/>
                ^ did you mean 'common-practice'?
)"},
    {"remedy_that_is_not_there", "<remedy ref=\"renew-fuse\"/>", "<remedy ref=\"renew-fuze\"/>",
     R"(k.xml:74:13: error: no file declares the remedy 'renew-fuze'
        <remedy ref="renew-fuze"/>
                ^ did you mean 'renew-fuse'?
)"},
    {"proof_by_no_check", "<proof check=\"try-push\">", "<proof check=\"try-pull\">",
     R"(k.xml:55:12: error: no file declares the check 'try-pull'
        <proof check="try-pull">full push</proof>
               ^ did you mean 'try-push'?
)"},
    {"confused_with_no_cause", "<confused-with ref=\"fuse-blown\">", "<confused-with ref=\"fuse-blow\">",
     R"(k.xml:65:20: error: no file declares the cause 'fuse-blow'
        <confused-with ref="fuse-blow">no push either</confused-with>
                       ^ did you mean 'fuse-blown'?
)"},
    {"cycle_of_two", "value=\"bank/@volts\"/>", "value=\"$low_volts + 1\"/>",
     R"(k.xml:15:40: error: the quantities form a cycle: $bank_volts -> $low_volts -> $bank_volts
      <quantity name="bank_volts" unit="V" value="$low_volts + 1"/>
                                           ^ write one of them without the others
)"},
    {"cycle_of_one", "value=\"$bank_volts * 0.95\"", "value=\"$low_volts * 0.95\"",
     R"(k.xml:16:39: error: the quantities form a cycle: $low_volts -> $low_volts
      <quantity name="low_volts" unit="V" value="$low_volts * 0.95"/>
                                          ^ write one of them without the others
)"},
};

INSTANTIATE_TEST_SUITE_P(Variations, BadIdentity, ::testing::ValuesIn(variations), [](const auto& row) { return std::string(row.param.name); });

}  // namespace
}  // namespace leadline::knowledge
