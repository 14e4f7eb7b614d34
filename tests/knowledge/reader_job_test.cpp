// What a job takes: places, conditions, tools, the price of giving up, and what checks, remedies and causes say of them (read_job.cpp).
#include <gtest/gtest.h>

#include "tests/knowledge/minimal_base.h"

namespace leadline::knowledge {
namespace {

// The small base with a job in it: every new element and attribute once.
std::string job_text() {
  auto text = testing::minimal_with("  <tool id=\"multimeter\">multimeter</tool>\n", R"(  <tool id="multimeter">multimeter</tool>
  <tool id="clamp-meter" usual="no">clamp meter</tool>
  <place id="helm" reach="1" covers="0"><title>helm</title><source ref="common-practice"/></place>
  <place id="battery-box" reach="2" covers="3.5"><title>battery box</title></place>
  <condition id="rested" minutes="60"><title>bank rested</title><source ref="common-practice"/></condition>
  <giving-up who="technician" minutes="480"><words>send a specialist</words><source ref="common-practice"/></giving-up>
  <precaution id="hull-open" forbids="afloat"><title>Open below the water</title><do>Take the boat out.</do></precaution>
)");
  const auto change = [&](std::string_view from, std::string_view to) { text = testing::changed_once(std::move(text), from, to); };
  change("id=\"measure-bank\" minutes=\"4\"", "id=\"measure-bank\" at=\"battery-box\thelm\" condition=\"rested\" hands=\"2\" water=\"afloat\" daylight=\"yes\" minutes=\"4\"");
  change("    <observes finding=\"bank-volts-rest\"/>\n", "    <observes finding=\"bank-volts-rest\"/>\n    <needs finding=\"push\" state=\"none weak\"/>\n");
  change("    <step>Charge it.</step>", "    <precaution ref=\"hull-open\"/><tool ref=\"clamp-meter\"/>\n    <step>Charge it.</step>");
  change("id=\"charge-bank\" minutes=\"60\"", "id=\"charge-bank\" at=\"battery-box\" water=\"ashore\" engine=\"yes\" fetch=\"45\" minutes=\"60\"");
  change("<remedy ref=\"charge-bank\"/>", "<remedy ref=\"charge-bank\" mends=\"usually\"/><remedy ref=\"renew-fuse\" mends=\"0.5\"/>");
  change("together=\"0.12\"/>", "together=\"0.12\" new-fault=\"0.03\"/>");
  return text;
}

TEST(ReadJob, ReadsPlacesConditionsToolsAndThePriceOfGivingUp) {
  const auto base = testing::base_from(job_text());
  ASSERT_EQ(ids_of(base.places), (std::vector<std::string>{"helm", "battery-box"}));
  EXPECT_EQ(base.places[1].title, "battery box");
  EXPECT_EQ(base.places[1].reach, 2);
  EXPECT_EQ(base.places[1].covers, 3.5);
  EXPECT_EQ(base.places[0].sources.size(), 1U);
  ASSERT_EQ(ids_of(base.conditions), (std::vector<std::string>{"rested"}));
  EXPECT_EQ(base.conditions[0].minutes, 60);
  ASSERT_EQ(ids_of(base.tools), (std::vector<std::string>{"multimeter", "clamp-meter"}));
  EXPECT_TRUE(base.tools[0].usual);
  EXPECT_FALSE(base.tools[1].usual);
  ASSERT_EQ(base.giving_up.size(), 1U);
  EXPECT_EQ(base.giving_up[0].who, Who::technician);
  EXPECT_EQ(base.giving_up[0].minutes, 480);
  EXPECT_EQ(base.giving_up[0].words, "send a specialist");
  EXPECT_EQ(base.giving_up[0].sources.size(), 1U);
  EXPECT_EQ(base.unlisted.new_fault, 0.03);
}

TEST(ReadJob, ReadsWhatACheckTakes) {
  const auto base = testing::base_from(job_text());
  const auto& check = base.checks.at(1);
  EXPECT_EQ(check.effort.minutes, 4);
  EXPECT_EQ(check.effort.places, (std::vector<Ref<WorkPlace>>{{1}, {0}}));
  EXPECT_EQ(base[*check.effort.condition].id, "rested");
  EXPECT_EQ(check.effort.hands, 2);
  EXPECT_EQ(check.effort.water, Water::afloat);
  EXPECT_TRUE(check.effort.daylight);
  EXPECT_FALSE(check.effort.engine);
  EXPECT_EQ(check.where, "battery box");
  ASSERT_EQ(check.needs.size(), 1U);
  EXPECT_EQ(check.needs[0].finding, Ref<Finding>{0});
  EXPECT_EQ(check.needs[0].states, (std::vector<std::size_t>{1, 2}));
}

TEST(ReadJob, AFindingNeedsStatesOfAnother) {
  const auto base = testing::base_from(testing::minimal_with("    <band id=\"normal\">as expected</band>\n", "    <band id=\"normal\">as expected</band>\n    <needs finding=\"push\" state=\"weak full\"/>\n"));
  ASSERT_EQ(base.findings.at(1).needs.size(), 1U);
  EXPECT_EQ(base.findings[1].needs[0].finding, Ref<Finding>{0});
  EXPECT_EQ(base.findings[1].needs[0].states, (std::vector<std::size_t>{0, 1}));
  EXPECT_TRUE(base.findings[0].needs.empty());
}

TEST(ReadJob, ASymptomMayCallForSomethingAtOnce) {
  const auto base = testing::base_from(testing::minimal_with("    <state id=\"none\" leak=\"0.01\">no push at all</state>\n",
                                                             "    <state id=\"none\" leak=\"0.01\">no push at all</state>\n    <at-once state=\"none weak\" bars=\"make-fast\" bars-all=\"make-fast\">Stand\n back.</at-once>\n"));
  ASSERT_EQ(base.findings.at(0).at_once.size(), 1U);
  EXPECT_EQ(base.findings[0].at_once[0].states, (std::vector<std::size_t>{1, 2}));
  EXPECT_EQ(base.findings[0].at_once[0].words, "Stand back.");
  EXPECT_EQ(base.findings[0].at_once[0].bars, std::vector<Ref<Precaution>>{{0}});
  EXPECT_EQ(base.findings[0].at_once[0].bars_all, std::vector<Ref<Precaution>>{{0}});
}

TEST(ReadJob, ReadsWhatARemedyTakesAndHowWellItMends) {
  const auto base = testing::base_from(job_text());
  const auto& remedy = base.remedies.at(0);
  EXPECT_EQ(remedy.effort.water, Water::ashore);
  EXPECT_TRUE(remedy.effort.engine);
  EXPECT_EQ(remedy.effort.tools, std::vector<Ref<Tool>>{{1}});
  EXPECT_EQ(remedy.fetch, 45);
  EXPECT_TRUE(base[remedy.precautions.at(0)].forbids_afloat);
  EXPECT_FALSE(base.precautions[0].forbids_afloat);
  ASSERT_EQ(base.causes[0].mends.size(), 2U);
  EXPECT_EQ(base.causes[0].mends[0].chance, 0.8);
  EXPECT_EQ(base.causes[0].mends[1].remedy, Ref<Remedy>{1});
  EXPECT_EQ(base.causes[0].mends[1].chance, 0.5);
}

// A check that says nothing of it is done where one stands, by one person, afloat or ashore, in whatever condition stands.
TEST(ReadJob, AsksForNothingThatIsNotWritten) {
  const auto base = testing::minimal_base();
  const auto& effort = base.checks.at(0).effort;
  EXPECT_TRUE(effort.places.empty());
  EXPECT_FALSE(effort.condition);
  EXPECT_EQ(effort.hands, 1);
  EXPECT_EQ(effort.water, Water::any);
  EXPECT_FALSE(effort.daylight || effort.engine);
  EXPECT_TRUE(base.checks[0].needs.empty());
  EXPECT_EQ(base.remedies.at(0).fetch, 0);
  EXPECT_TRUE(base.giving_up.empty());
}

TEST(ReadJob, NamesWaters) {
  EXPECT_EQ(to_string(Water::any), "any");
  EXPECT_EQ(to_string(Water::afloat), "afloat");
  EXPECT_EQ(to_string(Water::ashore), "ashore");
}

struct BadRow {
  std::string_view name, from, to, wanted;
};

class BadJob : public ::testing::TestWithParam<BadRow> {};

// The place and the words; the line itself is the reader's common work, tested beside it.
TEST_P(BadJob, IsReportedWithItsPlaceAndAWayOut) {
  const std::vector<text::Source> files{{"k.xml", testing::changed_once(job_text(), GetParam().from, GetParam().to)}};
  const auto loaded = read_knowledge(files);
  EXPECT_FALSE(loaded.value.has_value());
  std::string said;
  for (const auto& problem : loaded.problems) said += to_string(problem.place) + ": " + problem.what + " | " + problem.hint + "\n";
  EXPECT_EQ(said, std::string(GetParam().wanted) + "\n");
}

const BadRow variations[] = {
    {"place_unknown", "at=\"battery-box\thelm\"", "at=\"battery-box helmet\"", "k.xml:40:44: no file declares the place 'helmet' | did you mean 'helm'?"},
    {"place_named_twice", "at=\"battery-box\thelm\"", "at=\"helm helm\"", "k.xml:40:37: the place 'helm' is named twice | keep one"},
    {"place_empty", "at=\"battery-box\thelm\"", "at=\"\"", "k.xml:40:28: the attribute 'at' is empty | "},
    {"place_without_a_way", " reach=\"2\"", "", "k.xml:83:4: 'place' lacks the attribute 'reach' | add reach=\"…\""},
    {"place_with_too_many_covers", "covers=\"3.5\"", "covers=\"-1\"", "k.xml:83:37: 'covers' is -1, outside its range | from 0 to 10000"},
    {"place_declared_twice", "<place id=\"battery-box\"", "<place id=\"helm\"",
     "k.xml:40:32: no file declares the place 'battery-box' | known: helm\n"
     "k.xml:47:32: no file declares the place 'battery-box' | known: helm\n"
     "k.xml:83:10: the place 'helm' is declared twice | first at k.xml:82:4"},
    {"condition_unknown", "condition=\"rested\"", "condition=\"restet\"", "k.xml:40:50: no file declares the condition 'restet' | did you mean 'rested'?"},
    {"condition_without_minutes", " minutes=\"60\"><title>bank", "><title>bank", "k.xml:84:4: 'condition' lacks the attribute 'minutes' | add minutes=\"…\""},
    {"hands_too_many", "hands=\"2\"", "hands=\"4\"", "k.xml:40:69: 'hands' cannot be '4' | known: 1, 2, 3"},
    {"water_of_another_kind", "water=\"afloat\"", "water=\"aflaot\"", "k.xml:40:79: 'water' cannot be 'aflaot' | did you mean 'afloat'?"},
    {"daylight_by_halves", "daylight=\"yes\"", "daylight=\"dusk\"", "k.xml:40:94: 'daylight' cannot be 'dusk' | known: yes, no"},
    {"engine_by_halves", "engine=\"yes\"", "engine=\"idle\"", "k.xml:47:60: 'engine' cannot be 'idle' | known: yes, no"},
    {"fetch_no_number", "fetch=\"45\"", "fetch=\"soon\"", "k.xml:47:73: 'soon' is not a number | write a plain decimal number, for instance 0.5"},
    {"fetch_of_a_check", "hands=\"2\"", "fetch=\"2\"", "k.xml:40:69: 'check' has no attribute 'fetch' | known: id, minutes, who, place, at, condition, hands, water, daylight, engine, applies, parts-run"},
    {"run_of_no_parts", "hands=\"2\"", "parts-run=\"line-\"", "k.xml:40:69: no part of a circuit has an id that begins with 'line-' | write how the ids of the run's parts begin"},
    {"tool_unknown", "<tool ref=\"clamp-meter\"/>", "<tool ref=\"clamp-metre\"/>", "k.xml:49:40: no file declares the tool 'clamp-metre' | did you mean 'clamp-meter'?"},
    {"tool_in_words", "<tool ref=\"multimeter\"/>", "<tool>multimeter</tool>",
     "k.xml:42:6: 'tool' lacks the attribute 'ref' | add ref=\"…\"\n"
     "k.xml:42:11: text stands directly in 'tool' | put it into an element"},
    {"tool_without_words", ">clamp meter</tool>", "></tool>", "k.xml:81:4: 'tool' is empty | "},
    {"tool_sometimes_usual", "usual=\"no\"", "usual=\"often\"", "k.xml:81:26: 'usual' cannot be 'often' | known: yes, no"},
    {"need_of_an_unknown_state", "state=\"none weak\"", "state=\"none week\"", "k.xml:45:39: the finding 'push' has no state 'week' | did you mean 'weak'?"},
    {"need_of_every_state", "state=\"none weak\"", "state=\"none weak full\"", "k.xml:45:27: every state of 'push' is named, so nothing is needed | remove <needs>"},
    {"need_of_one_state_twice", "state=\"none weak\"", "state=\"none none\"", "k.xml:45:27: a state is named twice | keep one"},
    {"need_of_what_is_observed", "<needs finding=\"push\" state=\"none weak\"/>", "<needs finding=\"bank-volts-rest\" state=\"low\"/>",
     "k.xml:45:12: this check needs the finding 'bank-volts-rest', which it observes itself | remove <needs>"},
    {"need_twice", "<needs finding=\"push\" state=\"none weak\"/>", "<needs finding=\"push\" state=\"none\"/><needs finding=\"push\" state=\"weak\"/>",
     "k.xml:45:48: a second <needs> for the finding 'push' | name all states in one"},
    {"finding_that_needs_itself", "    <band id=\"normal\">as expected</band>\n", "    <band id=\"normal\">as expected</band>\n    <needs finding=\"bank-volts-rest\" state=\"low\"/>\n",
     "k.xml:32:12: the finding 'bank-volts-rest' needs itself | remove <needs>"},
    {"asked_before_what_it_needs", "    <state id=\"none\" leak=\"0.01\">no push at all</state>\n  </finding>",
     "    <state id=\"none\" leak=\"0.01\">no push at all</state>\n    <needs finding=\"bank-volts-rest\" state=\"low\"/>\n  </finding>\n"
     "  <check id=\"ask-both\" minutes=\"1\" who=\"owner\" place=\"helm\">\n    <title>Ask both</title><precaution ref=\"make-fast\"/><step>Ask.</step>\n"
     "    <observes finding=\"push\"/><observes finding=\"bank-volts-rest\"/>\n  </check>",
     "k.xml:29:15: 'ask-both' asks 'push' before 'bank-volts-rest', which it needs | change their order"},
    {"at_once_in_the_normal_state", "    <state id=\"none\" leak=\"0.01\">no push at all</state>\n", "    <state id=\"none\" leak=\"0.01\">no push at all</state>\n    <at-once state=\"full\">Run.</at-once>\n",
     "k.xml:25:14: the normal state of 'push' calls for nothing at once | name the others"},
    {"at_once_bars_what_is_unknown", "    <state id=\"none\" leak=\"0.01\">no push at all</state>\n",
     "    <state id=\"none\" leak=\"0.01\">no push at all</state>\n    <at-once state=\"none\" bars=\"make-fasst\">Run.</at-once>\n",
     "k.xml:25:33: no file declares the precaution 'make-fasst' | did you mean 'make-fast'?"},
    {"at_once_of_a_reading", "    <band id=\"normal\">as expected</band>\n", "    <band id=\"normal\">as expected</band>\n    <at-once state=\"flat\">Run.</at-once>\n",
     "k.xml:32:6: a reading is taken by somebody who knows what to do | put it into a precaution of the check"},
    {"need_of_an_unknown_finding", "<needs finding=\"push\"", "<needs finding=\"pusch\"", "k.xml:45:12: no file declares the finding 'pusch' | did you mean 'push'?"},
    {"giving_up_twice", "  <precaution id=\"hull-open\"", "  <giving-up who=\"technician\" minutes=\"1\"><words>go home</words></giving-up>\n  <precaution id=\"hull-open\"",
     "k.xml:86:4: a second <giving-up> for 'technician' | first at k.xml:85:4"},
    {"giving_up_by_nobody_known", "<giving-up who=\"technician\"", "<giving-up who=\"skipper\"", "k.xml:85:14: 'who' cannot be 'skipper' | known: owner, technician, specialist"},
    {"giving_up_without_words", "<words>send a specialist</words>", "", "k.xml:85:4: 'giving-up' lacks <words> | add <words>…</words>"},
    {"forbids_what", "forbids=\"afloat\"", "forbids=\"sailing\"", "k.xml:86:30: 'forbids' cannot be 'sailing' | known: afloat"},
    {"afloat_though_forbidden", "water=\"ashore\"", "water=\"afloat\"",
     "k.xml:47:45: 'charge-bank' is done afloat, which its precaution 'hull-open' forbids | write water=\"ashore\""},
    {"mends_no_chance", "mends=\"usually\"", "mends=\"usualy\"", "k.xml:68:31: 'usualy' is no chance | did you mean 'usually'?"},
    {"mends_too_well", "mends=\"0.5\"", "mends=\"1.5\"", "k.xml:68:73: '1.5' is no chance | a number above 0 and at most 1, or a word of the scale"},
    {"remedy_twice", "<remedy ref=\"renew-fuse\" mends=\"0.5\"/>", "<remedy ref=\"charge-bank\" mends=\"0.5\"/>", "k.xml:68:56: the remedy 'charge-bank' is named twice | keep one"},
    {"new_fault_for_certain", "new-fault=\"0.03\"", "new-fault=\"0.9\"", "k.xml:79:57: 'new-fault' is 0.9, outside its range | from 0.0001 to 0.5"},
};

INSTANTIATE_TEST_SUITE_P(Variations, BadJob, ::testing::ValuesIn(variations), [](const auto& row) { return std::string(row.param.name); });

}  // namespace
}  // namespace leadline::knowledge
