#include "cli/run.h"

#include <spdlog/sinks/ostream_sink.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <iterator>
#include <limits>
#include <ostream>
#include <sstream>
#include <stdexcept>

#include "cli/embedded.h"
#include "cli/files.h"
#include "cli/pager.h"
#include "cli/session.h"
#include "engine/knowledge/reader.h"
#include "engine/text/number.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

// A logger of our own on `err`: the default one would write to standard output and spoil --json.
std::shared_ptr<spdlog::logger> logger_to(std::ostream& err, const std::string& level) {
  auto logger = std::make_shared<spdlog::logger>("leadline", std::make_shared<spdlog::sinks::ostream_sink_st>(err));
  logger->set_pattern("leadline: %l: %v");
  logger->set_level(spdlog::level::from_str(level));
  return logger;
}

knowledge::KnowledgeBase load_knowledge(const Session& session, const CommandLine& line) {
  const auto folder = line.value("knowledge");
  const auto files = folder ? read_folder(*folder) : embedded_knowledge();
  auto loaded = knowledge::read_knowledge(files);
  const auto rendered = text::render(loaded.problems, files);
  if (!loaded.value) throw Failure(folder ? bad_data : internal_mistake, rendered);
  if (!rendered.empty()) session.log->warn("{}", rendered);
  session.log->info("knowledge base: {} files, {} causes, {} findings", files.size(), loaded.value->causes.size(), loaded.value->findings.size());
  return std::move(*loaded.value);
}

// All that a helpdesk asks first.
Page version_page(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  std::size_t rules = 0;
  for (const auto& cause : base.causes) rules += cause.rules.size();
  const auto count = [](std::size_t number, const char* what) { return std::to_string(number) + " " + what; };
  const auto folder = line.value("knowledge");
  auto page = session.page();
  page.line("leadline " LEADLINE_VERSION);
  page.line("Knowledge base: " + count(base.causes.size(), "causes, ") + count(base.findings.size(), "findings, ") + count(rules, "rules, ") +
            count(base.checks.size(), "checks, ") + count(base.remedies.size(), "remedies, ") + count(base.facts.size(), "facts of the installation.") +
            (folder ? " Read from '" + text::printable(*folder) + "'." : " Built in."));
  page.line("Its digest: " + base.digest);
  page.line(std::string("Here: ") + (session.around.utf8 ? "UTF-8" : "ASCII") + ", lines of " + std::to_string(session.width) + " characters, " +
            (session.around.out_is_terminal ? "at a terminal." : "not at a terminal."));
  return page;
}

// A command that reads the book. One that stops tidily, when it is told to stop, looks for that itself; the others end at once.
struct WithTheBook {
  std::string_view name;
  ExitCode (*run)(const Session&, const knowledge::KnowledgeBase&, const CommandLine&);
  bool stops_tidily = false;
};
constexpr WithTheBook commands_with_the_book[] = {
    {"diagnose", run_diagnose, true}, {"jobs", run_jobs}, {"rank", run_rank}, {"sheet", run_sheet}, {"expect", run_expect},
    {"review", run_review},           {"show", run_show}, {"find", run_find}, {"list", run_list},   {"trial", run_trial, true},
    {"practise", run_practise, true},
};

const WithTheBook& with_the_book(const std::string& name) {
  const auto found = std::find_if(std::begin(commands_with_the_book), std::end(commands_with_the_book), [&](const auto& command) { return command.name == name; });
  if (found == std::end(commands_with_the_book)) throw std::logic_error("nothing runs the command '" + name + "'");
  return *found;
}

ExitCode run_command(const Session& session, const CommandLine& line) {
  if (line.has("help")) {
    session.print(line.command != nullptr && line.command->name != "help" ? command_help(*line.command, session.width) : full_help(session.width));
    return done;
  }
  if (line.command == nullptr && !line.has("version")) {
    session.print(short_help(session.width));
    return done;
  }
  if (line.command != nullptr && line.command->name == "help" && !line.has("version")) return run_help(session, line);
  if (line.command != nullptr && line.command->name == "completion" && !line.has("version")) return run_completion(session, line);
  if (line.command != nullptr && line.command->name == "audit" && !line.has("version")) return run_audit(session, line);
  const auto base = load_knowledge(session, line);
  if (line.has("version")) {
    session.print(version_page(session, base, line));
    return done;
  }
  const auto& command = with_the_book(line.command->name);
  if (command.stops_tidily && session.around.heed_stopping) session.around.heed_stopping();
  return command.run(session, base, line);
}

bool is_read_aloud(const CommandLine& line, const Surroundings& surroundings) {
  return line.has("screen-reader") || !variable_of(surroundings, "ACCESSIBLE").value_or("").empty();
}

// What talks with a person shows each line at once; all else may be longer than the screen.
bool may_be_paged(const Session& session, const CommandLine& line) {
  const auto& surroundings = session.around;
  const bool talks = line.command != nullptr && (line.command->name == "diagnose" || line.command->name == "practise") && !line.has("help");
  return !talks && !line.has("no-pager") && !session.read_aloud && surroundings.show_through && !pager_for(surroundings, std::numeric_limits<std::size_t>::max()).empty();
}

// The command's output through a pager, when it turns out to be longer than the screen.
int run_paged(const Session& session, const CommandLine& line) {
  std::ostringstream kept;
  const auto show = [&] {
    const auto text = kept.str();
    const auto pager = pager_for(session.around, static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')));
    if (pager.empty() || !session.around.show_through(pager, text)) session.out << text;
  };
  try {
    const int code = run_command(Session{session.in, kept, session.err, session.around, session.width, session.log, session.read_aloud}, line);
    show();
    return code;
  } catch (const Failure&) {
    show();
    throw;
  }
}

int report_usage(const UsageProblem& problem, std::ostream& err) {
  err << "leadline: " << problem.what << (problem.hint.empty() ? "" : "; " + problem.hint) << "\n"
      << "leadline: 'leadline help' shows what there is\n";
  return bad_usage;
}

// What was printed must have arrived: a full disk is no success.
int after_printing(int code, std::ostream& out, std::ostream& err) {
  if (out.flush() || code >= hung_up) return code;  // a terminal that is gone takes nothing
  out.clear();
  errno = 0;
  out << '\n' << std::flush;  // once more, for the system's reason: that of the first failure is long overwritten
  err << "leadline: cannot write to standard output" << (errno != 0 ? std::string(": ") + std::strerror(errno) : "") << "\n";
  return input_output_failed;
}

}  // namespace

std::string program_version() { return LEADLINE_VERSION; }

void Session::print(std::string_view text) const {
  const auto shown = read_aloud ? without_blocks(text) : std::string(text);
  out << (around.utf8 ? shown : ascii(shown));
}
void Session::complain(std::string_view text) const {
  err << (around.utf8 ? std::string(text) : ascii(text)) << (text.ends_with('\n') ? "" : "\n");
}

int run(const std::vector<std::string>& arguments, std::istream& in, std::ostream& out, std::ostream& err, const Surroundings& surroundings) {
  try {
    const auto parsed = parse_command_line(arguments);
    if (const auto* problem = std::get_if<UsageProblem>(&parsed)) return report_usage(*problem, err);
    const auto& line = std::get<CommandLine>(parsed);
    const Session session{in, out, err, surroundings, width_for(surroundings, asked_width(line)), logger_to(err, line.value("log-level").value_or("warn")), is_read_aloud(line, surroundings)};
    try {
      return after_printing(may_be_paged(session, line) ? run_paged(session, line) : run_command(session, line), out, err);
    } catch (const Failure& failure) {
      out.flush();
      if (told_to_stop(surroundings)) return session.complain("leadline: stopped"), stopping_code(surroundings);
      const std::string what = failure.what();
      session.complain(failure.code() == bad_data && what.find(": error: ") != std::string::npos ? what : "leadline: " + what);
      return failure.code();
    }
  } catch (const std::exception& mistake) {
    err << "leadline: sorry, this is a mistake of ours, not yours: " << mistake.what() << "\n"
        << "leadline: please report it with the command and the files that led here\n";
    return internal_mistake;
  }
}

}  // namespace leadline::cli
