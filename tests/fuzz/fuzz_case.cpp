#include <cstdint>
#include <cstdlib>

#include "engine/callout/case_file.h"
#include "tests/fuzz/small_base.h"

// What is read is written back and read again: the second reading must succeed.
extern "C" int LLVMFuzzerTestOneInput(const uint8_t* data, size_t size) {
  const auto& base = leadline::fuzz::small_base();
  const auto record = leadline::callout::read_case(base, {"fuzz.xml", {reinterpret_cast<const char*>(data), size}});
  if (!record.value) return 0;
  const leadline::callout::Assessment assessment(base, *record.value);
  const auto again = leadline::callout::read_case(base, {"again.xml", leadline::callout::to_xml(base, *record.value)});
  if (!again.value || again.value->answers.size() != record.value->answers.size()) std::abort();
  return 0;
}
