// Whole sheets, compared byte for byte with those kept beside the call-outs in tests/cli/sheets. Digests and version are left out: they change with every
// word of the book. LEADLINE_REWRITE_GOLDEN=1 rewrites them: a deliberate act, and the diff is what the reviewer reads.
#include <gtest/gtest.h>

#include <cstdlib>
#include <nlohmann/json.hpp>
#include <regex>

#include "cli/embedded.h"
#include "cli/sheet_render.h"
#include "engine/callout/case_file.h"
#include "engine/knowledge/reader.h"
#include "tests/cli/in_process.h"
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

class GoldenSheet : public ::testing::TestWithParam<std::string> {};

// Worked out once and rendered three times: a sheet takes seconds.
TEST_P(GoldenSheet, IsTheKeptOne) {
  const auto loaded = callout::read_case(base(), {"case", testing::slurp(folder / (GetParam() + ".xml"))});
  ASSERT_TRUE(loaded.value);
  const auto sheet = cli::sheet_of({base(), *loaded.value, "(version)", "(digest)", "(digest)"});
  for (const std::size_t width : {40, 80}) expect_same(cli::sheet_page(sheet, width).text(), folder / (GetParam() + "." + std::to_string(width) + ".txt"));
  expect_same(cli::sheet_html(sheet), folder / (GetParam() + ".html"));
}

INSTANTIATE_TEST_SUITE_P(Sheets, GoldenSheet, ::testing::Values("remedied", "two-faults", "nothing-known"),
                         [](const auto& row) { return std::regex_replace(row.param, std::regex("-"), "_"); });

// A precaution stands before the remedy's own proof and parts at every width.
TEST(SheetOrder, PrecautionsComeBeforeFindingsAndRemedies) {
  const auto loaded = callout::read_case(base(), {"case", testing::slurp(folder / "remedied.xml")});
  const auto sheet = cli::sheet_of({base(), *loaded.value, "v", "d", "d", std::nullopt, {}, false});
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
  const auto ran = testing::run_program({"sheet", (folder / "remedied.xml").string(), "--as", "json"});
  ASSERT_EQ(ran.code, 0);
  const auto json = nlohmann::json::parse(ran.out);
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
  for (const char c : ran.out) ASSERT_LT(static_cast<unsigned char>(c), 128);
}

}  // namespace
}  // namespace leadline
