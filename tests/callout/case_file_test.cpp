// A recorded call-out: read, written, read again; and what is said about a faulty one.
#include "engine/callout/case_file.h"

#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::callout {
namespace {

const std::string good_case = R"(<callout role="technician" instrument="good">
  <title>No push &amp; no noise</title>
  <installation name="Grey Plover"><bank volts="48"/><station number="2"/><station number="3"/></installation>
  <complaint finding="push" state="none" by="owner"/>
  <answer finding="bank-volts-rest" reading="48,6  V"/>
  <answer finding="push" said="cannot-tell"/>
  <answer finding="bank-volts-rest" said="not-fitted"/>
</callout>
)";

TEST(ReadCase, ReadsWhatIsRecorded) {
  const auto base = testing::minimal_base();
  const auto loaded = read_case(base, {"case.xml", good_case});
  ASSERT_TRUE(loaded.value.has_value());
  const auto& record = *loaded.value;
  EXPECT_EQ(record.title, "No push & no noise");
  EXPECT_EQ(record.installation.name(), "Grey Plover");
  EXPECT_EQ(record.instrument, diagnosis::InstrumentClass::good);
  ASSERT_EQ(record.answers.size(), 4U);
  EXPECT_EQ(record.answers[0], (diagnosis::Answer{{0}, diagnosis::Seen{2}, knowledge::Who::owner}));
  EXPECT_EQ(record.answers[1], (diagnosis::Answer{{1}, diagnosis::Reading{48.6, 0.1, "48,6 V"}, knowledge::Who::technician}));
  EXPECT_EQ(record.answers[2].observed, diagnosis::Observed{diagnosis::CannotTell{}});
  EXPECT_EQ(record.answers[3].observed, diagnosis::Observed{diagnosis::NotFitted{}});
}

TEST(ReadCase, TakesTheUsualWhenNothingIsSaid) {
  const auto loaded = read_case(testing::minimal_base(), {"case.xml", "<callout><title>x</title><installation/></callout>"});
  ASSERT_TRUE(loaded.value.has_value());
  EXPECT_EQ(loaded.value->role, knowledge::Who::technician);
  EXPECT_EQ(loaded.value->instrument, diagnosis::InstrumentClass::pocket);
  EXPECT_TRUE(loaded.value->answers.empty());
}

TEST(ToXml, IsReadBackTheSame) {
  const auto base = testing::minimal_base();
  const auto first = read_case(base, {"a", good_case});
  const auto written = to_xml(base, *first.value);
  const auto second = read_case(base, {"b", written});
  ASSERT_TRUE(second.value.has_value()) << written;
  EXPECT_EQ(second.value->title, first.value->title);
  EXPECT_EQ(second.value->role, first.value->role);
  EXPECT_EQ(second.value->instrument, first.value->instrument);
  EXPECT_EQ(second.value->answers, first.value->answers);
  EXPECT_EQ(installation::to_xml(second.value->installation), installation::to_xml(first.value->installation));
  EXPECT_EQ(to_xml(base, *second.value), written);
}

TEST(ToXml, OfAnOwnersRecordIsReadBackTheSame) {
  const auto base = testing::minimal_base();
  const Record record{"", installation::make_installation(base, {}), knowledge::Who::owner, diagnosis::InstrumentClass::poor,
                      {{{0}, diagnosis::Seen{1}, knowledge::Who::owner}, {{1}, diagnosis::Reading{24.6, 0.1, "24V6"}, knowledge::Who::technician}}};
  const auto again = read_case(base, {"a", to_xml(base, record)});
  ASSERT_TRUE(again.value.has_value());
  EXPECT_EQ(again.value->title, "call-out");
  EXPECT_EQ(again.value->role, knowledge::Who::owner);
  EXPECT_EQ(again.value->answers, record.answers);
}

TEST(ToXml, OfACallNamesTheDesk) {
  const auto base = testing::minimal_base();
  Record record{"", installation::make_installation(base, {}), knowledge::Who::owner, diagnosis::InstrumentClass::pocket, {}};
  record.bounds.by_phone = base.by_phone;
  const auto written = to_xml(base, record);
  EXPECT_NE(written.find("role=\"helpdesk\""), std::string::npos) << written;
  const auto again = read_case(base, {"a", written});
  EXPECT_EQ(again.value->role, knowledge::Who::owner);
  EXPECT_TRUE(again.value->bounds.by_phone.has_value());
}

const std::string mended_case = R"(<callout>
  <title>Charged</title>
  <installation/>
  <complaint finding="push" state="weak"/>
  <remedy ref="charge-bank"/>
  <answer finding="push" state="weak"/>
  <remedy ref="renew-fuse"/>
  <answer finding="push" state="full"/>
</callout>
)";

TEST(ReadCase, RemediesStandAmongTheAnswersInOrder) {
  const auto base = testing::minimal_base();
  const auto loaded = read_case(base, {"case.xml", mended_case});
  ASSERT_TRUE(loaded.value.has_value());
  EXPECT_EQ(loaded.value->remedies, (std::vector<RemedyDone>{{{0}, 1}, {{1}, 2}}));
  EXPECT_EQ(loaded.value->answers.size(), 3U);
  EXPECT_TRUE(proved(base, *loaded.value));
}

TEST(ToXml, RemediesAreWrittenBackInTheirPlace) {
  const auto base = testing::minimal_base();
  const auto first = read_case(base, {"a", mended_case});
  const auto written = to_xml(base, *first.value);
  const auto weak = written.find("state=\"weak\""), charged = written.find("<remedy ref=\"charge-bank\""), renewed = written.find("<remedy ref=\"renew-fuse\""),
             full = written.find("state=\"full\"");
  EXPECT_TRUE(weak < charged && charged < renewed && renewed < full && full != std::string::npos) << written;
  const auto second = read_case(base, {"b", written});
  ASSERT_TRUE(second.value.has_value()) << written;
  EXPECT_EQ(second.value->remedies, first.value->remedies);
  EXPECT_EQ(second.value->answers, first.value->answers);
}

TEST(ToXml, ARemedyWithoutAnswersAfterItIsKept) {
  const auto base = testing::minimal_base();
  const Record record{"x", installation::make_installation(base, {}), knowledge::Who::technician, diagnosis::InstrumentClass::pocket,
                      {{{0}, diagnosis::Seen{1}, knowledge::Who::owner}}, {{{1}, 0}, {{0}, 1}}};
  const auto again = read_case(base, {"a", to_xml(base, record)});
  ASSERT_TRUE(again.value.has_value());
  EXPECT_EQ(again.value->remedies, record.remedies);
}

TEST(ReadCase, AnUnknownRemedyIsRefusedWithItsPlace) {
  auto content = mended_case;
  content.replace(content.find("charge-bank"), 11, "charge-bink");
  const std::vector<text::Source> files{{"case.xml", content}};
  const auto loaded = read_case(testing::minimal_base(), files[0]);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, files),
            "case.xml:5:11: error: no remedy 'charge-bink'\n      <remedy ref=\"charge-bink\"/>\n              ^ did you mean 'charge-bank'?\n");
}

struct BadRow {
  std::string_view name, from, to, wanted;
};

class BadCase : public ::testing::TestWithParam<BadRow> {};

TEST_P(BadCase, IsReported) {
  auto content = good_case;
  const auto at = content.find(GetParam().from);
  ASSERT_NE(at, std::string::npos);
  content.replace(at, GetParam().from.size(), GetParam().to);
  const std::vector<text::Source> files{{"case.xml", content}};
  const auto loaded = read_case(testing::minimal_base(), files[0]);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, files), GetParam().wanted);
}

const BadRow variations[] = {
    {"unknown_finding", "finding=\"push\"", "finding=\"pash\"",
     "case.xml:4:14: error: no finding 'pash'\n      <complaint finding=\"pash\" state=\"none\" by=\"owner\"/>\n                 ^ did you mean 'push'?\n"},
    {"unknown_state", "state=\"none\"", "state=\"nune\"",
     "case.xml:4:29: error: 'push' has no state 'nune'\n      <complaint finding=\"push\" state=\"nune\" by=\"owner\"/>\n                                ^ did you mean 'none'?\n"},
    {"reading_of_a_symptom", "state=\"none\"", "reading=\"3\"",
     "case.xml:4:29: error: 'push' is seen, not measured\n      <complaint finding=\"push\" reading=\"3\" by=\"owner\"/>\n                                ^ write state=\"…\"\n"},
    {"no_reading", "48,6  V", "48,6 A",
     "case.xml:5:37: error: '48,6 A' is no reading\n      <answer finding=\"bank-volts-rest\" reading=\"48,6 A\"/>\n                                        ^ volts, for instance 24.6 V, 24,6 or 310 mV\n"},
    {"no_battery_gives_so_much", "48,6  V", "486 V",
     "case.xml:5:37: error: '486 V' cannot be right\n      <answer finding=\"bank-volts-rest\" reading=\"486 V\"/>\n                                        ^ from -77 to 77 V on this boat\n"},
    {"nothing_said", " said=\"cannot-tell\"", "",
     "case.xml:6:4: error: an answer needs exactly one of 'state', 'reading' and 'said'\n      <answer finding=\"push\"/>\n       ^\n"},
    {"two_things_said", "said=\"cannot-tell\"", "said=\"cannot-tell\" state=\"none\"",
     "case.xml:6:4: error: an answer needs exactly one of 'state', 'reading' and 'said'\n      <answer finding=\"push\" said=\"cannot-tell\" state=\"none\"/>\n       ^\n"},
    {"said_otherwise", "said=\"cannot-tell\"", "said=\"cannot-say\"",
     "case.xml:6:26: error: 'said' cannot be 'cannot-say'\n      <answer finding=\"push\" said=\"cannot-say\"/>\n                             ^ known: cannot-tell, not-fitted\n"},
    {"by_whom", "by=\"owner\"", "by=\"skipper\"",
     "case.xml:4:42: error: 'by' cannot be 'skipper'\n      <complaint finding=\"push\" state=\"none\" by=\"skipper\"/>\n                                             ^ known: owner, technician\n"},
    {"role", "role=\"technician\"", "role=\"technican\"",
     "case.xml:1:10: error: 'role' cannot be 'technican'\n    <callout role=\"technican\" instrument=\"good\">\n             ^ did you mean 'technician'?\n"},
    {"instrument", "instrument=\"good\"", "instrument=\"best\"",
     "case.xml:1:28: error: 'instrument' cannot be 'best'\n    <callout role=\"technician\" instrument=\"best\">\n                               ^ known: pocket, good, poor\n"},
    {"no_title", "<title>No push &amp; no noise</title>", "",
     "case.xml:1:2: error: 'callout' lacks <title>\n    <callout role=\"technician\" instrument=\"good\">\n     ^ add <title>…</title>\n"},
    {"unknown_element", "<complaint ", "<complant ",
     "case.xml:4:4: error: 'callout' has no element 'complant'\n      <complant finding=\"push\" state=\"none\" by=\"owner\"/>\n       ^ did you mean 'complaint'?\n"},
    {"fault_in_the_record", "volts=\"48\"", "volts=\"47\"",
     "case.xml:3:42: error: '47' cannot be bank/@volts\n      <installation name=\"Grey Plover\"><bank volts=\"47\"/><station number=\"2\"/><station number=\"3\"/></ins\n"
     "                                             ^ one of 12 24 48 V\n"},
};

INSTANTIATE_TEST_SUITE_P(Variations, BadCase, ::testing::ValuesIn(variations), [](const auto& row) { return std::string(row.param.name); });

TEST(ReadCase, NeedsACalloutWithOneInstallation) {
  const auto said = [](const std::string& content) { return text::render(read_case(testing::minimal_base(), {"c", content}).problems, std::vector<text::Source>{{"c", content}}); };
  EXPECT_EQ(said("<call/>"), "c:1:2: error: the root element is 'call'\n    <call/>\n     ^ expected <callout>\n");
  EXPECT_EQ(said("<callout><title>x</title></callout>"), "c:1:2: error: a call-out needs exactly one <installation>\n    <callout><title>x</title></callout>\n     ^\n");
  EXPECT_EQ(said("<callout><title>x</title><installation/><installation/></callout>"),
            "c:1:2: error: a call-out needs exactly one <installation>\n    <callout><title>x</title><installation/><installation/></callout>\n     ^\n");
  EXPECT_EQ(said("<callout>"), "c:1:1: error: element 'callout' is never closed\n    <callout>\n    ^ add </callout>\n");
}

}  // namespace
}  // namespace leadline::callout
