#include "cli/command_line.h"

#include <algorithm>
#include <boost/program_options.hpp>

#include "cli/exit_codes.h"
#include "engine/text/number.h"
#include "engine/text/spelling.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

namespace po = boost::program_options;

constexpr int least_width = 40, most_width = 400;

const OptionSpec* find_option(const std::vector<OptionSpec>& options, std::string_view name) {
  const auto found = std::find_if(options.begin(), options.end(), [&](const auto& o) { return o.name == name; });
  return found == options.end() ? nullptr : &*found;
}

// Position of the command among the arguments: the first that is neither an option nor the value of a global one.
std::size_t command_position(const std::vector<std::string>& arguments) {
  std::size_t at = 0;
  for (; at < arguments.size(); ++at) {
    const auto& argument = arguments[at];
    if (argument == "--" || argument.empty() || argument[0] != '-' || argument == "-") break;
    const auto* option = argument.starts_with("--") ? find_option(global_options(), argument.substr(2)) : nullptr;
    if (option != nullptr && !option->argument.empty()) ++at;
  }
  return std::min(at, arguments.size());
}

std::vector<OptionSpec> options_of(const CommandSpec* command) {
  auto options = global_options();
  if (command != nullptr) options.insert(options.end(), command->options.begin(), command->options.end());
  return options;
}

po::options_description described(const std::vector<OptionSpec>& options) {
  po::options_description description;
  for (const auto& option : options) {
    const auto name = option.name + (option.letter != 0 ? std::string(",") + option.letter : "");
    if (option.argument.empty()) description.add_options()(name.c_str(), "");
    else description.add_options()(name.c_str(), po::value<std::string>(), "");
  }
  return description;
}

// What is wrong with the value of one option; "" when nothing is.
std::string value_fault(const OptionSpec& option, const std::string& value) {
  if (option.argument.empty()) return "";
  const auto given = "'" + text::printable(value) + "'";
  if (!option.choices.empty() && std::find(option.choices.begin(), option.choices.end(), value) == option.choices.end()) {
    return given + " is no " + option.argument + " for --" + option.name;
  }
  if (option.name == "width") {
    const auto number = text::parse_number(value);
    const bool whole = number && *number == static_cast<double>(static_cast<long>(std::clamp(*number, -1e9, 1e9)));
    if (!whole || (*number != 0 && (*number < least_width || *number > most_width))) return given + " is no width";
  }
  if (value.empty()) return "--" + option.name + " needs a value, not an empty text";
  return "";
}

std::string value_hint(const OptionSpec& option, const std::string& value) {
  if (option.name == "width") return "a whole number from 40 to 400, or 0 for the default";
  return option.choices.empty() ? "" : text::suggestion(value, option.choices);
}

UsageProblem unknown_option(std::string name, const std::vector<OptionSpec>& options) {
  std::vector<std::string> names;
  for (const auto& option : options) names.push_back("--" + option.name);
  name = text::printable(name);
  // A shortened name is not carried out, but named in full.
  for (const auto& known : names) {
    if (name.size() > 2 && known.starts_with(name)) return {"unknown option '" + name + "'", "did you mean '" + known + "'?"};
  }
  return {"unknown option '" + name + "'", text::suggestion(name, names, 0)};
}

std::optional<UsageProblem> collect(const std::vector<po::option>& parsed, const std::vector<OptionSpec>& options, CommandLine& line) {
  for (const auto& found : parsed) {
    if (found.string_key.empty()) {
      line.operands.insert(line.operands.end(), found.value.begin(), found.value.end());
      continue;
    }
    const auto* option = find_option(options, found.string_key);
    const auto value = found.value.empty() ? std::string() : found.value.front();
    if (line.has(found.string_key)) return UsageProblem{"--" + found.string_key + " is given twice", ""};
    if (const auto fault = value_fault(*option, value); !fault.empty()) return UsageProblem{fault, value_hint(*option, value)};
    line.values[found.string_key] = value;
  }
  return std::nullopt;
}

std::optional<UsageProblem> operand_fault(const CommandLine& line) {
  if (line.command == nullptr || line.has("help") || line.has("version")) return std::nullopt;
  const auto count = line.operands.size();
  const auto usage = "leadline " + line.command->name + (line.command->operands.empty() ? "" : " " + line.command->operands);
  if (count < line.command->least_operands) return UsageProblem{"'" + line.command->name + "' needs " + line.command->operands, "usage: " + usage};
  if (count > line.command->most_operands) {
    return UsageProblem{"too many words after '" + line.command->name + "': '" + text::printable(line.operands.back()) + "'", "usage: " + usage};
  }
  for (const auto& operand : line.operands) {
    if (operand.empty()) return UsageProblem{"an empty name after '" + line.command->name + "'", "usage: " + usage};
    const auto& words = line.command->words;
    if (!words.empty() && std::find(words.begin(), words.end(), operand) == words.end()) {
      return UsageProblem{"'" + line.command->name + "' does not know '" + text::printable(operand) + "'", text::suggestion(operand, words)};
    }
  }
  return std::nullopt;
}

UsageProblem unknown_command(const std::string& name) {
  return {"unknown command '" + text::printable(name) + "'", text::suggestion(name, command_names())};
}

}  // namespace

std::optional<std::string> CommandLine::value(const std::string& option) const {
  const auto found = values.find(option);
  return found == values.end() ? std::nullopt : std::optional(found->second);
}

std::variant<CommandLine, UsageProblem> parse_command_line(const std::vector<std::string>& arguments) {
  CommandLine line;
  auto rest = arguments;
  const auto position = command_position(arguments);
  if (position < arguments.size() && arguments[position] != "--") {
    line.command = find_command(arguments[position]);
    if (line.command == nullptr) return unknown_command(arguments[position]);
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(position));
  }
  const auto options = options_of(line.command);
  const auto description = described(options);
  // Without allow_guessing: '--js' is an error that names '--json', so new options can be added later.
  const int style = po::command_line_style::unix_style & ~po::command_line_style::allow_guessing;
  try {
    const auto parsed = po::command_line_parser(rest).options(description).style(style).run();
    if (auto problem = collect(parsed.options, options, line)) return *problem;
  } catch (const po::unknown_option& unknown) {
    return unknown_option(unknown.get_option_name(), options);
  } catch (const po::error& error) {
    return UsageProblem{text::printable(error.what()), ""};
  }
  if (auto problem = operand_fault(line)) return *problem;
  return line;
}

std::optional<int> asked_width(const CommandLine& line) {
  const auto written = line.value("width");
  if (!written) return std::nullopt;
  return static_cast<int>(text::parse_number(*written).value_or(0));
}

std::uint64_t whole_number(const CommandLine& line, const std::string& option, std::uint64_t otherwise, std::uint64_t least, std::uint64_t most) {
  const auto typed = line.value(option);
  if (!typed) return otherwise;
  const auto number = text::parse_number(*typed);
  if (!number || *number != static_cast<double>(static_cast<std::uint64_t>(std::max(*number, 0.0))) || *number < static_cast<double>(least) || *number > static_cast<double>(most)) {
    throw Failure(bad_usage, "--" + option + " needs a whole number from " + std::to_string(least) + " to " + std::to_string(most) + ", not '" + text::printable(*typed) + "'");
  }
  return static_cast<std::uint64_t>(*number);
}

}  // namespace leadline::cli
