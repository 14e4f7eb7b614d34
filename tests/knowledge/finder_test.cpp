// Free words to findings: stems, synonyms, states, rare words before common ones.
#include "engine/knowledge/finder.h"

#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::knowledge {
namespace {

Finding symptom(const char* id, const char* title, std::vector<std::string> words, std::vector<std::string> states, bool complaint) {
  Finding finding;
  finding.id = id;
  finding.title = title;
  finding.words = std::move(words);
  finding.complaint = complaint;
  for (const auto& state : states) finding.states.push_back({state, state, 0, {}, {}});
  return finding;
}

KnowledgeBase small_base() {
  KnowledgeBase base;
  base.findings.push_back(symptom("lights", "Panel lights", {"display", "lamp"}, {"lit as usual", "dim or flickering", "no light at all"}, true));
  base.findings.push_back(symptom("noise", "Noise when running", {"grinding", "burning"}, {"the usual hum", "grinding or knocking"}, true));
  base.findings.push_back(symptom("smell", "Smell near the motor", {"burning"}, {"no smell", "burnt smell"}, false));
  base.findings.push_back(symptom("stops", "Stops by itself after a while", {}, {"keeps running", "stops running"}, true));
  return base;
}

std::string found(std::string_view words, std::size_t most = 8) {
  const auto base = small_base();
  std::string ids;
  for (const auto& match : Finder(base).find(words, most)) {
    ids += (ids.empty() ? "" : " ") + base[match.finding].id + (match.state ? ":" + std::to_string(*match.state) : "");
  }
  return ids;
}

struct FindRow {
  std::string_view name, words, wanted;
};

class Find : public ::testing::TestWithParam<FindRow> {};

TEST_P(Find, GivesTheBestFirst) { EXPECT_EQ(found(GetParam().words), GetParam().wanted); }

const FindRow rows[] = {
    {"title", "panel", "lights"},
    {"synonym", "lamp", "lights"},
    {"state_words", "flickering", "lights:1"},
    {"another_ending", "it flickers", "lights:1"},
    {"plural", "the panels", "lights"},
    {"capitals", "PANEL FLICKERING", "lights:1"},
    {"punctuation", "panel, flickering!", "lights:1"},
    {"normal_state_names_no_state", "hum", "noise"},
    {"rare_word_before_common_one", "grinding while running", "noise:1 stops"},
    {"words_that_say_nothing", "the boat is on a thruster", ""},
    {"unknown_words", "propeller gearbox", ""},
    {"nothing", "", ""},
    {"only_signs", "?!...", ""},
    {"malformed_bytes", "\xFF\xC3 panel", "lights"},
    {"normal_and_abnormal_fit_alike", "stopped running", "stops:1 noise"},
    {"complaints_before_others", "burning", "noise smell:1"},
    {"a_letter_left_out", "pannel flikering", "lights:1"},
    {"a_longer_form", "it flickers, dimmer", "lights:1"},
    {"the_title_says_little", "no panel light, dim", "lights:1 smell"},
    {"two_letters_changed_over", "it filckers", "lights:1"},
    {"two_slips_in_a_word_are_too_many", "pannnel", ""},
    {"short_words_are_not_mended", "lump", ""},
    {"contraction_with_apostrophe", "doesn't", "lights:2 smell"},
    {"contraction_without", "dont", "lights:2 smell"},
    {"words_of_the_normal_state_name_no_other", "running", "stops noise"},
};

INSTANTIATE_TEST_SUITE_P(Words, Find, ::testing::ValuesIn(rows), [](const auto& row) { return std::string(row.param.name); });

TEST(Finder, GivesAtMostSoMany) {
  EXPECT_EQ(found("running smell panel", 1).find(' '), std::string::npos);
  EXPECT_EQ(found("running smell panel", 0), "");
}

TEST(Finder, LeavesReadingsOut) {
  const auto base = testing::minimal_base();
  const auto matches = Finder(base).find("volts across the bank, dead");
  ASSERT_EQ(matches.size(), 1U);
  EXPECT_EQ(base[matches[0].finding].id, "push");
}

TEST(Finder, FindsNothingInAnEmptyBase) { EXPECT_TRUE(Finder(KnowledgeBase{}).find("panel").empty()); }

}  // namespace
}  // namespace leadline::knowledge
