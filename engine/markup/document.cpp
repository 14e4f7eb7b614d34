#include "engine/markup/document.h"

#include <algorithm>
#include <charconv>
#include <string_view>

namespace leadline::markup {

namespace {

struct ValueSpan {
  std::size_t name = 0;   // offset of the attribute's name
  std::size_t begin = 0;  // of its value, after the quote
  std::size_t end = 0;
};

// Walks the start tag at `offset`, which first_breach has found to be well formed; pugixml keeps no offsets of attributes.
std::optional<ValueSpan> find_attribute(std::string_view content, std::size_t offset, std::string_view wanted) {
  const auto is_blank = [](char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; };
  auto at = content.find_first_of(" \t\r\n/>", offset);
  while (at < content.size() && content[at] != '>' && content[at] != '/') {
    while (is_blank(content[at])) ++at;
    if (content[at] == '>' || content[at] == '/') break;
    ValueSpan span{at, 0, 0};
    const auto name_end = content.find_first_of(" \t\r\n=", at);
    const auto quote_at = content.find_first_of("\"'", name_end);
    span.begin = quote_at + 1;
    span.end = content.find(content[quote_at], span.begin);
    if (content.substr(span.name, name_end - span.name) == wanted) return span;
    at = span.end + 1;
  }
  return std::nullopt;
}

// A piece of a value as the file writes it: how many bytes it takes there, and how many it stands for.
struct Piece {
  std::size_t written = 1, meant = 1;
};

std::size_t utf8_length(unsigned long code) { return code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4; }

Piece piece_at(std::string_view content, std::size_t at) {
  if (content.substr(at, 2) == "\r\n") return {2, 1};  // the parser makes one blank of it
  if (content[at] != '&') return {};
  const auto name = content.substr(at + 1, content.find(';', at) - at - 1);
  if (!name.starts_with('#')) return {name.size() + 2, 1};
  const bool hexadecimal = name.starts_with("#x");
  unsigned long code = 0;
  std::from_chars(name.data() + (hexadecimal ? 2 : 1), name.data() + name.size(), code, hexadecimal ? 16 : 10);
  return {name.size() + 2, utf8_length(code)};
}

}  // namespace

Document::Document(text::Source source) : source_(std::move(source)), lines_(source_.content), tree_(std::make_shared<pugi::xml_document>()) {
  tree_->load_buffer(source_.content.data(), source_.content.size(), pugi::parse_default, pugi::encoding_utf8);
}

text::Place Document::place(pugi::xml_node node) const {
  return at(static_cast<std::size_t>(std::max<std::ptrdiff_t>(node.offset_debug(), 0)));
}

text::Place Document::place(pugi::xml_node node, const char* attribute) const {
  const auto start = static_cast<std::size_t>(std::max<std::ptrdiff_t>(node.offset_debug(), 0));
  const auto span = find_attribute(source_.content, start, attribute);
  return span ? at(span->name) : place(node);
}

text::Place Document::place_in_value(pugi::xml_node node, const char* attribute, std::size_t offset) const {
  const auto start = static_cast<std::size_t>(std::max<std::ptrdiff_t>(node.offset_debug(), 0));
  const auto span = find_attribute(source_.content, start, attribute);
  if (!span) return place(node);
  auto position = span->begin;
  for (std::size_t passed = 0; passed < offset && position < span->end;) {
    const auto piece = piece_at(source_.content, position);
    passed += piece.meant;
    position += piece.written;
  }
  return at(std::min(position, span->end));
}

text::Loaded<Document> parse(const text::Source& source, const Limits& limits) {
  if (auto breach = first_breach(source, limits)) return {std::nullopt, {*std::move(breach)}};
  pugi::xml_document probe;
  const auto result = probe.load_buffer(source.content.data(), source.content.size(), pugi::parse_default, pugi::encoding_utf8);
  if (!result) {
    const auto place = text::place_of(source.name, source.content, static_cast<std::size_t>(std::max<std::ptrdiff_t>(result.offset, 0)));
    return {std::nullopt, {{place, result.description(), "", text::Severity::error}}};
  }
  return {Document(source), {}};
}

}  // namespace leadline::markup
