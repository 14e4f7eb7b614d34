#include "engine/knowledge/expression_check.h"

#include <algorithm>
#include <pugixml.hpp>

#include "engine/text/number.h"
#include "engine/text/spelling.h"

namespace leadline::knowledge {

namespace {

constexpr std::size_t longest_expression = 4096;
constexpr int deepest_nesting = 64;

enum class Kind { number, boolean, text, element };

// What a part of an expression is worth, as far as it can be known without a record.
struct Part {
  Kind kind;
  std::size_t offset;
  const Fact* fact = nullptr;               // when it is the path of a fact
  std::optional<std::string> literal_text;  // when it is a text in quotes
  std::optional<double> literal_number;
};

const char* words_for(Kind kind) {
  switch (kind) {
    case Kind::number: return "a number";
    case Kind::boolean: return "true or false";
    case Kind::text: return "a text";
    case Kind::element: return "an element";
  }
  return "";
}

// Recursive descent over the operators of XPath 1.0 § 3, lowest binding first. Throws the first ExpressionFault.
class Checker {
 public:
  Checker(std::string_view expression, const Vocabulary& vocabulary) : tokens_(tokens_of(expression)), vocabulary_(vocabulary) {}

  Part whole() {
    const auto part = either();
    const bool comma = next_is(TokenKind::symbol, ",");
    if (next().kind != TokenKind::end) fail(next().offset, "'" + next().text + "' is not expected here", comma ? "write a point as decimal mark" : "a joining word such as 'and' may be missing or misspelt");
    return part;
  }

 private:
  [[noreturn]] static void fail(std::size_t offset, std::string what, std::string hint = "") {
    throw ExpressionFault{offset, std::move(what), std::move(hint)};
  }

  const Token& next() const { return tokens_[at_]; }
  bool next_is(TokenKind kind, std::string_view text) const { return next().kind == kind && next().text == text; }
  bool take(TokenKind kind, std::string_view text) {
    if (!next_is(kind, text)) return false;
    ++at_;
    return true;
  }

  static void require(const Part& part, Kind kind, const std::string& where) {
    if (part.kind != kind) fail(part.offset, where + " needs " + words_for(kind) + ", this is " + words_for(part.kind));
  }

  Part either() {
    auto part = both();
    while (take(TokenKind::name, "or")) part = joined(part, both(), "'or'");
    return part;
  }

  Part both() {
    auto part = comparison();
    while (take(TokenKind::name, "and")) part = joined(part, comparison(), "'and'");
    return part;
  }

  static Part joined(const Part& left, const Part& right, const std::string& word) {
    require(left, Kind::boolean, word);
    require(right, Kind::boolean, word);
    return {Kind::boolean, left.offset, nullptr, {}, {}};
  }

  Part comparison() {
    const auto left = sum();
    static constexpr std::string_view operators[] = {"=", "!=", "<", "<=", ">", ">="};
    for (const auto op : operators) {
      if (!take(TokenKind::symbol, op)) continue;
      check_comparable(left, sum(), op);
      return {Kind::boolean, left.offset, nullptr, {}, {}};
    }
    return left;
  }

  static void check_comparable(const Part& left, const Part& right, std::string_view op) {
    if (left.kind == Kind::number && right.kind == Kind::number) return;
    if (left.kind != right.kind) {
      fail(right.offset, std::string("compares ") + words_for(left.kind) + " with " + words_for(right.kind));
    }
    if (left.kind != Kind::text) fail(left.offset, std::string(words_for(left.kind)) + " cannot be compared", "use count() or not()");
    if (op != "=" && op != "!=") fail(left.offset, "texts have no order", "only = and != compare texts");
    check_choice(left, right);
    check_choice(right, left);
  }

  static void check_choice(const Part& path, const Part& literal) {
    if (path.fact == nullptr || path.fact->type != FactType::choice || !literal.literal_text) return;
    const auto words = ids_of(path.fact->choices);
    if (std::find(words.begin(), words.end(), *literal.literal_text) != words.end()) return;
    fail(literal.offset, "'" + *literal.literal_text + "' is no choice of " + path.fact->path(), text::suggestion(*literal.literal_text, words));
  }

  Part sum() {
    auto part = product();
    for (;;) {
      if (take(TokenKind::symbol, "+")) part = arithmetic(part, product(), "'+'");
      else if (take(TokenKind::symbol, "-")) part = arithmetic(part, product(), "'-'");
      else return part;
    }
  }

  Part product() {
    auto part = negated();
    for (;;) {
      if (take(TokenKind::symbol, "*")) part = arithmetic(part, negated(), "'*'");
      else if (take(TokenKind::name, "div")) part = quotient(part, negated());
      else return part;
    }
  }

  static Part arithmetic(const Part& left, const Part& right, const std::string& word) {
    require(left, Kind::number, word);
    require(right, Kind::number, word);
    return {Kind::number, left.offset, nullptr, {}, {}};
  }

  static Part quotient(const Part& left, const Part& right) {
    const bool literal = right.literal_number && *right.literal_number != 0;
    const bool bounded = right.fact != nullptr && right.fact->least && *right.fact->least > 0;
    const auto part = arithmetic(left, right, "'div'");
    if (!literal && !bounded) fail(right.offset, "might divide by zero", "divide by a number other than 0, or by a fact whose 'least' is above 0");
    return part;
  }

  Part negated() {
    const auto offset = next().offset;
    if (!take(TokenKind::symbol, "-")) return single();
    require(single(), Kind::number, "'-'");
    return {Kind::number, offset, nullptr, {}, {}};
  }

  Part single() {
    const auto token = next();
    ++at_;
    switch (token.kind) {
      case TokenKind::number: return {Kind::number, token.offset, nullptr, {}, text::parse_number(token.text)};
      case TokenKind::text: return {Kind::text, token.offset, nullptr, token.text, {}};
      case TokenKind::variable: return quantity(token);
      case TokenKind::name: return next_is(TokenKind::symbol, "(") ? call(token) : path(token);
      default: break;
    }
    --at_;
    if (token.kind == TokenKind::symbol && token.text == "(") return bracketed();
    fail(token.offset, token.kind == TokenKind::end ? "the expression ends too early" : "'" + token.text + "' is not expected here");
  }

  Part bracketed() {
    if (++depth_ > deepest_nesting) fail(next().offset, "brackets nested too deep");
    ++at_;
    const auto part = either();
    close();
    --depth_;
    return part;
  }

  void close() {
    if (!take(TokenKind::symbol, ")")) fail(next().offset, "a ')' is missing");
  }

  // The fact of the repeated element that a variable stands for, if it does.
  const Fact* fact_of_each(const std::string& variable) const {
    for (const auto& fact : vocabulary_.facts) {
      if (!vocabulary_.each.empty() && fact.element == vocabulary_.each && each_variable(fact) == variable) return &fact;
    }
    return nullptr;
  }

  Part quantity(const Token& token) const {
    if (const auto* fact = fact_of_each(token.text)) return {fact->type == FactType::number ? Kind::number : Kind::text, token.offset, fact, {}, {}};
    const auto& known = vocabulary_.quantities;
    if (std::find(known.begin(), known.end(), token.text) == known.end()) {
      std::vector<std::string> written;
      for (const auto& name : known) written.push_back("$" + name);
      fail(token.offset, "no quantity '$" + token.text + "' is declared", text::suggestion("$" + token.text, written));
    }
    return {Kind::number, token.offset, nullptr, {}, {}};
  }

  Part call(const Token& function) {
    struct Signature {
      std::string_view name;
      std::optional<Kind> takes;  // none: an element or the path of a fact
      Kind gives;
    };
    static constexpr Signature known[] = {
        {"not", Kind::boolean, Kind::boolean},   {"count", std::nullopt, Kind::number}, {"sum", Kind::number, Kind::number},
        {"number", std::nullopt, Kind::number},  {"floor", Kind::number, Kind::number}, {"ceiling", Kind::number, Kind::number},
        {"round", Kind::number, Kind::number}};
    const auto* found = std::find_if(std::begin(known), std::end(known), [&](const auto& s) { return s.name == function.text; });
    if (found == std::end(known)) {
      std::vector<std::string> names;
      for (const auto& s : known) names.emplace_back(s.name);
      fail(function.offset, "no function '" + function.text + "()'", text::suggestion(function.text, names));
    }
    ++at_;
    if (++depth_ > deepest_nesting) fail(function.offset, "brackets nested too deep");
    const auto argument = either();
    --depth_;
    close();
    if (found->takes) require(argument, *found->takes, function.text + "()");
    // number() also makes 1 or 0 of a condition: so a limit may depend on a choice.
    if (function.text == "number" && argument.kind != Kind::boolean) require(argument, Kind::number, "number()");
    const bool needs_path = function.text == "count" || function.text == "sum";
    if (needs_path && argument.kind != Kind::element && argument.fact == nullptr) fail(argument.offset, function.text + "() needs a path of the record");
    return {found->gives, function.offset, nullptr, {}, {}};
  }

  Part path(const Token& first) {
    const auto element = std::find_if(vocabulary_.elements.begin(), vocabulary_.elements.end(), [&](const auto& e) { return e.name == first.text; });
    if (element == vocabulary_.elements.end()) unknown_name(first);
    if (take(TokenKind::symbol, "/")) fail(next().offset, "the record has no elements inside '" + first.text + "'", "write " + first.text + "/@fact");
    if (!take(TokenKind::symbol, "/@")) return {Kind::element, first.offset, nullptr, {}, {}};
    const auto name = next();
    if (name.kind != TokenKind::name) fail(name.offset, "the name of a fact must follow '/@'");
    ++at_;
    std::vector<std::string> names;
    for (const auto& fact : vocabulary_.facts) {
      if (fact.element != first.text) continue;
      names.push_back(fact.name);
      if (fact.name == name.text) return {fact.type == FactType::number ? Kind::number : Kind::text, first.offset, &fact, {}, {}};
    }
    fail(name.offset, "'" + first.text + "' has no fact '" + name.text + "'", text::suggestion(name.text, names));
  }

  [[noreturn]] void unknown_name(const Token& token) const {
    const auto& quantities = vocabulary_.quantities;
    if (std::find(quantities.begin(), quantities.end(), token.text) != quantities.end()) {
      fail(token.offset, "'" + token.text + "' is a bare name", "did you mean '$" + token.text + "'?");
    }
    std::vector<std::string> names;
    for (const auto& element : vocabulary_.elements) names.push_back(element.name);
    fail(token.offset, "the record has no element '" + token.text + "'", text::suggestion(token.text, names));
  }

  std::vector<Token> tokens_;
  const Vocabulary& vocabulary_;
  std::size_t at_ = 0;
  int depth_ = 0;
};

// The second opinion of the library that will evaluate it.
void compile(std::string_view expression, const Vocabulary& vocabulary) {
  pugi::xpath_variable_set variables;
  for (const auto& name : vocabulary.quantities) variables.set(name.c_str(), 0.0);
  for (const auto& fact : vocabulary.facts) {
    if (fact.element != vocabulary.each) continue;
    if (fact.type == FactType::number) variables.set(each_variable(fact).c_str(), 0.0);
    else variables.set(each_variable(fact).c_str(), "");
  }
  try {
    const pugi::xpath_query query(std::string(expression).c_str(), &variables);
  } catch (const pugi::xpath_exception& exception) {
    throw ExpressionFault{static_cast<std::size_t>(exception.result().offset), exception.what(), ""};
  }
}

}  // namespace

std::string each_variable(const Fact& fact) { return fact.element + "-" + fact.name; }

std::optional<ExpressionFault> check_expression(std::string_view expression, Wanted wanted, const Vocabulary& vocabulary) {
  try {
    if (expression.size() > longest_expression) return ExpressionFault{0, "an expression longer than 4096 bytes", ""};
    const auto part = Checker(expression, vocabulary).whole();
    const auto kind = wanted == Wanted::condition ? Kind::boolean : Kind::number;
    if (part.kind != kind) return ExpressionFault{0, std::string("must be ") + words_for(kind) + ", this is " + words_for(part.kind), ""};
    compile(expression, vocabulary);
    return std::nullopt;
  } catch (const ExpressionFault& fault) {
    return fault;
  }
}

std::vector<std::string> quantities_used(std::string_view expression) {
  std::vector<std::string> used;
  try {
    for (const auto& token : tokens_of(expression)) {
      if (token.kind == TokenKind::variable) used.push_back(token.text);
    }
  } catch (const ExpressionFault&) {
    return {};  // check_expression reports it
  }
  return used;
}

}  // namespace leadline::knowledge
