#include "cli/manual_page.h"

#include <sstream>

#include "cli/command_line.h"
#include "cli/layout.h"

namespace leadline::cli {

namespace {

// Words that the formatter takes as they are: no escapes, no hyphens for minuses, no line that looks like a request.
std::string plain(std::string_view words) {
  std::string out;
  for (const char c : ascii(words)) {
    if (c == '\\') out += "\\e";
    else if (c == '-') out += "\\-";
    else if (c == '\'') out += "\\(aq";
    else if (c == '`') out += "\\(ga";
    else if (c == '^') out += "\\(ha";
    else if (c == '~') out += "\\(ti";
    else out += c;
  }
  return out.starts_with('.') ? "\\&" + out : out;
}

// Running text, in lines that an editor and mandoc's lint find short enough.
std::string filled(std::string_view words) {
  std::istringstream lines(wrapped(words, 64));
  std::string out;
  for (std::string line; std::getline(lines, line);) out += plain(line) + "\n";
  return out;
}

std::string bold(std::string_view words) { return "\\fB" + plain(words) + "\\fR"; }
std::string slanted(std::string_view words) { return "\\fI" + plain(words) + "\\fR"; }

std::string section(std::string_view title) { return ".SH " + plain(title) + "\n"; }
std::string paragraph(std::string_view words) { return ".PP\n" + filled(words); }
std::string entry(const std::string& label, std::string_view words) { return ".TP\n" + label + "\n" + filled(words); }

std::string examples(const std::vector<std::string>& lines) {
  std::string out = ".PP\n.nf\n.RS\n";
  for (const auto& line : lines) out += bold(line) + "\n";
  return out + ".RE\n.fi\n";
}

std::string options(const std::vector<OptionSpec>& specs) {
  std::string out;
  for (const auto& option : specs) {
    const auto letter = option.letter != 0 ? bold(std::string("-") + option.letter) + ", " : "";
    out += entry(letter + bold("--" + option.name) + (option.argument.empty() ? "" : " " + slanted(option.argument)), option.help);
  }
  return out;
}

std::string usage(const CommandSpec& command) {
  return bold("leadline " + command.name) + (command.options.empty() ? "" : " [" + slanted("options") + "]") +
         (command.operands.empty() ? "" : " " + slanted(command.operands)) + "\n";
}

std::string command(const CommandSpec& spec) {
  auto out = ".SS " + plain(spec.name) + "\n" + usage(spec) + paragraph(spec.summary + ".") + options(spec.options);
  for (const auto& note : spec.notes) out += paragraph(note);
  return out + examples(spec.examples);
}

std::string head() {
  return ".TH LEADLINE 1 " LEADLINE_DATE " \"leadline " LEADLINE_VERSION "\" \"User commands\"\n" + section("NAME") +
         plain("leadline - find the fault of an electric bow or stern thruster") + "\n" + section("SYNOPSIS") + bold("leadline") + " [" + slanted("options") + "] " +
         slanted("COMMAND") + " [" + slanted("options") + "] [" + slanted("operands") + "]\n";
}

std::string description() {
  return section("DESCRIPTION") + filled("Leadline finds out why an electric bow or stern thruster does not do what it should: it asks, ranks the causes, and proposes the next check.") +
         paragraph("Options may stand anywhere on the line and are never shortened; '--' ends them. Where a file is read, '-' stands for standard input.") +
         paragraph("Results and questions go to standard output, messages to standard error. Leadline opens no network connection.") +
         paragraph("Leadline advises: local codes and licensed practice come first.");
}

}  // namespace

std::string manual_page() {
  auto page = head() + description() + section("COMMANDS");
  for (const auto& spec : command_specs()) page += command(spec);
  page += section("OPTIONS OF EVERY COMMAND") + options(global_options()) + section("EXIT STATUS");
  for (const auto& row : exit_code_specs()) page += entry(bold(std::to_string(row.code)), row.meaning);
  page += section("ENVIRONMENT");
  for (const auto& row : variable_specs()) page += entry(bold(row.name), row.meaning);
  return page;
}

}  // namespace leadline::cli
