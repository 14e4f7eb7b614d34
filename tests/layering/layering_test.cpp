// The rooms' order, read from the includes themselves: a list in CMake alone does not stop an include that points up.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

namespace leadline {
namespace {

namespace fs = std::filesystem;

const std::vector<std::string> rooms{"engine/text",      "engine/markup",   "engine/knowledge", "engine/installation", "engine/circuit",
                                     "engine/diagnosis", "engine/planning", "engine/callout",   "engine/trial",        "cli"};

struct Include {
  std::string from, to;
};

std::vector<Include> includes_under(const std::string& folder) {
  std::vector<Include> found;
  for (const auto& entry : fs::recursive_directory_iterator(fs::path(LEADLINE_SOURCE_DIR) / folder)) {
    if (entry.path().extension() != ".h" && entry.path().extension() != ".cpp") continue;
    std::ifstream file(entry.path());
    for (std::string line; std::getline(file, line);) {
      if (!line.starts_with("#include")) continue;
      const auto open = line.find_first_of("\"<"), close = line.find_last_of("\">");
      found.push_back({fs::relative(entry.path(), LEADLINE_SOURCE_DIR).generic_string(), line.substr(open + 1, close - open - 1)});
    }
  }
  return found;
}

// The floor of a path; -1 when it belongs to no room (a library, a standard header).
std::ptrdiff_t floor_of(const std::string& path) {
  const auto room = std::find_if(rooms.begin(), rooms.end(), [&](const auto& r) { return path.starts_with(r + "/"); });
  return room == rooms.end() ? -1 : room - rooms.begin();
}

TEST(Layering, IncludesPointDownwardOnly) {
  std::size_t seen = 0;
  for (const std::string folder : {"engine", "cli"}) {
    for (const auto& include : includes_under(folder)) {
      EXPECT_NE(floor_of(include.from), -1) << include.from << " stands in no known room";
      EXPECT_GE(floor_of(include.from), floor_of(include.to)) << include.from << " includes " << include.to;
      seen += floor_of(include.to) >= 0 ? 1 : 0;
    }
  }
  EXPECT_GT(seen, 100U);  // the scan found something
}

TEST(Layering, TheEngineKnowsNoTerminalClockOrFiles) {
  const std::vector<std::string> forbidden{"iostream", "fstream", "filesystem", "chrono", "ctime", "thread", "unistd.h", "spdlog", "boost", "nlohmann"};
  for (const auto& include : includes_under("engine")) {
    for (const auto& word : forbidden) EXPECT_FALSE(include.to.starts_with(word)) << include.from << " includes " << include.to;
  }
}

TEST(Layering, FilesKeepToTheirSizes) {
  for (const std::string folder : {"engine", "cli"}) {
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(LEADLINE_SOURCE_DIR) / folder)) {
      const bool header = entry.path().extension() == ".h";
      if (!header && entry.path().extension() != ".cpp") continue;
      std::ifstream file(entry.path());
      const auto lines = std::count(std::istreambuf_iterator<char>(file), {}, '\n');
      EXPECT_LE(lines, header ? 210 : 400) << entry.path();
    }
  }
}

}  // namespace
}  // namespace leadline
