// Options, exit codes and the ways a run can end.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/cli/in_process.h"

namespace leadline {
namespace {

using testing::run_program;

const std::string small_case = R"(<callout><title>Dead panel</title><installation/>
<complaint finding="panel-lights" state="dead"/><complaint finding="push" state="none"/></callout>)";

struct UsageRow {
  std::string name;
  std::vector<std::string> arguments;
  int code;
  std::string first_line;
};
class Usage : public ::testing::TestWithParam<UsageRow> {};
TEST_P(Usage, EndsWithItsCodeAndSaysWhy) {
  const auto ran = run_program(GetParam().arguments);
  EXPECT_EQ(ran.code, GetParam().code);
  EXPECT_EQ(ran.err.substr(0, ran.err.find('\n')), GetParam().first_line);
  EXPECT_EQ(ran.out, "");
}
INSTANTIATE_TEST_SUITE_P(Mistakes, Usage,
                         ::testing::Values(UsageRow{"misspelt_command", {"dignose"}, 64, "leadline: unknown command 'dignose'; did you mean 'diagnose'?"},
                                           UsageRow{"shortened_option", {"rank", "--js", "x.xml"}, 64, "leadline: unknown option '--js'; did you mean '--json'?"},
                                           UsageRow{"missing_file", {"rank", "/nowhere/x.xml"}, 66, "leadline: cannot read '/nowhere/x.xml': No such file or directory"}),
                         [](const auto& row) { return row.param.name; });

TEST(Help, IsOnStandardOutputAndSucceeds) {
  for (const std::vector<std::string>& arguments : {std::vector<std::string>{"--help"}, {"-h"}, {"help"}, {"rank", "--help"}, {"help", "diagnose"}}) {
    const auto ran = run_program(arguments);
    EXPECT_EQ(ran.code, 0);
    EXPECT_EQ(ran.err, "");
    EXPECT_NE(ran.out, "");
  }
}

TEST(Help, ShortHelpFitsAScreen) {
  const auto ran = run_program({});
  EXPECT_LE(std::count(ran.out.begin(), ran.out.end(), '\n'), 24);
}

TEST(Rank, ReadsStandardInput) {
  const auto ran = run_program({"rank", "-"}, small_case);
  EXPECT_EQ(ran.err, "");
  EXPECT_NE(ran.out.find("Dead panel"), std::string::npos);
}

TEST(Rank, JsonCanBeReadBackAndAddsUpToOne) {
  const auto ran = run_program({"rank", "--json", "-"}, small_case);
  const auto json = nlohmann::json::parse(ran.out);
  EXPECT_TRUE(json.contains("schema"));
  double sum = json.at("not_shown").get<double>();
  for (const auto& explanation : json.at("explanations")) sum += explanation.at("probability").get<double>();
  EXPECT_NEAR(sum, 1.0, 1e-6);
}

TEST(Rank, BrokenCaseNamesThePlace) {
  const auto ran = run_program({"rank", "-"}, "<callout>\n<title>x</title>\n<instalation/>\n</callout>\n");
  EXPECT_EQ(ran.code, 65);
  EXPECT_NE(ran.err.find(":3:2: error: 'callout' has no element 'instalation'"), std::string::npos) << ran.err;
  EXPECT_NE(ran.err.find("did you mean 'installation'?"), std::string::npos) << ran.err;
}

TEST(Diagnose, EndOfInputAtOnceStillEndsWithAWord) {
  const auto ran = run_program({"diagnose"});
  EXPECT_NE(ran.out, "");
  EXPECT_LT(ran.out.size(), 20000U);
}

TEST(Diagnose, CannotTellToEverythingEndsByItself) {
  std::string typed = "\n\n\n\n\n\n\n\n\n\nno push\n1\n\n";
  for (int i = 0; i < 2000; ++i) typed += "can't tell\n";
  const auto ran = run_program({"diagnose"}, typed);
  EXPECT_EQ(ran.code, 0) << ran.err;
}

TEST(Output, IsPlainAsciiWhereTheLocaleIs) {
  std::istringstream in(small_case);
  std::ostringstream out, err;
  cli::Surroundings surroundings;
  surroundings.utf8 = false;
  (void)cli::run({"rank", "-"}, in, out, err, surroundings);
  for (const char c : out.str()) EXPECT_LT(static_cast<unsigned char>(c), 128);
}

}  // namespace
}  // namespace leadline
