#pragma once
// Where something was written: every fact and every message can name its file, line and column.
// Tested by tests/text/place_test.cpp.
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace leadline::text {

// A named text. The engine opens no files: readers take a Source, so a test needs no folder.
struct Source {
  std::string name;
  std::string content;
};

// Line and column count from 1; the column counts characters (UTF-8 code points), as editors do. Line 0: the file as a whole.
struct Place {
  std::string file;
  int line = 0;
  int column = 0;
  friend bool operator==(const Place&, const Place&) = default;
  friend auto operator<=>(const Place&, const Place&) = default;
};

// The place of byte `offset` of `content`. An offset beyond the end is the end.
Place place_of(std::string_view file, std::string_view content, std::size_t offset);

// The same for many places of one text: finds the line by bisection instead of counting from the start each time.
class LineIndex {
 public:
  explicit LineIndex(std::string_view content);
  // Requires: `content` is the text the index was made of.
  Place place_of(std::string_view file, std::string_view content, std::size_t offset) const;

 private:
  std::vector<std::size_t> starts_;  // offsets of first bytes of lines
};

// The line of `content` that holds the place, without its line end; empty when there is none.
std::string_view line_at(std::string_view content, int line);

std::string to_string(const Place& place);  // "file:line:column", or "file" for line 0

}  // namespace leadline::text
