#pragma once
// XPath has no types: a forgotten '$', a text compared with a number and a division by zero all give an answer instead of an
// error. So every expression is checked here at load, against the declared facts and quantities, before pugixml compiles it.
// Tested by tests/knowledge/expression_test.cpp.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/knowledge/expression_tokens.h"
#include "engine/knowledge/knowledge_base.h"

namespace leadline::knowledge {

enum class Wanted { condition, number };

// What an expression may name.
struct Vocabulary {
  const std::vector<RecordElement>& elements;
  const std::vector<Fact>& facts;
  std::vector<std::string> quantities;
  // In a part that is repeated for an element of the record, its facts are variables: $segment-length, $segment-kind.
  std::string each = {};
};

// The variable of one fact of a repeated element.
std::string each_variable(const Fact& fact);

// The first fault of the expression, or nothing. The accepted language is docs/knowledge-format.md § conditions.
std::optional<ExpressionFault> check_expression(std::string_view expression, Wanted wanted, const Vocabulary& vocabulary);

// Names of the quantities an expression uses; empty for one that cannot be read.
std::vector<std::string> quantities_used(std::string_view expression);

}  // namespace leadline::knowledge
