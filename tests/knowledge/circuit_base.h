#pragma once
// A small good knowledge base with a circuit, three measurements and a cause that changes it, for tests that change one thing in it. All invented.
#include <string>

#include "tests/knowledge/minimal_base.h"

namespace leadline::testing {

inline const std::string circuits_text = head_of("trial", "estimate") + R"(  <source id="estimate" kind="estimate"><title>estimate</title></source>
  <element path="bank">
    <fact name="volts" type="number" assume="24"/>
    <fact name="kind" type="choice" assume="agm"><choice id="agm">AGM</choice><choice id="gel">gel</choice></fact>
  </element>
  <element path="segment" repeats="yes" optional="yes">
    <fact name="from" type="text" assume="?"/>
    <fact name="to" type="text" assume="?"/>
    <fact name="length" type="number" assume="5"/>
    <fact name="kind" type="choice" assume="trunk"><choice id="trunk">trunk</choice><choice id="drop">drop</choice></fact>
  </element>
  <circuit id="power" reference="bank minus post">
    <title>Heavy path</title>
    <condition id="rest">everything off</condition>
    <condition id="push">full push</condition>
    <part kind="battery" id="bank" from="bank plus post" to="bank minus post" amp-hours="100" charge="90" blocks="2" chemistry="bank/@kind">bank</part>
    <part kind="cable" id="run" from="bank plus post" to="plus stud" length="7" area="70" spread="0.06" shared="copper">run</part>
    <part kind="motor" id="motor" in="push" from="plus stud" to="bank minus post" volt="24" amp="300" ohm="0.01" when="bank/@volts = 24">motor</part>
    <part kind="step-up" id="input" from="plus stud" to="bank minus post" watt="250" wake="13.2">input</part>
    <part kind="current" id="output" from="bank minus post" to="bank plus post" amp="10" spread="0.1" awake-with="input">output</part>
    <part kind="source" id="float" in="rest" from="bank plus post" to="bank minus post" volt="27" ohm="0.1" spread-volt="0.2">charger</part>
    <part kind="power" id="drive" in="push" from="plus stud" to="bank minus post" watt="50">drive</part>
    <part kind="resistor" id="H-{@from}-{@to}" each="segment" when="$segment-kind = 'trunk'" from="H at {@from}" to="H at {@to}"
          ohm="0.07 * $segment-length">wire, {@from} to {@to}</part>
  </circuit>
  <finding id="sag" unit="V" dominance="normal high">
    <title>Sag</title>
    <ask>Sag?</ask>
    <band id="normal" below="$healthy_high + 0.6">normal</band>
    <band id="high">high</band>
    <measure circuit="power" take="sum" doubt="0.05">
      <volts in="rest" from="bank plus post" to="bank minus post"/>
      <volts in="push" from="plus stud" to="bank minus post" weight="-1"/>
    </measure>
  </finding>
  <finding id="wires" unit="ohm" dominance="normal open">
    <title>Wires</title>
    <ask>Wires?</ask>
    <band id="normal" below="$healthy * 2">normal</band>
    <band id="open">open</band>
    <measure circuit="power" take="largest"><ohms in="rest" each="segment" from="H at {@from}" to="H at {@to}"/></measure>
  </finding>
  <finding id="clamp" unit="A" dominance="normal none">
    <title>Clamp</title>
    <ask>Clamp?</ask>
    <band id="none" below="bank/@volts">none</band>
    <band id="normal">normal</band>
    <measure circuit="power"><amps in="push" of="motor"/></measure>
  </finding>
  <finding id="push"><title>Push</title><ask>Push?</ask><state id="full">full</state><state id="weak">weak</state></finding>
  <check id="measure" minutes="4" who="technician" place="bank">
    <title>Measure</title>
    <step>Measure.</step>
    <observes finding="sag"/>
    <observes finding="wires"/>
    <observes finding="clamp"/>
    <observes finding="push"/>
  </check>
  <remedy id="clean" minutes="60" who="technician"><title>Clean</title><step>Clean it.</step><proof check="measure">no sag</proof></remedy>
  <cause id="joint" item="joint" per-1000="60">
    <title>Poor joint</title>
    <what>Corroded.</what>
    <why>Salt.</why>
    <shows finding="push" state="weak" chance="usually"/>
    <effect circuit="power" share="0.9"><words>adds a few milliohm</words>
      <add part="run" of="ohm" from="0.0008" to="0.02"/>
      <times part="H-*" every="yes" of="ohm" from="2"/>
    </effect>
    <effect circuit="power" share="0.1" when="bank/@kind = 'gel'"><words>bridged or gone</words>
      <set part="motor" of="load" from="bank/@volts" to="100"/>
      <open part="output"/>
      <join from-place="H at *" to-place="plus stud" from="0.1" to="5"/>
    </effect>
    <remedy ref="clean"/>
    <source ref="estimate"/>
  </cause>
</knowledge>
)";

}  // namespace leadline::testing
