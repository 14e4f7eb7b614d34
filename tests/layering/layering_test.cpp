// Rooms point downward only, whatever CMake is told; and the engine neither prints, nor opens files, nor looks at the clock.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

namespace leadline::testing {
namespace {

struct Include {
  std::string file, from, named;  // file and room that include; what is named between the marks
  bool angled = false;
};

std::ostream& operator<<(std::ostream& out, const Include& i) { return out << i.file << " includes " << i.named; }

const std::vector<std::string> rooms{"text", "markup", "knowledge", "installation", "circuit", "diagnosis", "planning", "callout", "trial", "audit", "cli"};

// The floor of a room; -1 for none of ours.
std::ptrdiff_t floor_of(const std::string& room) {
  const auto at = std::find(rooms.begin(), rooms.end(), room);
  return at == rooms.end() ? -1 : at - rooms.begin();
}

// "engine/markup/element.h" -> "markup"; "cli/run.h" -> "cli".
std::string room_of(const std::string& path) {
  const auto slash = path.find('/');
  if (path.substr(0, slash) != "engine") return path.substr(0, slash);
  return path.substr(slash + 1, path.find('/', slash + 1) - slash - 1);
}

void add_includes(std::vector<Include>& all, const std::filesystem::path& file) {
  const auto relative = std::filesystem::relative(file, LEADLINE_SOURCE_DIR).generic_string();
  std::ifstream lines(file);
  for (std::string line; std::getline(lines, line);) {
    const auto hash = line.find_first_not_of(" \t");
    if (hash == std::string::npos || line[hash] != '#' || line.find("include") == std::string::npos) continue;
    const auto open = line.find_first_of("<\"");
    if (open == std::string::npos) continue;
    const bool angled = line[open] == '<';
    all.push_back({relative, room_of(relative), line.substr(open + 1, line.find(angled ? '>' : '"', open + 1) - open - 1), angled});
  }
}

std::vector<Include> includes_under(const std::string& folder) {
  std::vector<Include> all;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(std::filesystem::path(LEADLINE_SOURCE_DIR) / folder)) {
    const auto extension = entry.path().extension();
    if (extension == ".h" || extension == ".cpp") add_includes(all, entry.path());
  }
  return all;
}

std::vector<Include> ours() {
  auto all = includes_under("engine");
  const auto more = includes_under("cli");
  all.insert(all.end(), more.begin(), more.end());
  return all;
}

TEST(Layering, SeesTheSources) {
  EXPECT_GT(includes_under("engine").size(), 200U);
  EXPECT_GT(includes_under("cli").size(), 50U);
  EXPECT_EQ(room_of("engine/markup/element.h"), "markup");
  EXPECT_EQ(room_of("cli/run.h"), "cli");
}

TEST(Layering, EveryFolderOfTheEngineIsARoomWithAFloor) {
  for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(LEADLINE_SOURCE_DIR) / "engine")) {
    EXPECT_GE(floor_of(entry.path().filename().string()), 0) << entry.path();
  }
}

TEST(Layering, IncludesPointDownwardOnly) {
  for (const auto& include : ours()) {
    const auto to = floor_of(room_of(include.named));
    if (include.angled || to < 0) continue;
    EXPECT_GE(floor_of(include.from), to) << include;
  }
}

TEST(Layering, OwnHeadersAreNamedFromTheRoot) {
  for (const auto& include : ours()) {
    if (include.angled) continue;
    EXPECT_GE(floor_of(room_of(include.named)), 0) << include;
  }
}

// A trial draws call-outs from a stated seed and judges them with quantiles; nothing else in the engine may draw, or know that library.
bool allowed_to_a_trial(const Include& include) {
  return include.from == "trial" && (include.named == "random" || include.named == "thread" || include.named.rfind("boost/math/distributions/", 0) == 0);
}

// A journal is JSON with a sum, a trial of hours keeps its call-outs as JSON, and a book has a digest: text in, text out, by headers that open nothing.
bool allowed_for_text(const Include& include) {
  const bool journal = include.from == "callout" && (include.named == "boost/crc.hpp" || include.named == "nlohmann/json.hpp");
  const bool kept = include.from == "trial" && include.named == "nlohmann/json.hpp";
  return journal || kept || (include.from == "knowledge" && (include.named == "boost/uuid/name_generator_sha1.hpp" || include.named == "boost/uuid/uuid_io.hpp"));
}

TEST(Layering, TheEngineTouchesNoOutsideWorld) {
  for (const auto& include : includes_under("engine")) {
    if (allowed_to_a_trial(include) || allowed_for_text(include)) continue;
    for (const std::string banned : {"iostream", "fstream", "filesystem", "chrono", "cstdio", "ctime", "thread", "random"}) EXPECT_NE(include.named, banned) << include;
    for (const std::string banned : {"spdlog", "boost", "nlohmann", "unistd", "sys/"}) EXPECT_NE(include.named.substr(0, banned.size()), banned) << include;
  }
}

}  // namespace
}  // namespace leadline::testing
