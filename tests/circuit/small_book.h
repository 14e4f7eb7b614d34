#pragma once
// A small knowledge base around one circuit that a test writes itself: its parts, what is measured in it and what befalls it. All invented.
#include <stdexcept>
#include <string>
#include <vector>

#include "engine/circuit/expectation.h"
#include "engine/installation/record.h"
#include "engine/knowledge/reader.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::testing {

inline const std::string small_record = R"(
  <source id="common-practice" kind="common-practice"><title>common practice, no source</title></source>
  <element path="bank">
    <fact name="volts" type="number" unit="V" choices="12 24 48" assume="24"/>
    <fact name="chemistry" type="choice" assume="agm"><choice id="flooded">flooded</choice><choice id="agm">AGM</choice><choice id="gel">gel</choice>
      <choice id="lithium">lithium</choice><choice id="nickel">nickel: not in the tables</choice></fact>
    <fact name="amp-hours" type="number" least="1" most="9000" assume="100"/>
    <fact name="charge" type="number" least="0" most="200" assume="100"/>
    <fact name="cold-cranking" type="number" least="0" most="5000" assume="0"/>
    <fact name="age" type="number" least="0" most="99" assume="0"/>
  </element>
  <element path="run">
    <fact name="length" type="number" unit="m" least="0.1" most="5000" assume="10"/>
    <fact name="area" type="number" unit="mm2" least="0.01" most="5000" assume="50"/>
    <fact name="ohm" type="number" least="0" most="1000000" assume="1"/>
    <fact name="flexible" type="yes-no" assume="yes"/>
  </element>
  <element path="segment" repeats="yes" optional="yes">
    <fact name="from" type="text" assume="?"/>
    <fact name="to" type="text" assume="?"/>
    <fact name="length" type="number" unit="m" least="0.1" most="100" assume="5"/>
    <fact name="kind" type="choice" assume="trunk"><choice id="trunk">trunk</choice><choice id="drop">drop</choice></fact>
  </element>
)";

// A finding tied to the circuit: its <measure>, and bands when a test looks at states.
struct Reading {
  std::string id, measure;
  std::string unit = "V";
};

// One cause and its <effect>s. What it shows in writing is of no interest here.
struct Fault {
  std::string id, effects;
  std::string applies = "1 = 1";
};

struct SmallBook {
  std::string circuit;  // <circuit id="c" …>…</circuit>
  std::vector<Reading> readings = {};
  std::vector<Fault> faults = {};
};

inline std::string text_of(const Reading& reading) {
  return "<finding id=\"" + reading.id + "\" unit=\"" + reading.unit + "\" dominance=\"high low\"><title>t</title><ask>a</ask>" +
         "<band id=\"low\" below=\"$healthy_low\">low</band><band id=\"high\">high</band>" + reading.measure + "</finding>\n" +
         "<check id=\"check-" + reading.id + "\" minutes=\"1\" who=\"technician\" place=\"p\"><title>t</title><step>s</step><observes finding=\"" +
         reading.id + "\"/></check>\n";
}

inline std::string text_of(const Fault& fault) {
  return "<cause id=\"" + fault.id + "\" item=\"i\" per-1000=\"10\" applies=\"" + fault.applies + "\"><title>t</title><what>w</what><why>y</why>" +
         "<shows finding=\"symptom\" state=\"bad\" chance=\"often\"/>" + fault.effects + "<remedy ref=\"mend\"/><source ref=\"common-practice\"/></cause>\n";
}

inline std::string text_of(const SmallBook& book) {
  std::string text = testing::head_of("small", "common-practice") + small_record + book.circuit + "\n";
  text += "<finding id=\"symptom\"><title>t</title><ask>a</ask><state id=\"good\">g</state><state id=\"bad\">b</state></finding>\n"
          "<check id=\"look\" minutes=\"1\" who=\"owner\" place=\"p\"><title>t</title><step>s</step><observes finding=\"symptom\"/></check>\n"
          "<remedy id=\"mend\" minutes=\"1\" who=\"owner\"><title>t</title><step>s</step><proof check=\"look\">p</proof></remedy>\n";
  for (const auto& reading : book.readings) text += text_of(reading);
  for (const auto& fault : book.faults) text += text_of(fault);
  return text + "</knowledge>\n";
}

// The base, one boat's record, and what is evaluated on them; a test that writes a faulty book or record is wrong.
struct SmallBoat {
  knowledge::KnowledgeBase base;
  installation::Installation record;
  installation::Evaluation evaluation;

  explicit SmallBoat(const SmallBook& book, const std::string& record_content = "")
      : base(read_base(text_of(book))), record(read_record(base, record_content)), evaluation(base, record) {}

  static knowledge::KnowledgeBase read_base(const std::string& content) {
    const std::vector<text::Source> files{{"small.xml", content}};
    auto loaded = knowledge::read_knowledge(files);
    if (!loaded.value) throw std::logic_error(text::render(loaded.problems, files));
    return *std::move(loaded.value);
  }

  static installation::Installation read_record(const knowledge::KnowledgeBase& base, const std::string& content) {
    const text::Source file{"boat.xml", "<installation>" + content + "</installation>"};
    auto loaded = installation::read_installation(base, file);
    if (!loaded.value) throw std::logic_error(text::render(loaded.problems, std::vector{file}));
    return *std::move(loaded.value);
  }

  std::size_t finding(std::string_view id) const { return knowledge::find_id(base.findings, id).value().index; }
  std::size_t cause(std::string_view id) const { return knowledge::find_id(base.causes, id).value().index; }
};

}  // namespace leadline::testing
