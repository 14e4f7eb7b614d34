#include <cstdint>

#include "engine/installation/record.h"
#include "tests/fuzz/small_base.h"

extern "C" int LLVMFuzzerTestOneInput(const uint8_t* data, size_t size) {
  const leadline::text::Source file{"fuzz.xml", {reinterpret_cast<const char*>(data), size}};
  const auto loaded = leadline::installation::read_installation(leadline::fuzz::small_base(), file);
  if (loaded.value) (void)leadline::installation::to_xml(*loaded.value);
  return 0;
}
