// A message is a place, a sentence, the line, a caret and a way out; nothing in a file can steer the terminal.
#include "engine/text/problem.h"

#include <gtest/gtest.h>

namespace leadline::text {
namespace {

std::string rendered(const std::string& content, Place place, std::string what, std::string hint = "", Severity severity = Severity::error) {
  const std::vector<Source> sources{{"other.xml", "nothing here"}, {"k.xml", content}};
  return render(Problem{std::move(place), std::move(what), std::move(hint), severity}, sources);
}

TEST(Render, ShowsPlaceSentenceLineCaretAndHint) {
  EXPECT_EQ(rendered("<a>\n  <b c='x'/>\n</a>", {"k.xml", 2, 6}, "'c' cannot be 'x'", "did you mean 'y'?"),
            "k.xml:2:6: error: 'c' cannot be 'x'\n"
            "      <b c='x'/>\n"
            "         ^ did you mean 'y'?\n");
}

TEST(Render, LeavesTheHintOutWhenThereIsNone) {
  EXPECT_EQ(rendered("abc", {"k.xml", 1, 1}, "wrong"), "k.xml:1:1: error: wrong\n    abc\n    ^\n");
}

TEST(Render, CallsAWarningAWarning) {
  EXPECT_EQ(rendered("abc", {"k.xml", 1, 3}, "odd", "", Severity::warning), "k.xml:1:3: warning: odd\n    abc\n      ^\n");
}

TEST(Render, PutsTheCaretOneBeyondTheLineAtItsEnd) {
  EXPECT_EQ(rendered("abc\n", {"k.xml", 1, 4}, "too early"), "k.xml:1:4: error: too early\n    abc\n       ^\n");
}

TEST(Render, NeedsNoLine) {
  EXPECT_EQ(rendered("abc", {"k.xml", 0, 0}, "missing", "write one"), "k.xml: error: missing\n    write one\n");
  EXPECT_EQ(rendered("abc", {"k.xml", 7, 1}, "missing"), "k.xml:7:1: error: missing\n");
  EXPECT_EQ(rendered("abc", {"unread.xml", 1, 1}, "missing", "write one"), "unread.xml:1:1: error: missing\n    write one\n");
}

TEST(Render, CountsCharactersNotBytes) {
  EXPECT_EQ(rendered("\xC3\xA4\xC3\xB6 x", {"k.xml", 1, 4}, "wrong"), "k.xml:1:4: error: wrong\n    \xC3\xA4\xC3\xB6 x\n       ^\n");
}

TEST(Render, MakesControlCharactersOfTheLineHarmless) {
  EXPECT_EQ(rendered("a\x1B[31mb\tc\x7F\xC2\x9B\xE2\x80\xAE" "d", {"k.xml", 1, 8}, "wrong"),
            "k.xml:1:8: error: wrong\n"
            "    a?[31mb c???d\n"
            "           ^\n");
}

TEST(Render, MakesControlCharactersOfNameSentenceAndHintHarmless) {
  EXPECT_EQ(rendered("", {"\x1B]0;k.xml", 0, 0}, "no\x07thing\nat all", "try\x1B[2J"), "?]0;k.xml: error: no?thing at all\n    try?[2J\n");
}

TEST(Render, ShowsMalformedBytesAsQuestionMarks) {
  EXPECT_EQ(rendered("ab\xFF" "cd", {"k.xml", 1, 3}, "not UTF-8"), "k.xml:1:3: error: not UTF-8\n    ab?cd\n      ^\n");
}

TEST(Render, ShowsAWindowOfALongLine) {
  const std::string line = std::string(150, 'a') + "X" + std::string(150, 'b');
  EXPECT_EQ(rendered(line, {"k.xml", 1, 151}, "wrong", "here"),
            "k.xml:1:151: error: wrong\n    " + std::string(80, 'a') + "X" + std::string(19, 'b') + "\n    " + std::string(80, ' ') + "^ here\n");
}

TEST(Render, ShowsTheStartOfALongLineWhenTheCaretFits) {
  const std::string line = std::string(80, 'a') + std::string(150, 'b');
  EXPECT_EQ(rendered(line, {"k.xml", 1, 81}, "wrong"),
            "k.xml:1:81: error: wrong\n    " + std::string(80, 'a') + std::string(20, 'b') + "\n    " + std::string(80, ' ') + "^\n");
}

TEST(Render, CutsNoCharacterOfALongLineInHalf) {
  std::string line;
  for (int i = 0; i < 300; ++i) line += "\xC3\xA4";
  const auto shown = rendered(line, {"k.xml", 1, 250}, "wrong");
  std::string window;
  for (int i = 0; i < 100; ++i) window += "\xC3\xA4";
  EXPECT_EQ(shown, "k.xml:1:250: error: wrong\n    " + window + "\n    " + std::string(80, ' ') + "^\n");
}

TEST(Render, JoinsProblemsInOrder) {
  const std::vector<Source> sources{{"k.xml", "ab"}};
  EXPECT_EQ(render(Problems{{{"k.xml", 1, 1}, "one", ""}, {{"k.xml", 1, 2}, "two", "mend"}}, sources),
            "k.xml:1:1: error: one\n    ab\n    ^\nk.xml:1:2: error: two\n    ab\n     ^ mend\n");
}

TEST(SortByPlace, OrdersByPlaceThenWordsAndDropsRepeats) {
  const Problem late{{"b", 1, 1}, "x", ""}, early{{"a", 10, 2}, "x", ""}, earlier{{"a", 9, 40}, "z", ""}, same_place{{"a", 10, 2}, "a", ""};
  Problems problems{late, early, earlier, early, same_place};
  sort_by_place(problems);
  EXPECT_EQ(problems, (Problems{earlier, same_place, early, late}));
}

TEST(HasError, IgnoresWarnings) {
  EXPECT_FALSE(has_error({}));
  EXPECT_FALSE(has_error({{{"a", 1, 1}, "x", "", Severity::warning}}));
  EXPECT_TRUE(has_error({{{"a", 1, 1}, "x", "", Severity::warning}, {{"a", 1, 1}, "x", "", Severity::error}}));
}

}  // namespace
}  // namespace leadline::text
