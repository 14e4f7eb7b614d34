#pragma once
// Commands and options as data: what is parsed, and what the help pages, the manual page and the shells' completion say, come from one table.
// Tested by tests/cli/commands_test.cpp and tests/cli/manual_test.cpp.
#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

namespace leadline::cli {

struct OptionSpec {
  std::string name;                  // without the dashes
  std::string argument;              // "FILE"; empty: a switch
  std::string help;
  std::vector<std::string> choices;  // the words allowed; empty: any text
  char letter = 0;                   // of the short form; 0: none
};

struct CommandSpec {
  std::string name, operands, summary;  // operands as the help shows them: "CASE.xml|-"
  std::size_t least_operands = 0, most_operands = 0;
  std::vector<OptionSpec> options;
  std::vector<std::string> notes;       // paragraphs of the help page
  std::vector<std::string> examples;
  std::vector<std::string> words = {};  // that an operand may be; empty: any text
};

// How the program may end, and the variables it looks at: rows of the help and of the manual page.
struct CodeSpec {
  int code = 0;
  std::string meaning;
};
struct VariableSpec {
  std::string name, meaning;
};

std::span<const CommandSpec> command_specs();
std::vector<std::string> command_names();
const std::vector<OptionSpec>& global_options();
std::span<const CodeSpec> exit_code_specs();
std::span<const VariableSpec> variable_specs();
const std::vector<std::string>& listed_kinds();  // of things that 'leadline list' knows
const CommandSpec* find_command(std::string_view name);  // null: no such command

struct CommandLine {
  const CommandSpec* command = nullptr;            // null: none was named
  std::map<std::string, std::string> values;       // by option name; a switch that was given: ""
  std::vector<std::string> operands;
  bool has(const std::string& option) const { return values.contains(option); }
  std::optional<std::string> value(const std::string& option) const;
};

// What is wrong with the arguments, and the way out (may be empty).
struct UsageProblem {
  std::string what, hint;
};

// Options may stand anywhere, "--" ends them, none may be shortened; file names must not be empty; words and numbers are checked.
std::variant<CommandLine, UsageProblem> parse_command_line(const std::vector<std::string>& arguments);

// The whole number an option names, or `otherwise` when it was not given. Throws Failure (64) for anything else and beyond the limits.
std::uint64_t whole_number(const CommandLine& line, const std::string& option, std::uint64_t otherwise, std::uint64_t least, std::uint64_t most);

// --width N: 0, or 40 … 400. Assumes but does not check: parse_command_line has accepted it.
std::optional<int> asked_width(const CommandLine& line);

}  // namespace leadline::cli
