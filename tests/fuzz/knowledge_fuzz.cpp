// Any bytes as a knowledge file: a base or messages that can be rendered, never both missing. Of a base that is accepted, circuits included, a model
// can be made, and its beliefs are numbers.
#include <cstdlib>

#include "engine/diagnosis/explanation.h"
#include "tests/fuzz/standing_base.h"

namespace {

void judge(const leadline::knowledge::KnowledgeBase& base) {
  using namespace leadline;
  const auto boat = diagnosis::build_model(base, installation::Evaluation(base, installation::make_installation(base, {})));
  for (const double belief : diagnosis::beliefs(boat.model, {}).belief) {
    if (!(belief >= 0 && belief <= 1 + 1e-9)) std::abort();
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  const std::vector<leadline::text::Source> files{{"fuzz.xml", leadline::testing::text_of(data, size)}};
  const auto loaded = leadline::knowledge::read_knowledge(files);
  if (loaded.value.has_value() == leadline::text::has_error(loaded.problems)) std::abort();
  if (!loaded.problems.empty() && leadline::text::render(loaded.problems, files).empty()) std::abort();
  if (loaded.value) judge(*loaded.value);
  return 0;
}
