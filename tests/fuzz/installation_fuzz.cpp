// Any bytes as an installation record; one that is accepted can be evaluated, written and read again.
#include <cstdlib>

#include "engine/diagnosis/model.h"
#include "tests/fuzz/standing_base.h"

namespace {

// The small base with a network: its stations and its string are completed by the program.
const leadline::knowledge::KnowledgeBase& base_with_a_string() {
  using namespace leadline::testing;
  static const auto base = base_from(minimal_with("<quantity name=\"bank_volts\"", R"(<element path="network">
    <fact name="supply" type="choice" assume="house"><choice id="house">house</choice><choice id="none">none</choice></fact>
    <fact name="length" type="number" unit="m" least="0.5" most="250" assume="15"/>
    <fact name="terminators" type="choice" assume="two">
      <choice id="two">two</choice><choice id="one">one</choice><choice id="none">none</choice><choice id="more">more</choice></fact>
    <fact name="stations" type="number" choices="1 2 3 4" assume="1"/>
    <fact name="feed" type="text" assume="last"/>
  </element>
  <element path="segment" repeats="yes" optional="yes">
    <fact name="from" type="text" assume="?"/><fact name="to" type="text" assume="?"/><fact name="length" type="number" unit="m" least="0.1" most="250" assume="5"/>
    <fact name="kind" type="choice" assume="trunk"><choice id="trunk">trunk</choice><choice id="branch">branch</choice></fact>
  </element>
  <element path="terminator" repeats="yes" optional="yes">
    <fact name="at" type="text" assume="?"/><fact name="ohm" type="number" unit="ohm" least="1" most="200000" assume="120"/>
  </element>
  <quantity name="bank_volts")"));
  return base;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  const auto& base = base_with_a_string();
  const auto loaded = leadline::installation::read_installation(base, {"fuzz.xml", leadline::testing::text_of(data, size)});
  if (loaded.value.has_value() == leadline::text::has_error(loaded.problems)) std::abort();
  if (!loaded.value) return 0;
  (void)leadline::diagnosis::build_model(base, {base, *loaded.value});
  const auto written = leadline::installation::to_xml(*loaded.value);
  const auto again = leadline::installation::read_installation(base, {"again.xml", written});
  if (!again.value || leadline::installation::to_xml(*again.value) != written) std::abort();
  return 0;
}
