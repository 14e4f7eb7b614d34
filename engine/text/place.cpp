#include "engine/text/place.h"

#include <algorithm>

namespace leadline::text {

namespace {

bool starts_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
}

}  // namespace

Place place_of(std::string_view file, std::string_view content, std::size_t offset) {
  const auto before = content.substr(0, std::min(offset, content.size()));
  const auto line = 1 + std::count(before.begin(), before.end(), '\n');
  const auto line_end = before.rfind('\n');
  const auto in_line = line_end == std::string_view::npos ? before : before.substr(line_end + 1);
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
