// Places count lines and characters from one, as editors do.
#include "engine/text/place.h"

#include <gtest/gtest.h>

namespace leadline::text {
namespace {

struct PlaceRow {
  std::string_view name, content;
  std::size_t offset;
  int line, column;
};

class PlaceOf : public ::testing::TestWithParam<PlaceRow> {};

TEST_P(PlaceOf, CountsFromOne) {
  const auto& row = GetParam();
  EXPECT_EQ(place_of("k.xml", row.content, row.offset), (Place{"k.xml", row.line, row.column}));
  EXPECT_EQ(LineIndex(row.content).place_of("k.xml", row.content, row.offset), (Place{"k.xml", row.line, row.column}));
}

INSTANTIATE_TEST_SUITE_P(Offsets, PlaceOf,
                         ::testing::Values(PlaceRow{"empty_text", "", 0, 1, 1}, PlaceRow{"first_character", "ab\ncd", 0, 1, 1},
                                         PlaceRow{"second_character", "ab\ncd", 1, 1, 2}, PlaceRow{"the_line_end_belongs_to_its_line", "ab\ncd", 2, 1, 3},
                                         PlaceRow{"start_of_second_line", "ab\ncd", 3, 2, 1}, PlaceRow{"in_second_line", "ab\ncd", 4, 2, 2},
                                         PlaceRow{"the_end", "ab\ncd", 5, 2, 3}, PlaceRow{"beyond_the_end_is_the_end", "ab\ncd", 99, 2, 3},
                                         PlaceRow{"after_a_last_line_end", "ab\n", 3, 2, 1}, PlaceRow{"empty_lines_count", "\n\n\nx", 3, 4, 1},
                                         PlaceRow{"carriage_return_is_a_character", "a\r\nb", 3, 2, 1},
                                         PlaceRow{"two_byte_characters_count_once", "\xC3\xA4\xC3\xB6x", 4, 1, 3},
                                         PlaceRow{"four_byte_characters_count_once", "\xF0\x9F\x9A\xA4x", 4, 1, 2},
                                         PlaceRow{"a_tab_counts_once", "\t\tx", 2, 1, 3}),
                         [](const auto& row) { return std::string(row.param.name); });

TEST(LineIndexOf, AgreesWithCountingFromTheStartEverywhere) {
  std::string content;
  for (int i = 0; i < 300; ++i) content += std::string(static_cast<std::size_t>(i % 7), i % 3 == 0 ? '\n' : 'x') + "\xC3\xA4\n";
  const LineIndex lines(content);
  for (std::size_t offset = 0; offset <= content.size(); ++offset) {
    int line = 1, column = 1;
    for (std::size_t at = 0; at < offset; ++at) {
      const bool continuation = (static_cast<unsigned char>(content[at]) & 0xC0U) == 0x80U;
      if (content[at] == '\n') ++line, column = 1;
      else if (!continuation) ++column;
    }
    ASSERT_EQ(lines.place_of("f", content, offset), (Place{"f", line, column})) << offset;
  }
}

struct LineRow {
  std::string_view name, content;
  int line;
  std::string_view wanted;
};

class LineAt : public ::testing::TestWithParam<LineRow> {};

TEST_P(LineAt, IsWithoutItsLineEnd) { EXPECT_EQ(line_at(GetParam().content, GetParam().line), GetParam().wanted); }

INSTANTIATE_TEST_SUITE_P(Lines, LineAt,
                         ::testing::Values(LineRow{"first", "ab\ncd", 1, "ab"}, LineRow{"last_without_line_end", "ab\ncd", 2, "cd"},
                                         LineRow{"beyond_the_last", "ab\ncd", 3, ""}, LineRow{"line_zero", "ab\ncd", 0, ""},
                                         LineRow{"negative", "ab\ncd", -4, ""}, LineRow{"carriage_return_dropped", "ab\r\ncd\r\n", 1, "ab"},
                                         LineRow{"only_the_last_carriage_return_dropped", "a\r\r\n", 1, "a\r"}, LineRow{"empty_line", "ab\n\ncd", 2, ""},
                                         LineRow{"empty_text", "", 1, ""}),
                         [](const auto& row) { return std::string(row.param.name); });

TEST(PlaceInWords, NamesFileLineAndColumn) {
  EXPECT_EQ(to_string(Place{"knowledge/bank.xml", 41, 21}), "knowledge/bank.xml:41:21");
  EXPECT_EQ(to_string(Place{"knowledge/bank.xml", 0, 0}), "knowledge/bank.xml");
}

TEST(PlaceOrder, GoesByFileThenLineThenColumn) {
  EXPECT_LT((Place{"a", 9, 9}), (Place{"b", 1, 1}));
  EXPECT_LT((Place{"a", 2, 9}), (Place{"a", 10, 1}));
  EXPECT_LT((Place{"a", 2, 2}), (Place{"a", 2, 3}));
}

}  // namespace
}  // namespace leadline::text
