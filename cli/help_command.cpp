// Help pages, written from the table of commands. Tested by tests/cli/golden_test.cpp.
#include "cli/manual_page.h"
#include "cli/session.h"
#include "engine/text/spelling.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

std::string usage_of(const CommandSpec& command) {
  return "leadline " + command.name + (command.options.empty() ? "" : " [options]") + (command.operands.empty() ? "" : " " + command.operands);
}

void add_options(Page& page, const std::vector<OptionSpec>& options) {
  for (const auto& option : options) {
    const auto letter = option.letter != 0 ? std::string("-") + option.letter + ", " : "";
    page.line(letter + "--" + option.name + (option.argument.empty() ? "" : " " + option.argument), 2);
    page.line(option.help, 6);
  }
}

void add_commands(Page& page) {
  page.heading("Commands:");
  for (const auto& command : command_specs()) page.item(command.name + std::string(10 - command.name.size(), ' '), command.summary);
}

void add_exit_codes(Page& page) {
  page.heading("Exit codes:");
  for (const auto& row : exit_code_specs()) {
    const auto code = std::to_string(row.code);
    page.item(code + std::string(3 - code.size(), ' '), row.meaning);
  }
}

void add_variables(Page& page) {
  page.heading("Variables of the environment:");
  for (const auto& row : variable_specs()) {
    page.line(row.name, 2);
    page.line(row.meaning, 6);
  }
}

}  // namespace

Page short_help(std::size_t width) {
  Page page(width);
  page.line("Leadline finds out why an electric bow or stern thruster does not do what it should: it asks, ranks the causes, and proposes the next check.");
  page.heading("Example:");
  page.line("leadline diagnose", 2);
  add_commands(page);
  page.blank();
  page.line("'leadline help COMMAND' tells more; 'leadline --help' shows all options and exit codes. Leadline advises: local codes and licensed practice come first.");
  return page;
}

Page full_help(std::size_t width) {
  auto page = short_help(width);
  page.heading("Options of every command:");
  add_options(page, global_options());
  add_exit_codes(page);
  add_variables(page);
  return page;
}

Page command_help(const CommandSpec& command, std::size_t width) {
  Page page(width);
  page.line("leadline " + command.name + ": " + command.summary);
  page.heading("Usage:");
  page.line(usage_of(command), 2);
  page.heading("Examples:");
  for (const auto& example : command.examples) page.line(example, 2);
  if (!command.options.empty()) {
    page.heading("Options:");
    add_options(page, command.options);
  }
  if (!command.notes.empty()) page.blank();
  for (const auto& note : command.notes) page.line(note);
  page.blank();
  page.line("Options of every command and exit codes: leadline --help");
  return page;
}

ExitCode run_help(const Session& session, const CommandLine& line) {
  if (line.has("manual")) {
    session.print(manual_page());
    return done;
  }
  if (line.operands.empty()) {
    session.print(full_help(session.width));
    return done;
  }
  if (const auto* command = find_command(line.operands.front())) {
    session.print(command_help(*command, session.width));
    return done;
  }
  const auto hint = text::suggestion(line.operands.front(), command_names());
  throw Failure(bad_usage, "no command '" + text::printable(line.operands.front()) + "'" + (hint.empty() ? "" : "; " + hint));
}

}  // namespace leadline::cli
