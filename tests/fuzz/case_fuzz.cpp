// Any bytes as a recorded call-out; one that is accepted can be assessed, and written and read again with the same answers.
#include <cmath>
#include <cstdlib>

#include "engine/callout/case_file.h"
#include "tests/fuzz/standing_base.h"

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  const auto& base = leadline::testing::standing_base();
  const auto loaded = leadline::callout::read_case(base, {"fuzz.xml", leadline::testing::text_of(data, size)});
  if (loaded.value.has_value() == leadline::text::has_error(loaded.problems)) std::abort();
  if (!loaded.value) return 0;
  const leadline::callout::Assessment assessment(base, *loaded.value);
  for (const auto belief : assessment.diagnosis().belief) if (!(belief >= 0 && belief <= 1 + 1e-9)) std::abort();
  const auto again = leadline::callout::read_case(base, {"again.xml", leadline::callout::to_xml(base, *loaded.value)});
  if (!again.value || again.value->answers != loaded.value->answers) std::abort();
  return 0;
}
