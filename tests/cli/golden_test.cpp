// Whole runs, compared byte for byte with the screens kept beside them.
//   cases/NAME/       callout.xml -> `leadline rank` -> expected.txt
//   tests/golden/NAME/ arguments.txt (one a line), typed.txt (may be missing) -> expected.out, expected.err, expected.code
// LEADLINE_REWRITE_GOLDEN=1 rewrites the kept screens: a deliberate act, and the diff is what the reviewer reads.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "tests/cli/in_process.h"
#include "tests/cli/sample.h"
#include "tests/cli/slurp.h"

namespace leadline {
namespace {

namespace fs = std::filesystem;

const fs::path source{LEADLINE_SOURCE_DIR};

using testing::slurp;

constexpr std::size_t played = testing::one_of(6);

std::vector<fs::path> folders(const fs::path& parent) {
  std::vector<fs::path> found;
  for (const auto& entry : fs::directory_iterator(parent)) {
    if (entry.is_directory()) found.push_back(entry.path());
  }
  std::sort(found.begin(), found.end());
  return found;
}

void expect_same(const std::string& now, const fs::path& kept) {
  if (std::getenv("LEADLINE_REWRITE_GOLDEN") != nullptr) {
    if (!now.empty() || fs::exists(kept)) std::ofstream(kept, std::ios::binary) << now;
    return;
  }
  EXPECT_EQ(now, fs::exists(kept) ? slurp(kept) : "") << kept;
}

std::vector<std::string> lines_of(const fs::path& path) {
  std::ifstream file(path);
  std::vector<std::string> lines;
  for (std::string line; std::getline(file, line);) lines.push_back(line);
  return lines;
}

// Paths in arguments are relative to the source folder, and appear so in messages.
class Golden : public ::testing::Test {
 protected:
  void SetUp() override {
    before_ = fs::current_path();
    fs::current_path(source);
  }
  void TearDown() override { fs::current_path(before_); }

 private:
  fs::path before_;
};

TEST_F(Golden, RecordedCallOutsShowTheKeptScreen) {
  const auto all = folders(source / "cases");
  EXPECT_GE(all.size(), 12U);
  for (std::size_t f = 0; f < all.size(); f += played) {
    const auto& folder = all[f];
    const auto ran = testing::run_program({"rank", "cases/" + folder.filename().string() + "/callout.xml"});
    EXPECT_EQ(ran.err, "") << folder;
    expect_same(ran.out, folder / "expected.txt");
  }
}

TEST_F(Golden, ConversationsShowTheKeptScreen) {
  const auto all = folders(source / "tests" / "golden");
  EXPECT_GE(all.size(), 5U);
  for (std::size_t f = 0; f < all.size(); f += played) {
    const auto& folder = all[f];
    const auto ran = testing::run_program(lines_of(folder / "arguments.txt"), slurp(folder / "typed.txt"));
    expect_same(ran.out, folder / "expected.out");
    expect_same(ran.err, folder / "expected.err");
    expect_same(std::to_string(ran.code) + "\n", folder / "expected.code");
  }
}

}  // namespace
}  // namespace leadline
