// Any bytes as a knowledge file: a base or messages that can be rendered, never both missing.
#include <cstdlib>

#include "tests/fuzz/standing_base.h"

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  const std::vector<leadline::text::Source> files{{"fuzz.xml", leadline::testing::text_of(data, size)}};
  const auto loaded = leadline::knowledge::read_knowledge(files);
  if (loaded.value.has_value() == leadline::text::has_error(loaded.problems)) std::abort();
  if (!loaded.problems.empty() && leadline::text::render(loaded.problems, files).empty()) std::abort();
  return 0;
}
