// Each recorded call-out says in why.md which faults there were and where they should stand; here the engine is asked.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "cli/embedded.h"
#include "engine/callout/case_file.h"
#include "engine/knowledge/reader.h"
#include "tests/cli/slurp.h"

namespace leadline {
namespace {

namespace fs = std::filesystem;

using testing::slurp;

struct Wanted {
  std::set<std::string> faults;  // empty: none in the book
  std::size_t places = 0;        // 1: "Expected: first", 3: "Expected: in three"; 0: nothing is expected, which no case may say
};

Wanted wanted_in(const fs::path& why) {
  Wanted wanted;
  std::istringstream lines(slurp(why));
  for (std::string line; std::getline(lines, line);) {
    if (line == "Expected: first") wanted.places = 1;
    if (line == "Expected: in three") wanted.places = 3;
    if (!line.starts_with("Fault: ") || line == "Fault: none in the book") continue;
    std::istringstream words(line.substr(7));
    for (std::string word; words >> word;) {
      if (word != "+") wanted.faults.insert(word);
    }
  }
  return wanted;
}

std::set<std::string> ids_of(const callout::Assessment& assessment, const diagnosis::Explanation& explanation) {
  std::set<std::string> ids;
  for (const auto cause : explanation.causes) {
    const auto& ref = assessment.boat().cause_refs[cause];
    if (ref) ids.insert(assessment.base()[*ref].id);
  }
  return ids;
}

TEST(RecordedCallOuts, TheFaultsStandWhereTheyShould) {
  const auto base = *knowledge::read_knowledge(cli::embedded_knowledge()).value;
  std::size_t first = 0, cases = 0;
  for (const auto& entry : fs::directory_iterator(fs::path(LEADLINE_SOURCE_DIR) / "cases")) {
    const auto record = callout::read_case(base, {"callout.xml", slurp(entry.path() / "callout.xml")});
    ASSERT_TRUE(record.value) << entry.path();
    const auto wanted = wanted_in(entry.path() / "why.md");
    ASSERT_GT(wanted.places, 0U) << entry.path().filename() << ": no line \"Expected: first\" or \"Expected: in three\" in why.md";
    const callout::Assessment assessment(base, *record.value);
    const auto& list = assessment.diagnosis().explanations;
    const auto found = std::find_if(list.begin(), list.end(), [&](const auto& e) { return ids_of(assessment, e) == wanted.faults; });
    const auto place = static_cast<std::size_t>(found - list.begin());
    EXPECT_LT(place, wanted.places) << entry.path().filename();
    first += place == 0 ? 1 : 0;
    ++cases;
  }
  EXPECT_GE(cases, 14U);
  std::cout << first << " of " << cases << " recorded call-outs have their faults in first place\n";
}

}  // namespace
}  // namespace leadline
