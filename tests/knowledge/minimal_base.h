#pragma once
// A small good knowledge base as one text, for tests that change one thing in it. Everything in it is invented.
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "engine/knowledge/reader.h"

namespace leadline::testing {

// What the numbers of the small bases have for a source: they are invented, so all of them are rough.
inline std::string numbers_from(const std::string& source) {
  std::string text = "<numbers";
  for (const auto& kind : knowledge::number_kind_words()) text += " " + kind + "=\"" + source + " rough\"";
  return text + "/>";
}

// The first line of a file of the small base.
inline std::string head_of(const std::string& subsystem, const std::string& source) { return "<knowledge subsystem=\"" + subsystem + "\">" + numbers_from(source) + "\n"; }

inline const std::string minimal_text = head_of("trial", "common-practice") + R"(  <source id="common-practice" kind="common-practice"><title>common practice, no source</title></source>
  <precaution id="make-fast"><title>Boat made fast</title><do>Nobody in the water.</do></precaution>
  <element path="bank">
    <fact name="volts" type="number" unit="V" choices="12 24 48" assume="24" intake="first" drawn="yes"><ask>Nominal volts?</ask></fact>
    <fact name="kind" type="choice" assume="agm"><ask>Kind of battery?</ask><choice id="agm">AGM</choice><choice id="lithium">lithium</choice></fact>
    <fact name="age" type="number" unit="year" least="0" most="30" assume="4"/>
    <fact name="strings" type="number" least="1" most="4" assume="1"/>
    <fact name="label" type="text" assume="bank"/>
  </element>
  <element path="station" repeats="yes">
    <fact name="number" type="number" least="1" most="9" assume="1"/>
    <fact name="spare" type="yes-no" assume="no"/>
  </element>
  <quantity name="bank_volts" unit="V" value="bank/@volts"/>
  <quantity name="low_volts" unit="V" value="$bank_volts * 0.95"/>
  <finding id="push" complaint="yes">
    <title>Push of the thruster</title>
    <ask>What does the propeller do on command?</ask>
    <lay>What happens when you move the lever?</lay>
    <words>thrust, power, dead</words>
    <state id="full">full push</state>
    <state id="weak" leak="0.02">weak push</state>
    <state id="none" leak="0.01">no push at all</state>
  </finding>
  <finding id="bank-volts-rest" unit="V" dominance="normal low flat">
    <title>Bank volts at rest</title>
    <ask>Volts across the bank at rest?</ask>
    <band id="flat" below="$low_volts" leak="0.01">flat</band>
    <band id="low" below="$bank_volts * 1.02" leak="0.02">low</band>
    <band id="normal">as expected</band>
  </finding>
  <check id="try-push" minutes="1" who="owner" place="helm">
    <title>Try the lever</title>
    <precaution ref="make-fast"/>
    <step>Move the lever.</step>
    <observes finding="push"/>
    <source ref="common-practice"/>
  </check>
  <check id="measure-bank" minutes="4" who="technician" place="battery box">
    <title>Measure the bank</title>
    <tool ref="multimeter"/>
    <step>Measure across the posts.</step>
    <observes finding="bank-volts-rest"/>
  </check>
  <remedy id="charge-bank" minutes="60" who="owner">
    <title>Charge the bank</title>
    <step>Charge it.</step>
    <proof check="measure-bank">about $25.5 on 24 V</proof>
  </remedy>
  <remedy id="renew-fuse" minutes="15" who="technician">
    <title>Renew the main fuse</title>
    <part>main fuse</part>
    <step>Find out why it blew; renew it.</step>
    <proof check="try-push">full push</proof>
  </remedy>
  <cause id="bank-flat" item="bank" per-1000="60">
    <title>Bank flat</title>
    <what>The bank holds no charge.</what>
    <why>Nobody charged it.</why>
    <adjust when="bank/@age &gt; 8" times="2"/>
    <shows finding="push" state="weak" chance="usually"/>
    <shows finding="push" state="none" chance="seldom"/>
    <shows finding="bank-volts-rest" state="flat" chance="nearly-always"/>
    <confused-with ref="fuse-blown">no push either</confused-with>
    <remedy ref="charge-bank"/>
    <source ref="common-practice"/>
  </cause>
  <cause id="fuse-blown" item="main fuse" per-1000="20" applies="bank/@volts != 48">
    <title>Main fuse blown</title>
    <what>The fuse is open.</what>
    <why>Overload.</why>
    <shows finding="push" state="none" chance="always" when="count(station) = 1"/>
    <remedy ref="renew-fuse"/>
    <source ref="common-practice"/>
  </cause>
  <unlisted per-1000="30" chance="0.02" together="0.12"/>
  <tool id="multimeter">multimeter</tool>
</knowledge>
)";

// A base with the only occurrence of `from` made `to`. A test that names what is not there is wrong.
inline std::string changed_once(std::string text, std::string_view from, std::string_view to) {
  const auto at = text.find(from);
  if (at == std::string::npos || text.find(from, at + 1) != std::string::npos) throw std::logic_error("not exactly once in the small base: " + std::string(from));
  return text.replace(at, from.size(), to);
}

inline std::string minimal_with(std::string_view from, std::string_view to) { return changed_once(minimal_text, from, to); }

inline knowledge::KnowledgeBase base_from(const std::string& content) {
  const std::vector<text::Source> files{{"k.xml", content}};
  auto loaded = knowledge::read_knowledge(files);
  if (!loaded.value) throw std::logic_error(text::render(loaded.problems, files));
  return *std::move(loaded.value);
}

inline knowledge::KnowledgeBase minimal_base() { return base_from(minimal_text); }

}  // namespace leadline::testing
