// Each recorded call-out says in why.md which faults there were and where they should stand; here the engine is asked. Rates are asserted, not each
// case: a case is never bent to the engine, nor the book to a case. The first runs: docs/cases.md.
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

constexpr std::size_t not_there = 1000;

struct Wanted {
  std::set<std::string> faults;      // empty: none in the book
  std::size_t places = 0;            // 1: "Expected: first", 3: "Expected: in three"; 0: nothing is expected, which no case may say
  bool no_confident_answer = false;  // "Expected: no confident answer": what is not in the book stands first, or nothing has more than half of the belief
};

Wanted wanted_in(const fs::path& why) {
  Wanted wanted;
  std::istringstream lines(slurp(why));
  for (std::string line; std::getline(lines, line);) {
    if (line == "Expected: first") wanted.places = 1;
    if (line == "Expected: in three") wanted.places = 3;
    if (line == "Expected: no confident answer") wanted.no_confident_answer = true, wanted.places = 1;
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

constexpr double confident = 0.5;

// The place of exactly these faults, from 1; where no confident answer is the right one, 1 for none and "not there" for any.
std::size_t place_of(const Wanted& wanted, const callout::Assessment& assessment) {
  const auto& list = assessment.diagnosis().explanations;
  const auto found = std::find_if(list.begin(), list.end(), [&](const auto& e) { return ids_of(assessment, e) == wanted.faults; });
  const auto place = found == list.end() ? not_there : static_cast<std::size_t>(found - list.begin()) + 1;
  if (!wanted.no_confident_answer || place == 1) return place;
  return !list.empty() && list.front().probability > confident ? not_there : 1;
}

bool is_misuse(const knowledge::KnowledgeBase& base, const std::set<std::string>& faults) {
  return std::any_of(base.causes.begin(), base.causes.end(), [&](const auto& cause) { return faults.contains(cause.id) && cause.subsystem == "misuse"; });
}

struct Count {
  std::size_t cases = 0, first = 0, in_three = 0, as_expected = 0, two_faults = 0, no_fault = 0, not_in_the_book = 0;
};

Count count_of(const knowledge::KnowledgeBase& base) {
  Count count;
  for (const auto& entry : fs::directory_iterator(fs::path(LEADLINE_SOURCE_DIR) / "cases")) {
    const auto name = entry.path().filename().string();
    const auto record = callout::read_case(base, {"callout.xml", slurp(entry.path() / "callout.xml")});
    const auto wanted = wanted_in(entry.path() / "why.md");
    EXPECT_GT(wanted.places, 0U) << name << ": no line \"Expected: \" with first, in three or no confident answer in why.md";
    EXPECT_TRUE(record.value) << name;
    if (!record.value) continue;
    const auto place = place_of(wanted, callout::Assessment(base, *record.value));
    count.first += place == 1 ? 1 : 0;
    count.in_three += place <= 3 ? 1 : 0;
    count.as_expected += place <= wanted.places ? 1 : 0;
    count.two_faults += wanted.faults.size() == 2 ? 1 : 0;
    count.no_fault += is_misuse(base, wanted.faults) ? 1 : 0;
    count.not_in_the_book += wanted.faults.empty() ? 1 : 0;
    ++count.cases;
    if (place > 1) std::cout << name << ": place " << (place == not_there ? std::string("none") : std::to_string(place)) << "\n";
  }
  return count;
}

TEST(RecordedCallOuts, TheFaultsStandWhereTheyShould) {
#ifdef __SANITIZE_ADDRESS__
  GTEST_SKIP() << "minutes under sanitizers; the kept screens go the same way";
#endif
  const auto base = *knowledge::read_knowledge(cli::embedded_knowledge()).value;
  const auto count = count_of(base);
  EXPECT_EQ(count.cases, 61U);
  EXPECT_EQ(count.two_faults, 12U);
  EXPECT_GE(count.no_fault, 4U);
  EXPECT_EQ(count.not_in_the_book, 4U);
  EXPECT_GE(count.first * 100, count.cases * 85);
  EXPECT_GE(count.in_three * 100, count.cases * 95);
  EXPECT_GE(count.as_expected * 100, count.cases * 90);
  std::cout << count.first << " first, " << count.in_three << " in three, " << count.as_expected << " as expected, of " << count.cases << " recorded call-outs\n";
}

}  // namespace
}  // namespace leadline
