#include <cmath>
#include <cstdint>
#include <cstdlib>

#include "engine/diagnosis/answer.h"
#include "tests/fuzz/small_base.h"

extern "C" int LLVMFuzzerTestOneInput(const uint8_t* data, size_t size) {
  using namespace leadline;
  const std::string_view typed(reinterpret_cast<const char*>(data), size);
  for (const auto& finding : fuzz::small_base().findings) {
    const auto parsed = diagnosis::parse_answer(finding, typed);
    const auto* observed = std::get_if<diagnosis::Observed>(&parsed);
    if (observed == nullptr) continue;
    (void)diagnosis::in_words(finding, *observed);
    const auto* reading = std::get_if<diagnosis::Reading>(observed);
    if (reading != nullptr && std::isnan(reading->value)) std::abort();
  }
  return 0;
}
