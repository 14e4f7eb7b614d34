#pragma once
// A small book in which the audit finds nothing, for tests that plant one mistake in it. Everything in it is invented.
#include <string>

namespace leadline::testing {

inline const std::string sound_book = R"(<knowledge subsystem="trial"><numbers frequency="estimate rough" strength="estimate rough" effect="estimate rough" mends="estimate rough" leak="estimate rough" threshold="estimate rough" doubt="estimate rough" minutes="estimate rough" part="estimate rough"/>
  <source id="common-practice" kind="common-practice"><title>common practice, no source</title></source>
  <source id="estimate" kind="estimate"><title>estimate</title></source>
  <source id="copper" kind="handbook"><title>A handbook of copper</title></source>
  <precaution id="no-ring"><title>No ring at the spanner hand</title><do>Take rings and watch off before touching a post.</do></precaution>
  <precaution id="nobody-swims"><title>Nobody in the water</title><do>Look over the side and call out before any command.</do></precaution>
  <element path="bank">
    <fact name="volts" type="number" unit="V" choices="12 24" assume="12" intake="first" drawn="yes"><ask>Nominal volts?</ask></fact>
    <fact name="kind" type="choice" assume="agm" intake="first" drawn="yes"><ask>Kind of battery?</ask><choice id="agm">AGM</choice><choice id="lithium">lithium</choice></fact>
    <fact name="age" type="number" unit="year" least="0" most="30" assume="4"><ask>Age?</ask></fact>
  </element>
  <element path="station" repeats="yes">
    <fact name="kind" type="choice" assume="panel"><ask>What stands there?</ask><choice id="panel">a panel</choice><choice id="remote">a remote control</choice></fact>
  </element>
  <quantity name="sound_volts" unit="V" value="bank/@volts * 1.05"/>
  <place id="helm" reach="1" covers="0"><title>helm</title><source ref="estimate"/></place>
  <place id="battery-box" reach="2" covers="3"><title>battery box</title><source ref="estimate"/></place>
  <condition id="switched-off" minutes="2"><title>everything switched off</title><source ref="estimate"/></condition>
  <tool id="multimeter">multimeter</tool>
  <giving-up who="technician" minutes="480"><words>come a second time</words><source ref="estimate"/></giving-up>
  <circuit id="run" reference="minus post"><title>Heavy run</title>
    <condition id="push">pushing</condition>
    <part kind="source" id="battery" from="plus post" to="minus post" volt="$sound_volts" ohm="0.005" spread="0.2" spread-volt="0.1">battery</part>
    <part kind="resistor" id="lug" from="plus post" to="plus stud" ohm="0.0002" spread="0.3">lug</part>
    <part kind="resistor" id="load" from="plus stud" to="minus post" ohm="0.06" spread="0.08">load</part>
  </circuit>
  <finding id="push" complaint="yes">
    <title>Push of the thruster</title><ask>What does the propeller do on command?</ask><lay>What happens when you move the lever?</lay>
    <state id="full">full push</state>
    <state id="weak" leak="0.02">feeble</state>
    <state id="none" leak="0.01">no push at all</state>
  </finding>
  <finding id="lights" complaint="yes">
    <title>Lights of the panel</title><ask>What do the lights show?</ask><lay>Do you see the little lights come on?</lay>
    <state id="lit">lit</state>
    <state id="dim" leak="0.01">dim</state>
    <state id="dead" leak="0.002">dark</state>
  </finding>
  <finding id="remote-light" complaint="yes" applies="station/@kind = 'remote'">
    <title>Light of the remote control</title><ask>Does its own light answer a key?</ask><lay>Press a key of the remote: does its light flash?</lay>
    <state id="flashes">it flashes</state>
    <state id="silent" leak="0.01">nothing</state>
  </finding>
  <finding id="lug-drop" unit="V" dominance="normal high huge">
    <title>Drop over the lug</title><ask>Volts from post to stud under push?</ask>
    <band id="normal" below="$healthy_high + 0.05">small</band>
    <band id="high" below="$healthy_high + 1" leak="0.02">large</band>
    <band id="huge" leak="0.005">very large</band>
    <measure circuit="run"><volts in="push" from="plus post" to="plus stud"/></measure>
  </finding>
  <finding id="rest-volts" unit="V" dominance="normal low flat">
    <title>Volts at rest</title><ask>Volts across the posts, nothing running?</ask>
    <band id="flat" below="bank/@volts * 0.97" leak="0.01">flat</band>
    <band id="low" below="bank/@volts * 1.02" leak="0.02">low</band>
    <band id="normal">as expected</band>
  </finding>
  <check id="try-push" minutes="1" who="owner" place="helm" at="helm">
    <title>Try the lever</title><precaution ref="nobody-swims"/>
    <step>Move the lever for one second and listen.</step>
    <observes finding="push"/><observes finding="lights"/><source ref="common-practice"/>
  </check>
  <check id="press-remote" minutes="1" who="owner" place="helm" at="helm" applies="station/@kind = 'remote'">
    <title>Press a key of the remote control</title><precaution ref="nobody-swims"/>
    <step>Hold the handset up and press each key in turn.</step>
    <observes finding="remote-light"/><source ref="common-practice"/>
  </check>
  <check id="measure-lug" minutes="4" who="technician" place="battery box" at="battery-box">
    <title>Measure over the lug while pushing</title><precaution ref="no-ring"/><tool ref="multimeter"/>
    <step>One probe on the post, the other on the stud; somebody pushes for a second.</step>
    <observes finding="lug-drop"/><source ref="copper"/>
  </check>
  <check id="measure-rest" minutes="3" who="technician" place="battery box" at="battery-box" condition="switched-off">
    <title>Measure the bank at rest</title><precaution ref="no-ring"/><tool ref="multimeter"/>
    <step>Read volts across both posts after an hour without charger or consumer.</step>
    <observes finding="rest-volts"/><source ref="common-practice"/>
  </check>
  <remedy id="charge" minutes="60" who="owner" at="helm">
    <title>Charge the bank</title>
    <step>Leave the mains cable in overnight.</step>
    <proof check="try-push">full push</proof><proof check="measure-rest">as expected</proof><source ref="common-practice"/>
  </remedy>
  <remedy id="remake-lug" minutes="20" who="technician" at="battery-box" condition="switched-off">
    <title>Make the lug anew</title><precaution ref="no-ring"/>
    <step>Cut it off, crimp another, tighten with a torque wrench, grease.</step>
    <proof check="measure-lug">small</proof><source ref="copper"/>
  </remedy>
  <remedy id="renew-cell" minutes="4" who="owner" at="helm">
    <title>New cell for the handset</title>
    <step>Slide its back open, mind which way round, close.</step>
    <proof check="press-remote">it flashes</proof><source ref="estimate"/>
  </remedy>
  <remedy id="renew-panel" minutes="30" who="technician" at="helm" condition="switched-off">
    <title>Exchange the panel</title>
    <step>Note its settings, swap, enter them again.</step>
    <proof check="try-push">lit</proof><source ref="estimate"/>
  </remedy>
  <cause id="bank-flat" item="bank" per-1000="400">
    <title>Bank empty</title><what>Charge is used up.</what><why>Nobody plugged it in.</why>
    <adjust when="bank/@age &gt; 8" times="2"/>
    <shows finding="push" state="weak" chance="0.6"/>
    <shows finding="push" state="none" chance="0.3"/>
    <shows finding="lights" state="dim" chance="0.2"/>
    <shows finding="rest-volts" state="flat" chance="0.7"/>
    <shows finding="rest-volts" state="low" chance="0.25" when="bank/@kind = 'agm'"/>
    <confused-with ref="lug-bad">here volts are low at rest too</confused-with>
    <remedy ref="charge"/><source ref="common-practice"/>
  </cause>
  <cause id="lug-bad" item="lug" per-1000="300">
    <title>Lug corroded</title><what>Green crust between copper and post.</what><why>Salt air and a lug left loose.</why>
    <shows finding="push" state="weak" chance="0.8"/>
    <shows finding="lug-drop" state="high" chance="0.5"/>
    <effect circuit="run"><words>adds 0.4 to 40 milliohm</words><add part="lug" of="ohm" from="0.0004" to="0.04"/></effect>
    <remedy ref="remake-lug"/><source ref="copper"/>
  </cause>
  <cause id="remote-cell-empty" item="cell of the remote control" per-1000="100" applies="station/@kind = 'remote'">
    <title>Handset without power</title><what>Its button cell is spent.</what><why>Cells last two seasons.</why>
    <shows finding="remote-light" state="silent" chance="0.95"/>
    <shows finding="push" state="none" chance="0.9" when="count(station) &lt; 2"/>
    <remedy ref="renew-cell"/><source ref="estimate"/>
  </cause>
  <cause id="panel-dead" item="panel" per-1000="200">
    <title>Panel failed</title><what>Nothing in it works any more.</what><why>Water came through its seal.</why>
    <shows finding="lights" state="dead" chance="0.9"/>
    <shows finding="push" state="none" chance="0.95"/>
    <remedy ref="renew-panel"/><source ref="estimate"/>
  </cause>
  <unlisted per-1000="30" chance="0.02" together="0.12" new-fault="0.01"/>
</knowledge>
)";

}  // namespace leadline::testing
