// Any bytes as a condition and as a number; what is accepted is evaluated by pugixml without a throw, to a finite number.
#include <cmath>
#include <cstdlib>

#include "engine/installation/evaluation.h"
#include "engine/knowledge/expression_check.h"
#include "tests/fuzz/standing_base.h"

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  using namespace leadline;
  const auto& base = testing::standing_base();
  static const installation::Evaluation evaluation(base, installation::make_installation(base, {}));
  const auto text = testing::text_of(data, size);
  const knowledge::Vocabulary vocabulary{base.elements, base.facts, {"bank_volts", "low_volts"}};
  if (!knowledge::check_expression(text, knowledge::Wanted::condition, vocabulary)) (void)evaluation.holds(knowledge::Expression{text, {}});
  if (!knowledge::check_expression(text, knowledge::Wanted::number, vocabulary) && std::isnan(evaluation.number({text, {}}))) std::abort();
  return 0;
}
