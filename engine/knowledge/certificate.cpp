#include "engine/knowledge/certificate.h"

#include <algorithm>

namespace leadline::knowledge {

namespace {

// In the order of the enumeration.
template <class Kind>
std::optional<Kind> at_word(const std::vector<std::string>& words, std::string_view word) {
  const auto found = std::find(words.begin(), words.end(), word);
  return found == words.end() ? std::nullopt : std::optional(static_cast<Kind>(found - words.begin()));
}

}  // namespace

const std::vector<std::string>& number_kind_words() {
  static const std::vector<std::string> words{"frequency", "strength", "effect", "mends", "leak", "threshold", "doubt", "minutes", "part"};
  return words;
}

const std::vector<std::string>& sureness_words() {
  static const std::vector<std::string> words{"rough", "fair", "firm"};
  return words;
}

std::string_view to_string(NumberKind kind) { return number_kind_words()[static_cast<std::size_t>(kind)]; }
std::string_view to_string(Sureness sure) { return sureness_words()[static_cast<std::size_t>(sure)]; }
std::optional<NumberKind> number_kind_of(std::string_view word) { return at_word<NumberKind>(number_kind_words(), word); }
std::optional<Sureness> sureness_of(std::string_view word) { return at_word<Sureness>(sureness_words(), word); }

}  // namespace leadline::knowledge
