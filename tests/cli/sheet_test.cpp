// What a sheet says, on call-outs small enough to see why.
#include "cli/sheet.h"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/embedded.h"
#include "cli/sheet_parts.h"
#include "cli/sheet_places.h"
#include "cli/sheet_render.h"
#include "engine/callout/case_file.h"
#include "engine/knowledge/reader.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::cli {
namespace {

const knowledge::KnowledgeBase& base() {
  static const auto loaded = knowledge::read_knowledge(embedded_knowledge());
  return *loaded.value;
}

// A book that is ranked in a millisecond, for what does not hang on the book.
const knowledge::KnowledgeBase& small() {
  static const auto book = testing::minimal_base();
  return book;
}

callout::Record record_of(const std::string& inside, const knowledge::KnowledgeBase& book = base()) {
  const auto loaded = callout::read_case(book, {"case", "<callout><title>t</title>" + inside + "</callout>"});
  if (!loaded.value) throw std::invalid_argument(loaded.problems.front().what);
  return *loaded.value;
}

Sheet sheet_with(const std::string& inside, const knowledge::KnowledgeBase& book = base()) {
  return sheet_of({.base = book, .record = record_of(inside, book), .program = "1", .book_digest = "b", .record_digest = "r", .try_assumptions = false});
}

// A boat with other answers each time, not ranked anew: findings and places need no ranking, which takes a second.
class Unranked {
 public:
  explicit Unranked(const std::string& installation) : record_(record_of(installation)), assessment_(base(), record_) {}
  const callout::Assessment& with(std::vector<diagnosis::Answer> answers) {
    record_.answers = std::move(answers);
    return assessment_;
  }

 private:
  callout::Record record_;
  callout::Assessment assessment_;
};

std::vector<Sheet::Place> places_of(const callout::Assessment& assessment) {
  Sheet sheet;
  sheet.findings.resize(assessment.record().answers.size());
  return sheet_places(assessment, sheet);
}

struct JudgedRow {
  std::string_view name;
  std::string answer;
  std::string judged, remark;
};
class Judging : public ::testing::TestWithParam<JudgedRow> {};

TEST_P(Judging, HoldsAReadingAgainstThisBoat) {
  static Unranked boat("<installation><bank volts='24'/></installation>");
  const auto findings = sheet_findings(boat.with(record_of("<installation/>" + GetParam().answer).answers));
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(judged_words(findings[0].judged), GetParam().judged);
  EXPECT_EQ(findings[0].remark, GetParam().remark);
}

INSTANTIATE_TEST_SUITE_P(Answers, Judging,
                         ::testing::Values(JudgedRow{"sound_volts", "<answer finding='bank-volts-rest' reading='25.4 V'/>", "normal", ""},
                                         JudgedRow{"empty_bank", "<answer finding='bank-volts-rest' reading='22.1 V'/>", "abnormal", ""},
                                         JudgedRow{"seen_normal", "<answer finding='push' state='normal'/>", "normal", ""},
                                         JudgedRow{"seen_abnormal", "<answer finding='push' state='none'/>", "abnormal", ""},
                                         JudgedRow{"not_known", "<answer finding='push' said='cannot-tell'/>", "cannot tell", ""},
                                         JudgedRow{"over_range", "<answer finding='fuse-ohms' reading='OL'/>", "abnormal", ""}),
                         [](const auto& row) { return std::string(row.param.name); });

TEST(SheetRole, SaysWhoWasGuidedByTelephone) {
  const auto loaded = callout::read_case(small(), {"case", "<callout role='helpdesk'><title>t</title><installation name='Teal'/></callout>"});
  const auto sheet = sheet_of({.base = small(), .record = *loaded.value, .program = "1", .book_digest = "b", .record_digest = "r"});
  EXPECT_EQ(boat_words(sheet), "Boat: Teal. Checks done by: owner, guided by telephone.");
  EXPECT_NE(sheet_json(sheet).find("\"role\": \"helpdesk\""), std::string::npos);
}

TEST(SheetFacts, TellsStatedFromAssumed) {
  const auto sheet = sheet_with("<installation name='Dunlin'><bank volts='24' kind='lithium'/></installation>", small());
  EXPECT_EQ(fact_lines(sheet, true), (std::vector<std::string>{"bank: volts 24 V, kind lithium"}));
  EXPECT_EQ(fact_lines(sheet, false), (std::vector<std::string>{"bank: age 4 year, strings 1, label bank", "station: number 1, spare no"}));
}

TEST(SheetCourse, HasTheStartAndAMomentForEachAnswerAndRemedy) {
  const auto sheet = sheet_with("<installation/><complaint finding='push' state='none'/><remedy ref='charge-bank'/><answer finding='push' state='full'/>", small());
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
  const auto record = record_of("<installation/><complaint finding='push' state='none'/><answer finding='bank-volts-rest' reading='22 V'/>", small());
  const auto sheet = sheet_of({.base = small(), .record = record, .program = "1", .book_digest = "b", .record_digest = "r", .try_assumptions = false});
  const callout::Assessment whole(small(), record);
  EXPECT_EQ(sheet.course.titles.front(), whole.title_of(whole.diagnosis().explanations.front()));
  EXPECT_NEAR(sheet.course.moments.back().beliefs.front(), whole.diagnosis().explanations.front().probability, 1e-12);
}

TEST(SheetPage, ShowsNotesAndTimesWhereTheyBelong) {
  const auto record = record_of("<installation/><complaint finding='push' state='none'/>", small());
  const auto sheet = sheet_of({.base = small(), .record = record, .program = "1", .book_digest = "b", .record_digest = "r", .times = SheetTimes{"09:10", "09:52", 42, "stopped, 1 answer"},
                               .notes = {{0, "owner was at work"}, {1, "lid was wet", "09:30"}}, .checks = std::nullopt, .losses = {}, .try_assumptions = false});
  const auto page = sheet_page(sheet, 80).text();
  const auto before = page.find("Note: owner was at work"), finding = page.find("1. Push of the thruster"), after = page.find("Note: 09:30: lid was wet");
  ASSERT_NE(after, std::string::npos);
  EXPECT_LT(before, finding);
  EXPECT_LT(finding, after);
  EXPECT_NE(page.find("  - Begun 09:10, last entry 09:52; stopped, 1 answer.\n  - At work: 42 min.\n"), std::string::npos);
}

// A job of the small book with a remedy that has a precaution, done and proved.
Sheet mended_sheet() {
  static const auto book = testing::base_from(testing::minimal_with("<title>Charge the bank</title>", "<title>Charge the bank</title><precaution ref=\"make-fast\"/>"));
  return sheet_with("<installation name='Dunlin'/><complaint finding='push' state='weak'/><answer finding='bank-volts-rest' reading='20,5'/><remedy ref='charge-bank'/>"
                    "<answer finding='push' state='full'/>", book);
}

// A precaution stands before the remedy's own proof and parts at every width.
TEST(SheetOrder, PrecautionsComeBeforeFindingsAndRemedies) {
  const auto sheet = mended_sheet();
  for (const std::size_t width : {40, 60, 200}) {
    const auto out = sheet_page(sheet, width).text();
    const auto care = out.find("PRECAUTIONS"), findings = out.find("FINDINGS"), remedy = out.find("REMEDIES DONE");
    const auto own = out.find("! Boat made fast", remedy), proof = out.find("Proof:", remedy);
    ASSERT_NE(proof, std::string::npos);
    EXPECT_LT(care, findings);
    EXPECT_LT(findings, remedy);
    EXPECT_LT(own, proof) << width;
  }
}

TEST(SheetJson, SaysWhatTheTextSays) {
  const auto out = sheet_json(mended_sheet());
  const auto json = nlohmann::json::parse(out);
  EXPECT_EQ(json["schema"], 1);
  EXPECT_EQ(json["boat"], "Dunlin");
  EXPECT_TRUE(json["proved"].get<bool>());
  EXPECT_EQ(json["findings"][1]["judged"], "abnormal");
  EXPECT_EQ(json["findings"][1]["figures"]["value"], 20.5);
  EXPECT_EQ(json["remedies_done"][0]["remedy"], "charge-bank");
  EXPECT_EQ(json["remedies_done"][0]["seen_after"], nlohmann::json({3}));
  EXPECT_EQ(json["minutes"]["left"], nullptr);
  EXPECT_EQ(json["minutes"]["taken"], nullptr);
  EXPECT_EQ(json["course"]["moments"].size(), 5U);  // the start, three answers, one remedy
  for (const char c : out) ASSERT_LT(static_cast<unsigned char>(c), 128);
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

Unranked& fitted_out() {
  static Unranked boat("<installation><charging mains='yes' step-up='yes' alternator='yes'/><station name='helm' number='1'/><station name='aft' number='2'/></installation>");
  return boat;
}

diagnosis::Answer read_on(knowledge::Ref<knowledge::Finding> finding) { return {finding, diagnosis::Reading{1, 0.1, "1"}, knowledge::Who::technician}; }

struct PlaceRow {
  std::string_view finding, place;
};
class Placing : public ::testing::TestWithParam<PlaceRow> {};

TEST_P(Placing, PutsAReadingWhereItIsTaken) {
  const auto ref = knowledge::find_id(base().findings, std::string(GetParam().finding));
  ASSERT_TRUE(ref);
  std::string found;
  for (const auto& place : places_of(fitted_out().with({read_on(*ref)}))) found += place.readings.empty() ? "" : place.title;
  EXPECT_EQ(found, GetParam().place);
}

INSTANTIATE_TEST_SUITE_P(Readings, Placing,
                         ::testing::Values(PlaceRow{"bank-volts-rest", "Thruster bank"}, PlaceRow{"fuse-drop", "Main fuse"}, PlaceRow{"isolator-drop", "Isolator"},
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

// Neither their names nor their numbers were told: two of them do not bear one number because one is assumed of each.
TEST(SheetPlaces, OfStationsThatWereOnlyCountedSayNoMore) {
  const auto sheet = sheet_with("<installation><network stations='2'/></installation><answer finding='push' state='weak'/>");
  std::vector<std::string> stations;
  for (const auto& place : sheet.places) {
    if (place.title.starts_with("Station: ")) stations.push_back(place.title + ", " + place.about);
  }
  EXPECT_EQ(stations, (std::vector<std::string>{"Station: helm, number not stated", "Station: helm 2, number not stated"}));
  EXPECT_EQ(fact_lines(sheet, true), (std::vector<std::string>{"network: stations 2"}));
}

// No reading that the circuits describe is lost from the sketch, whatever the book adds.
TEST(SheetPlaces, HasAPlaceForEveryMeasurement) {
  std::vector<diagnosis::Answer> answers;
  for (std::size_t f = 0; f < base().findings.size(); ++f) {
    if (base().findings[f].measure) answers.push_back(read_on({f}));
  }
  std::size_t placed = 0;
  for (const auto& place : places_of(fitted_out().with(answers))) placed += place.readings.size();
  EXPECT_EQ(placed, answers.size());
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
