// Options, exit codes and the ways a run can end.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/command_line.h"
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
                                           UsageRow{"narrow_width", {"rank", "--width", "8", "x.xml"}, 64, "leadline: '8' is no width; a whole number from 40 to 400, or 0 for the default"},
                                           UsageRow{"empty_value", {"trial", "--calls", ""}, 64, "leadline: --calls needs a value, not an empty text"},
                                           UsageRow{"afloat_and_hauled", {"diagnose", "--afloat", "--hauled"}, 64, "leadline: --afloat and --hauled contradict each other; give one"},
                                           UsageRow{"alone_and_helper", {"diagnose", "--alone", "--helper"}, 64, "leadline: --alone and --helper contradict each other; give one"},
                                           UsageRow{"with_and_without", {"diagnose", "--with", "torch,multimeter", "--without", "watch, torch"}, 64, "leadline: --with and --without both name 'torch'; give one"},
                                           UsageRow{"misspelt_tool", {"diagnose", "--without", "tourch"}, 64, "leadline: no tool 'tourch' for --without; did you mean 'torch'?"},
                                           UsageRow{"unknown_tool", {"diagnose", "--with", "anvil"}, 64,
                                                    "leadline: no tool 'anvil' for --with; known: multimeter, min-max-meter, clamp-meter, long-lead, fine-probes, bridge-wire, torch, "
                                                    "mirror, magnifier, rule, watch, wooden-rod, screwdriver, spanner, knife, crimping-die, gloves, goggles, clean-glass, pipette, battery-tester, drill, test-load-set, hydrometer, infrared-thermometer, "
                                                    "insulation-tester, four-wire-meter, air-tester, reference-electrode, loose-battery, test-cable, spare-panel, spare-terminator"},
                                           UsageRow{"missing_file", {"rank", "/nowhere/x.xml"}, 66, "leadline: cannot read '/nowhere/x.xml': No such file or directory"}),
                         [](const auto& row) { return row.param.name; });

// The names a person may mistype, each with the arguments that come before it.
std::vector<std::pair<std::vector<std::string>, std::string>> names_of_the_table() {
  std::vector<std::pair<std::vector<std::string>, std::string>> names;
  for (const auto& option : cli::global_options()) names.push_back({{}, "--" + option.name});
  for (const auto& command : cli::command_specs()) {
    names.push_back({{}, command.name});
    for (const auto& option : command.options) names.push_back({{command.name}, "--" + option.name});
  }
  return names;
}

TEST(Names, AreNeverCarriedOutShortened) {
  const auto all = names_of_the_table();
  const auto is_name = [&](const std::string& word) { return std::any_of(all.begin(), all.end(), [&](const auto& known) { return known.second == word; }); };
  std::size_t refused = 0;
  for (const auto& [before, name] : all) {
    const bool option = name.starts_with("--");
    for (std::size_t length = option ? 3 : 1; length < name.size(); ++length) {
      auto arguments = before;
      arguments.push_back(name.substr(0, length));
      if (is_name(arguments.back())) continue;  // --help of --helper
      const auto ran = run_program(arguments);
      EXPECT_EQ(ran.code, 64) << arguments.back();
      EXPECT_EQ(ran.out, "") << arguments.back();
      ++refused;
    }
  }
  EXPECT_GE(refused, 200U);
}

// Two neighbours swapped, a letter left out, a letter doubled, in the middle of every name of five letters or more.
TEST(Names, MistypedAreMetWithTheRightOneInNineteenOfTwenty) {
  std::size_t typos = 0, met = 0;
  for (const auto& [before, name] : names_of_the_table()) {
    if (name.size() < 5) continue;
    const auto middle = name.size() / 2;
    auto swapped = name, without = name, doubled = name;
    std::swap(swapped[middle], swapped[middle + 1]);
    without.erase(middle, 1);
    doubled.insert(middle, 1, name[middle]);
    for (const auto& typo : {swapped, without, doubled}) {
      if (typo == name) continue;
      auto arguments = before;
      arguments.push_back(typo);
      const auto ran = run_program(arguments);
      EXPECT_EQ(ran.code, 64) << typo;
      ++typos;
      met += ran.err.find("did you mean '" + name + "'?") != std::string::npos ? 1 : 0;
    }
  }
  EXPECT_GE(typos, 100U);
  EXPECT_GE(met * 20, typos * 19) << met << " of " << typos;
}

TEST(Help, IsOnStandardOutputAndSucceeds) {
  for (const std::vector<std::string>& arguments : {std::vector<std::string>{"--help"}, {"-h"}, {"help"}, {"rank", "--help"}, {"help", "diagnose"}}) {
    const auto ran = run_program(arguments);
    EXPECT_EQ(ran.code, 0);
    EXPECT_EQ(ran.err, "");
    EXPECT_NE(ran.out, "");
  }
}

TEST(Version, SaysWhatAHelpdeskAsksFirst) {
  const auto built_in = run_program({"--version"}).out;
  const auto other = run_program({"--version", "--width", "400", "--knowledge", LEADLINE_SOURCE_DIR "/knowledge"}).out;
  EXPECT_EQ(built_in.substr(0, 9), "leadline ");
  const auto digest = other.find("\nIts digest: ");
  ASSERT_NE(digest, std::string::npos) << other;
  const auto line = other.substr(digest, other.find('\n', digest + 1) - digest);
  EXPECT_EQ(line.size(), std::string("\nIts digest: ").size() + 36) << line;
  EXPECT_NE(built_in.find(" Built in." + line + "\nHere: UTF-8, lines of 80 characters, not at a terminal.\n"), std::string::npos) << built_in;
  EXPECT_NE(other.find(" Read from '" LEADLINE_SOURCE_DIR "/knowledge'." + line + "\nHere: UTF-8, lines of 400 characters"), std::string::npos) << other;
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

TEST(Rank, JsonNamesTheNextStepsByMinutes) {
  const auto json = nlohmann::json::parse(run_program({"rank", "--json", "-"}, small_case).out);
  EXPECT_EQ(json.at("schema"), 2);
  EXPECT_FALSE(json.contains("next_checks"));
  const auto& steps = json.at("next_steps");
  ASSERT_FALSE(steps.empty());
  double before = 0;
  for (const auto& step : steps) {
    const std::string act = step.at("act");
    EXPECT_TRUE(act == "check" || act == "remedy" || act == "call-in") << act;
    EXPECT_EQ(step.contains("id") && step.contains("who") && step.contains("precautions"), act != "call-in");
    EXPECT_EQ(step.contains("bits") && step.contains("tells_most"), act == "check");
    EXPECT_GT(step.at("minutes"), 0);
    EXPECT_TRUE(step.contains("saved_minutes"));
    EXPECT_GE(step.at("expected_minutes").get<double>(), before);
    before = step.at("expected_minutes");
  }
}

TEST(Rank, AfterARemedyItSpeaksOfWhatIsThereNow) {
  auto mended = small_case;
  mended.replace(mended.find("</callout>"), 10,
                 R"(<remedy ref="switch-network-on"/><answer finding="panel-lights" state="lit"/><answer finding="push" state="normal"/></callout>)");
  const auto ran = run_program({"rank", "-"}, mended);
  EXPECT_EQ(ran.err, "");
  EXPECT_NE(ran.out.find("What may be wrong now, most likely first:\n"), std::string::npos) << ran.out;
  EXPECT_NE(ran.out.find("Nothing any more: mended"), std::string::npos) << ran.out;
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
  EXPECT_NE(ran.out.find("\nEnded here: somebody else is called in. What is known:\n"), std::string::npos);
  EXPECT_EQ(ran.out.find("does not answer this"), std::string::npos);
}

// What cannot be done on this job is not proposed: nothing with a meter in hand, nothing for two.
TEST(Diagnose, ProposesNothingBeyondTheJob) {
  std::string typed = "no push\n1\n3\n\n";
  for (int i = 0; i < 400; ++i) typed += "can't tell\n";
  const auto ran = run_program({"diagnose", "--installation", LEADLINE_SOURCE_DIR "/cli/demo/installation.xml", "--alone", "--without", "multimeter", "--dark", "--no-engine"}, typed);
  const auto end = ran.out.find("\nEnded here");
  ASSERT_NE(end, std::string::npos);
  std::istringstream lines(ran.out.substr(0, end));
  std::size_t tools = 0;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("  Needs: ")) {
      EXPECT_TRUE(line.find("second person") == std::string::npos && line.find("daylight") == std::string::npos) << line;
    }
    if (!line.starts_with("  Tools: ")) continue;
    EXPECT_EQ(line.find("multimeter"), std::string::npos) << line;
    ++tools;
  }
  EXPECT_GT(tools, 0U);
}

TEST(Diagnose, NotYetDoneIsNoRemedy) {
  const std::string to_remedy = "the panel is dark\n1\n4\n\ncan't tell\ncan't tell\n1\n0 V\noff\n1\n";
  const auto boat = LEADLINE_SOURCE_DIR "/tests/golden/technician-dead-panel/installation.xml";
  const auto put_off = run_program({"diagnose", "--installation", boat}, to_remedy + "can't tell\nstop\n");
  EXPECT_NE(put_off.out.find("\nPut off: Switch the controls on.\n"), std::string::npos);
  EXPECT_EQ(put_off.out.find("Remedies done:"), std::string::npos);
  const auto empty = run_program({"diagnose", "--installation", boat}, to_remedy + "\nthe trouble is gone\nstop\n");
  EXPECT_NE(empty.out.find("\nA remedy counts when it was done.\nExpected: 1, 2 or 3 once it is done; 'later' or 'other' when it is not.\n"), std::string::npos);
  EXPECT_NE(empty.out.find("\nRemedies done:\n  1. Switch the controls on\n"), std::string::npos);
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
