// The figures of the report: against the reference sheet, slow twins, and hand-made books.
#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <map>

#include "engine/audit/report.h"
#include "engine/knowledge/reader.h"
#include "tests/audit/sound_book.h"

namespace leadline {
namespace {

using audit::BoatSearch;
using knowledge::KnowledgeBase;

struct ReadBook {
  std::vector<text::Source> files;
  KnowledgeBase base;
  explicit ReadBook(const std::string& book = testing::sound_book) : files{{"book.xml", book}}, base(*knowledge::read_knowledge(files).value) {}
};

std::string with(const std::string& from, const std::string& to, std::string book = testing::sound_book) {
  EXPECT_NE(book.find(from), std::string::npos) << from;
  return book.replace(book.find(from), from.size(), to);
}

TEST(ExpectedWeight, IsTheDefinition) {
  EXPECT_NEAR(audit::expected_weight({0.9, 0.1}, {0.5, 0.5}), 10 * (0.9 * std::log10(1.8) + 0.1 * std::log10(0.2)), 1e-12);
  EXPECT_EQ(audit::expected_weight({0.3, 0.7}, {0.3, 0.7}), 0);
  EXPECT_EQ(audit::expected_weight({0.3, 0.7}, {1, 0}), audit::most_weight);
  EXPECT_NEAR(audit::expected_weight({0, 1}, {0.5, 0.5}), 10 * std::log10(2), 1e-12);
}

// shared/reference/inference.md § 20: six faults, four tests; formulas from memory there, figures computed.
TEST(Testability, OfTheReferenceSheet) {
  const auto found = audit::testability({10, 20, 5, 40, 15, 10}, {{1, 0, 1, 0}, {1, 0, 1, 0}, {0, 1, 1, 0}, {0, 0, 0, 1}, {1, 1, 0, 1}, {0, 0, 0, 0}});
  EXPECT_NEAR(found.detected, 0.90, 1e-12);
  EXPECT_NEAR(found.detected_by_count, 0.833333, 1e-6);
  EXPECT_NEAR(found.isolated[0], 0.666667, 1e-6);
  EXPECT_NEAR(found.isolated_by_count[0], 0.6, 1e-12);
  EXPECT_NEAR(found.isolated[1], 1, 1e-12);
  EXPECT_NEAR(found.isolated[2], 1, 1e-12);
  EXPECT_NEAR(found.mean_group, 1.333333, 1e-6);
}

TEST(Testability, OfNothingDetectedIsZero) {
  const auto found = audit::testability({1, 2}, {{0}, {0}});
  EXPECT_EQ(found.detected, 0);
  EXPECT_EQ(found.isolated[0], 0);
}

// Outcome by outcome of all findings a check observes, each combination written out.
double weight_by_outcomes(const diagnosis::Model& model, const std::vector<std::size_t>& findings, std::size_t a, std::size_t b) {
  double sum = 0;
  const std::function<void(std::size_t, double, double)> go = [&](std::size_t at, double p, double q) {
    if (at == findings.size()) {
      sum += p * 10 * std::log10(p / q);
      return;
    }
    const auto of_a = diagnosis::distribution_under(model, findings[at], {a}), of_b = diagnosis::distribution_under(model, findings[at], {b});
    for (std::size_t s = 0; s < of_a.size(); ++s) {
      if (of_a[s] > 0) go(at + 1, p * of_a[s], q * of_b[s]);
    }
  };
  go(0, 1, 1);
  return sum;
}

TEST(Separability, OfEachPairIsThatOfItsBestCheckByDefinition) {
  const ReadBook book;
  const BoatSearch search(book.base);
  const auto samples = audit::samples_of(book.base, search, 24, true);
  const auto found = audit::separability(book.base, search, samples);
  ASSERT_EQ(found.pairs.size(), 6U);
  for (const auto& pair : found.pairs) {
    const auto sample = std::find_if(samples.begin(), samples.end(), [&](const auto& s) { return s.model_cause[pair.a] && s.model_cause[pair.b]; });
    const auto a = *sample->model_cause[pair.a], b = *sample->model_cause[pair.b];
    double best = 0;
    for (const auto& check : book.base.checks) {
      if (!sample->evaluation->holds(check.applies)) continue;
      std::vector<std::size_t> findings;
      for (const auto finding : check.observes) findings.push_back(finding.index);
      best = std::max(best, std::min(weight_by_outcomes(sample->boat.model, findings, a, b), weight_by_outcomes(sample->boat.model, findings, b, a)));
    }
    EXPECT_NEAR(pair.best, best, 1e-9) << book.base.causes[pair.a].id << " " << book.base.causes[pair.b].id;
    EXPECT_GE(pair.all, pair.best - 1e-9);
  }
  EXPECT_TRUE(found.groups.empty());
  EXPECT_EQ(found.not_judged, 0U);
}

const std::string twin_cause = R"(<cause id="panel-gone" item="face" per-1000="50">
    <title>Face of glass broken</title><what>Something hit it hard.</what><why>A winch handle.</why>
    <shows finding="lights" state="dead" chance="0.9"/>
    <shows finding="push" state="none" chance="0.95"/>
    <remedy ref="REMEDY"/><source ref="estimate"/>
  </cause>
  <unlisted)";

audit::Separability with_twin(const std::string& remedy) {
  const ReadBook book(with("<unlisted", with("REMEDY", remedy, twin_cause)));
  const BoatSearch search(book.base);
  return audit::separability(book.base, search, audit::samples_of(book.base, search, 24, true));
}

TEST(Separability, GroupsWhatNothingTellsApart) {
  const auto one_remedy = with_twin("renew-panel");
  ASSERT_EQ(one_remedy.groups.size(), 1U);
  EXPECT_EQ(one_remedy.groups[0].causes, (std::vector<std::size_t>{3, 4}));
  EXPECT_EQ(one_remedy.groups[0].remedy, std::optional<std::size_t>(3));
  EXPECT_EQ(with_twin("remake-lug").groups.at(0).remedy, std::nullopt);
}

TEST(TypicalJobs, EndWithTheCauseMended) {
  const ReadBook book;
  const BoatSearch search(book.base);
  const auto jobs = audit::typical_jobs(book.base, audit::samples_of(book.base, search, 24, true));
  ASSERT_EQ(jobs.size(), 4U);
  for (const auto& job : jobs) {
    EXPECT_TRUE(job.called && job.mended) << book.base.causes[job.cause].id;
    EXPECT_EQ(job.remedies, 1U) << book.base.causes[job.cause].id;
  }
  // No light and no push: no check first. One minute to the helm, four for the cell, one for the proof there.
  EXPECT_EQ(jobs[2].checks, 0U);
  EXPECT_NEAR(jobs[2].minutes, 6, 1e-9);
}

TEST(Unconfirmed, AreElectricalRulesWithoutACircuit) {
  const ReadBook book;
  const auto found = audit::unconfirmed_rules(book.base);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(book.base.findings[found[0].finding].id, "rest-volts");
  EXPECT_FALSE(found[0].measured);
  EXPECT_EQ(found[0].rules, 2U);
}

// A weak push: bank-flat leads lug-bad by a hair.
callout::Record weak_push(const KnowledgeBase& base) {
  return {"Weak", installation::make_installation(base, {}), knowledge::Who::technician, diagnosis::InstrumentClass::pocket,
          {{*knowledge::find_id(base.findings, "push"), diagnosis::Seen{1}, knowledge::Who::technician}}};
}

std::string leader_of(const KnowledgeBase& base) {
  const auto record = weak_push(base);
  const callout::Assessment assessment(base, record);
  const auto& causes = assessment.diagnosis().explanations.front().causes;
  const auto& ref = assessment.boat().cause_refs[causes.front()];
  return causes.size() == 1 && ref ? base[*ref].id : "";
}

struct Move {
  std::string name, from, less, more;   // as the book writes it, a tenth down and up
};

// The book itself with the number changed, read again, is the twin.
TEST(SensitivityTest, FindsTheNumbersThatDecideAndNoOthers) {
  const std::vector<Move> moves{{"frequency of bank-flat", R"(per-1000="400")", R"(per-1000="360")", R"(per-1000="440")"},
                                {"frequency of lug-bad", R"(per-1000="300")", R"(per-1000="270")", R"(per-1000="330")"},
                                {"frequency of panel-dead", R"(per-1000="200")", R"(per-1000="180")", R"(per-1000="220")"},
                                {"weak under bank-flat", R"(state="weak" chance="0.6")", R"(state="weak" chance="0.54")", R"(state="weak" chance="0.66")"},
                                {"weak under lug-bad", R"(state="weak" chance="0.8")", R"(state="weak" chance="0.72")", R"(state="weak" chance="0.88")"},
                                {"none under bank-flat", R"(state="none" chance="0.3")", R"(state="none" chance="0.27")", R"(state="none" chance="0.33")"},
                                {"leak of weak", R"(<state id="weak" leak="0.02")", R"(<state id="weak" leak="0.018")", R"(<state id="weak" leak="0.022")"}};
  const ReadBook book;
  ASSERT_EQ(leader_of(book.base), "bank-flat");
  std::multimap<std::pair<int, bool>, std::string> expected;   // by line and direction: who leads then
  for (const auto& move : moves) {
    const auto at = testing::sound_book.find(move.from);
    const auto line = static_cast<int>(std::count(testing::sound_book.begin(), testing::sound_book.begin() + static_cast<std::ptrdiff_t>(at), '\n')) + 1;
    for (const bool up : {false, true}) {
      const auto leader = leader_of(ReadBook(with(move.from, up ? move.more : move.less)).base);
      if (leader != "bank-flat") expected.insert({{line, up}, leader});
    }
  }
  const audit::Pages pages(book.files);
  std::multimap<std::pair<int, bool>, std::string> found;
  for (const auto& one : audit::sensitivity(book.base, pages, {weak_push(book.base)}).decisive) {
    EXPECT_EQ(one.now, "bank-flat");
    found.insert({{one.place.line, one.up}, one.then});
  }
  EXPECT_EQ(expected.size(), 4U);
  EXPECT_EQ(found, expected);
}

}  // namespace
}  // namespace leadline
