#include <cstdint>

#include "engine/installation/evaluation.h"
#include "engine/knowledge/expression_check.h"
#include "tests/fuzz/small_base.h"

// What the checker accepts must evaluate without a complaint of the library.
extern "C" int LLVMFuzzerTestOneInput(const uint8_t* data, size_t size) {
  using namespace leadline;
  const auto& base = fuzz::small_base();
  static const auto installation = installation::make_installation(base, {});
  static const installation::Evaluation evaluation(base, installation);
  const std::string text(reinterpret_cast<const char*>(data), size);
  const knowledge::Vocabulary vocabulary{base.elements, base.facts, {"bank_volts"}};
  if (!knowledge::check_expression(text, knowledge::Wanted::condition, vocabulary)) (void)evaluation.holds(knowledge::Expression{text, {}});
  if (!knowledge::check_expression(text, knowledge::Wanted::number, vocabulary)) (void)evaluation.number(knowledge::Expression{text, {}});
  return 0;
}
