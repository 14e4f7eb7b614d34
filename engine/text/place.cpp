#include "engine/text/place.h"

#include <algorithm>

namespace leadline::text {

namespace {

bool starts_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
}

}  // namespace

Place place_of(std::string_view file, std::string_view content, std::size_t offset) {
  return LineIndex(content).place_of(file, content, offset);
}

LineIndex::LineIndex(std::string_view content) : starts_{0} {
  for (std::size_t at = 0; at < content.size(); ++at) {
    if (content[at] == '\n') starts_.push_back(at + 1);
  }
}

Place LineIndex::place_of(std::string_view file, std::string_view content, std::size_t offset) const {
  const auto at = std::min(offset, content.size());
  const auto line = std::upper_bound(starts_.begin(), starts_.end(), at) - starts_.begin();
  const auto start = starts_[static_cast<std::size_t>(line) - 1];
  const auto in_line = content.substr(start, at - start);
  const auto column = 1 + std::count_if(in_line.begin(), in_line.end(), starts_character);
  return {std::string(file), static_cast<int>(line), static_cast<int>(column)};
}

std::string_view line_at(std::string_view content, int line) {
  for (int at = 1; at < line; ++at) {
    const auto end = content.find('\n');
    if (end == std::string_view::npos) return {};
    content.remove_prefix(end + 1);
  }
  auto found = content.substr(0, content.find('\n'));
  if (!found.empty() && found.back() == '\r') found.remove_suffix(1);
  return line < 1 ? std::string_view{} : found;
}

std::string to_string(const Place& place) {
  if (place.line == 0) return place.file;
  return place.file + ":" + std::to_string(place.line) + ":" + std::to_string(place.column);
}

}  // namespace leadline::text
