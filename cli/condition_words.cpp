#include "cli/condition_words.h"

#include <algorithm>
#include <map>
#include <optional>

#include "engine/knowledge/expression_tokens.h"

namespace leadline::cli {

namespace {

using knowledge::Fact;
using knowledge::KnowledgeBase;
using knowledge::Token;
using knowledge::TokenKind;

std::string in_quotes(const std::string& words) { return "\"" + words + "\""; }

std::string with_blanks(std::string name) {
  std::replace_if(name.begin(), name.end(), [](char c) { return c == '_' || c == '-'; }, ' ');
  return name;
}

// "a brushless motor with a controller: push in proportion to the lever": what follows the colon explains, and is left out.
std::string choice_words(const Fact* fact, const std::string& value) {
  if (fact != nullptr) {
    for (const auto& choice : fact->choices) {
      if (choice.id == value && choice.words != value && !choice.words.empty()) return in_quotes(choice.words.substr(0, choice.words.find(':')));
    }
  }
  return value;
}

std::string symbol_words(const std::string& symbol) {
  static const std::map<std::string, std::string> words{{"=", "is"},       {"!=", "is not"},    {"<", "is below"}, {">", "is above"},
                                                        {"<=", "is at most"}, {">=", "is at least"}, {"*", "times"}};
  const auto found = words.find(symbol);
  return found == words.end() ? symbol : found->second;
}

class Sentence {
 public:
  Sentence(const KnowledgeBase& base, std::vector<Token> tokens) : base_(base), tokens_(std::move(tokens)) {}

  std::string spoken() {
    while (tokens_[at_].kind != TokenKind::end) add(next());
    return words_;
  }

 private:
  bool symbol_at(std::size_t at, std::string_view symbol) const { return at < tokens_.size() && tokens_[at].kind == TokenKind::symbol && tokens_[at].text == symbol; }

  // Brackets stand close to what they hold.
  void add(const std::string& more) {
    const bool close = words_.empty() || words_.back() == '(' || more == ")" || more == ",";
    words_ += (close ? "" : " ") + more;
  }

  std::string next() {
    const auto& token = tokens_[at_];
    if (token.kind == TokenKind::name && symbol_at(at_ + 1, "/@")) return path();
    if (token.kind == TokenKind::name && token.text == "count" && symbol_at(at_ + 1, "(")) return count();
    ++at_;
    if (token.kind == TokenKind::name && token.text == "div") return "by";
    if (token.kind == TokenKind::symbol) return symbol_words(token.text);
    if (token.kind == TokenKind::variable) return "the " + with_blanks(token.text);
    return token.kind == TokenKind::text ? choice_words(asked_, token.text) : token.text;
  }

  std::string path() {
    const auto fact = knowledge::find_fact(base_, tokens_[at_].text, tokens_[at_ + 2].text);
    const auto name = tokens_[at_].text + " " + with_blanks(tokens_[at_ + 2].text);
    at_ += 3;
    asked_ = fact ? &base_.facts[*fact] : nullptr;
    return asked_ != nullptr && !asked_->ask.empty() ? in_quotes(asked_->ask) : "the " + name;
  }

  // count(station) > 1
  std::string count() {
    const auto name = with_blanks(tokens_[at_ + 2].text);
    at_ += 4;
    return "the number of " + name + "s";
  }

  const KnowledgeBase& base_;
  std::vector<Token> tokens_;
  std::size_t at_ = 0;
  const Fact* asked_ = nullptr;  // the fact named last: words in quotes after it are its choices
  std::string words_;
};

}  // namespace

std::string condition_words(const KnowledgeBase& base, std::string_view condition) { return Sentence(base, knowledge::tokens_of(condition)).spoken(); }

}  // namespace leadline::cli
