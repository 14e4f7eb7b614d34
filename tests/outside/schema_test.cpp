// knowledge.xsd through libxml2: every file we ship is valid, and what is wrong is refused.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <vector>

#include "engine/knowledge/reader.h"
#include "tests/outside/xmllint.h"

namespace leadline {
namespace {

const std::string knowledge_folder = std::string(LEADLINE_SOURCE_DIR) + "/knowledge";
const std::string with_schema = "--schema '" + knowledge_folder + "/knowledge.xsd'";

std::string right() {
  return testing::read_file(std::string(LEADLINE_SOURCE_DIR) + "/tests/outside/schema/right.xml");
}

std::vector<std::string> shipped_files() {
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::directory_iterator(knowledge_folder)) {
    if (entry.path().extension() == ".xml") files.push_back(entry.path().string());
  }
  std::sort(files.begin(), files.end());
  return files;
}

bool reader_accepts(const std::string& content) {
  return knowledge::read_knowledge(std::vector<text::Source>{{"right.xml", content}}).value.has_value();
}

TEST(Schema, AcceptsEveryFileWeShip) {
  const auto files = shipped_files();
  EXPECT_GE(files.size(), 12U);
  for (const auto& file : files) {
    const auto verdict = testing::xmllint(with_schema + " '" + file + "'");
    EXPECT_EQ(verdict.code, testing::well_formed) << verdict.message;
  }
}

TEST(Schema, AcceptsTheExampleAndSoDoesTheReader) {
  const auto verdict = testing::xmllint_text(with_schema, right());
  EXPECT_EQ(verdict.code, testing::well_formed) << verdict.message;
  EXPECT_TRUE(reader_accepts(right()));
}

// One change of the example each. The reader judges independently: `only_schema` marks what is a matter of house order.
struct Wrong {
  const char* name;
  const char* old_text;
  const char* new_text;
  bool only_schema = false;
};

const Wrong wrong_ones[] = {
    {"another root", "<knowledge subsystem=\"example\">", "<book subsystem=\"example\">"},
    {"no subsystem", "<knowledge subsystem=\"example\">", "<knowledge>"},
    {"unknown element", "<precaution id=\"made-fast\">", "<warning/><precaution id=\"made-fast\">"},
    {"unknown attribute", "<check id=\"look\"", "<check colour=\"red\" id=\"look\""},
    {"stray text", "<unlisted ", "stray words <unlisted "},
    {"id with capitals", "<source id=\"wire-table\"", "<source id=\"Wire-Table\""},
    {"id with blanks", "<remedy id=\"new-lamp\"", "<remedy id=\"new lamp\""},
    {"no id", "<cause id=\"lamp-burnt\" ", "<cause "},
    {"kind of source unknown", "kind=\"standard\"", "kind=\"hearsay\""},
    {"source without title", "<title>A table of wires</title>", ""},
    {"empty title", "<title>Lights</title>", "<title> </title>"},
    {"two titles", "<title>Lights</title>", "<title>Lights</title><title>Lamps</title>"},
    {"markup inside a sentence", "<ask>What do the lights do?</ask>", "<ask>What do the <b>lights</b> do?</ask>"},
    {"precaution without an order", "<do>Make the boat fast.</do>", ""},
    {"one state only", "<state id=\"lit\">lit</state>", ""},
    {"states and bands", "<state id=\"lit\">lit</state>", "<band id=\"lit\" below=\"3\">lit</band>"},
    {"state twice", "<state id=\"dead\"", "<state id=\"lit\""},
    {"state of no words", ">dead</state>", "></state>"},
    {"leak of nothing", "leak=\"0.002\"", "leak=\"0\""},
    {"leak above one half", "leak=\"0.002\"", "leak=\"0.6\""},
    {"leak with a comma", "leak=\"0.002\"", "leak=\"0,002\""},
    {"leak of a word too strong", "leak=\"seldom\"", "leak=\"often\""},
    {"complaint neither yes nor no", "complaint=\"yes\"", "complaint=\"perhaps\""},
    {"unit unknown", "unit=\"V\" dominance", "unit=\"volts\" dominance"},
    {"dominance of one band", "dominance=\"normal low\"", "dominance=\"normal\""},
    {"limit empty", "below=\"$bank_volts * 0.98\"", "below=\"\""},
    {"check without a step", "<step>Look at the lights.</step>", ""},
    {"check that observes nothing", "<observes finding=\"lights\"/><observes finding=\"rest-volts\"/>", ""},
    {"check by nobody known", "who=\"owner\"", "who=\"passer-by\""},
    {"check without place", " place=\"helm\"", ""},
    {"minutes below zero", "minutes=\"2\"", "minutes=\"-2\""},
    {"minutes not a number", "minutes=\"2\"", "minutes=\"NaN\""},
    {"minutes with a unit", "minutes=\"10\"", "minutes=\"10 min\""},
    {"reference without ref", "<precaution ref=\"made-fast\"/><tool", "<precaution/><tool"},
    {"remedy without proof", "<proof check=\"look\">lit</proof>", ""},
    {"proof without words", "<proof check=\"look\">lit</proof>", "<proof check=\"look\"/>"},
    {"cause without frequency", " per-1000=\"7\"", ""},
    {"frequency of zero", "per-1000=\"7\"", "per-1000=\"0\""},
    {"frequency beyond everything", "per-1000=\"7\"", "per-1000=\"1e400\""},
    {"cause without a rule",
     "<shows finding=\"lights\" state=\"dead\" chance=\"nearly-always\"/><shows finding=\"rest-volts\" state=\"low\" "
     "chance=\"0.01\"/>",
     ""},
    {"cause without why", "<why>It was old.</why>", ""},
    {"cause without remedy", "<remedy ref=\"new-lamp\" mends=\"0.9\"/>", ""},
    {"cause without source", "<remedy ref=\"new-lamp\" mends=\"0.9\"/><source ref=\"wire-table\"/>", "<remedy ref=\"new-lamp\" mends=\"0.9\"/>"},
    {"chance of an unknown word", "chance=\"nearly-always\"", "chance=\"mostly\""},
    {"chance above one", "chance=\"0.01\"", "chance=\"1.01\""},
    {"chance below zero", "chance=\"0.01\"", "chance=\"-0.1\""},
    {"chance with a plus", "chance=\"0.01\"", "chance=\"+0.01\""},
    {"rule without a state", " state=\"dead\"", ""},
    {"adjustment without condition", "<adjust when=\"bank/@volts = 24\" ", "<adjust "},
    {"fact of an unknown type", "type=\"number\"", "type=\"integer\""},
    {"fact that assumes nothing", " assume=\"24\"", ""},
    {"choices that are no numbers", "choices=\"12 24\"", "choices=\"12, 24\""},
    {"fact twice", "name=\"kind\"", "name=\"volts\""},
    {"quantity without value", " value=\"bank/@volts\"", ""},
    {"unlisted without together", " together=\"0.12\"", ""},
    {"place without a way", " reach=\"4\"", ""},
    {"covers below zero", "covers=\"2.5\"", "covers=\"-1\""},
    {"place without title", "<title>mast</title>", ""},
    {"condition without minutes", "<condition id=\"lights-on\" minutes=\"1\">", "<condition id=\"lights-on\">"},
    {"tool of no words", ">ladder</tool>", "></tool>"},
    {"tool now and then", "usual=\"no\"", "usual=\"sometimes\""},
    {"giving up without words", "<words>send a rigger</words>", ""},
    {"giving up by nobody known", "<giving-up who=\"technician\"", "<giving-up who=\"skipper\""},
    {"no place in the list", "at=\"helm mast\"", "at=\"\""},
    {"four hands", "hands=\"2\"", "hands=\"4\""},
    {"water of another kind", "water=\"afloat\"", "water=\"aground\""},
    {"daylight by halves", "daylight=\"yes\"", "daylight=\"dusk\""},
    {"fetch not a number", "fetch=\"30\"", "fetch=\"half an hour\""},
    {"a remedy that mends too well", "mends=\"0.9\"", "mends=\"1.2\""},
    {"a need without state", "<needs finding=\"lights\" state=\"dead\"/>", "<needs finding=\"lights\"/>"},
    {"a precaution that forbids the sea", "forbids=\"afloat\"", "forbids=\"sailing\""},
    {"a new fault for certain", "new-fault=\"0.01\"", "new-fault=\"1\""},
    {"id declared twice", "<unlisted ",
     "<source id=\"wire-table\" kind=\"paper\"><title>Again</title></source><unlisted "},
    {"parts out of order", "<what>The lamp is burnt out.</what><why>It was old.</why>",
     "<why>It was old.</why><what>The lamp is burnt out.</what>", true},
    {"precaution after the step", "<precaution ref=\"hull-open\"/><tool ref=\"ladder\"/><part>lamp</part><step>Change it.</step>",
     "<tool ref=\"ladder\"/><part>lamp</part><step>Change it.</step><precaution ref=\"hull-open\"/>", true},
};

std::string changed(const Wrong& wrong) {
  auto content = right();
  const std::string old_text = wrong.old_text;
  const auto at = content.find(old_text);
  if (at == std::string::npos) throw std::runtime_error(std::string("the example has no place for: ") + wrong.name);
  content.replace(at, old_text.size(), wrong.new_text);
  const auto end = content.rfind("</knowledge>");
  if (std::string(wrong.name) == "another root") content.replace(end, 12, "</book>");
  return content;
}

TEST(Schema, RefusesWhatIsWrongAndSoDoesTheReader) {
  ASSERT_GE(std::size(wrong_ones), 20U);
  for (const auto& wrong : wrong_ones) {
    const auto content = changed(wrong);
    EXPECT_EQ(testing::xmllint_text("", content).code, testing::well_formed)
        << wrong.name << ": the change must be a matter of form, not of XML";
    const auto verdict = testing::xmllint_text(with_schema, content);
    EXPECT_TRUE(verdict.code == testing::invalid || verdict.code == testing::invalid_too)
        << wrong.name << ": " << verdict.code << " " << verdict.message;
    EXPECT_EQ(reader_accepts(content), wrong.only_schema) << wrong.name << ": the reader";
  }
}

// What only the reader can judge, so that nobody takes a valid file for a sound one.
TEST(Schema, LeavesToTheReaderWhatOnlyItCanJudge) {
  const Wrong beyond_the_schema[] = {
      {"reference into nowhere", "<observes finding=\"lights\"/>", "<observes finding=\"lightz\"/>"},
      {"complaint without a question for the layman", "<lay>Do the lights burn?</lay>", ""},
      {"place nobody declares", "at=\"helm mast\"", "at=\"helm must\""},
      {"need that is every state", "state=\"dead\"/>\n  </check>", "state=\"lit dead\"/>\n  </check>"},
      {"afloat where that is forbidden", "water=\"ashore\"", "water=\"afloat\""},
      {"reading without unit", " unit=\"V\" dominance", " dominance"},
      {"last band with a limit", "<band id=\"normal\">", "<band id=\"normal\" below=\"99\">"},
      {"rule for the normal state", "state=\"dead\" chance", "state=\"lit\" chance"},
      {"condition that is none", "applies=\"bank/@volts = 24\"", "applies=\"bank/@volts\""},
      {"assumed value outside the choices", "assume=\"24\"", "assume=\"36\""}};
  for (const auto& wrong : beyond_the_schema) {
    const auto content = changed(wrong);
    EXPECT_EQ(testing::xmllint_text(with_schema, content).code, testing::well_formed) << wrong.name;
    EXPECT_FALSE(reader_accepts(content)) << wrong.name;
  }
}

}  // namespace
}  // namespace leadline
