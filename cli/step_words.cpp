#include "cli/step_words.h"

#include <algorithm>
#include <iterator>
#include <sstream>

#include "cli/phrases.h"

namespace leadline::cli {

namespace {

std::string all_about(const knowledge::KnowledgeBase& base, planning::Act act, std::size_t index) {
  if (act == planning::Act::remedy) {
    std::string about = "remedy " + base.remedies[index].id + " " + base.remedies[index].title;
    for (const auto& cause : base.causes) {
      const bool mends = std::any_of(cause.mends.begin(), cause.mends.end(), [&](const auto& mend) { return mend.remedy.index == index; });
      if (mends) about += " " + cause.title;
    }
    return about;
  }
  const auto& check = base.checks[index];
  std::string about = check.id + " " + check.title;
  for (const auto finding : check.observes) {
    about += " " + base[finding].title;
    for (const auto& words : base[finding].words) about += " " + words;
  }
  return about;
}

std::string_view without_plural(std::string_view word) { return word.size() > 3 && word.ends_with('s') ? word.substr(0, word.size() - 1) : word; }

// Whether each wanted word, without a plural's s, is that of some word of the text.
template <class Is>
bool each_in(std::string_view text, const std::vector<std::string>& words, Is is) {
  const auto there = words_wanted(text);
  return std::all_of(words.begin(), words.end(), [&](const auto& word) {
    return std::any_of(there.begin(), there.end(), [&](const auto& other) { return is(other, without_plural(word)); });
  });
}

}  // namespace

std::vector<std::string> words_wanted(std::string_view typed) {
  std::istringstream in(normalised(typed));
  return {std::istream_iterator<std::string>(in), {}};
}

bool has_words(std::string_view text, const std::vector<std::string>& words) {
  return each_in(text, words, [](std::string_view other, std::string_view word) { return other.starts_with(word); });
}

bool has_whole_words(std::string_view text, const std::vector<std::string>& words) {
  return each_in(text, words, [](std::string_view other, std::string_view word) { return without_plural(other) == word; });
}

bool is_about(const knowledge::KnowledgeBase& base, planning::Act act, std::size_t index, const std::vector<std::string>& words) {
  return words.empty() || has_words(all_about(base, act, index), words);   // none on every page: nothing is put together to be thrown away
}

}  // namespace leadline::cli
