// What a sheet says, on call-outs small enough to see why.
#include "cli/sheet.h"

#include <gtest/gtest.h>

#include <cmath>

#include "cli/embedded.h"
#include "cli/sheet_places.h"
#include "cli/sheet_render.h"
#include "engine/callout/case_file.h"
#include "engine/knowledge/reader.h"

namespace leadline::cli {
namespace {

const knowledge::KnowledgeBase& base() {
  static const auto loaded = knowledge::read_knowledge(embedded_knowledge());
  return *loaded.value;
}

callout::Record record_of(const std::string& inside) {
  const auto loaded = callout::read_case(base(), {"case", "<callout><title>t</title>" + inside + "</callout>"});
  if (!loaded.value) throw std::invalid_argument(loaded.problems.front().what);
  return *loaded.value;
}

Sheet sheet_with(const std::string& inside) {
  const auto record = record_of(inside);
  return sheet_of({.base = base(), .record = record, .program = "1", .book_digest = "b", .record_digest = "r", .try_assumptions = false});
}

struct JudgedRow {
  std::string_view name;
  std::string answer;
  std::string judged, remark;
};
class Judging : public testing::TestWithParam<JudgedRow> {};

TEST_P(Judging, HoldsAReadingAgainstThisBoat) {
  const auto sheet = sheet_with("<installation><bank volts='24'/></installation>" + GetParam().answer);
  ASSERT_EQ(sheet.findings.size(), 1U);
  EXPECT_EQ(judged_words(sheet.findings[0].judged), GetParam().judged);
  EXPECT_EQ(sheet.findings[0].remark, GetParam().remark);
}

INSTANTIATE_TEST_SUITE_P(Answers, Judging,
                         testing::Values(JudgedRow{"sound_volts", "<answer finding='bank-volts-rest' reading='25.4 V'/>", "normal", ""},
                                         JudgedRow{"empty_bank", "<answer finding='bank-volts-rest' reading='22.1 V'/>", "abnormal", ""},
                                         JudgedRow{"seen_normal", "<answer finding='push' state='normal'/>", "normal", ""},
                                         JudgedRow{"seen_abnormal", "<answer finding='push' state='none'/>", "abnormal", ""},
                                         JudgedRow{"not_known", "<answer finding='push' said='cannot-tell'/>", "cannot tell", ""},
                                         JudgedRow{"over_range", "<answer finding='fuse-ohms' reading='OL'/>", "abnormal", ""}),
                         [](const auto& row) { return std::string(row.param.name); });

TEST(SheetFacts, TellsStatedFromAssumed) {
  const auto sheet = sheet_with("<installation name='Dunlin'><bank volts='24' chemistry='gel'/></installation>");
  EXPECT_EQ(fact_lines(sheet, true), (std::vector<std::string>{"bank: volts 24 V, chemistry gel lead-acid"}));
  const auto assumed = fact_lines(sheet, false);
  ASSERT_FALSE(assumed.empty());
  EXPECT_EQ(assumed.front().substr(0, 23), "bank: arrangement in se");
}

TEST(SheetCourse, HasTheStartAndAMomentForEachAnswerAndRemedy) {
  const auto sheet = sheet_with("<installation/><complaint finding='push' state='none'/><remedy ref='charge-bank'/><answer finding='push' state='normal'/>");
  std::vector<std::string> labels;
  for (const auto& moment : sheet.course.moments) {
    labels.push_back(moment.label);
    EXPECT_EQ(moment.beliefs.size(), sheet.course.titles.size());
    double sum = 0;
    for (const auto belief : moment.beliefs) sum += belief;
    EXPECT_LE(sum, 1 + 1e-9);
  }
  EXPECT_EQ(labels, (std::vector<std::string>{"", "1", "remedy 1", "2"}));
  EXPECT_TRUE(sheet.proved);
  EXPECT_FALSE(sheet.minutes_left.has_value());
}

// The last moment is what `rank` says of the whole record.
TEST(SheetCourse, EndsWhereTheRankingStands) {
  const auto record = record_of("<installation/><complaint finding='push' state='none'/><answer finding='bank-volts-rest' reading='22 V'/>");
  const auto sheet = sheet_of({base(), record, "1", "b", "r", std::nullopt, {}, false});
  const callout::Assessment whole(base(), record);
  EXPECT_EQ(sheet.course.titles.front(), whole.title_of(whole.diagnosis().explanations.front()));
  EXPECT_NEAR(sheet.course.moments.back().beliefs.front(), whole.diagnosis().explanations.front().probability, 1e-12);
}

TEST(SheetPage, ShowsNotesAndTimesWhereTheyBelong) {
  const auto record = record_of("<installation/><complaint finding='push' state='none'/>");
  const auto page = sheet_page(sheet_of({base(), record, "1", "b", "r", SheetTimes{"09:10", "09:52", 42}, {{0, "owner was at work"}, {1, "lid was wet"}}, false}), 80).text();
  const auto before = page.find("Note: owner was at work"), finding = page.find("1. Push of the thruster"), after = page.find("Note: lid was wet");
  ASSERT_NE(after, std::string::npos);
  EXPECT_LT(before, finding);
  EXPECT_LT(finding, after);
  EXPECT_NE(page.find("  - Begun 09:10, ended 09:52: 42 min.\n"), std::string::npos);
}

TEST(SheetDoubts, NamesAContradiction) {
  const auto sheet = sheet_with("<installation/><complaint finding='push' state='none'/><answer finding='bank-volts-rest' reading='25.4 V'/><answer finding='bank-volts-load' reading='25.3 V'/>"
                                "<answer finding='motor-amps-load' reading='280 A'/>");
  EXPECT_EQ(sheet.doubts.front().kind, "contradiction");
}

TEST(SheetJson, HoldsNoNumberThatIsNone) {
  auto sheet = sheet_with("<installation/><answer finding='fuse-ohms' reading='OL'/>");
  sheet.reasons.push_back({"push", "w", INFINITY});
  const auto json = sheet_json(sheet);
  EXPECT_NE(json.find("\"value\": null"), std::string::npos);
  EXPECT_NE(json.find("\"settles\": \"for\""), std::string::npos);
  for (const auto* word : {"nan", "inf,", "inf\n", "NaN", "Infinity"}) EXPECT_EQ(json.find(word), std::string::npos) << word;
}

struct PlaceRow {
  std::string_view finding, place;
};
class Placing : public testing::TestWithParam<PlaceRow> {};

TEST_P(Placing, PutsAReadingWhereItIsTaken) {
  const auto ref = knowledge::find_id(base().findings, std::string(GetParam().finding));
  ASSERT_TRUE(ref);
  const std::string reading = *base()[*ref].unit == knowledge::Unit::ohm ? "60 ohm" : *base()[*ref].unit == knowledge::Unit::ampere ? "10 A" : "10 V";
  const auto sheet = sheet_with("<installation><station name='helm' number='1'/><station name='aft' number='2'/></installation><answer finding='" + base()[*ref].id + "' reading='" + reading + "'/>");
  std::string found;
  for (const auto& place : sheet.places) found += place.readings.empty() ? "" : place.title;
  EXPECT_EQ(found, GetParam().place);
}

INSTANTIATE_TEST_SUITE_P(Readings, Placing,
                         testing::Values(PlaceRow{"bank-volts-rest", "Thruster bank"}, PlaceRow{"fuse-drop", "Main fuse"}, PlaceRow{"isolator-drop", "Isolator"},
                                         PlaceRow{"positive-run-drop", "Plus cable"}, PlaceRow{"negative-run-drop", "Minus cable"}, PlaceRow{"contact-drop", "Contactor"},
                                         PlaceRow{"coil-ohms", "Contactor"}, PlaceRow{"motor-amps-load", "Motor"}, PlaceRow{"charger-terminal-volts", "Charging"},
                                         PlaceRow{"network-ohms", "Network cable"}, PlaceRow{"network-battery-volts", "Supply of the network"},
                                         PlaceRow{"terminator-ohms", "Terminators"}, PlaceRow{"network-supply-volts", "Thruster: thruster"},
                                         PlaceRow{"panel-h-minus-l-volts", "Station: aft"}),
                         [](const auto& row) {
                           std::string name(row.param.finding);
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

// No reading that the circuits describe is lost from the sketch, whatever the book adds.
TEST(SheetPlaces, HasAPlaceForEveryMeasurement) {
  auto record = record_of("<installation><charging mains='yes' step-up='yes' alternator='yes'/></installation>");
  for (std::size_t f = 0; f < base().findings.size(); ++f) {
    if (base().findings[f].measure) record.answers.push_back({{f}, diagnosis::Reading{1, 0.1, "1"}, knowledge::Who::technician});
  }
  const callout::Assessment assessment(base(), record);
  Sheet sheet;
  sheet.findings.resize(record.answers.size());
  std::size_t placed = 0;
  for (const auto& place : sheet_places(assessment, sheet)) placed += place.readings.size();
  EXPECT_EQ(placed, record.answers.size());
}

TEST(SheetPlaces, MarksTheSuspect) {
  const auto sheet = sheet_with("<installation><bank volts='24'/></installation><complaint finding='push' state='none'/><answer finding='bank-volts-rest' reading='25.4 V'/>"
                                "<answer finding='fuse-ohms' reading='OL'/>");
  std::string marked;
  for (const auto& place : sheet.places) marked += place.suspect.empty() ? "" : place.title + ";";
  EXPECT_EQ(marked.substr(0, 10), "Main fuse;");
}

}  // namespace
}  // namespace leadline::cli
