#include <cstdint>

#include "engine/knowledge/reader.h"

extern "C" int LLVMFuzzerTestOneInput(const uint8_t* data, size_t size) {
  const leadline::text::Source file{"fuzz.xml", {reinterpret_cast<const char*>(data), size}};
  const auto loaded = leadline::knowledge::read_knowledge({&file, 1});
  (void)leadline::text::render(loaded.problems, {&file, 1});
  return 0;
}
