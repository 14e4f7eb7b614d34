#include "engine/markup/strictness.h"

#include <algorithm>
#include <charconv>
#include <string>
#include <vector>

#include "engine/text/number.h"
#include "engine/text/utf8.h"

namespace leadline::markup {

namespace {

using text::Problem;

struct Breach {
  std::size_t offset;
  std::string what;
  std::string hint;
};

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

bool is_name_start(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || byte == '_' || byte == ':' || byte >= 0x80;
}

bool is_name_character(char c) { return is_name_start(c) || (c >= '0' && c <= '9') || c == '-' || c == '.'; }

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; }

// Runs of blanks made one.
std::string fold(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (!is_blank(c)) out += c;
    else if (out.empty() || out.back() != ' ') out += ' ';
  }
  return out;
}

// A character reference may name neither NUL, nor a control character, nor a surrogate, nor anything beyond Unicode.
bool legal_character(unsigned long code) {
  if (code < 0x20) return code == '\t' || code == '\n' || code == '\r';
  const bool control = code >= 0x7F && code < 0xA0;
  return !control && !(code >= 0xD800 && code <= 0xDFFF) && code <= 0x10FFFF && code != 0xFFFE && code != 0xFFFF;
}

// One pass over the text, throwing the first Breach it meets. Throwing stays inside this file.
class Scanner {
 public:
  Scanner(std::string_view content, const Limits& limits) : content_(content), limits_(limits) {}

  void scan() {
    while (at_ < content_.size()) {
      if (content_[at_] == '<') scan_markup();
      else scan_text();
    }
    if (!open_.empty()) fail(open_.back().offset, "element '" + open_.back().name + "' is never closed", "add </" + open_.back().name + ">");
    if (!seen_root_) fail(0, "the file holds no element", "expected one root element");
  }

 private:
  struct Open {
    std::string name;
    std::size_t offset;
  };

  [[noreturn]] static void fail(std::size_t offset, std::string what, std::string hint = "") {
    throw Breach{offset, std::move(what), std::move(hint)};
  }

  bool looking_at(std::string_view prefix) const { return content_.substr(at_).starts_with(prefix); }

  void skip_past(std::string_view end, const char* what) {
    const auto found = content_.find(end, at_);
    if (found == std::string_view::npos) fail(at_, std::string(what) + " is never closed", "add " + std::string(end));
    at_ = found + end.size();
  }

  void scan_markup() {
    if (looking_at("<!--")) scan_comment();
    else if (looking_at("<![CDATA[")) scan_character_data();
    else if (looking_at("<!")) fail(at_, "a DOCTYPE or declaration is not accepted", "remove it; entities of one's own are not supported");
    else if (looking_at("<?")) scan_instruction();
    else if (looking_at("</")) scan_end_tag();
    else scan_start_tag();
  }

  void scan_comment() {
    const auto start = at_;
    at_ += 4;
    const auto dashes = content_.find("--", at_);
    if (dashes == std::string_view::npos) fail(start, "a comment is never closed", "add -->");
    if (dashes + 2 >= content_.size() || content_[dashes + 2] != '>') fail(dashes, "'--' inside a comment", "write a single dash");
    at_ = dashes + 3;
  }

  void scan_character_data() {
    if (open_.empty()) fail(at_, "text outside the root element");
    skip_past("]]>", "a CDATA section");
  }

  void scan_instruction() {
    const auto start = at_;
    at_ += 2;
    const auto target = scan_name("the name of a processing instruction");
    if (!looking_at("?>") && (at_ >= content_.size() || !is_blank(content_[at_]))) fail(at_, "expected a blank or '?>'");
    at_ = start;
    skip_past("?>", "a processing instruction");
    if (!reserved(target)) return;
    if (start != 0) fail(start, "an XML declaration may only stand at the very start");
    check_declaration(content_.substr(0, at_));
  }

  // "xml" in any case is kept for the declaration.
  static bool reserved(std::string_view target) { return target.size() == 3 && lower(target[0]) == 'x' && lower(target[1]) == 'm' && lower(target[2]) == 'l'; }

  static void check_declaration(std::string_view written) {
    const auto folded = written.size() > 200 ? std::string() : fold(written);
    for (const std::string quote : {"\"", "'"}) {
      for (const std::string encoding : {"", "UTF-8", "utf-8"}) {
        for (const std::string standalone : {"", "yes", "no"}) {
          std::string plain = "<?xml version=" + quote + "1.0" + quote;
          if (!encoding.empty()) plain += " encoding=" + quote + encoding + quote;
          if (!standalone.empty()) plain += " standalone=" + quote + standalone + quote;
          if (folded == plain + "?>" || folded == plain + " ?>") return;
        }
      }
    }
    const auto at = written.find("encoding");
    const bool other = at != std::string_view::npos && written.find("UTF-8") == std::string_view::npos && written.find("utf-8") == std::string_view::npos;
    if (other) fail(at, "the file declares an encoding other than UTF-8", "save it as UTF-8");
    fail(0, "not a plain XML declaration", "write <?xml version=\"1.0\" encoding=\"UTF-8\"?>");
  }

  std::string scan_name(const char* what) {
    const auto start = at_;
    if (at_ >= content_.size() || !is_name_start(content_[at_])) fail(at_, std::string("expected ") + what, "write &lt; for a plain '<'");
    while (at_ < content_.size() && is_name_character(content_[at_])) ++at_;
    return std::string(content_.substr(start, at_ - start));
  }

  void skip_blanks() {
    while (at_ < content_.size() && is_blank(content_[at_])) ++at_;
  }

  void expect(char wanted) {
    if (at_ >= content_.size() || content_[at_] != wanted) fail(at_, std::string("expected '") + wanted + "'");
    ++at_;
  }

  void scan_end_tag() {
    const auto start = at_;
    at_ += 2;
    const auto name = scan_name("an element name");
    skip_blanks();
    expect('>');
    if (open_.empty()) fail(start, "'</" + name + ">' closes nothing");
    if (open_.back().name != name) fail(start, "'</" + name + ">' does not close '" + open_.back().name + "'", "expected </" + open_.back().name + ">");
    open_.pop_back();
  }

  void scan_start_tag() {
    const auto start = at_++;
    const auto name = scan_name("an element name");
    if (open_.empty() && seen_root_) fail(start, "a second root element '" + name + "'", "a file holds one root element");
    seen_root_ = true;
    if (++elements_ > limits_.elements) fail(start, "more than " + std::to_string(limits_.elements) + " elements", "split the file");
    if (open_.size() + 1 > limits_.depth) fail(start, "elements nested deeper than " + std::to_string(limits_.depth));
    scan_attributes();
    if (content_[at_] == '/') {
      ++at_;
      expect('>');
    } else {
      expect('>');
      open_.push_back({name, start});
    }
  }

  void scan_attributes() {
    std::vector<std::string> names;
    for (;;) {
      const auto before = at_;
      skip_blanks();
      if (at_ >= content_.size()) fail(before, "a tag is never closed", "add >");
      if (content_[at_] == '>' || content_[at_] == '/') return;
      if (at_ == before) fail(at_, "expected a blank before the attribute");
      const auto start = at_;
      names.push_back(scan_name("an attribute name, '>' or '/>'"));
      if (std::count(names.begin(), names.end(), names.back()) > 1) fail(start, "attribute '" + names.back() + "' is given twice", "remove one");
      if (names.size() > limits_.attributes) fail(start, "more than " + std::to_string(limits_.attributes) + " attributes");
      skip_blanks();
      expect('=');
      skip_blanks();
      scan_value();
    }
  }

  void scan_value() {
    if (at_ >= content_.size() || (content_[at_] != '"' && content_[at_] != '\'')) fail(at_, "the value of an attribute must stand in quotes");
    const char quote = content_[at_];
    const auto start = ++at_;
    while (at_ < content_.size() && content_[at_] != quote) {
      if (content_[at_] == '<') fail(at_, "'<' inside an attribute", "write &lt;");
      if (content_[at_] == '&') scan_reference();
      else ++at_;
    }
    if (at_ - start > limits_.attribute_bytes) fail(start, "an attribute longer than " + std::to_string(limits_.attribute_bytes) + " bytes");
    if (at_ >= content_.size()) fail(start, "the value of an attribute is never closed", std::string("add ") + quote);
    ++at_;
  }

  void scan_text() {
    const char c = content_[at_];
    if (open_.empty() && !is_blank(c)) fail(at_, "text outside the root element", "remove it");
    if (looking_at("]]>")) fail(at_, "']]>' in plain text", "write ]]&gt;");
    if (c == '&') scan_reference();
    else ++at_;
  }

  void scan_reference() {
    const auto start = at_;
    const auto end = content_.find(';', at_);
    const auto name = end == std::string_view::npos || end - at_ > 12 ? std::string_view{} : content_.substr(at_ + 1, end - at_ - 1);
    static constexpr std::string_view known[] = {"amp", "lt", "gt", "quot", "apos"};
    const bool named = std::find(std::begin(known), std::end(known), name) != std::end(known);
    if (!named && !legal_number_reference(name)) fail(start, "not a reference to a character", "write &amp; for a plain '&'");
    at_ = end + 1;
  }

  static bool legal_number_reference(std::string_view name) {
    if (!name.starts_with('#')) return false;
    const bool hexadecimal = name.starts_with("#x");
    const auto digits = name.substr(hexadecimal ? 2 : 1);
    unsigned long code = 0;
    const auto [stop, error] = std::from_chars(digits.data(), digits.data() + digits.size(), code, hexadecimal ? 16 : 10);
    return !digits.empty() && error == std::errc{} && stop == digits.data() + digits.size() && legal_character(code);
  }

  std::string_view content_;
  const Limits& limits_;
  std::size_t at_ = 0;
  std::size_t elements_ = 0;
  bool seen_root_ = false;
  std::vector<Open> open_;
};

void check_bytes(std::string_view content, const Limits& limits) {
  if (content.size() > limits.file_bytes) throw Breach{0, "the file is larger than " + std::to_string(limits.file_bytes) + " bytes", "split it"};
  if (content.starts_with("\xFE\xFF") || content.starts_with("\xFF\xFE")) throw Breach{0, "the file is UTF-16", "save it as UTF-8"};
  if (content.starts_with("\xEF\xBB\xBF")) throw Breach{0, "the file begins with a byte-order mark", "save it as UTF-8 without one"};
  if (const auto bad = text::first_invalid_utf8(content)) throw Breach{*bad, "not UTF-8", "save the file as UTF-8"};
  for (std::size_t at = 0; at < content.size(); ++at) {
    const auto byte = static_cast<unsigned char>(content[at]);
    const bool control = (byte < 0x20 && !is_blank(content[at])) || byte == 0x7F;
    const bool upper_control = byte == 0xC2 && static_cast<unsigned char>(content[at + 1]) < 0xA0;
    if (control || upper_control) throw Breach{at, "a control character", "remove it"};
    const auto three = content.substr(at, 3);
    if (three == "\xEF\xBF\xBE" || three == "\xEF\xBF\xBF") throw Breach{at, "a character that XML does not allow", "remove it"};
  }
}

}  // namespace

std::optional<Problem> first_breach(const text::Source& source, const Limits& limits) {
  try {
    check_bytes(source.content, limits);
    Scanner(source.content, limits).scan();
    return std::nullopt;
  } catch (const Breach& breach) {
    return Problem{text::place_of(source.name, source.content, breach.offset), breach.what, breach.hint, text::Severity::error};
  }
}

}  // namespace leadline::markup
