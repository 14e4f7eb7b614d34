#include "engine/audit/words.h"

#include <algorithm>

namespace leadline::audit {

namespace {

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (static_cast<unsigned char>(c) & 0x80U) != 0; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

}  // namespace

std::vector<Word> words_of(std::string_view text) {
  std::vector<Word> words;
  for (std::size_t at = 0; at < text.size();) {
    if (!is_letter(text[at])) {
      ++at;
      continue;
    }
    auto end = at;
    const auto inner_apostrophe = [&](std::size_t i) { return text[i] == '\'' && i + 1 < text.size() && is_letter(text[i + 1]); };
    while (end < text.size() && (is_letter(text[end]) || inner_apostrophe(end))) ++end;
    const bool beside_digit = (at > 0 && is_digit(text[at - 1])) || (end < text.size() && is_digit(text[end]));
    Word word{"", at};
    for (auto i = at; i < end; ++i) word.letters += lower(text[i]);
    if (!beside_digit) words.push_back(std::move(word));
    at = end;
  }
  return words;
}

std::set<std::string> word_set(std::string_view text) {
  std::set<std::string> set;
  for (auto& word : words_of(text)) set.insert(std::move(word.letters));
  return set;
}

double alike(const std::set<std::string>& a, const std::set<std::string>& b) {
  const auto shared = static_cast<std::size_t>(std::count_if(a.begin(), a.end(), [&](const auto& word) { return b.contains(word); }));
  const auto all = a.size() + b.size() - shared;
  return all == 0 ? 0 : static_cast<double>(shared) / static_cast<double>(all);
}

}  // namespace leadline::audit
