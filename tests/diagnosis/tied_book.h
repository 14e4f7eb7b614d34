#pragma once
// A small knowledge base with one circuit: a battery, a lug, a load; a symptom beside it. Everything in it is invented.
#include <stdexcept>
#include <string>

#include "engine/diagnosis/explanation.h"
#include "engine/knowledge/reader.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::testing {

inline const std::string tied_text = head_of("trial", "common-practice") + R"(  <source id="common-practice" kind="common-practice"><title>common practice, no source</title></source>
  <element path="bank"><fact name="volts" type="number" choices="12 24" assume="12"/></element>
  <circuit id="run" reference="minus"><title>A run</title>
    <condition id="push">pushing</condition>
    <part kind="source" id="battery" from="plus" to="minus" volt="12.6" ohm="0.005" spread="0.2" spread-volt="0.1">battery</part>
    <part kind="resistor" id="lug" from="plus" to="behind the lug" ohm="0.0002" spread="0.3">lug</part>
    <part kind="resistor" id="load" from="behind the lug" to="minus" ohm="0.06" spread="0.08">load</part>
  </circuit>
  <finding id="drop" unit="V" dominance="normal high">
    <title>Drop over the lug</title><ask>Drop?</ask>
    <band id="normal" below="$healthy_high + 0.05">small</band><band id="high" leak="0.02">large</band>
    <measure circuit="run"><volts in="push" from="plus" to="behind the lug"/></measure>
  </finding>
  <finding id="amps" unit="A" dominance="normal low">
    <title>Current</title><ask>Current?</ask>
    <band id="low" below="$healthy_low - 5" leak="0.02">small</band><band id="normal">as expected</band>
    <measure circuit="run" doubt="1"><amps in="push" of="load"/></measure>
  </finding>
  <finding id="load-volts" unit="V" dominance="normal low">
    <title>Volts at the load</title><ask>Volts?</ask>
    <band id="low" below="$healthy_low - 0.2" leak="0.02">low</band><band id="normal">as expected</band>
    <measure circuit="run"><volts in="push" from="behind the lug" to="minus"/></measure>
  </finding>
  <finding id="push" complaint="yes"><title>Push</title><ask>Push?</ask><lay>Push?</lay>
    <state id="full">full</state><state id="weak" leak="0.02">weak</state></finding>
  <check id="look" minutes="1" who="owner" place="helm"><title>Look</title><step>Look.</step><observes finding="push"/></check>
  <check id="measure" minutes="5" who="technician" place="run"><title>Measure</title><step>Measure.</step>
    <observes finding="drop"/><observes finding="amps"/><observes finding="load-volts"/></check>
  <remedy id="mend" minutes="5" who="technician"><title>Mend</title><step>Mend.</step><proof check="look">full</proof></remedy>
  <cause id="lug-bad" item="lug" per-1000="200"><title>Lug bad</title><what>w</what><why>w</why>
    <shows finding="push" state="weak" chance="0.8"/>
    <effect circuit="run"><words>adds 2 to 40 milliohm</words><add part="lug" of="ohm" from="0.002" to="0.04"/></effect>
    <remedy ref="mend"/><source ref="common-practice"/></cause>
  <cause id="battery-weak" item="battery" per-1000="300"><title>Battery weak</title><what>w</what><why>w</why>
    <shows finding="push" state="weak" chance="0.7"/>
    <effect circuit="run"><words>2 to 8 times the resistance</words><times part="battery" of="ohm" from="2" to="8"/></effect>
    <remedy ref="mend"/><source ref="common-practice"/></cause>
  <cause id="rope" item="propeller" per-1000="200"><title>Rope</title><what>w</what><why>w</why>
    <shows finding="push" state="weak" chance="0.9"/><shows finding="amps" state="low" chance="0.3"/>
    <remedy ref="mend"/><source ref="common-practice"/></cause>
  <cause id="owner-tired" item="owner" per-1000="250"><title>Owner tired</title><what>w</what><why>w</why>
    <shows finding="push" state="weak" chance="0.4"/>
    <remedy ref="mend"/><source ref="common-practice"/></cause>
</knowledge>)";

struct TiedBoat {
  knowledge::KnowledgeBase base;
  diagnosis::BoatModel boat;

  TiedBoat() {
    const std::vector<text::Source> files{{"tied.xml", tied_text}};
    auto loaded = knowledge::read_knowledge(files);
    if (!loaded.value) throw std::logic_error(text::render(loaded.problems, files));
    base = *loaded.value;
    boat = diagnosis::build_model(base, installation::Evaluation(base, installation::make_installation(base, {})));
  }
  TiedBoat(const TiedBoat&) = delete;  // the model keeps a reference to the base
  TiedBoat& operator=(const TiedBoat&) = delete;

  diagnosis::Answer read(const char* finding, const std::string& typed) const {
    const auto ref = *knowledge::find_id(base.findings, finding);
    return {ref, std::get<diagnosis::Observed>(diagnosis::parse_answer(base[ref], typed))};
  }
  diagnosis::Evidence evidence(const std::vector<diagnosis::Answer>& answers) const {
    return diagnosis::evidence_of(base, boat, answers, diagnosis::instrument_of(diagnosis::InstrumentClass::good));
  }
  std::size_t cause(const char* id) const {  // of the model
    const auto ref = knowledge::find_id(base.causes, id);
    for (std::size_t i = 0; i < boat.cause_refs.size(); ++i) {
      if (boat.cause_refs[i] == ref) return i;
    }
    throw std::logic_error(id);
  }
};

}  // namespace leadline::testing
