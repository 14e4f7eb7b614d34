#pragma once
// A folder of jobs and a small book for one test, with a clock that goes on by a minute each time it is read.
#include <gtest/gtest.h>

#include <sys/resource.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "cli/job_file.h"
#include "tests/cli/in_process.h"
#include "tests/cli/slurp.h"
#include "tests/knowledge/minimal_base.h"

namespace leadline::testing {

// A state folder of its own, and a clock that goes on by a minute each time it is read.
class JobsFolder : public ::testing::Test {
 protected:
  void SetUp() override {
    folder_ = std::filesystem::path(::testing::TempDir()) / ("leadline-jobs-" + std::to_string(::getpid()));
    std::filesystem::remove_all(folder_);
    std::filesystem::create_directories(folder_);
    small_ = (folder_ / "book").string();
    std::filesystem::create_directories(small_);
    write_book(minimal_text);
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  void write_book(const std::string& text) { std::ofstream(std::filesystem::path(small_) / "small.xml", std::ios::binary) << text; }

  cli::Surroundings around(bool terminal = false) {
    cli::Surroundings surroundings;
    surroundings.in_is_terminal = terminal;
    surroundings.clock = [this] { return now_ += 60; };
    surroundings.variable = [this](const char* name) { return name == std::string("XDG_STATE_HOME") && !homeless_ ? std::optional(folder_.string()) : std::nullopt; };
    return surroundings;
  }

  // With the small book.
  Ran run(std::vector<std::string> arguments, const std::string& typed = "", bool terminal = false) {
    arguments.insert(arguments.begin(), {"--knowledge", small_});
    return run_with_own_book(arguments, typed, terminal);
  }

  // With the book of the program.
  Ran run_with_own_book(const std::vector<std::string>& arguments, const std::string& typed = "", bool terminal = false) {
    std::istringstream in(typed);
    std::ostringstream out, err;
    const auto surroundings = around(terminal);
    const int code = cli::run(arguments, in, out, err, surroundings);
    return {code, out.str(), err.str()};
  }

  std::string file(const std::string& name) const { return (folder_ / "leadline" / "jobs" / (name + ".job")).string(); }

  std::string slurp_of(const std::string& name) const { return slurp(file(name)); }

  // No file may grow beyond it meanwhile: the system then writes what fits, and fails the next time.
  template <class Act>
  void rlimit_to(std::size_t size, const Act& act) {
    rlimit before{};
    getrlimit(RLIMIT_FSIZE, &before);
    const rlimit little{size, before.rlim_max};
    const auto old = std::signal(SIGXFSZ, SIG_IGN);
    setrlimit(RLIMIT_FSIZE, &little);
    act();
    setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, old);
  }

  std::filesystem::path folder_;
  std::string small_;
  callout::Time now_ = 1'800'000'000;
  bool homeless_ = false;
};

inline bool has(const std::string& text, const std::string& words) { return text.find(words) != std::string::npos; }

}  // namespace leadline::testing
