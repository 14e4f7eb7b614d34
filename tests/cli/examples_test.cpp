// Every example of the help runs as it is printed.
#include <gtest/gtest.h>

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "cli/command_line.h"
#include "tests/cli/in_process.h"
#include "tests/cli/slurp.h"

namespace leadline {
namespace {

namespace fs = std::filesystem;

// A folder with the files that the examples name.
class Examples : public ::testing::Test {
 protected:
  void SetUp() override {
    before_ = fs::current_path();
    folder_ = fs::path(LEADLINE_BINARY_DIR) / ("examples_test-" + std::to_string(::getpid()));  // shards run side by side
    fs::remove_all(folder_);
    fs::create_directories(folder_);
    const fs::path source(LEADLINE_SOURCE_DIR);
    fs::copy_file(source / "cli/demo/installation.xml", folder_ / "boat.xml");
    fs::copy_file(source / "cases/one-way-tante/callout.xml", folder_ / "case.xml");
    fs::current_path(folder_);
  }
  void TearDown() override {
    fs::current_path(before_);
    fs::remove_all(folder_);
  }

 private:
  fs::path before_, folder_;
};

// "leadline rank --json - < case.xml" as a shell would start it.
testing::Ran run_as_printed(const std::string& example) {
  std::istringstream words(example);
  std::vector<std::string> arguments;
  std::string typed = "stop\n";  // for what asks
  std::string word;
  words >> word;
  EXPECT_EQ(word, "leadline") << example;
  while (words >> word) {
    if (word == "<") words >> word, typed = testing::slurp(word);
    else arguments.push_back(word);
  }
  std::istringstream in(typed);
  std::ostringstream out, err;
  cli::Surroundings surroundings;  // with a place for the jobs that examples keep
  surroundings.variable = [](const char* name) { return name == std::string("XDG_STATE_HOME") ? std::optional((fs::current_path() / "state").string()) : std::nullopt; };
  const int code = cli::run(arguments, in, out, err, surroundings);
  return {code, out.str(), err.str()};
}

TEST_F(Examples, OfEveryCommandRunAsPrinted) {
  std::size_t run = 0;
  for (const auto& command : cli::command_specs()) {
    EXPECT_FALSE(command.examples.empty()) << command.name;
    for (const auto& example : command.examples) {
#ifdef __SANITIZE_ADDRESS__
      if (command.name == "trial") continue;  // minutes here; played in the release flavour
#endif
      const auto ran = run_as_printed(example);
      EXPECT_LE(ran.code, 1) << example << "\n" << ran.err;
      EXPECT_NE(ran.out + ran.err, "") << example;  // what goes to a file is announced
      ++run;
    }
  }
  EXPECT_GE(run, 15U);
}

// What cli/demo.sh plays, and the README shows: every answer is one to its question, and the thruster works in the end.
TEST_F(Examples, OfTheDemoEndsProved) {
  const auto ran = run_as_printed(std::string("leadline diagnose --installation boat.xml < ") + LEADLINE_SOURCE_DIR "/cli/demo/answers.txt");
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_EQ(ran.out.find("Expected: "), std::string::npos) << ran.out;
  EXPECT_NE(ran.out.find("\nProved: after the remedy all that the call was about is normal again.\n"), std::string::npos) << ran.out;
}

TEST_F(Examples, OfTheShortHelpRunAsPrinted) {
  std::istringstream lines(testing::run_program({}).out);
  std::size_t run = 0;
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with("  leadline ")) continue;
    EXPECT_EQ(run_as_printed(line.substr(2)).code, 0) << line;
    ++run;
  }
  EXPECT_EQ(run, 1U);
}

}  // namespace
}  // namespace leadline
