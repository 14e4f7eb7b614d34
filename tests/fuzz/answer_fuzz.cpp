// Any bytes as a typed answer and as a reading in every unit; what is understood can be said back.
#include <cmath>
#include <cstdlib>

#include "engine/diagnosis/answer.h"
#include "tests/fuzz/standing_base.h"

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  using namespace leadline;
  const auto text = testing::text_of(data, size);
  for (const auto& finding : testing::standing_base().findings) {
    const auto parsed = diagnosis::parse_answer(finding, text);
    if (const auto* observed = std::get_if<diagnosis::Observed>(&parsed)) (void)diagnosis::in_words(finding, *observed);
    else if (std::get<diagnosis::NotUnderstood>(parsed).why.empty()) std::abort();
  }
  for (const auto& name : knowledge::unit_names()) {
    const auto unit = *knowledge::unit_of(name);
    const auto reading = diagnosis::parse_reading(text, unit);
    if (reading && !(diagnosis::standard_uncertainty(*reading, unit, diagnosis::instrument_of(diagnosis::InstrumentClass::poor)) >= 0)) std::abort();
  }
  return 0;
}
