#pragma once
// Plain text within a width: words wrapped, characters counted, nothing that could steer a terminal. Tested by tests/cli/layout_test.cpp.
#include <string>
#include <string_view>

namespace leadline::cli {

// Lines of at most `width` characters, each ended by a newline; the first begins with `first`, the others with `rest`. A word longer
// than the room is cut. Blanks are folded, but no line is broken at a U+00A0, which is printed as a plain blank; control characters
// are made harmless. Requires: width > characters of first and rest.
std::string wrapped(std::string_view words, std::size_t width, std::string_view first = "", std::string_view rest = "");

// What bars are drawn with, and nothing else: "#" where the terminal has no UTF-8, left out for a screen reader, which would read each one.
constexpr std::string_view block = "\u2588";
std::string without_blocks(std::string_view utf8);

// For terminals without UTF-8: every byte below 128, signs of the trade spelt out ("ohm"), what is unknown a '?'.
std::string ascii(std::string_view utf8);

// A page grows line by line.
class Page {
 public:
  explicit Page(std::size_t width) : width_(width) {}

  Page& blank();                                                 // never two in a row, none at the top
  Page& heading(std::string_view words);                         // a blank line, then the words
  Page& line(std::string_view words, std::size_t indent = 0);
  Page& item(std::string_view label, std::string_view words, std::size_t indent = 2);  // hanging: what is wrapped stands under the words
  Page& append(const Page& other);

  std::size_t width() const { return width_; }
  bool empty() const { return text_.empty(); }
  const std::string& text() const { return text_; }

 private:
  std::size_t width_;
  std::string text_;
};

}  // namespace leadline::cli
