#include "engine/text/number.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace leadline::text {

std::optional<double> parse_number(std::string_view text) {
  double value = 0;
  const auto* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc{} || stop != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::string number_hint(std::string_view text) {
  if (text.empty()) return "a number is missing";
  std::string with_point(text);
  std::replace(with_point.begin(), with_point.end(), ',', '.');
  if (with_point != text && parse_number(with_point)) return "write a point as decimal mark: " + with_point;
  const auto first = text.find_first_not_of(" \t");
  if (first != std::string_view::npos) {
    const auto trimmed = text.substr(first, text.find_last_not_of(" \t") - first + 1);
    if (trimmed != text && parse_number(trimmed)) return "leave out the spaces: " + std::string(trimmed);
  }
  return "write a plain decimal number, for instance 0.5";
}

std::string format_number(double value, int decimals) {
  std::array<char, 400> buffer{};
  const auto [end, error] = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals);
  std::string shown(buffer.data(), error == std::errc{} ? end : buffer.data());
  if (shown.find('.') != std::string::npos) {
    shown.erase(shown.find_last_not_of('0') + 1);
    if (shown.back() == '.') shown.pop_back();
  }
  return shown == "-0" ? "0" : shown;
}

}  // namespace leadline::text
