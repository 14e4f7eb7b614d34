// Whole sheets, compared byte for byte with those kept beside the call-outs in tests/cli/sheets. Digests and version are left out: they change with every
// word of the book. LEADLINE_REWRITE_GOLDEN=1 rewrites them: a deliberate act, and the diff is what the reviewer reads.
#include <gtest/gtest.h>

#include <cstdlib>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>

#include "cli/embedded.h"
#include "cli/sheet_render.h"
#include "engine/callout/case_file.h"
#include "engine/knowledge/reader.h"
#include "tests/cli/slurp.h"

namespace leadline {
namespace {

const std::filesystem::path folder = std::filesystem::path(LEADLINE_SOURCE_DIR) / "tests/cli/sheets";

const knowledge::KnowledgeBase& base() {
  static const auto loaded = knowledge::read_knowledge(cli::embedded_knowledge());
  return *loaded.value;
}

void expect_same(const std::string& now, const std::filesystem::path& kept) {
  if (std::getenv("LEADLINE_REWRITE_GOLDEN") != nullptr) std::ofstream(kept, std::ios::binary) << now;
  EXPECT_EQ(now, testing::slurp(kept)) << kept;
}

// Worked out once for all tests: a sheet takes seconds.
const cli::Sheet& sheet_named(const std::string& name) {
  static std::map<std::string, cli::Sheet> sheets;
  if (const auto known = sheets.find(name); known != sheets.end()) return known->second;
  const auto loaded = callout::read_case(base(), {"case", testing::slurp(folder / (name + ".xml"))});
  if (!loaded.value) throw std::invalid_argument(name);
  return sheets[name] = cli::sheet_of({.base = base(), .record = *loaded.value, .program = "(version)", .book_digest = "(digest)", .record_digest = "(digest)"});
}

class GoldenSheet : public ::testing::TestWithParam<std::string> {};

TEST_P(GoldenSheet, IsTheKeptOne) {
  const auto& sheet = sheet_named(GetParam());
  for (const std::size_t width : {40, 80}) expect_same(cli::sheet_page(sheet, width).text(), folder / (GetParam() + "." + std::to_string(width) + ".txt"));
  expect_same(cli::sheet_html(sheet), folder / (GetParam() + ".html"));
}

INSTANTIATE_TEST_SUITE_P(Sheets, GoldenSheet, ::testing::Values("remedied", "two-faults", "nothing-known"),
                         [](const auto& row) { return std::regex_replace(row.param, std::regex("-"), "_"); });

// A precaution stands before the remedy's own proof and parts at every width.
TEST(SheetOrder, PrecautionsComeBeforeFindingsAndRemedies) {
  const auto& sheet = sheet_named("remedied");
  for (const std::size_t width : {40, 60, 200}) {
    const auto out = cli::sheet_page(sheet, width).text();
    const auto care = out.find("PRECAUTIONS"), findings = out.find("FINDINGS"), remedy = out.find("REMEDIES DONE");
    const auto own = out.find("! A spanner across the posts", remedy), proof = out.find("Proof:", remedy);
    ASSERT_NE(proof, std::string::npos);
    EXPECT_LT(care, findings);
    EXPECT_LT(findings, remedy);
    EXPECT_LT(own, proof) << width;
  }
}

TEST(SheetJson, SaysWhatTheTextSays) {
  const auto out = cli::sheet_json(sheet_named("remedied"));
  const auto json = nlohmann::json::parse(out);
  EXPECT_EQ(json["schema"], 1);
  EXPECT_EQ(json["title"], "Bow thruster tires within a few seconds");
  EXPECT_EQ(json["boat"], "Reed Bunting");
  EXPECT_TRUE(json["proved"].get<bool>());
  EXPECT_EQ(json["findings"][4]["judged"], "abnormal");
  EXPECT_EQ(json["findings"][4]["figures"]["value"], 18.1);
  EXPECT_EQ(json["remedies_done"][0]["remedy"], "renew-weak-battery");
  EXPECT_EQ(json["remedies_done"][0]["seen_after"], nlohmann::json({9, 10, 11}));
  EXPECT_EQ(json["minutes"]["left"], nullptr);
  EXPECT_EQ(json["course"]["moments"].size(), 13U);  // the start, eleven answers, one remedy
  for (const char c : out) ASSERT_LT(static_cast<unsigned char>(c), 128);
}

}  // namespace
}  // namespace leadline
