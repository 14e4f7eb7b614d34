// Every element and attribute can say where it stands, also inside a value that is written with entities.
#include "engine/markup/document.h"

#include <gtest/gtest.h>

namespace leadline::markup {
namespace {

Document document_of(const std::string& content) {
  auto loaded = parse({"f.xml", content});
  if (!loaded.value) throw std::logic_error(loaded.problems.front().what);
  return *std::move(loaded.value);
}

std::string at(const text::Place& place) { return std::to_string(place.line) + ":" + std::to_string(place.column); }

TEST(PlaceInDocument, OfElementsIsTheirName) {
  const auto document = document_of("<?xml version=\"1.0\"?>\n<a>\n  <b/>\n  <!-- x --><b><c/></b>\n</a>");
  EXPECT_EQ(document.place(document.root()), (text::Place{"f.xml", 2, 2}));
  EXPECT_EQ(at(document.place(document.root().first_child())), "3:4");
  EXPECT_EQ(at(document.place(document.root().last_child())), "4:14");
  EXPECT_EQ(at(document.place(document.root().last_child().first_child())), "4:17");
}

TEST(PlaceInDocument, OfTextIsItsStart) {
  const auto document = document_of("<a>\n  <b/>stray</a>");
  EXPECT_EQ(at(document.place(document.root().last_child())), "2:7");
}

struct AttributeRow {
  std::string_view name, content, attribute, wanted;
};

class AttributePlace : public ::testing::TestWithParam<AttributeRow> {};

TEST_P(AttributePlace, IsItsName) {
  const auto document = document_of(std::string(GetParam().content));
  EXPECT_EQ(at(document.place(document.root(), std::string(GetParam().attribute).c_str())), GetParam().wanted);
}

const AttributeRow attributes[] = {
    {"first", "<a b='1' c='2'/>", "b", "1:4"},
    {"second", "<a b='1' c='2'/>", "c", "1:10"},
    {"on_the_next_line", "<a b='1'\n   c='2'>x</a>", "c", "2:4"},
    {"absent_is_the_element", "<a b='1'/>", "d", "1:2"},
    {"name_that_ends_alike", "<a xb='1' b='2'/>", "b", "1:11"},
    {"name_that_begins_alike", "<a bc='1' b='2'/>", "b", "1:11"},
    {"name_inside_a_value", "<a x='b=1' b='2'/>", "b", "1:12"},
    {"slash_and_bracket_inside_a_value", "<a x='/> b=' b='2'/>", "b", "1:14"},
    {"other_quotes_inside_a_value", "<a x='\"' y=\"'\" b='2'/>", "b", "1:16"},
    {"blanks_around_the_equals_sign", "<a x = '1'\tb\n=\n'2'/>", "b", "1:12"},
    {"after_wide_characters", "<a x='\xC3\xA4\xC3\xB6' b='2'/>", "b", "1:11"},
    {"empty_values", "<a x='' b=''/>", "b", "1:9"},
};

INSTANTIATE_TEST_SUITE_P(Attributes, AttributePlace, ::testing::ValuesIn(attributes), [](const auto& row) { return std::string(row.param.name); });

struct ValueRow {
  std::string_view name, content;
  std::size_t offset;
  std::string_view wanted;
};

class ValuePlace : public ::testing::TestWithParam<ValueRow> {};

TEST_P(ValuePlace, CountsWhatIsWritten) {
  const auto document = document_of(std::string(GetParam().content));
  EXPECT_EQ(at(document.place_in_value(document.root(), "b", GetParam().offset)), GetParam().wanted);
}

// Columns: <a b='  is six characters, so the value begins in column 7.
const ValueRow values[] = {
    {"start", "<a b='x &lt; y'/>", 0, "1:7"},
    {"before_the_entity", "<a b='x &lt; y'/>", 2, "1:9"},
    {"after_the_entity", "<a b='x &lt; y'/>", 3, "1:13"},
    {"beyond_the_entity", "<a b='x &lt; y'/>", 4, "1:14"},
    {"the_end", "<a b='x &lt; y'/>", 5, "1:15"},
    {"beyond_the_end", "<a b='x &lt; y'/>", 99, "1:15"},
    {"several_entities", "<a b='&lt;&gt;&amp;x'/>", 3, "1:20"},
    {"number_reference", "<a b='&#60;x'/>", 1, "1:12"},
    {"number_reference_of_two_bytes", "<a b='&#228;x'/>", 2, "1:13"},
    {"number_reference_of_four_bytes", "<a b='&#x1F6A4;x'/>", 4, "1:16"},
    {"wide_characters", "<a b='\xC3\xA4x'/>", 2, "1:8"},
    {"on_the_next_line", "<a b='x\ny'/>", 2, "2:1"},
    {"after_a_line_end_of_two_bytes", "<a b='x\r\ny'/>", 2, "2:1"},
    {"absent_is_the_element", "<a c='x'/>", 3, "1:2"},
};

INSTANTIATE_TEST_SUITE_P(Values, ValuePlace, ::testing::ValuesIn(values), [](const auto& row) { return std::string(row.param.name); });

TEST(Parse, ReadsWhatIsWrittenWhateverTheNotation) {
  const auto document = document_of("<a b=' &lt;x&#228; '>1 &amp; <![CDATA[<2>]]><!-- no --></a>");
  EXPECT_STREQ(document.root().attribute("b").value(), " <x\xC3\xA4 ");
  EXPECT_STREQ(document.root().first_child().value(), "1 & ");
  EXPECT_STREQ(document.root().last_child().value(), "<2>");
}

TEST(Parse, GivesOneProblemForABadFile) {
  const auto loaded = parse({"f.xml", "<a><b></a>\n<c"});
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(loaded.problems, (text::Problems{{{"f.xml", 1, 7}, "'</a>' does not close 'b'", "expected </b>"}}));
}

TEST(Parse, OutlivesTheSource) {
  auto source = std::make_unique<text::Source>(text::Source{"f.xml", "<a b='1'/>"});
  const auto loaded = parse(*source);
  source.reset();
  EXPECT_STREQ(loaded.value->root().attribute("b").value(), "1");
  EXPECT_EQ(at(loaded.value->place(loaded.value->root(), "b")), "1:4");
}

}  // namespace
}  // namespace leadline::markup
