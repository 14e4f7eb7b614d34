#pragma once
// A knowledge base that fits a fuzz target: one fact of each type, one symptom, one reading.
#include <stdexcept>

#include "engine/knowledge/reader.h"

namespace leadline::fuzz {

inline const knowledge::KnowledgeBase& small_base() {
  static const knowledge::KnowledgeBase base = [] {
    const text::Source file{"base.xml", R"(<knowledge subsystem="small">
<source id="estimate" kind="estimate"><title>t</title></source>
<element path="bank"><fact name="volts" type="number" unit="V" choices="12 24" assume="24" least="12" most="48"/>
<fact name="kind" type="choice" assume="a"><choice id="a">a</choice><choice id="b">b</choice></fact></element>
<element path="station" repeats="yes"><fact name="name" type="text" assume="helm"/></element>
<quantity name="bank_volts" unit="V" value="bank/@volts"/>
<finding id="push"><title>t</title><ask>a</ask><state id="normal">normal</state><state id="none">none</state></finding>
<finding id="volts" unit="V" dominance="normal low"><title>t</title><ask>a</ask><band id="low" below="$bank_volts">low</band><band id="normal">ok</band></finding>
<finding id="ohms" unit="ohm" dominance="normal open"><title>t</title><ask>a</ask><band id="normal" below="5">ok</band><band id="open">open</band></finding>
<check id="look" minutes="2" who="owner" place="helm"><title>t</title><step>s</step><observes finding="push"/><observes finding="volts"/><observes finding="ohms"/></check>
<remedy id="mend" minutes="2" who="technician"><title>t</title><step>s</step><proof check="look">p</proof></remedy>
<cause id="fuse" item="fuse" per-1000="5"><title>t</title><what>w</what><why>y</why><shows finding="push" state="none" chance="usually"/><remedy ref="mend"/><source ref="estimate"/></cause>
</knowledge>)"};
    auto loaded = knowledge::read_knowledge({&file, 1});
    if (!loaded.value) throw std::logic_error(text::render(loaded.problems, {&file, 1}));
    return *std::move(loaded.value);
  }();
  return base;
}

}  // namespace leadline::fuzz
