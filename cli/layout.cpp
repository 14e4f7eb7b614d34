#include "cli/layout.h"

#include <map>
#include <utility>

#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

// Signs that appear in knowledge files and on meters.
const std::map<std::string, std::string, std::less<>>& spelt_out() {
  static const std::map<std::string, std::string, std::less<>> table{
      {"Ω", "ohm"}, {"Ω", "ohm"}, {"°", "deg"}, {"µ", "u"},  {"μ", "u"},   {"²", "2"},   {"×", "x"},  {"·", "*"},  {"–", "-"},  {"—", "-"},
      {"−", "-"},   {"‘", "'"},   {"’", "'"},   {"“", "\""}, {"”", "\""},  {"…", "..."}, {"→", "->"}, {"≤", "<="}, {"≥", ">="}, {"±", "+-"},
      {"½", "1/2"}, {"¼", "1/4"}, {"ä", "ae"},  {"ö", "oe"}, {"ü", "ue"},  {"Ä", "Ae"},  {"Ö", "Oe"}, {"Ü", "Ue"}, {"ß", "ss"}, {"é", "e"},
      {"è", "e"},   {"ê", "e"},   {"à", "a"},   {"å", "a"},  {"ø", "o"},   {"æ", "ae"},  {"ç", "c"},  {"ñ", "n"},  {"§", "section"},
      {std::string(block), "#"}};
  return table;
}

// The first `count` characters of `characters` from `at` on.
std::string joined(const std::vector<std::string>& characters, std::size_t at, std::size_t count) {
  std::string out;
  for (std::size_t i = at; i < at + count && i < characters.size(); ++i) out += characters[i];
  return out;
}

// Lays words into lines.
class Filler {
 public:
  Filler(std::size_t width, std::string_view first, std::string_view rest) : width_(width), rest_(rest), line_(first) {
    used_ = prefix_ = text::character_count(first);
  }

  void add(const std::string& word) {
    auto characters = text::split_characters(word);
    if (used_ > prefix_ && used_ + 1 + characters.size() > width_) break_line();
    if (used_ > prefix_) line_ += ' ', ++used_;
    std::size_t at = 0;
    while (characters.size() - at > width_ - used_) {
      const auto room = width_ - used_;
      line_ += joined(characters, at, room);
      at += room;
      break_line();
    }
    line_ += joined(characters, at, characters.size() - at);
    used_ += characters.size() - at;
  }

  std::string finish() {
    break_line();
    static constexpr std::string_view unbroken = "\u00A0";
    for (auto at = text_.find(unbroken); at != std::string::npos; at = text_.find(unbroken, at)) text_.replace(at, unbroken.size(), " ");
    return std::move(text_);
  }

 private:
  void break_line() {
    line_.erase(line_.find_last_not_of(' ') + 1);
    text_ += line_ + "\n";
    line_ = rest_;
    used_ = prefix_ = text::character_count(rest_);
  }

  std::size_t width_, used_ = 0, prefix_ = 0;
  std::string rest_, line_, text_;
};

}  // namespace

std::string wrapped(std::string_view words, std::size_t width, std::string_view first, std::string_view rest) {
  Filler filler(width, first, rest);
  const auto safe = text::printable(words);
  std::string word;
  for (const char c : safe + " ") {
    if (c != ' ') word += c;
    else if (!word.empty()) filler.add(std::exchange(word, ""));
  }
  return filler.finish();
}

std::string without_blocks(std::string_view utf8) {
  std::string out(utf8);
  for (auto at = out.find(block); at != std::string::npos; at = out.find(block, at)) out.erase(at, block.size());
  return out;
}

std::string ascii(std::string_view utf8) {
  std::string out;
  for (const auto& character : text::split_characters(utf8)) {
    if (character.size() == 1 && static_cast<unsigned char>(character[0]) < 128) {
      out += character;
      continue;
    }
    const auto found = spelt_out().find(character);
    out += found == spelt_out().end() ? "?" : found->second;
  }
  return out;
}

Page& Page::blank() {
  if (!text_.empty() && !text_.ends_with("\n\n")) text_ += "\n";
  return *this;
}

Page& Page::heading(std::string_view words) {
  blank();
  return line(words);
}

Page& Page::line(std::string_view words, std::size_t indent) {
  const std::string margin(indent, ' ');
  text_ += wrapped(words, width_, margin, margin);
  return *this;
}

Page& Page::item(std::string_view label, std::string_view words, std::size_t indent) {
  const auto first = std::string(indent, ' ') + std::string(label) + " ";
  text_ += wrapped(words, width_, first, std::string(text::character_count(first), ' '));
  return *this;
}

Page& Page::append(const Page& other) {
  text_ += other.text_;
  return *this;
}

}  // namespace leadline::cli
