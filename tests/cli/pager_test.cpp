// Long output at a terminal, and nowhere else, goes through a pager.
#include <gtest/gtest.h>

#include <filesystem>
#include <map>

#include "cli/pager.h"
#include "tests/cli/in_process.h"
#include "tests/cli/slurp.h"

namespace leadline {
namespace {

cli::Surroundings terminal_with(const std::map<std::string, std::string>& variables, int rows = 24) {
  cli::Surroundings around;
  around.in_is_terminal = around.out_is_terminal = true;
  around.columns = 80;
  around.rows = rows;
  around.variable = [variables](const char* name) {
    const auto found = variables.find(name);
    return found == variables.end() ? std::nullopt : std::optional(found->second);
  };
  return around;
}

TEST(PagerFor, IsLessUnlessTheEnvironmentSaysOtherwise) {
  EXPECT_EQ(cli::pager_for(terminal_with({{"TERM", "xterm"}}), 24), "less");
  EXPECT_EQ(cli::pager_for(terminal_with({{"TERM", "xterm"}, {"PAGER", "more -e"}}), 24), "more -e");
  EXPECT_EQ(cli::pager_for(terminal_with({{"TERM", "xterm"}, {"PAGER", ""}}), 24), "");
  EXPECT_EQ(cli::pager_for(terminal_with({{"TERM", "xterm"}, {"PAGER", "cat"}}), 24), "");
}

TEST(PagerFor, LeavesAloneWhatFitsAndWhatIsNoScreen) {
  EXPECT_EQ(cli::pager_for(terminal_with({{"TERM", "xterm"}}), 23), "");
  EXPECT_EQ(cli::pager_for(terminal_with({{"TERM", "xterm"}}, 0), 24), "");
  EXPECT_EQ(cli::pager_for(terminal_with({{"TERM", "dumb"}}), 24), "");
  EXPECT_EQ(cli::pager_for(terminal_with({}), 24), "");
  auto piped = terminal_with({{"TERM", "xterm"}});
  piped.out_is_terminal = false;
  EXPECT_EQ(cli::pager_for(piped, 24), "");
}

struct Shown {
  std::string direct, paged;
};
Shown run_at_terminal(const std::vector<std::string>& arguments, bool pager_works = true) {
  Shown shown;
  auto around = terminal_with({{"TERM", "xterm"}});
  around.show_through = [&](const std::string&, const std::string& text) {
    if (pager_works) shown.paged += text;
    return pager_works;
  };
  std::istringstream in("stop\n");
  std::ostringstream out, err;
  (void)cli::run(arguments, in, out, err, around);
  shown.direct = out.str();
  return shown;
}

TEST(Paging, TakesLongPagesWholeAndNothingElse) {
  const auto page = testing::run_program({"list"}).out;
  EXPECT_EQ(run_at_terminal({"list"}).paged, page);
  EXPECT_EQ(run_at_terminal({"list"}).direct, "");
  EXPECT_EQ(run_at_terminal({"list", "--no-pager"}).direct, page);
  EXPECT_EQ(run_at_terminal({"find", "only", "clicks"}).paged, "");
  EXPECT_EQ(run_at_terminal({"diagnose"}).paged, "");
  EXPECT_NE(run_at_terminal({"diagnose", "--help"}).paged, "");
}

TEST(Paging, PrintsItselfWhenThePagerCannotStart) { EXPECT_EQ(run_at_terminal({"list"}, false).direct, testing::run_program({"list"}).out); }

TEST(ShowThrough, GivesThePagerEveryByte) {
  const auto file = std::string(LEADLINE_BINARY_DIR) + "/pager_test.txt";
  const auto page = testing::run_program({"list"}).out;
  EXPECT_TRUE(cli::show_through("cat > '" + file + "'", page));
  EXPECT_EQ(testing::slurp(file), page);
  std::filesystem::remove(file);
}

TEST(ShowThrough, SurvivesAReaderWhoLeavesEarly) { EXPECT_TRUE(cli::show_through("true", std::string(4'000'000, 'x'))); }

TEST(ShowThrough, SaysWhenThereIsNoSuchProgram) { EXPECT_FALSE(cli::show_through("no-such-pager-anywhere 2> /dev/null", "text")); }

}  // namespace
}  // namespace leadline
