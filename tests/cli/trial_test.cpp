// leadline trial: its page, its JSON, one call-out told step by step, and what it refuses.
#include <gtest/gtest.h>

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "tests/cli/in_process.h"
#include "tests/cli/slurp.h"

namespace leadline {
namespace {

using testing::run_program;

TEST(Trial, TellsWhatItPlayedAndHowToSeeOne) {
  const auto ran = run_program({"trial", "--calls", "6", "--boats", "2"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_EQ(ran.out.substr(0, ran.out.find('\n')), "6 simulated call-outs on 2 drawn boats, seed 1; in brackets 95 % intervals.");
  EXPECT_NE(ran.out.find("(to see one: leadline trial\n--seed 1 --boats 2 --replay NUMBER):\n  - "), std::string::npos) << ran.out;
  EXPECT_NE(ran.err.find("leadline: 6 of 6 played\n"), std::string::npos);
}

TEST(Trial, NeedsNoEightyCallsAsIfItWereAWidth) {
  const auto ran = run_program({"trial", "--calls", "8", "--boats", "1"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_TRUE(ran.out.starts_with("8 simulated call-outs on 1 drawn boat, seed 1;")) << ran.out;
}

TEST(Trial, JsonIsTheSameOnAnyNumberOfCores) {
  const auto one = run_program({"trial", "--calls", "6", "--boats", "2", "--json", "--cores", "1"});
  const auto two = run_program({"trial", "--calls", "6", "--boats", "2", "--json", "--cores", "2"});
  EXPECT_EQ(one.out, two.out);
  const auto json = nlohmann::json::parse(one.out);
  EXPECT_EQ(json.at("schema"), 1);
  EXPECT_EQ(json.at("calls"), 6);
  EXPECT_EQ(json.at("boats"), 2);
  ASSERT_EQ(json.at("policies").size(), 1U);
  const auto& ours = json.at("policies")[0];
  EXPECT_EQ(ours.at("policy"), "ours");
  EXPECT_EQ(ours.at("proved").at("trials"), 6);
  EXPECT_GT(ours.at("minutes").at("mean"), 0);
  std::size_t calls = 0;
  // What is not in the book is a subsystem of its own, and no cause.
  for (const auto& subsystem : ours.at("by_what_was_wrong").at("subsystems")) calls += subsystem.at("fared").at("calls").get<std::size_t>();
  EXPECT_GE(calls, 6U);
}

TEST(Trial, SaysHowEachSubsystemFared) {
  const auto ran = run_program({"trial", "--calls", "6", "--boats", "2", "--width", "200"});
  const auto at = ran.out.find("\nBy what was wrong, the first policy:\n  - ");
  ASSERT_NE(at, std::string::npos) << ran.out;
  EXPECT_NE(ran.out.find(", among the first three ", at), std::string::npos) << ran.out;
}

TEST(Trial, AnotherSeedPlaysOtherCallOuts) {
  const std::vector<std::string> plain{"trial", "--calls", "6", "--boats", "2", "--json"};
  auto seeded = plain;
  seeded.insert(seeded.end(), {"--seed", "2"});
  EXPECT_NE(run_program(plain).out, run_program(seeded).out);
}

TEST(Trial, ReplayTellsTheCallOutStepByStep) {
  const auto ran = run_program({"trial", "--boats", "2", "--replay", "3", "--policies", "ours,chart"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_TRUE(ran.out.starts_with("Call-out 3, fewest expected minutes (ours).\nWhat is wrong: ")) << ran.out;
  for (const std::string part : {"\nStated of the boat:\n", "\nWhat was done:\n  complaint: ", "\nCall-out 3, "}) EXPECT_NE(ran.out.find(part), std::string::npos) << part;
}

// Played to its end, then with the last lines torn off: the same page; more calls: only those are played.
TEST(Trial, KeptGoesOnWhereItWasBrokenOff) {
  const auto path = (std::filesystem::path(::testing::TempDir()) / ("leadline-trial-" + std::to_string(::getpid()))).string();
  std::filesystem::remove(path);
  const std::vector<std::string> plain{"trial", "--calls", "4", "--boats", "1", "--json"};
  auto kept = plain;
  kept.insert(kept.end(), {"--keep", path});
  const auto wanted = run_program(plain).out;
  EXPECT_EQ(run_program(kept).out, wanted);
  const auto whole = testing::slurp(path);
  EXPECT_EQ(std::count(whole.begin(), whole.end(), '\n'), 5);
  std::filesystem::resize_file(path, whole.size() - 30);
  EXPECT_EQ(run_program(kept).out, wanted);
  EXPECT_EQ(testing::slurp(path), whole);
  kept.insert(kept.end(), {"--seed", "2"});
  const auto other = run_program(kept);
  EXPECT_EQ(other.code, 65);
  EXPECT_EQ(other.err, path + ":1: error: it was kept by a trial with another --seed; name another file, or begin it anew by removing this one\n");
  EXPECT_EQ(testing::slurp(path), whole);
  std::filesystem::remove(path);
}

TEST(Trial, KeptWhereNothingCanBeWrittenIsRefusedAtOnce) {
  const auto ran = run_program({"trial", "--calls", "1", "--keep", "/nonexistent/file"});
  EXPECT_EQ(ran.code, 74);
  EXPECT_EQ(ran.err, "leadline: cannot write to /nonexistent/file\n");
}

struct RefusedRow {
  std::string name;
  std::vector<std::string> options;
  std::string said;
};
class TrialRefuses : public ::testing::TestWithParam<RefusedRow> {};
TEST_P(TrialRefuses, WithItsReason) {
  std::vector<std::string> arguments{"trial"};
  arguments.insert(arguments.end(), GetParam().options.begin(), GetParam().options.end());
  const auto ran = run_program(arguments);
  EXPECT_EQ(ran.code, 64);
  EXPECT_EQ(ran.err, "leadline: " + GetParam().said + "\n");
  EXPECT_EQ(ran.out, "");
}
const RefusedRow refused[] = {
    {"no_calls", {"--calls", "0"}, "--calls needs a whole number from 1 to 1000000, not '0'"},
    {"half_a_call", {"--calls", "1.5"}, "--calls needs a whole number from 1 to 1000000, not '1.5'"},
    {"calls_in_words", {"--calls", "six"}, "--calls needs a whole number from 1 to 1000000, not 'six'"},
    {"control_characters", {"--calls", "\x1b[2J"}, "--calls needs a whole number from 1 to 1000000, not '?[2J'"},
    {"too_many_boats", {"--boats", "1001"}, "--boats needs a whole number from 1 to 1000, not '1001'"},
    {"seed_below_zero", {"--seed", "-1"}, "--seed needs a whole number from 0 to 1000000000, not '-1'"},
    {"replay_counts_from_one", {"--replay", "0"}, "--replay needs a whole number from 1 to 1000000, not '0'"},
    {"too_many_cores", {"--cores", "257"}, "--cores needs a whole number from 0 to 256, not '257'"},
    {"unknown_policy", {"--policies", "ours,luck"}, "no policy 'luck'; expected ours, information, frequency or chart, with commas between"},
    {"empty_policy", {"--policies", ","}, "no policy ''; expected ours, information, frequency or chart, with commas between"},
};
INSTANTIATE_TEST_SUITE_P(Options, TrialRefuses, ::testing::ValuesIn(refused), [](const auto& row) { return row.param.name; });

}  // namespace
}  // namespace leadline
