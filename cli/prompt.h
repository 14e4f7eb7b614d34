#pragma once
// One typed line at a time, made safe. Tested by tests/cli/golden_test.cpp.
#include <iosfwd>
#include <optional>
#include <string>
#include <string_view>

namespace leadline::cli {

struct TypedLine {
  enum class Kind { text, end, too_long, not_utf8 } kind = Kind::text;
  std::string text;            // blanks at the ends removed
  bool cleaned = false;        // control characters were left out (arrow keys, for instance)
};

// At most 4096 bytes are kept; the rest of a longer line is read and dropped. A last line without a line end counts.
TypedLine read_typed_line(std::istream& in);

struct Session;
// Prints the prompt and reads a line; echoes it when it comes from a pipe. Whoever is told to stop gets the end.
TypedLine prompted_line(const Session& session);

// What a person is told of a line that was not taken, or not as it was typed; empty: nothing.
std::string remark_on(const TypedLine& line);

// Without control characters and whole escape sequences.
std::string without_controls(std::string_view line, bool& cleaned);

// Words that work at every prompt.
enum class Word { none, help, list, back, why, later, stop, other, again, note, what_if, why_not, reminders, dispatch, also };
struct Command {
  Word word = Word::none;
  std::optional<std::size_t> number;  // of "why 2", "again 3", "reminders 1", "later 60"
  std::string words;                  // of "note WORDS", "what-if ANSWER", "also SYMPTOM", as typed
};
Command command_of(std::string_view typed);
// "stopp" -> "stop": a word of the list one slip away; empty when there is none. Never carried out, only named.
std::string nearest_word(std::string_view typed);

}  // namespace leadline::cli
