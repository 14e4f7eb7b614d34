// Where the circuits of a boat compute how a cause shows in a reading, nothing is written of it: a second number would only grow stale beside the first.
#include <gtest/gtest.h>

#include <filesystem>
#include <set>

#include "cli/embedded.h"
#include "engine/callout/case_file.h"
#include "engine/circuit/expectation.h"
#include "engine/knowledge/reader.h"
#include "tests/cli/slurp.h"

namespace leadline {
namespace {

std::vector<installation::Installation> boats(const knowledge::KnowledgeBase& base) {
  std::vector<installation::Installation> all{installation::make_installation(base, {})};
  for (const auto& folder : std::filesystem::directory_iterator(LEADLINE_SOURCE_DIR "/cases")) {
    const text::Source source{folder.path().string(), testing::slurp(folder.path() / "callout.xml")};
    const auto loaded = callout::read_case(base, source);
    if (loaded.value) all.push_back(loaded.value->installation);
  }
  return all;
}

TEST(WrittenStrengths, AreNotThereWhereCircuitsComputeThem) {
#ifdef __SANITIZE_ADDRESS__
  GTEST_SKIP() << "it judges the book, not memory";
#endif
  const auto loaded = knowledge::read_knowledge(cli::embedded_knowledge());
  ASSERT_TRUE(loaded.value);
  const auto& base = *loaded.value;
  // A bank of 12 V said to be in series is of 6 V batteries, whose links the circuit does not draw: there its rules are needed.
  const std::set<std::string> needed_elsewhere{"series-link-loose"};
  std::size_t looked_at = 0;
  std::set<std::string> doubled;
  for (const auto& boat : boats(base)) {
    const installation::Evaluation evaluation(base, boat);
    const circuit::Expectation expectation(base, evaluation);
    for (std::size_t i = 0; i < base.causes.size(); ++i) {
      const auto& cause = base.causes[i];
      if (needed_elsewhere.contains(cause.id) || !evaluation.holds(cause.applies)) continue;
      for (const auto& rule : cause.rules) {
        if (!evaluation.holds(rule.when) || !evaluation.holds(base[rule.finding].applies)) continue;
        ++looked_at;
        const auto tie = expectation.tie_of(rule.finding.index);
        if (tie && expectation.governs(i, tie->circuit)) doubled.insert(cause.id + " shows " + base[rule.finding].id);
      }
    }
  }
  EXPECT_GT(looked_at, 50'000U);
  EXPECT_EQ(doubled, std::set<std::string>());
}

}  // namespace
}  // namespace leadline
