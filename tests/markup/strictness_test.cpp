// Files that must not pass, each with its message and its place; and every limit, at the limit and one beyond.
#include "engine/markup/strictness.h"

#include <gtest/gtest.h>

#include "engine/markup/document.h"

namespace leadline::markup {
namespace {

// "line:column: what | hint", or "accepted".
std::string verdict(std::string_view content, const Limits& limits = {}) {
  const auto breach = first_breach({"f.xml", std::string(content)}, limits);
  if (!breach) return "accepted";
  const auto place = std::to_string(breach->place.line) + ":" + std::to_string(breach->place.column);
  return place + ": " + breach->what + (breach->hint.empty() ? "" : " | " + breach->hint);
}

struct BadRow {
  std::string_view name, content, wanted;
};

const BadRow bad_files[] = {
    BadRow{"empty_file", "", "1:1: the file holds no element | expected one root element"},
    BadRow{"blanks_only", " \n\t\n", "1:1: the file holds no element | expected one root element"},
    BadRow{"comment_only", "<!-- nothing -->", "1:1: the file holds no element | expected one root element"},
    BadRow{"declaration_only", "<?xml version=\"1.0\"?>\n", "1:1: the file holds no element | expected one root element"},
    BadRow{"plain_text", "hello", "1:1: text outside the root element | remove it"},
    BadRow{"text_before_root", "x<a/>", "1:1: text outside the root element | remove it"},
    BadRow{"text_after_root", "<a/>\nx", "2:1: text outside the root element | remove it"},
    BadRow{"reference_after_root", "<a/>&amp;", "1:5: text outside the root element | remove it"},
    BadRow{"cdata_before_root", "<![CDATA[x]]><a/>", "1:1: text outside the root element"},
    BadRow{"second_root", "<a/>\n<b/>", "2:1: a second root element 'b' | a file holds one root element"},
    BadRow{"second_root_of_same_name", "<a></a><a></a>", "1:8: a second root element 'a' | a file holds one root element"},
    BadRow{"never_closed", "<a>\n  <b>", "2:3: element 'b' is never closed | add </b>"},
    BadRow{"inner_never_closed", "<a>\n  <b>\n</a>", "3:1: '</a>' does not close 'b' | expected </b>"},
    BadRow{"crossed", "<a><b></a></b>", "1:7: '</a>' does not close 'b' | expected </b>"},
    BadRow{"closed_twice", "<a/></a>", "1:5: '</a>' closes nothing"},
    BadRow{"end_tag_alone", "</a>", "1:1: '</a>' closes nothing"},
    BadRow{"case_of_names", "<a></A>", "1:4: '</A>' does not close 'a' | expected </a>"},
    BadRow{"end_tag_with_attribute", "<a></a b=\"1\">", "1:8: expected '>'"},
    BadRow{"end_tag_cut", "<a></a", "1:7: expected '>'"},
    BadRow{"end_tag_without_name", "<a></>", "1:6: expected an element name | write &lt; for a plain '<'"},
    BadRow{"tag_cut_in_name", "<a", "1:3: a tag is never closed | add >"},
    BadRow{"tag_cut_after_blank", "<a ", "1:3: a tag is never closed | add >"},
    BadRow{"tag_cut_after_attribute", "<a b=\"1\"", "1:9: a tag is never closed | add >"},
    BadRow{"tag_cut_after_slash", "<a/", "1:4: expected '>'"},
    BadRow{"slash_not_at_end", "<a/ >", "1:4: expected '>'"},
    BadRow{"tag_without_name", "<>", "1:2: expected an element name | write &lt; for a plain '<'"},
    BadRow{"blank_before_name", "< a/>", "1:2: expected an element name | write &lt; for a plain '<'"},
    BadRow{"digit_starts_name", "<1a/>", "1:2: expected an element name | write &lt; for a plain '<'"},
    BadRow{"hyphen_starts_name", "<-a/>", "1:2: expected an element name | write &lt; for a plain '<'"},
    BadRow{"less_than_in_text", "<a>3 < 4</a>", "1:7: expected an element name | write &lt; for a plain '<'"},
    BadRow{"attribute_without_value", "<a b/>", "1:5: expected '='"},
    BadRow{"attribute_without_quotes", "<a b=1/>", "1:6: the value of an attribute must stand in quotes"},
    BadRow{"attribute_without_name", "<a =\"1\"/>", "1:4: expected an attribute name, '>' or '/>' | write &lt; for a plain '<'"},
    BadRow{"attribute_cut_after_equals", "<a b=", "1:6: the value of an attribute must stand in quotes"},
    BadRow{"quote_never_closed", "<a b=\"1/>", "1:7: the value of an attribute is never closed | add \""},
    BadRow{"quotes_mixed", "<a b=\"1'/>", "1:7: the value of an attribute is never closed | add \""},
    BadRow{"attribute_twice", "<a b=\"1\" c=\"2\" b=\"3\"/>", "1:16: attribute 'b' is given twice | remove one"},
    BadRow{"no_blank_between_attributes", "<a b=\"1\"c=\"2\"/>", "1:9: expected a blank before the attribute"},
    BadRow{"less_than_in_attribute", "<a b=\"3 < 4\"/>", "1:9: '<' inside an attribute | write &lt;"},
    BadRow{"ampersand_in_attribute", "<a b=\"this & that\"/>", "1:12: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"attribute_name_with_digit_first", "<a 1b=\"x\"/>", "1:4: expected an attribute name, '>' or '/>' | write &lt; for a plain '<'"},
    BadRow{"ampersand_in_text", "<a>this & that</a>", "1:9: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"ampersand_at_end", "<a>&", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"reference_without_semicolon", "<a>&amp</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"unknown_entity", "<a>&nbsp;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"empty_reference", "<a>&;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"number_reference_without_digits", "<a>&#;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"hexadecimal_without_digits", "<a>&#x;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"capital_x_reference", "<a>&#X41;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"decimal_with_letters", "<a>&#4a;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"reference_to_zero", "<a>&#0;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"reference_to_escape", "<a>&#27;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"reference_to_delete", "<a>&#x7F;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"reference_to_upper_control", "<a>&#x9B;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"reference_to_surrogate", "<a>&#xD800;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"reference_beyond_unicode", "<a>&#x110000;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"reference_to_noncharacter", "<a>&#xFFFE;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"reference_that_overflows", "<a>&#99999999;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"negative_reference", "<a>&#-65;</a>", "1:4: not a reference to a character | write &amp; for a plain '&'"},
    BadRow{"doctype", "<!DOCTYPE a><a/>", "1:1: a DOCTYPE or declaration is not accepted | remove it; entities of one's own are not supported"},
    BadRow{"doctype_with_entity", "<!DOCTYPE a [<!ENTITY b \"c\">]>\n<a>&b;</a>", "1:1: a DOCTYPE or declaration is not accepted | remove it; entities of one's own are not supported"},
    BadRow{"external_entity", "<!DOCTYPE a SYSTEM \"file:///etc/passwd\">\n<a/>", "1:1: a DOCTYPE or declaration is not accepted | remove it; entities of one's own are not supported"},
    BadRow{"entity_inside", "<a><!ENTITY b \"c\"></a>", "1:4: a DOCTYPE or declaration is not accepted | remove it; entities of one's own are not supported"},
    BadRow{"lower_case_cdata", "<a><![cdata[x]]></a>", "1:4: a DOCTYPE or declaration is not accepted | remove it; entities of one's own are not supported"},
    BadRow{"cdata_never_closed", "<a><![CDATA[x]]</a>", "1:4: a CDATA section is never closed | add ]]>"},
    BadRow{"cdata_end_in_text", "<a>x]]>y</a>", "1:5: ']]>' in plain text | write ]]&gt;"},
    BadRow{"comment_never_closed", "<a>\n<!-- b </a>", "2:1: a comment is never closed | add -->"},
    BadRow{"two_dashes_in_comment", "<a><!-- b -- c --></a>", "1:11: '--' inside a comment | write a single dash"},
    BadRow{"comment_ends_in_three_dashes", "<a><!-- b ---></a>", "1:11: '--' inside a comment | write a single dash"},
    BadRow{"shortest_false_comment", "<a><!--></a>", "1:4: a comment is never closed | add -->"},
    BadRow{"instruction_never_closed", "<a><?b c </a>", "1:4: a processing instruction is never closed | add ?>"},
    BadRow{"instruction_without_name", "<a><? b?></a>", "1:6: expected the name of a processing instruction | write &lt; for a plain '<'"},
    BadRow{"instruction_name_with_slash", "<a><?b/c?></a>", "1:7: expected a blank or '?>'"},
    BadRow{"declaration_after_blank", " <?xml version=\"1.0\"?><a/>", "1:2: an XML declaration may only stand at the very start"},
    BadRow{"declaration_inside", "<a><?xml version=\"1.0\"?></a>", "1:4: an XML declaration may only stand at the very start"},
    BadRow{"declaration_in_capitals", "<a><?XML version=\"1.0\"?></a>", "1:4: an XML declaration may only stand at the very start"},
    BadRow{"declaration_without_version", "<?xml encoding=\"UTF-8\"?><a/>", "1:1: not a plain XML declaration | write <?xml version=\"1.0\" encoding=\"UTF-8\"?>"},
    BadRow{"declaration_bare", "<?xml?><a/>", "1:1: not a plain XML declaration | write <?xml version=\"1.0\" encoding=\"UTF-8\"?>"},
    BadRow{"declaration_version_two", "<?xml version=\"2.0\"?><a/>", "1:1: not a plain XML declaration | write <?xml version=\"1.0\" encoding=\"UTF-8\"?>"},
    BadRow{"declaration_wrong_order", "<?xml encoding=\"UTF-8\" version=\"1.0\"?><a/>", "1:1: not a plain XML declaration | write <?xml version=\"1.0\" encoding=\"UTF-8\"?>"},
    BadRow{"declaration_latin_one", "<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><a/>", "1:21: the file declares an encoding other than UTF-8 | save it as UTF-8"},
    BadRow{"declaration_utf16", "<?xml version=\"1.0\" encoding=\"UTF-16\"?><a/>", "1:21: the file declares an encoding other than UTF-8 | save it as UTF-8"},
    BadRow{"declaration_standalone_maybe", "<?xml version=\"1.0\" standalone=\"maybe\"?><a/>", "1:1: not a plain XML declaration | write <?xml version=\"1.0\" encoding=\"UTF-8\"?>"},
    BadRow{"byte_order_mark", "\xEF\xBB\xBF<a/>", "1:1: the file begins with a byte-order mark | save it as UTF-8 without one"},
    BadRow{"utf16_little", std::string_view("\xFF\xFE<\x00" "a\x00", 6), "1:1: the file is UTF-16 | save it as UTF-8"},
    BadRow{"utf16_big", std::string_view("\xFE\xFF\x00<\x00" "a", 6), "1:1: the file is UTF-16 | save it as UTF-8"},
    BadRow{"latin_one_byte", "<a>\n caf\xE9</a>", "2:5: not UTF-8 | save the file as UTF-8"},
    BadRow{"overlong_slash", "<a>\xC0\xAF</a>", "1:4: not UTF-8 | save the file as UTF-8"},
    BadRow{"surrogate_bytes", "<a>\xED\xA0\x80</a>", "1:4: not UTF-8 | save the file as UTF-8"},
    BadRow{"cut_character", "<a>\xE2\x84</a>", "1:4: not UTF-8 | save the file as UTF-8"},
    BadRow{"zero_byte", std::string_view("<a>\x00</a>", 8), "1:4: a control character | remove it"},
    BadRow{"escape_byte", "<a>\x1B[31m</a>", "1:4: a control character | remove it"},
    BadRow{"form_feed_between", "<a\x0C" "b='1'/>", "1:3: a control character | remove it"},
    BadRow{"delete_byte", "<a>\x7F</a>", "1:4: a control character | remove it"},
    BadRow{"upper_control_bytes", "<a>\xC2\x9B</a>", "1:4: a control character | remove it"},
    BadRow{"noncharacter", "<a>\xEF\xBF\xBE</a>", "1:4: a character that XML does not allow | remove it"},
    BadRow{"column_counts_characters", "<a b='\xC3\xA4\xC3\xB6\xC3\xBC' c='<'/>", "1:15: '<' inside an attribute | write &lt;"}};

class BadFile : public ::testing::TestWithParam<BadRow> {};

TEST_P(BadFile, IsRefusedWithItsPlace) { EXPECT_EQ(verdict(GetParam().content), GetParam().wanted); }

TEST_P(BadFile, NeverReachesTheParser) { EXPECT_FALSE(parse({"f.xml", std::string(GetParam().content)}).value.has_value()); }

INSTANTIATE_TEST_SUITE_P(Files, BadFile, ::testing::ValuesIn(bad_files), [](const auto& row) { return std::string(row.param.name); });

struct GoodRow {
  std::string_view name, content;
};

const GoodRow good_files[] = {
    {"shortest", "<a/>"},
    {"blanks_around", "\n <a/> \r\n\t"},
    {"declaration", "<?xml version=\"1.0\"?><a/>"},
    {"declaration_with_encoding", "<?xml version='1.0' encoding='utf-8' standalone='yes' ?>\n<a/>"},
    {"comments_around", "<!-- - one - --><!-- --><a/><!----><!-- two -->"},
    {"instructions", "<?b?><a><?xml-like c > d?></a><?b ?\?>"},
    {"cdata", "<a><![CDATA[<b> & ]] > ]]]]></a>"},
    {"nested", "<a><b><c/></b>\n<b></b ></a\n>"},
    {"attributes", "<a b='1' c = \"2\"\n\td='>'/>"},
    {"other_quote_inside", "<a b='\"' c=\"'\"/>"},
    {"references", "<a b='&lt;&#228;&#xE4;&quot;'>&amp;&lt;&gt;&apos;&#x10FFFF;&#9;</a>"},
    {"greater_than_in_text", "<a>5 > 4 ] ]> ]</a>"},
    {"names", "<a-b.c_d:e1 _x='' y:z=''/>"},
    {"letters_of_the_world", "<a>\xC3\xA4\xCE\xA9\xE4\xB8\xAD\xF0\x9F\x9A\xA4</a>"}};

class GoodFile : public ::testing::TestWithParam<GoodRow> {};

TEST_P(GoodFile, Passes) {
  EXPECT_EQ(verdict(GetParam().content), "accepted");
  EXPECT_TRUE(parse({"f.xml", std::string(GetParam().content)}).value.has_value());
}

INSTANTIATE_TEST_SUITE_P(Files, GoodFile, ::testing::ValuesIn(good_files), [](const auto& row) { return std::string(row.param.name); });

// Limits at their real size: reliability.md row 15.
std::string repeated(std::string_view piece, std::size_t times) {
  std::string out;
  for (std::size_t i = 0; i < times; ++i) out += piece;
  return out;
}

TEST(Limit, OfBytes) {
  const std::size_t most = std::size_t{16} << 20;
  EXPECT_EQ(verdict("<a>" + std::string(most - 7, ' ') + "</a>"), "accepted");
  EXPECT_EQ(verdict("<a>" + std::string(most - 6, ' ') + "</a>"), "1:1: the file is larger than 16777216 bytes | split it");
}

TEST(Limit, OfDepth) {
  EXPECT_EQ(verdict(repeated("<a>", 64) + repeated("</a>", 64)), "accepted");
  EXPECT_EQ(verdict(repeated("<a>", 63) + "<a/>" + repeated("</a>", 63)), "accepted");
  EXPECT_EQ(verdict(repeated("<a>", 65) + repeated("</a>", 65)), "1:193: elements nested deeper than 64");
  EXPECT_EQ(verdict(repeated("<a>", 64) + "<a/>" + repeated("</a>", 64)), "1:193: elements nested deeper than 64");
}

TEST(Limit, OfElements) {
  EXPECT_EQ(verdict("<a>" + repeated("<b/>", 99'999) + "</a>"), "accepted");
  EXPECT_EQ(verdict("<a>\n" + repeated("<b/>", 100'000) + "</a>"), "2:399997: more than 100000 elements | split the file");
}

std::string with_attributes(std::size_t count) {
  std::string tag = "<a";
  for (std::size_t i = 0; i < count; ++i) tag += " b" + std::to_string(1000 + i) + "=''";
  return tag + "/>";
}

TEST(Limit, OfAttributes) {
  EXPECT_EQ(verdict(with_attributes(256)), "accepted");
  EXPECT_EQ(verdict(with_attributes(257)), "1:2308: more than 256 attributes");
}

TEST(Limit, OfAttributeBytes) {
  EXPECT_EQ(verdict("<a b='" + std::string(65536, 'x') + "'/>"), "accepted");
  EXPECT_EQ(verdict("<a b='" + std::string(65537, 'x') + "'/>"), "1:7: an attribute longer than 65536 bytes");
}

TEST(Limit, MayBeSetByTheCaller) {
  const Limits tight{100, 2, 3, 1, 4};
  EXPECT_EQ(verdict("<a><b c='1234'/><b/></a>", tight), "accepted");
  EXPECT_EQ(verdict("<a><b><c/></b></a>", tight), "1:7: elements nested deeper than 2");
  EXPECT_EQ(verdict("<a><b/><b/><b/></a>", tight), "1:12: more than 3 elements | split the file");
  EXPECT_EQ(verdict("<a b='' c=''/>", tight), "1:9: more than 1 attributes");
  EXPECT_EQ(verdict("<a b='12345'/>", tight), "1:7: an attribute longer than 4 bytes");
  EXPECT_EQ(verdict("<a>" + std::string(94, 'x') + "</a>", tight), "1:1: the file is larger than 100 bytes | split it");
}

}  // namespace
}  // namespace leadline::markup
