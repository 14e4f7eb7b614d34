// Any bytes as an installation record; one that is accepted can be evaluated, written and read again.
#include <cstdlib>

#include "engine/diagnosis/model.h"
#include "tests/fuzz/standing_base.h"

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  const auto& base = leadline::testing::standing_base();
  const auto loaded = leadline::installation::read_installation(base, {"fuzz.xml", leadline::testing::text_of(data, size)});
  if (loaded.value.has_value() == leadline::text::has_error(loaded.problems)) std::abort();
  if (!loaded.value) return 0;
  (void)leadline::diagnosis::build_model(base, {base, *loaded.value});
  if (!leadline::installation::read_installation(base, {"again.xml", leadline::installation::to_xml(*loaded.value)}).value) std::abort();
  return 0;
}
