// The manual page, the completion scripts and 'list': nothing the table knows is missing from them. In the real programs: tests/outside/manual.sh.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "cli/completion_offers.h"
#include "tests/cli/in_process.h"

namespace leadline {
namespace {

using cli::Offer;
using testing::run_program;

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

std::string with_escaped_minus(std::string words) {
  for (auto at = words.find('-'); at != std::string::npos; at = words.find('-', at + 2)) words.replace(at, 1, "\\-");
  return words;
}

// Every long option of the table, with "" for those of every command.
std::vector<std::pair<std::string, cli::OptionSpec>> all_options() {
  std::vector<std::pair<std::string, cli::OptionSpec>> all;
  for (const auto& option : cli::global_options()) all.emplace_back("", option);
  for (const auto& command : cli::command_specs()) {
    for (const auto& option : command.options) all.emplace_back(command.name, option);
  }
  return all;
}

TEST(Manual, HoldsEveryCommandOptionCodeAndVariable) {
  const auto ran = run_program({"help", "--manual"});
  EXPECT_EQ(ran.code, 0);
  for (const auto& command : cli::command_specs()) {
    EXPECT_TRUE(holds(ran.out, "\n.SS " + command.name + "\n\\fBleadline " + command.name + "\\fR")) << command.name;
    for (const auto& example : command.examples) EXPECT_TRUE(holds(ran.out, "\n\\fB" + with_escaped_minus(example) + "\\fR\n")) << example;
  }
  for (const auto& [command, option] : all_options()) EXPECT_TRUE(holds(ran.out, "\\fB\\-\\-" + with_escaped_minus(option.name) + "\\fR")) << command << " --" << option.name;
  for (const auto& row : cli::exit_code_specs()) EXPECT_TRUE(holds(ran.out, "\n.TP\n\\fB" + std::to_string(row.code) + "\\fR\n")) << row.code;
  for (const auto& row : cli::variable_specs()) EXPECT_TRUE(holds(ran.out, "\n.TP\n\\fB" + row.name + "\\fR\n")) << row.name;
}

// A line that begins with a dot or a quote is a request to the formatter: only those we mean.
TEST(Manual, NoWordIsTakenForARequest) {
  const std::set<std::string> meant{".TH", ".SH", ".SS", ".PP", ".TP", ".nf", ".fi", ".RS", ".RE"};
  std::istringstream lines(run_program({"help", "--manual"}).out);
  for (std::string line; std::getline(lines, line);) {
    for (const char c : line) EXPECT_LT(static_cast<unsigned char>(c), 128) << line;
    EXPECT_FALSE(line.starts_with("'")) << line;
    if (line.starts_with(".")) {
      EXPECT_TRUE(meant.contains(line.substr(0, 3))) << line;
    }
  }
}

TEST(Completion, OfEveryShellNamesEveryCommandOptionAndChoice) {
  for (const std::string shell : {"bash", "zsh", "fish"}) {
    const auto script = run_program({"completion", shell}).out;
    for (const auto& command : cli::command_specs()) EXPECT_TRUE(holds(script, command.name)) << shell << ": " << command.name;
    for (const auto& [command, option] : all_options()) {
      EXPECT_TRUE(holds(script, (shell == "fish" ? " -l " : "--") + option.name)) << shell << ": " << command << " --" << option.name;
      EXPECT_TRUE(holds(script, cli::joined(option.choices))) << shell << ": --" << option.name;
    }
  }
}

TEST(Completion, RefusesAnotherShell) {
  const auto ran = run_program({"completion", "bsh"});
  EXPECT_EQ(ran.code, 64);
  EXPECT_EQ(ran.err, "leadline: 'completion' does not know 'bsh'; did you mean 'bash'?\nleadline: 'leadline help' shows what there is\n");
}

struct OfferRow {
  std::string name, command, option;  // option "": the operands
  Offer::Kind kind;
  std::string words;
};
class Offers : public ::testing::TestWithParam<OfferRow> {};
TEST_P(Offers, FollowFromTheTable) {
  const auto& row = GetParam();
  const auto* command = cli::find_command(row.command);
  const auto& options = command == nullptr ? cli::global_options() : command->options;
  const auto option = std::find_if(options.begin(), options.end(), [&](const auto& one) { return one.name == row.option; });
  ASSERT_EQ(option == options.end(), row.option.empty());
  const auto offer = row.option.empty() ? cli::offer_for_operands(*command) : cli::offer_for(*option, command);
  EXPECT_EQ(offer.kind, row.kind);
  EXPECT_EQ(cli::joined(offer.words), row.words);
}
INSTANTIATE_TEST_SUITE_P(Rows, Offers,
                         ::testing::Values(OfferRow{"a_file", "diagnose", "installation", Offer::Kind::file, ""},
                                           OfferRow{"tools_with_commas", "diagnose", "without", Offer::Kind::id_list, "tool"},
                                           OfferRow{"words", "diagnose", "role", Offer::Kind::words, cli::joined(cli::find_command("diagnose")->options.at(1).choices)},
                                           OfferRow{"a_folder", "", "knowledge", Offer::Kind::folder, ""},
                                           OfferRow{"a_number", "", "width", Offer::Kind::nothing, ""},
                                           OfferRow{"ids_of_causes", "expect", "cause", Offer::Kind::ids, "cause"},
                                           OfferRow{"ids_that_have_a_page", "show", "", Offer::Kind::ids, "cause finding check remedy precaution source"},
                                           OfferRow{"a_recorded_call_out", "rank", "", Offer::Kind::file, ""},
                                           OfferRow{"a_shell", "completion", "", Offer::Kind::words, "bash zsh fish"},
                                           OfferRow{"free_words", "find", "", Offer::Kind::nothing, ""}),
                         [](const auto& row) { return row.param.name; });

TEST(List, IsOneThingALineInThreeColumns) {
  const auto ran = run_program({"list"});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  std::istringstream lines(ran.out);
  std::set<std::string> kinds;
  for (std::string line; std::getline(lines, line);) {
    EXPECT_EQ(std::count(line.begin(), line.end(), '\t'), 2) << line;
    kinds.insert(line.substr(0, line.find('\t')));
  }
  EXPECT_EQ(kinds, std::set<std::string>(cli::listed_kinds().begin(), cli::listed_kinds().end()));
}

TEST(List, OfAKindHoldsThatKindOnly) {
  EXPECT_EQ(run_program({"list", "tool", "--width", "40"}).out.substr(0, 27), "tool\tmultimeter\tmultimeter\n");
  const auto ran = run_program({"list", "causes"});
  EXPECT_EQ(ran.code, 64);
  EXPECT_EQ(ran.err.substr(0, ran.err.find('\n')), "leadline: 'list' does not know 'causes'; did you mean 'cause'?");
}

}  // namespace
}  // namespace leadline
