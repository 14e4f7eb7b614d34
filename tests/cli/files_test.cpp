// Files are written whole or not at all; what is no file is written to, and links lead where they led.
#include "cli/files.h"

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <future>

#include "cli/exit_codes.h"
#include "tests/cli/slurp.h"

namespace leadline::cli {
namespace {

namespace fs = std::filesystem;

class WriteFile : public ::testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::path(::testing::TempDir()) / ("leadline-files-" + std::to_string(::getpid()));
    fs::remove_all(folder_);
    fs::create_directories(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }
  std::string at(const char* name) const { return (folder_ / name).string(); }
  static mode_t mode_of(const std::string& path) {
    struct stat what {};
    ::stat(path.c_str(), &what);
    return what.st_mode & 07777;
  }

  fs::path folder_;
};

TEST_F(WriteFile, ReplacesAFileAndKeepsWhoMayReadIt) {
  std::ofstream(at("sheet")) << "old";
  ::chmod(at("sheet").c_str(), 0600);
  write_file(at("sheet"), "new");
  EXPECT_EQ(testing::slurp(at("sheet")), "new");
  EXPECT_EQ(mode_of(at("sheet")), 0600U);
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_), {}), 1);
}

TEST_F(WriteFile, FollowsALink) {
  std::ofstream(at("real")) << "old";
  fs::create_symlink(at("real"), at("link"));
  write_file(at("link"), "new");
  EXPECT_TRUE(fs::is_symlink(at("link")));
  EXPECT_EQ(testing::slurp(at("real")), "new");
}

TEST_F(WriteFile, WritesIntoAPipe) {
  ASSERT_EQ(::mkfifo(at("pipe").c_str(), 0600), 0);
  auto read = std::async(std::launch::async, [&] { return testing::slurp(at("pipe")); });
  write_file(at("pipe"), "through");
  EXPECT_EQ(read.get(), "through");
  EXPECT_TRUE(fs::is_fifo(at("pipe")));
}

TEST_F(WriteFile, SaysSoWhenADeviceIsFull) {
  ASSERT_TRUE(fs::is_character_file("/dev/full"));
  EXPECT_THROW(write_file("/dev/full", "words"), Failure);
  EXPECT_TRUE(fs::is_character_file("/dev/full"));
}

TEST_F(WriteFile, AFolderIsNoFile) {
  try {
    read_file(folder_.string());
    FAIL() << "read";
  } catch (const Failure& failure) {
    EXPECT_EQ(failure.code(), input_missing);
  }
  EXPECT_THROW(write_file(folder_.string(), "words"), Failure);
}

}  // namespace
}  // namespace leadline::cli
