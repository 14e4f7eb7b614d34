// Whole sheets, compared byte for byte with those kept beside the call-outs in tests/cli/sheets. Digests and version are left out: they change with every
// word of the book. LEADLINE_REWRITE_GOLDEN=1 rewrites them: a deliberate act, and the diff is what the reviewer reads.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <regex>

#include "cli/embedded.h"
#include "cli/sheet_render.h"
#include "engine/callout/case_file.h"
#include "engine/knowledge/reader.h"
#include "tests/cli/sample.h"
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

TEST_P(GoldenSheet, IsTheKeptOne) {
  const auto loaded = callout::read_case(base(), {"case", testing::slurp(folder / (GetParam() + ".xml"))});
  ASSERT_TRUE(loaded.value);
  const auto sheet = cli::sheet_of({.base = base(), .record = *loaded.value, .program = "(version)", .book_digest = "(digest)", .record_digest = "(digest)"});
  for (const std::size_t width : {40, 80}) expect_same(cli::sheet_page(sheet, width).text(), folder / (GetParam() + "." + std::to_string(width) + ".txt"));
  expect_same(cli::sheet_html(sheet), folder / (GetParam() + ".html"));
}

// A sheet takes seconds. Under sanitizers one is enough: what a remedy adds is read there on a small book (sheet_test.cpp).
std::vector<std::string> kept_sheets() {
  std::vector<std::string> all{"two-faults", "remedied", "nothing-known"};
  all.resize(std::max<std::size_t>(1, all.size() / testing::one_of(all.size())));
  return all;
}

INSTANTIATE_TEST_SUITE_P(Sheets, GoldenSheet, ::testing::ValuesIn(kept_sheets()),
                         [](const auto& row) { return std::regex_replace(row.param, std::regex("-"), "_"); });

}  // namespace
}  // namespace leadline
