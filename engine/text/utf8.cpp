#include "engine/text/utf8.h"

#include <cstdint>

namespace leadline::text {

namespace {

struct Decoded {
  std::size_t length = 0;  // 0: malformed
  std::uint32_t code = 0;
};

std::size_t expected_length(unsigned char lead) {
  if (lead < 0x80) return 1;
  if (lead >= 0xC2 && lead <= 0xDF) return 2;
  if (lead >= 0xE0 && lead <= 0xEF) return 3;
  if (lead >= 0xF0 && lead <= 0xF4) return 4;
  return 0;
}

Decoded decode(std::string_view text) {
  static constexpr std::uint32_t lead_mask[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
  static constexpr std::uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  const auto length = expected_length(static_cast<unsigned char>(text[0]));
  if (length == 0 || length > text.size()) return {};
  std::uint32_t code = static_cast<unsigned char>(text[0]) & lead_mask[length];
  for (std::size_t i = 1; i < length; ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    if ((byte & 0xC0U) != 0x80U) return {};
    code = (code << 6U) | (byte & 0x3FU);
  }
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  return code < least[length] || surrogate || code > 0x10FFFF ? Decoded{} : Decoded{length, code};
}

bool steers_terminal(std::uint32_t code) {
  const bool control = code < 0x20 || (code >= 0x7F && code < 0xA0);
  const bool bidirectional = code == 0x061C || code == 0x200E || code == 0x200F || (code >= 0x202A && code <= 0x202E) ||
                             (code >= 0x2066 && code <= 0x2069);
  return control || bidirectional || code == 0x2028 || code == 0x2029 || code == 0xFEFF;
}

}  // namespace

std::optional<std::size_t> first_invalid_utf8(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const auto decoded = decode(text.substr(at));
    if (decoded.length == 0) return at;
    at += decoded.length;
  }
  return std::nullopt;
}

std::vector<std::string> split_characters(std::string_view text) {
  std::vector<std::string> characters;
  for (std::size_t at = 0; at < text.size();) {
    const auto length = decode(text.substr(at)).length;
    characters.emplace_back(text.substr(at, length == 0 ? 1 : length));
    at += characters.back().size();
  }
  return characters;
}

std::size_t character_count(std::string_view text) {
  return split_characters(text).size();
}

std::string printable(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const auto decoded = decode(text.substr(at));
    const auto length = decoded.length == 0 ? 1 : decoded.length;
    const bool blank = text[at] == '\t' || text[at] == '\n';
    if (blank) out += ' ';
    else if (decoded.length == 0 || steers_terminal(decoded.code)) out += '?';
    else out += text.substr(at, length);
    at += length;
  }
  return out;
}

}  // namespace leadline::text
