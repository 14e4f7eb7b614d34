#pragma once
// The words of an XPath 1.0 expression, each with its offset. Tested by tests/knowledge/expression_test.cpp.
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace leadline::knowledge {

enum class TokenKind { number, text, name, variable, symbol, end };

struct Token {
  TokenKind kind;
  std::string text;    // of a text: without quotes; of a variable: without the dollar sign
  std::size_t offset;  // in bytes
};

// What is wrong with an expression, and where in it.
struct ExpressionFault {
  std::size_t offset;
  std::string what, hint;
};

// The last token is `end`. Throws ExpressionFault at the first character that begins no token.
std::vector<Token> tokens_of(std::string_view expression);

}  // namespace leadline::knowledge
