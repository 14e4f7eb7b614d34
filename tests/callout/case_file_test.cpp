// Recorded call-outs: what is written is read again, what is wrong is refused with its place.
#include "engine/callout/case_file.h"

#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::callout {
namespace {

const std::string good = R"(<callout role="technician" instrument="good">
<title>Weak push</title>
<installation name="Grey Plover"><bank volts="12"/><station number="2"/></installation>
<complaint finding="push" state="weak" by="owner"/>
<answer finding="bank-volts-rest" reading="12,1 V"/>
<answer finding="push" said="not-fitted"/>
</callout>)";

text::Loaded<Record> read(const std::string& content) { return read_case(testing::minimal_base(), {"case.xml", content}); }

std::string with(const std::string& from, const std::string& to) {
  auto changed = good;
  return changed.replace(changed.find(from), from.size(), to);
}

TEST(CaseFile, ReadsWhatIsThere) {
  const auto record = read(good);
  ASSERT_TRUE(record.value) << text::render(record.problems, {});
  EXPECT_EQ(record.value->title, "Weak push");
  EXPECT_EQ(record.value->instrument, diagnosis::InstrumentClass::good);
  EXPECT_EQ(record.value->installation.name(), "Grey Plover");
  ASSERT_EQ(record.value->answers.size(), 3U);
  EXPECT_EQ(record.value->answers[0].by, knowledge::Who::owner);
  EXPECT_EQ(std::get<diagnosis::Reading>(record.value->answers[1].observed).value, 12.1);
  EXPECT_TRUE(std::holds_alternative<diagnosis::NotFitted>(record.value->answers[2].observed));
}

TEST(CaseFile, WritesWhatItReads) {
  const auto base = testing::minimal_base();
  const auto first = read(good);
  const auto again = read(to_xml(base, *first.value));
  ASSERT_TRUE(again.value) << to_xml(base, *first.value);
  EXPECT_EQ(again.value->answers, first.value->answers);
  EXPECT_EQ(again.value->title, first.value->title);
  EXPECT_EQ(to_xml(base, *again.value), to_xml(base, *first.value));
}

struct BadRow {
  std::string name, from, to, message;
};
class BadCase : public ::testing::TestWithParam<BadRow> {};
TEST_P(BadCase, IsRefusedWithItsPlace) {
  const auto& row = GetParam();
  const text::Source file{"case.xml", with(row.from, row.to)};
  const auto record = read_case(testing::minimal_base(), file);
  EXPECT_FALSE(record.value);
  ASSERT_FALSE(record.problems.empty());
  EXPECT_EQ(to_string(record.problems[0].place) + ": " + record.problems[0].what + (record.problems[0].hint.empty() ? "" : " | " + record.problems[0].hint), row.message);
}
INSTANTIATE_TEST_SUITE_P(
    Mistakes, BadCase,
    ::testing::Values(
        BadRow{"unknown_finding", "finding=\"push\" state=\"weak\"", "finding=\"psuh\" state=\"weak\"", "case.xml:4:12: no finding 'psuh' | did you mean 'push'?"},
        BadRow{"unknown_state", "state=\"weak\"", "state=\"week\"", "case.xml:4:27: 'push' has no state 'week' | did you mean 'weak'?"},
        BadRow{"reading_of_a_symptom", "state=\"weak\"", "reading=\"12\"", "case.xml:4:27: 'push' is seen, not measured | write state=\"…\""},
        BadRow{"no_reading", "12,1 V", "12,1 ohm", "case.xml:5:35: '12,1 ohm' is no reading | volts, for instance 24.6 V, 24,6 or 310 mV"},
        BadRow{"two_answers_in_one", "state=\"weak\"", "state=\"weak\" said=\"cannot-tell\"", "case.xml:4:2: an answer needs exactly one of 'state', 'reading' and 'said'"},
        BadRow{"unknown_role", "role=\"technician\"", "role=\"master\"", "case.xml:1:10: 'role' cannot be 'master' | known: owner, technician"},
        BadRow{"second_root", "</callout>", "</callout><callout/>", "case.xml:7:11: a second root element 'callout' | a file holds one root element"},
        BadRow{"wrong_volts", "volts=\"12\"", "volts=\"13\"", "case.xml:3:40: '13' cannot be bank/@volts | one of 12 24 48 V"},
        BadRow{"comma_in_a_record", "volts=\"12\"", "volts=\"12,0\"", "case.xml:3:40: '12,0' cannot be bank/@volts | write a point as decimal mark: 12.0"},
        BadRow{"unknown_element", "<title>", "<titel>x</titel><title>", "case.xml:2:2: 'callout' has no element 'titel' | did you mean 'title'?"}),
    [](const auto& row) { return row.param.name; });

TEST(CaseFile, AllErrorsComeInOneRun) {
  auto text = with("finding=\"push\" state=\"weak\"", "finding=\"psuh\" state=\"weak\"");
  text.replace(text.find("12,1 V"), 6, "much");
  EXPECT_EQ(read(text).problems.size(), 2U);
}

}  // namespace
}  // namespace leadline::callout
