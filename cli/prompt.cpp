#include "cli/prompt.h"

#include <array>
#include <cmath>
#include <istream>
#include <ostream>
#include <streambuf>

#include "cli/phrases.h"
#include "cli/session.h"
#include "engine/markup/element.h"
#include "engine/text/number.h"
#include "engine/text/spelling.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

constexpr std::size_t most_bytes = 4096;

// Bytes of the escape sequence that begins at `at` (an ESC): "ESC [ … final", "ESC O x", "ESC x".
std::size_t escape_length(std::string_view line, std::size_t at) {
  if (at + 1 >= line.size()) return 1;
  if (line[at + 1] == 'O') return std::min<std::size_t>(3, line.size() - at);
  if (line[at + 1] != '[') return 1;
  std::size_t end = at + 2;
  while (end < line.size() && line[end] >= 0x20 && line[end] < 0x40) ++end;
  return std::min(end + 1, line.size()) - at;
}

struct Named {
  std::string_view typed;
  Word word;
};
constexpr std::array<Named, 22> names{{{"?", Word::help},     {"help", Word::help}, {"list", Word::list}, {"back", Word::back},   {"undo", Word::back},
                                       {"why", Word::why},    {"later", Word::later}, {"skip", Word::later}, {"stop", Word::stop}, {"quit", Word::stop},
                                       {"exit", Word::stop},  {"other", Word::other}, {"again", Word::again},
                                       {"note", Word::note},  {"what-if", Word::what_if}, {"what if", Word::what_if}, {"why not", Word::why_not},
                                       {"reminders", Word::reminders}, {"reminder", Word::reminders}, {"dispatch", Word::dispatch}, {"wait", Word::later},
                                       {"also", Word::also}}};

}  // namespace

std::string without_controls(std::string_view line, bool& cleaned) {
  std::string out;
  for (std::size_t at = 0; at < line.size(); ++at) {
    const auto c = static_cast<unsigned char>(line[at]);
    const bool c1 = c == 0xC2 && at + 1 < line.size() && static_cast<unsigned char>(line[at + 1]) >= 0x80 && static_cast<unsigned char>(line[at + 1]) < 0xA0;
    if (c == '\t') out += ' ';
    else if (c == '\r' && at + 1 == line.size()) continue;  // a line end of other systems
    else if (c == 0x1B) at += escape_length(line, at) - 1, cleaned = true;
    else if (c1) ++at, cleaned = true;
    else if (c < 0x20 || c == 0x7F) cleaned = true;
    else out += line[at];
  }
  return out;
}

TypedLine read_typed_line(std::istream& in) {
  TypedLine line;
  std::string bytes;
  std::size_t count = 0;
  auto* buffer = in.rdbuf();
  int c = buffer->sbumpc();
  if (c == std::streambuf::traits_type::eof()) return {TypedLine::Kind::end, "", false};
  for (; c != std::streambuf::traits_type::eof() && c != '\n'; c = buffer->sbumpc()) {
    if (count++ < most_bytes) bytes += static_cast<char>(c);
  }
  if (count > most_bytes) return {TypedLine::Kind::too_long, "", false};
  if (text::first_invalid_utf8(bytes)) return {TypedLine::Kind::not_utf8, "", false};
  line.text = markup::fold_blanks(without_controls(bytes, line.cleaned));
  return line;
}

TypedLine prompted_line(const Session& session) {
  session.print("> ");
  session.out.flush();
  const TypedLine ended{TypedLine::Kind::end, "", false};
  auto line = told_to_stop(session.around) ? ended : read_typed_line(session.in);
  if (line.kind == TypedLine::Kind::end || told_to_stop(session.around)) return ended;
  if (!session.around.in_is_terminal) session.print(text::printable(line.text) + "\n");
  return line;
}

std::string remark_on(const TypedLine& line) {
  if (line.kind == TypedLine::Kind::too_long) return "That line is longer than 4096 bytes and was not taken. Please type it shorter.";
  if (line.kind == TypedLine::Kind::not_utf8) return "That line holds bytes that are no text (not UTF-8) and was not taken. Please type it again.";
  return line.cleaned ? "(Left out of your line: control characters, such as arrow keys. Read: '" + line.text + "')" : "";
}

Command command_of(std::string_view typed) {
  const auto words = normalised(typed);
  for (const auto& [name, word] : names) {
    if (words == name) return {word, std::nullopt, ""};
    const bool takes_words = word == Word::note || word == Word::what_if || word == Word::why_not || word == Word::also;
    if (takes_words && words.starts_with(std::string(name) + " ")) return {word, std::nullopt, std::string(typed.substr(name.size() + 1))};
    const bool takes_number = word == Word::why || word == Word::again || word == Word::reminders || word == Word::later;
    if (!takes_number || !words.starts_with(std::string(name) + " ")) continue;
    const auto number = text::parse_number(words.substr(name.size() + 1));
    if (number && *number >= 0 && *number < 1e6 && *number == std::floor(*number)) return {word, static_cast<std::size_t>(*number), ""};
  }
  return {};
}

std::string nearest_word(std::string_view typed) {
  const auto words = normalised(typed);
  for (const auto& named : names) {
    if (named.typed.size() >= 4 && text::edit_distance(words, named.typed) == 1) return std::string(named.typed);
  }
  return "";
}

}  // namespace leadline::cli
