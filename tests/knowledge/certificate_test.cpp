// Where numbers come from: own before inherited, named before unnamed, and none without.
#include "engine/knowledge/certificate.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "engine/knowledge/numbers.h"
#include "tests/circuit/shipped_base.h"
#include "tests/knowledge/circuit_base.h"

namespace leadline::knowledge {
namespace {

TEST(NumberKinds, HaveAWordEachThatReadsBack) {
  for (const auto& word : number_kind_words()) EXPECT_EQ(to_string(number_kind_of(word).value()), word);
  for (const auto& word : sureness_words()) EXPECT_EQ(to_string(sureness_of(word).value()), word);
  EXPECT_FALSE(number_kind_of("Frequency").has_value());
  EXPECT_FALSE(sureness_of("").has_value());
}

TEST(Numbers, OfACause) {
  const auto base = testing::minimal_base();
  const auto numbers = numbers_of(base, base.causes.at(0));
  std::vector<std::string> kinds;
  for (const auto& number : numbers) kinds.emplace_back(to_string(number.kind));
  EXPECT_EQ(kinds, (std::vector<std::string>{"frequency", "frequency", "strength", "strength", "strength", "mends"}));
  EXPECT_EQ(numbers[0].value, 60);
  EXPECT_EQ(numbers[1].when, "bank/@age > 8");
  EXPECT_EQ(numbers[4].of, "bank-volts-rest");
  EXPECT_EQ(numbers[4].what, "Bank volts at rest: flat");
  EXPECT_EQ(numbers[5].value, 0.95);
  for (const auto& number : numbers) {
    ASSERT_TRUE(number.certificate.has_value());
    EXPECT_TRUE(number.certificate->inherited);
    EXPECT_EQ(number.certificate->sure, Sureness::rough);
    EXPECT_EQ(base[number.certificate->source].id, "common-practice");
  }
}

TEST(Numbers, OfEverythingInACircuitBook) {
  const auto base = testing::base_from(testing::circuits_text);
  std::map<std::string, std::map<NumberKind, std::size_t>> counts;
  for (const auto& item : all_numbers(base)) {
    for (const auto& number : item.numbers) ++counts[item.kind][number.kind];
  }
  EXPECT_EQ(counts["cause"][NumberKind::effect], 9U);  // two shares, add from and to, times, set from and to, join from and to
  EXPECT_EQ(counts["finding"][NumberKind::threshold], 3U);
  EXPECT_EQ(counts["finding"][NumberKind::leak], 4U);
  EXPECT_EQ(counts["finding"][NumberKind::doubt], 1U);
  EXPECT_EQ(counts["check"][NumberKind::minutes], 1U);
  EXPECT_EQ(counts["circuit"][NumberKind::part], 18U);
}

std::string with_source(const std::string& line) {
  return testing::minimal_with("    <remedy ref=\"charge-bank\"/>\n", "    <remedy ref=\"charge-bank\"/>\n" + line + "\n");
}

TEST(Certificates, OwnGoBeforeInheritedAndNamedBeforeUnnamed) {
  const auto base = testing::base_from(with_source("<source ref=\"common-practice\" for=\"strength mends\" sure=\"fair\"/><source ref=\"common-practice\" for=\"strength\" of=\"bank-*\" sure=\"rough\"/>"));
  const auto numbers = numbers_of(base, base.causes.at(0));
  const auto sure = [&](std::size_t i) { return std::pair(numbers[i].certificate->sure, numbers[i].certificate->inherited); };
  EXPECT_EQ(sure(0), std::pair(Sureness::rough, true));
  EXPECT_EQ(sure(2), std::pair(Sureness::fair, false));
  EXPECT_EQ(sure(4), std::pair(Sureness::rough, false));
  EXPECT_EQ(sure(5), std::pair(Sureness::fair, false));
}

TEST(Certificates, ASourceWithoutForSpeaksForNoNumber) {
  const auto base = testing::base_from(with_source("<source ref=\"common-practice\"/>"));
  for (const auto& number : numbers_of(base, base.causes.at(0))) EXPECT_TRUE(number.certificate->inherited) << number.what;
}

struct Wrong {
  const char* name;
  const char* from;
  std::string to;
  const char* message;
};

class CertificateRefusal : public ::testing::TestWithParam<Wrong> {};

TEST_P(CertificateRefusal, SaysWhereAndTheWayOut) {
  const std::vector<text::Source> files{{"k.xml", testing::minimal_with(GetParam().from, GetParam().to)}};
  const auto loaded = read_knowledge(files);
  EXPECT_FALSE(loaded.value.has_value());
  EXPECT_EQ(text::render(loaded.problems, files), GetParam().message);
}

constexpr auto mending = "    <remedy ref=\"charge-bank\"/>\n";
std::string also(const std::string& line) { return std::string(mending) + "    " + line + "\n"; }

INSTANTIATE_TEST_SUITE_P(
    ByName, CertificateRefusal,
    ::testing::Values(
        Wrong{"unknown_kind", mending, also("<source ref=\"common-practice\" for=\"frequency strenght\" sure=\"fair\"/>"),
              "k.xml:67:50: error: 'strenght' is no kind of number\n"
              "        <source ref=\"common-practice\" for=\"frequency strenght\" sure=\"fair\"/>\n"
              "                                                     ^ did you mean 'strength'?\n"},
        Wrong{"no_sureness", mending, also("<source ref=\"common-practice\" for=\"strength\"/>"),
              "k.xml:67:6: error: 'source' lacks the attribute 'sure'\n"
              "        <source ref=\"common-practice\" for=\"strength\"/>\n"
              "         ^ add sure=\"…\"\n"},
        Wrong{"sureness_of_what", mending, also("<source ref=\"common-practice\" sure=\"fair\"/>"),
              "k.xml:67:35: error: this <source> names no kind of number\n"
              "        <source ref=\"common-practice\" sure=\"fair\"/>\n"
              "                                      ^ add for=\"…\", for instance for=\"threshold\"\n"},
        Wrong{"firm_practice", mending, also("<source ref=\"common-practice\" for=\"strength\" sure=\"firm\"/>"),
              "k.xml:67:50: error: 'common-practice' cannot make a number firm: it is common practice\n"
              "        <source ref=\"common-practice\" for=\"strength\" sure=\"firm\"/>\n"
              "                                                     ^ write fair or rough\n"},
        Wrong{"kind_it_has_not", mending, also("<source ref=\"common-practice\" for=\"threshold\" sure=\"fair\"/>"),
              "k.xml:67:6: error: the cause 'bank-flat' has no number of the kind 'threshold'\n"
              "        <source ref=\"common-practice\" for=\"threshold\" sure=\"fair\"/>\n"
              "         ^ take it out of 'for'\n"},
        Wrong{"name_it_has_not", mending, also("<source ref=\"common-practice\" for=\"strength\" of=\"push pull\" sure=\"fair\"/>"),
              "k.xml:67:6: error: the cause 'bank-flat' has no such number of 'pull'\n"
              "        <source ref=\"common-practice\" for=\"strength\" of=\"push pull\" sure=\"fair\"/>\n"
              "         ^ 'of' names findings, bands, remedies or parts of the element\n"},
        Wrong{"two_for_one", mending, also("<source ref=\"common-practice\" for=\"mends\" sure=\"fair\"/><source ref=\"common-practice\" for=\"mends\" sure=\"rough\"/>"),
              "k.xml:67:61: error: a second certificate for one number: mends of 'Charge the bank'\n"
              "        <source ref=\"common-practice\" for=\"mends\" sure=\"fair\"/><source ref=\"common-practice\" for=\"mends\"\n"
              "                                                                ^ keep the source the number was taken from; another may stand without 'for'\n"},
        Wrong{"inherited_from_nowhere", " minutes=\"common-practice rough\"", " minutes=\"hearsay rough\"",
              "k.xml:1:269: error: no file declares the source 'hearsay'\n"
              "    rough\" threshold=\"common-practice rough\" doubt=\"common-practice rough\" minutes=\"hearsay rough\" part=\n"
              "                                                                                    ^\n"},
        Wrong{"no_certificate", " mends=\"common-practice rough\"", "",
              "k.xml:66:6: error: no source for the number 'mends' of the cause 'bank-flat', and for 1 more like it in this file\n"
              "        <remedy ref=\"charge-bank\"/>\n"
              "         ^ add mends=\"estimate rough\" to the <numbers> at the top of the file, or <source ref=\"…\" for=\"mends\" sure=\"…\"/> here\n"},
        Wrong{"half_a_certificate", "leak=\"common-practice rough\"", "leak=\"rough\"",
              "k.xml:1:167: error: 'leak' needs a source and how sure it is\n"
              "    on-practice rough\" effect=\"common-practice rough\" mends=\"common-practice rough\" leak=\"rough\" thresho\n"
              "                                                                                    ^ for instance leak=\"estimate rough\"\n"},
        Wrong{"twice_in_a_file", "  <tool id=\"multimeter\">", "  <numbers leak=\"common-practice fair\"/>\n  <tool id=\"multimeter\">",
              "k.xml:78:4: error: a second <numbers> in this file\n"
              "      <numbers leak=\"common-practice fair\"/>\n"
              "       ^ first at k.xml:1:31\n"}),
    [](const auto& row) { return std::string(row.param.name); });

// What the shipped book owes its reader: a certificate for each number, firm only where the source can be.
TEST(ShippedNumbers, EachHasACertificate) {
  const auto& base = testing::shipped_base();
  std::size_t count = 0;
  for (const auto& item : all_numbers(base)) {
    for (const auto& number : item.numbers) {
      ++count;
      ASSERT_TRUE(number.certificate.has_value()) << item.kind << " " << item.id << ": " << number.what;
      const auto& kind = base[number.certificate->source].kind;
      const bool may_be_firm = kind != "estimate" && kind != "common-practice";
      EXPECT_TRUE(may_be_firm || number.certificate->sure != Sureness::firm) << item.id << ": " << number.what;
    }
  }
  EXPECT_GT(count, 3000U);
}

}  // namespace
}  // namespace leadline::knowledge
