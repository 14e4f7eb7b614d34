#include "engine/knowledge/expression_tokens.h"

#include <cctype>

#include "engine/text/utf8.h"

namespace leadline::knowledge {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; }
bool is_name_part(char c) { return is_letter(c) || is_digit(c) || c == '-'; }

std::size_t name_end(std::string_view text, std::size_t at) {
  while (at < text.size() && is_name_part(text[at])) ++at;
  return at;
}

std::size_t number_end(std::string_view text, std::size_t at) {
  while (at < text.size() && is_digit(text[at])) ++at;
  if (at < text.size() && text[at] == '.') ++at;
  while (at < text.size() && is_digit(text[at])) ++at;
  return at;
}

Token quoted(std::string_view text, std::size_t at) {
  const auto end = text.find(text[at], at + 1);
  if (end == std::string_view::npos) throw ExpressionFault{at, "this text is never closed", std::string("add ") + text[at]};
  return {TokenKind::text, std::string(text.substr(at + 1, end - at - 1)), at};
}

Token variable(std::string_view text, std::size_t at) {
  const auto end = name_end(text, at + 1);
  if (end == at + 1) throw ExpressionFault{at, "a name must follow the dollar sign", ""};
  return {TokenKind::variable, std::string(text.substr(at + 1, end - at - 1)), at};
}

Token symbol(std::string_view text, std::size_t at) {
  const auto two = text.substr(at, 2);
  if (two == "!=" || two == "<=" || two == ">=" || two == "/@") return {TokenKind::symbol, std::string(two), at};
  if (std::string_view("=<>+-*(),/").find(text[at]) == std::string_view::npos) {
    const bool ampersand = two == "&&" || text[at] == '|';
    throw ExpressionFault{at, "'" + text::split_characters(text.substr(at, 4)).front() + "' has no meaning here", ampersand ? "write 'and' or 'or'" : ""};
  }
  return {TokenKind::symbol, std::string(1, text[at]), at};
}

std::size_t written_length(const Token& token) {
  if (token.kind == TokenKind::text) return token.text.size() + 2;
  return token.text.size() + (token.kind == TokenKind::variable ? 1 : 0);
}

Token token_at(std::string_view text, std::size_t at) {
  const char c = text[at];
  if (is_digit(c)) return {TokenKind::number, std::string(text.substr(at, number_end(text, at) - at)), at};
  if (is_letter(c)) return {TokenKind::name, std::string(text.substr(at, name_end(text, at) - at)), at};
  if (c == '"' || c == '\'') return quoted(text, at);
  if (c == '$') return variable(text, at);
  return symbol(text, at);
}

}  // namespace

std::vector<Token> tokens_of(std::string_view expression) {
  std::vector<Token> tokens;
  std::size_t at = 0;
  for (;;) {
    while (at < expression.size() && std::isspace(static_cast<unsigned char>(expression[at])) != 0) ++at;
    if (at >= expression.size()) break;
    tokens.push_back(token_at(expression, at));
    at += written_length(tokens.back());
  }
  tokens.push_back({TokenKind::end, "", expression.size()});
  return tokens;
}

}  // namespace leadline::knowledge
