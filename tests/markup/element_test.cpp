// Strict reading of one element: every complaint is gathered with its place, none ends the reading.
#include "engine/markup/element.h"

#include <gtest/gtest.h>

namespace leadline::markup {
namespace {

// A document with its root as element, and what was complained about: "line:column: what | hint".
class Reading {
 public:
  explicit Reading(const std::string& content) : document_(*parse({"f.xml", content}).value) {}

  Element root() { return {document_, document_.root(), problems_}; }
  std::vector<std::string> complaints() const {
    std::vector<std::string> all;
    for (const auto& p : problems_) all.push_back(std::to_string(p.place.line) + ":" + std::to_string(p.place.column) + ": " + p.what + (p.hint.empty() ? "" : " | " + p.hint));
    return all;
  }

 private:
  Document document_;
  text::Problems problems_;
};

using Complaints = std::vector<std::string>;

TEST(Required, ReportsWhatIsMissingOrEmpty) {
  Reading reading("<a b='x' c=''/>");
  EXPECT_EQ(reading.root().required("b"), "x");
  EXPECT_EQ(reading.root().required("c"), "");
  EXPECT_EQ(reading.root().required("d"), "");
  EXPECT_EQ(reading.complaints(), (Complaints{"1:10: the attribute 'c' is empty", "1:2: 'a' lacks the attribute 'd' | add d=\"…\""}));
}

struct NumberRow {
  std::string_view name, written;
  double value;
  std::string_view complaint;
};

class NumberOf : public ::testing::TestWithParam<NumberRow> {};

TEST_P(NumberOf, IsInRangeOrReported) {
  Reading reading("<a b='" + std::string(GetParam().written) + "'/>");
  EXPECT_EQ(reading.root().number("b", -1, 10), GetParam().value);
  EXPECT_EQ(reading.complaints(), GetParam().complaint.empty() ? Complaints{} : Complaints{std::string(GetParam().complaint)});
}

const NumberRow numbers[] = {
    {"inside", "2.5", 2.5, ""},
    {"least", "-1", -1, ""},
    {"most", "10", 10, ""},
    {"below", "-1.1", -1, "1:4: 'b' is -1.1, outside its range | from -1 to 10"},
    {"above", "10.01", -1, "1:4: 'b' is 10.01, outside its range | from -1 to 10"},
    {"comma", "0,5", -1, "1:4: '0,5' is not a number | write a point as decimal mark: 0.5"},
    {"nan", "nan", -1, "1:4: 'nan' is not a number | write a plain decimal number, for instance 0.5"},
    {"too_large", "1e400", -1, "1:4: '1e400' is not a number | write a plain decimal number, for instance 0.5"},
    {"letters_after", "0.5abc", -1, "1:4: '0.5abc' is not a number | write a plain decimal number, for instance 0.5"},
    {"empty", "", -1, "1:4: the attribute 'b' is empty"},
};

INSTANTIATE_TEST_SUITE_P(Numbers, NumberOf, ::testing::ValuesIn(numbers), [](const auto& row) { return std::string(row.param.name); });

TEST(Yes, IsYesOrNoAndNoByDefault) {
  Reading reading("<a b='yes' c='no' d='true'/>");
  EXPECT_TRUE(reading.root().yes("b"));
  EXPECT_FALSE(reading.root().yes("c"));
  EXPECT_FALSE(reading.root().yes("e"));
  EXPECT_EQ(reading.complaints(), Complaints{});
  EXPECT_FALSE(reading.root().yes("d"));
  EXPECT_EQ(reading.complaints(), (Complaints{"1:19: 'd' cannot be 'true' | known: yes, no"}));
}

TEST(OneOf, SuggestsTheNearestWord) {
  Reading reading("<a b='owner' c='technican' d='plumber'/>");
  const std::vector<std::string> words{"owner", "technician"};
  EXPECT_EQ(reading.root().one_of("b", words), "owner");
  EXPECT_EQ(reading.root().one_of("c", words), "");
  EXPECT_EQ(reading.root().one_of("d", words), "");
  EXPECT_EQ(reading.complaints(),
            (Complaints{"1:14: 'c' cannot be 'technican' | did you mean 'technician'?", "1:28: 'd' cannot be 'plumber' | known: owner, technician"}));
}

TEST(TextOf, FoldsBlanksAndJoinsPieces) {
  Reading reading("<a>\n  one\t two <!-- no --><![CDATA[& three]]>\n</a>");
  EXPECT_EQ(reading.root().text(), "one two & three");
  EXPECT_EQ(reading.complaints(), Complaints{});
}

TEST(TextOf, ReportsElementsAndEmptiness) {
  Reading reading("<a>one <b>two</b></a>");
  EXPECT_EQ(reading.root().text(), "one");
  EXPECT_EQ(reading.complaints(), (Complaints{"1:9: 'a' holds plain text only | remove this element"}));
  Reading blank("<a> \n </a>");
  EXPECT_EQ(blank.root().text(), "");
  EXPECT_EQ(blank.complaints(), (Complaints{"1:2: 'a' is empty"}));
}

TEST(ChildText, ReportsMissingAndSecondOnes) {
  Reading reading("<a>\n <b>x</b>\n <b>y</b>\n</a>");
  EXPECT_EQ(reading.root().child_text("b", true), "x");
  EXPECT_EQ(reading.root().child_text("c", false), "");
  EXPECT_EQ(reading.root().child_text("d", true), "");
  EXPECT_EQ(reading.complaints(), (Complaints{"3:3: a second <b> | keep one", "1:2: 'a' lacks <d> | add <d>…</d>"}));
}

TEST(AllowOnly, ReportsUnknownAttributesElementsAndStrayText) {
  Reading reading("<a id='1' tilte='x'>\n  <step/>\n  <stpe/>\n  stray\n  <![CDATA[more]]><!-- fine -->\n</a>");
  reading.root().allow_only({"id", "title"}, {"step"});
  EXPECT_EQ(reading.complaints(), (Complaints{"1:11: 'a' has no attribute 'tilte' | did you mean 'title'?", "3:4: 'a' has no element 'stpe' | did you mean 'step'?",
                                              "3:10: text stands directly in 'a' | put it into an element", "5:12: text stands directly in 'a' | put it into an element"}));
}

TEST(AllowOnly, ListsTheKnownFewWhenNothingIsNear) {
  Reading reading("<a colour='red'><b/></a>");
  reading.root().allow_only({"id", "who"}, {});
  EXPECT_EQ(reading.complaints(), (Complaints{"1:4: 'a' has no attribute 'colour' | known: id, who", "1:18: 'a' has no element 'b'"}));
}

TEST(AllowText, LooksAtAttributesOnly) {
  Reading reading("<a id='1' x='2'>text</a>");
  reading.root().allow_text({"id"});
  EXPECT_EQ(reading.complaints(), (Complaints{"1:11: 'a' has no attribute 'x' | known: id"}));
}

TEST(Children, AreThoseOfTheNameInOrder) {
  Reading reading("<a><b n='1'/><c/><b n='2'/></a>");
  const auto found = reading.root().children("b");
  ASSERT_EQ(found.size(), 2U);
  EXPECT_EQ(found[0].optional("n"), "1");
  EXPECT_EQ(found[1].optional("n"), "2");
  EXPECT_TRUE(reading.root().children("d").empty());
}

TEST(FoldBlanks, RemovesThemAtTheEndsAndMakesRunsOne) {
  EXPECT_EQ(fold_blanks(" \t a \r\n b  c\n"), "a b c");
  EXPECT_EQ(fold_blanks(" \n\t"), "");
  EXPECT_EQ(fold_blanks("a\xC2\xA0" "b"), "a\xC2\xA0" "b");  // a no-break space is no blank of XML
}

}  // namespace
}  // namespace leadline::markup
