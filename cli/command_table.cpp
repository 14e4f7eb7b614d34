// The table of commands. Every example is run by tests/cli/examples_test.cpp; help, manual page and completion are written from it.
#include "cli/command_line.h"
#include "cli/exit_codes.h"

namespace leadline::cli {

namespace {

CommandSpec diagnose_spec() {
  return {"diagnose",
          "",
          "talk through a call-out, from the complaint to the cause",
          0,
          0,
          {{"installation", "FILE", "what is fitted on board; without it a few questions are asked", {}, 0},
           {"role", "WHO", "technician (the default), owner, or helpdesk: somebody at a desk with an owner on the telephone; nobody is offered a check beyond the role", {"owner", "technician", "helpdesk"}, 0},
           {"instrument", "CLASS", "pocket, good or poor meter (default pocket)", {"pocket", "good", "poor"}, 0},
           {"afloat", "", "the boat floats (the default); what cannot be done there is not proposed", {}, 0},
           {"hauled", "", "the boat stands ashore", {}, 0},
           {"helper", "", "a second person stands by; else somebody aboard is called when one is needed", {}, 0},
           {"alone", "", "nobody can be called", {}, 0},
           {"without", "TOOLS", "tools that are not in the bag, with commas between, for instance multimeter,torch (a wrong name lists them all)", {}, 0},
           {"with", "TOOLS", "tools beyond the usual bag, with commas between", {}, 0},
           {"dark", "", "no daylight", {}, 0},
           {"no-engine", "", "the engine may not run", {}, 0},
           {"job", "NAME", "keep every answer under this name as it is given, or go on with the job of that name", {}, 0},
           {"from", "NAME", "with --job: the new job begins as a copy of this one", {}, 0},
           {"record", "FILE", "write the call-out as a case file at the end", {}, 0},
           {"no-input", "", "ask nothing: show what is most common on this boat and the first check", {}, 0}},
          {"At every question: a number, a word or a reading; or ? (help), list, back, why, why 2, why not, can't tell, not fitted, not safe, later, reminders, other, also, again 2, what-if 2, note, dispatch, stop.",
           "By phone (--role helpdesk): what stands under 'Read aloud' and 'Ask' is for the caller, the rest for the desk. 'later' puts off what must wait and reminds of it; docs/by-phone.md.",
           "A job is kept in $XDG_STATE_HOME/leadline/jobs (~/.local/state/leadline/jobs); a NAME with a '/' is a file of its own. At a terminal a call-out is always kept.",
           "Answers may be piped in, one a line. End of input ends the talk with what is known so far; when nothing at all was answered the exit code is 66."},
          {"leadline diagnose", "leadline diagnose --role owner", "leadline diagnose --role helpdesk --job Teal", "leadline diagnose --installation boat.xml --record case.xml"}};
}

CommandSpec rank_spec() {
  return {"rank",
          "CASE.xml|-",
          "rank the causes of a recorded call-out, without questions",
          1,
          1,
          {{"json", "", "for programs: one JSON object", {}, 0}, {"all", "", "every explanation, not only the first five", {}, 0}},
          {"'-' reads the case from standard input. The exit code is 1 when the answers argue with one another or nothing listed fits them."},
          {"leadline rank case.xml", "leadline rank --json - < case.xml"}};
}

CommandSpec sheet_spec() {
  return {"sheet",
          "JOB|CASE.xml|-",
          "write a call-out's sheet, for the customer and the office",
          1,
          1,
          {{"as", "FORM", "text (the default), html (one file that prints and needs no network) or json", {"text", "html", "json"}, 0},
           {"output", "FILE", "write it to this file instead of standard output ('-'); a file that is there is replaced as a whole", {}, 0}},
          {"JOB is the name of a job that is kept ('leadline jobs' lists them); what holds a '/' or ends in .xml is a file, '-' standard input: a recorded call-out or a job.",
           "docs/sheet.md says what stands where; docs/sheet-json.md describes the JSON."},
          {"leadline sheet case.xml --as html --output sheet.html"}};
}

CommandSpec show_spec() {
  return {"show",
          "ID",
          "print one page of the book: a cause, finding, check, remedy ...",
          1,
          1,
          {{"kind", "KIND", "only the page of this kind", {"cause", "finding", "check", "remedy", "precaution", "source"}, 0},
           {"installation", "FILE", "the boat whose limits and strengths are shown; without it a boat as most are", {}, 0},
           {"sources", "", "every number instead: its value, where it comes from, how sure it is", {}, 0}},
          {"An id that names things of several kinds prints them all. An unknown id: exit code 65.",
           "The page of a source lists what leans on it. --sources also knows the ids of circuits, places and conditions."},
          {"leadline show push", "leadline show upper-half-tap --sources", "leadline show --kind finding push"}};
}

CommandSpec expect_spec() {
  return {"expect",
          "INSTALLATION.xml|-",
          "compute what every electrical measurement in a boat should read",
          1,
          1,
          {{"cause", "ID", "only what this cause would change, with the chances of each band as computed and as written", {}, 0},
           {"all", "", "under every cause, not only the four most frequent", {}, 0}},
          {"A recorded call-out may be given as well: its installation is used. '-' reads standard input."},
          {"leadline expect boat.xml", "leadline expect boat.xml --cause positive-lug-bad"}};
}

CommandSpec review_spec() {
  return {"review",
          "INSTALLATION.xml|-",
          "say what is wrong in the record of a boat",
          1,
          1,
          {{"json", "", "for programs: one JSON object", {}, 0}},
          {"A recorded call-out may be given as well: its installation is reviewed. '-' reads standard input.",
           "The exit code is 1 when something is wrong; what is only doubtful leaves it at 0."},
          {"leadline review boat.xml", "leadline review --json - < boat.xml"}};
}

CommandSpec practise_spec() {
  return {"practise",
          "",
          "learn by simulated call-outs",
          0,
          0,
          {{"call", "NUMBER", "this call-out instead of another one each time, 1 to 999999; the same number, book and program are the same boat and fault", {}, 0}},
          {"At the prompt: words of what you want to look at or mend ('bank volts', 'lugs'), then a number of the list; or ? (help), all, list, why 2, hint, name rope, stop.",
           "At the end it says what was truly wrong, how good each choice was, and how the program would have gone about it. docs/practice.md."},
          {"leadline practise", "leadline practise --call 7"}};
}

CommandSpec trial_spec() {
  return {"trial",
          "",
          "play simulated call-outs to their end and say how well they went",
          0,
          0,
          {{"calls", "N", "so many call-outs (default 200)", {}, 0},
           {"seed", "N", "the same seed, the same call-outs (default 1)", {}, 0},
           {"policies", "LIST", "ours, information, frequency, chart, with commas between (default ours)", {}, 0},
           {"boats", "N", "so many kinds of boats are drawn (default 24)", {}, 0},
           {"replay", "N", "show call-out number N step by step instead", {}, 0},
           {"cases", "DIR", "play recorded call-outs again instead: each folder in it that holds a callout.xml", {}, 0},
           {"cores", "N", "use so many cores (default: all)", {}, 0},
           {"keep", "FILE", "write down every call-out as it is played; broken off, the same command goes on from there", {}, 0},
           {"json", "", "for programs: one JSON object", {}, 0}},
          {"What is wrong is drawn from the knowledge base itself, so a good result proves the reckoning, not the knowledge; docs/trial.md says more.",
           "Progress goes to standard error. The result is the same on any number of cores."},
          {"leadline trial --calls 8 --boats 2", "leadline trial --calls 4 --boats 2 --policies ours,information,frequency,chart --json", "leadline trial --boats 2 --replay 3"}};
}

CommandSpec audit_spec() {
  return {"audit",
          "[DIR]",
          "say what is wrong with the knowledge base itself",
          0,
          1,
          {{"report", "", "also say how far it carries: what it tells apart, how long jobs take, which numbers matter", {}, 0},
           {"cases", "DIR", "with --report: recorded call-outs, each folder in it that holds a callout.xml", {}, 0},
           {"json", "", "for programs: one JSON object", {}, 0}},
          {"Without DIR the built-in knowledge base is audited, with it the *.xml files of that folder. docs/audit.md explains the rules.",
           "The exit code is 1 when there is anything to remark, 0 when there is nothing."},
          {"leadline audit", "leadline audit --json"}};
}

CommandSpec find_spec() {
  return {"find", "WORDS...", "find symptoms by free words", 1, 64, {}, {"The exit code is 1 when nothing matches."},
          {"leadline find only clicks", "leadline find panel goes dark"}};
}

CommandSpec jobs_spec() {
  return {"jobs", "[NAME]", "list the jobs that are kept, or show one", 0, 1, {}, {"Nothing is changed. 'leadline diagnose --job NAME' goes on with one; docs/journal.md says what is kept and how it can be lost."},
          {"leadline jobs"}};
}

CommandSpec list_spec() {
  return {"list",
          "[KIND...]",
          "list what the knowledge base holds, for grep and awk",
          0,
          16,
          {},
          {"One thing a line: kind, id and title, with a tab between each; nothing is wrapped. KIND is cause, finding, check, remedy, precaution, source or tool; without it, all."},
          {"leadline list cause", "leadline list check remedy"},
          listed_kinds()};
}

CommandSpec completion_spec() {
  return {"completion",
          "SHELL",
          "print the completion script of a shell: bash, zsh or fish",
          1,
          1,
          {},
          {"bash: leadline completion bash > ~/.local/share/bash-completion/completions/leadline",
           "zsh: leadline completion zsh > _leadline, in a folder of $fpath. fish: leadline completion fish > ~/.config/fish/completions/leadline.fish",
           "A package installs all three."},
          {"leadline completion bash"},
          {"bash", "zsh", "fish"}};
}

CommandSpec help_spec() {
  return {"help",
          "[COMMAND]",
          "this help, or the help of one command",
          0,
          1,
          {{"manual", "", "the manual page instead, for man: leadline help --manual | man -l -", {}, 0}},
          {},
          {"leadline help diagnose", "leadline help --manual"}};
}

}  // namespace

std::span<const CommandSpec> command_specs() {
  static const std::vector<CommandSpec> specs{diagnose_spec(), jobs_spec(), rank_spec(), sheet_spec(), expect_spec(), review_spec(), show_spec(), practise_spec(), trial_spec(), audit_spec(), find_spec(),
                                              list_spec(), completion_spec(), help_spec()};
  return specs;
}

const std::vector<OptionSpec>& global_options() {
  static const std::vector<OptionSpec> options{
      {"help", "", "show help and end", {}, 'h'},
      {"version", "", "show the version, the knowledge base and the surroundings, and end", {}, 0},
      {"knowledge", "DIR", "read the *.xml files of a folder instead of the built-in knowledge base", {}, 0},
      {"width", "N", "wrap lines at N characters, 40 to 400 (0: the default, 80)", {}, 0},
      {"no-pager", "", "at a terminal: do not show long output through a pager", {}, 0},
      {"screen-reader", "", "leave out what reads badly aloud: the bars of a ranking, and the pager", {}, 0},
      {"log-level", "LEVEL", "messages on standard error: trace, debug, info, warn, error or off (default warn)",
       {"trace", "debug", "info", "warn", "error", "off"}, 0}};
  return options;
}

const std::vector<std::string>& listed_kinds() {
  static const std::vector<std::string> kinds{"cause", "finding", "check", "remedy", "precaution", "source", "tool"};
  return kinds;
}

std::span<const CodeSpec> exit_code_specs() {
  static const std::vector<CodeSpec> codes{
      {done, "done"},
      {done_with_findings, "done, with findings: the answers argue with one another, nothing listed fits them, something is wrong in a record or in the knowledge base, or nothing was found"},
      {bad_usage, "the command line is wrong"},
      {bad_data, "a file is wrong, or an id names nothing"},
      {input_missing, "a file is missing, or no answer was given"},
      {internal_mistake, "a mistake of ours"},
      {cannot_create, "the file of a job cannot be made"},
      {input_output_failed, "reading or writing failed"},
      {try_again, "another process holds the job"},
      {hung_up, "stopped: the terminal was closed"},
      {interrupted, "stopped with the interrupt key"},
      {quit, "stopped with the quit key"},
      {terminated, "stopped by another program's request"}};
  return codes;
}

std::span<const VariableSpec> variable_specs() {
  static const std::vector<VariableSpec> variables{
      {"XDG_STATE_HOME, HOME", "where jobs are kept: $XDG_STATE_HOME/leadline/jobs, else ~/.local/state/leadline/jobs"},
      {"COLUMNS", "the width, when --width does not say it"},
      {"ACCESSIBLE", "not empty: as --screen-reader"},
      {"LC_ALL, LC_CTYPE, LANG", "the character set: UTF-8, or else plain ASCII. Nothing else depends on them"},
      {"PAGER", "what long output is shown through at a terminal (default: less); 'cat' or empty: nothing. LESS is set to FRX when it is not set"},
      {"TERM", "'dumb' or empty: no pager"},
      {"NO_COLOR", "has nothing to change: there is no colour, and no output moves the cursor"}};
  return variables;
}

std::vector<std::string> command_names() {
  std::vector<std::string> names;
  for (const auto& spec : command_specs()) names.push_back(spec.name);
  return names;
}

const CommandSpec* find_command(std::string_view name) {
  for (const auto& spec : command_specs()) {
    if (spec.name == name) return &spec;
  }
  return nullptr;
}

}  // namespace leadline::cli
