// The program carries the book byte for byte.
#include "cli/embedded.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "cli/files.h"
#include "engine/knowledge/reader.h"
#include "tests/cli/in_process.h"
#include "tests/cli/slurp.h"

namespace leadline::cli {
namespace {

namespace fs = std::filesystem;

using testing::slurp;

TEST(Embedded, HoldsEveryFileOfTheFolder) {
  const auto files = embedded_knowledge();
  std::size_t in_folder = 0;
  for (const auto& entry : fs::directory_iterator(fs::path(LEADLINE_SOURCE_DIR) / "knowledge")) in_folder += entry.path().extension() == ".xml" ? 1 : 0;
  EXPECT_EQ(files.size(), in_folder);
  for (const auto& file : files) EXPECT_EQ(file.content, slurp(fs::path(LEADLINE_SOURCE_DIR) / file.name)) << file.name;
}

TEST(Embedded, AFolderReadInsteadSaysTheSame) {
  const auto folder = (fs::path(LEADLINE_SOURCE_DIR) / "knowledge").string();
  const auto embedded = testing::run_program({"find", "weak", "push"}), read = testing::run_program({"find", "weak", "push", "--knowledge", folder});
  EXPECT_EQ(read.err, "");
  EXPECT_EQ(embedded.out, read.out);
}

// By the digest a saved job knows its book again: it must not depend on where the book lies, and must on every byte of it.
TEST(Embedded, TheDigestIsThatOfTheFolderAndOfNoOtherBook) {
  auto files = embedded_knowledge();
  const auto digest = knowledge::read_knowledge(files).value->digest;
  EXPECT_EQ(digest.size(), 36U);
  EXPECT_EQ(knowledge::read_knowledge(read_folder((fs::path(LEADLINE_SOURCE_DIR) / "knowledge").string())).value->digest, digest);
  std::swap(files.front(), files.back());
  EXPECT_EQ(knowledge::read_knowledge(files).value->digest, digest);
  files.front().content += ' ';
  EXPECT_NE(knowledge::read_knowledge(files).value->digest, digest);
}

TEST(Embedded, TheBookHasItsFloors) {
  const auto version = testing::run_program({"--version"}).out;
  EXPECT_TRUE(version.starts_with("leadline 0.1.0\n")) << version;
}

}  // namespace
}  // namespace leadline::cli
