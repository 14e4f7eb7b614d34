// The small base is read as it is written; errors of all files come in one run, by place.
// The rules of meaning, one bad variation each: reader_identity_test.cpp, reader_numbers_test.cpp, reader_meaning_test.cpp.
#include "engine/knowledge/reader.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/knowledge/minimal_base.h"

namespace leadline::knowledge {
namespace {

TEST(ReadKnowledge, ReadsASymptom) {
  const auto base = testing::minimal_base();
  const auto& push = base.findings.at(0);
  EXPECT_EQ(push.id, "push");
  EXPECT_EQ(push.subsystem, "trial");
  EXPECT_EQ(push.lay, "What happens when you move the lever?");
  EXPECT_EQ(push.words, (std::vector<std::string>{"thrust", "power", "dead"}));
  EXPECT_EQ(ids_of(push.states), (std::vector<std::string>{"full", "weak", "none"}));
  EXPECT_EQ(push.states[0].leak, 0);
  EXPECT_EQ(push.states[1].leak, 0.02);
  EXPECT_TRUE(push.complaint);
  EXPECT_FALSE(push.is_reading());
  EXPECT_EQ(push.place, (text::Place{"k.xml", 17, 4}));
}

TEST(FindFact, ByItsPath) {
  const auto base = testing::minimal_base();
  ASSERT_FALSE(base.facts.empty());
  for (std::size_t f = 0; f < base.facts.size(); ++f) EXPECT_EQ(find_fact(base, base.facts[f].path()), f);
  const auto& [element, name] = std::pair(base.facts[0].element, base.facts[0].name);
  for (const auto& path : {element, name, element + "/" + name, element + "/@", "/@" + name, element + "/@" + name + "x"}) {
    EXPECT_FALSE(find_fact(base, path).has_value()) << path;
  }
}

TEST(ReadKnowledge, ReadsAReadingInOrderOfDominance) {
  const auto base = testing::minimal_base();
  const auto& volts = base.findings.at(1);
  EXPECT_EQ(volts.unit, Unit::volt);
  EXPECT_EQ(ids_of(volts.states), (std::vector<std::string>{"normal", "low", "flat"}));
  EXPECT_EQ(volts.bands, (std::vector<std::size_t>{2, 1, 0}));  // ascending with the reading: flat, low, normal
  EXPECT_FALSE(volts.states[0].below.has_value());
  EXPECT_EQ(volts.states[2].below->text, "$low_volts");
  EXPECT_EQ(volts.states[2].below->place, (text::Place{"k.xml", 29, 21}));
  EXPECT_FALSE(volts.complaint);
}

TEST(ReadKnowledge, ReadsChecksAndRemedies) {
  const auto base = testing::minimal_base();
  const auto& check = base.checks.at(1);
  EXPECT_EQ(check.title, "Measure the bank");
  EXPECT_EQ(check.where, "battery box");
  EXPECT_EQ(check.effort.minutes, 4);
  EXPECT_EQ(check.who, Who::technician);
  EXPECT_EQ(check.effort.tools, std::vector<Ref<Tool>>{{0}});
  EXPECT_EQ(check.observes, std::vector<Ref<Finding>>{{1}});
  const auto& remedy = base.remedies.at(0);
  EXPECT_EQ(remedy.who, Who::owner);
  ASSERT_EQ(remedy.proofs.size(), 1U);
  EXPECT_EQ(remedy.proofs[0].check, Ref<Check>{1});
  EXPECT_EQ(remedy.proofs[0].words, "about $25.5 on 24 V");
  EXPECT_EQ(base.checks[0].precautions, std::vector<Ref<Precaution>>{{0}});
  EXPECT_EQ(base.precautions[0].what_to_do, "Nobody in the water.");
}

TEST(ReadKnowledge, ReadsACause) {
  const auto base = testing::minimal_base();
  const auto& cause = base.causes.at(0);
  EXPECT_EQ(cause.item, "bank");
  EXPECT_EQ(cause.per_thousand, 60);
  ASSERT_EQ(cause.rules.size(), 3U);
  EXPECT_EQ(cause.rules[2].finding, Ref<Finding>{1});
  EXPECT_EQ(cause.rules[2].state, 2U);  // flat: the strongest
  EXPECT_EQ(cause.rules[2].chance, 0.95);
  ASSERT_EQ(cause.adjustments.size(), 1U);
  EXPECT_EQ(cause.adjustments[0].when.text, "bank/@age > 8");
  EXPECT_EQ(cause.confusions.at(0).with, Ref<Cause>{1});
  ASSERT_EQ(cause.mends.size(), 1U);
  EXPECT_EQ(cause.mends[0].remedy, Ref<Remedy>{0});
  EXPECT_EQ(cause.mends[0].chance, 0.95);
  EXPECT_EQ(base.causes.at(1).applies->text, "bank/@volts != 48");
  EXPECT_EQ(base.causes[1].rules.at(0).when->text, "count(station) = 1");
}

TEST(ReadKnowledge, ReadsTheRecordAndTheUnlistedCause) {
  const auto base = testing::minimal_base();
  EXPECT_EQ(base.elements.size(), 2U);
  EXPECT_TRUE(base.elements[1].repeats);
  EXPECT_EQ(base.facts.size(), 7U);
  EXPECT_EQ(base.facts[0].path(), "bank/@volts");
  EXPECT_EQ(base.facts[0].intake, Intake::first);
  EXPECT_TRUE(base.facts[0].drawn);
  EXPECT_EQ(base.facts[1].intake, Intake::never);
  EXPECT_EQ(ids_of(base.facts[0].choices), (std::vector<std::string>{"12", "24", "48"}));
  EXPECT_EQ(ids_of(base.facts[6].choices), (std::vector<std::string>{"yes", "no"}));
  EXPECT_EQ(base.facts[2].most, 30);
  EXPECT_EQ(base.quantities.at(1).value.text, "$bank_volts * 0.95");
  EXPECT_EQ(base.unlisted.chance, 0.02);
  EXPECT_EQ(base.unlisted.new_fault, 0.01);
}

TEST(ReadKnowledge, PutsQuantitiesInTheOrderOfTheirUse) {
  const auto base = testing::base_from(testing::minimal_with(
      "  <quantity name=\"bank_volts\"", "  <quantity name=\"first\" value=\"$second + $bank_volts\"/>\n  <quantity name=\"second\" value=\"$low_volts\"/>\n  <quantity name=\"bank_volts\""));
  std::vector<std::string> names;
  for (const auto& quantity : base.quantities) names.push_back(quantity.name);
  EXPECT_EQ(names, (std::vector<std::string>{"bank_volts", "low_volts", "second", "first"}));
}

TEST(ReadKnowledge, GathersAllErrorsOfMeaningOfAllFilesByPlace) {
  auto last = testing::minimal_with("chance=\"usually\"", "chance=\"usualy\"");
  const std::string bad_ref = "ref=\"renew-fuse\"";
  last.replace(last.find(bad_ref), bad_ref.size(), "ref=\"renew-fuze\"");
  const std::vector<text::Source> files{{"z.xml", last}, {"a.xml", "<knowledge subsystem=\"more\">\n  <source id=\"x\" kind=\"paper\"/>\n  <symptom/>\n</knowledge>"}};
  const auto loaded = read_knowledge(files);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, files),
            "a.xml:2:4: error: 'source' lacks <title>\n"
            "      <source id=\"x\" kind=\"paper\"/>\n"
            "       ^ add <title>…</title>\n"
            "a.xml:3:4: error: 'knowledge' has no element 'symptom'\n"
            "      <symptom/>\n"
            "       ^ known: source, precaution, finding, check, remedy, cause, element, quantity, circuit, place, condition, tool, giving-up, by-phone, spoken, unlisted, numbers\n"
            "z.xml:62:40: error: 'usualy' is no chance\n"
            "        <shows finding=\"push\" state=\"weak\" chance=\"usualy\"/>\n"
            "                                           ^ did you mean 'usually'?\n"
            "z.xml:74:13: error: no file declares the remedy 'renew-fuze'\n"
            "        <remedy ref=\"renew-fuze\"/>\n"
            "                ^ did you mean 'renew-fuse'?\n");
}

TEST(ReadKnowledge, GathersSyntaxErrorsOnePerFileAndSpeaksOfNoReferences) {
  const std::vector<text::Source> files{
      {"c.xml", "<!DOCTYPE knowledge>\n<knowledge/>"}, {"b.xml", testing::minimal_text}, {"a.xml", "<knowledge subsystem=\"x\"/>\n<knowledge subsystem=\"y\"/>"}};
  const auto loaded = read_knowledge(files);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, files),
            "a.xml:2:1: error: a second root element 'knowledge'\n"
            "    <knowledge subsystem=\"y\"/>\n"
            "    ^ a file holds one root element\n"
            "c.xml:1:1: error: a DOCTYPE or declaration is not accepted\n"
            "    <!DOCTYPE knowledge>\n"
            "    ^ remove it; entities of one's own are not supported\n");
}

TEST(ReadKnowledge, RefusesAnotherRoot) {
  const std::vector<text::Source> files{{"k.xml", "<knowlege subsystem=\"x\"/>"}};
  const auto loaded = read_knowledge(files);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, files),
            "k.xml:1:2: error: the root element is 'knowlege'\n    <knowlege subsystem=\"x\"/>\n     ^ expected <knowledge subsystem=\"…\">\n");
}

TEST(ReadKnowledge, ResolvesReferencesAcrossFilesInAnyOrder) {
  const auto cut = testing::minimal_text.find("  <check id=\"try-push\"");
  const std::string one = testing::minimal_text.substr(0, cut) + "</knowledge>";
  const std::string other = testing::head_of("trial", "common-practice") + testing::minimal_text.substr(cut);
  const std::vector<text::Source> forward{{"1.xml", one}, {"2.xml", other}}, backward{{"2.xml", other}, {"1.xml", one}};
  const auto first = read_knowledge(forward), second = read_knowledge(backward);
  ASSERT_TRUE(first.value && second.value);
  EXPECT_EQ(ids_of(first.value->causes), ids_of(second.value->causes));
  EXPECT_EQ(first.value->causes[0].rules[2].place, second.value->causes[0].rules[2].place);
}

TEST(ReadKnowledge, ReadsNoFilesAsAnEmptyBase) {
  const auto loaded = read_knowledge({});
  ASSERT_TRUE(loaded.value.has_value());
  EXPECT_TRUE(loaded.value->causes.empty());
}

}  // namespace
}  // namespace leadline::knowledge
