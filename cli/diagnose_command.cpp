// leadline diagnose: a call-out from the complaint to the remedies. Tested by tests/cli/commands_test.cpp and the golden call-outs.
#include <algorithm>
#include <filesystem>
#include <sstream>

#include "cli/boat_file.h"
#include "cli/dialogue.h"
#include "cli/files.h"
#include "cli/final_page.h"
#include "cli/job_page.h"
#include "cli/phrases.h"
#include "cli/question_page.h"
#include "cli/ranking_page.h"
#include "cli/reminders_page.h"
#include "cli/run.h"
#include "cli/session.h"
#include "cli/step_page.h"
#include "engine/callout/case_file.h"
#include "engine/markup/element.h"
#include "engine/text/spelling.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

// The tools an option names, with commas between.
std::vector<std::size_t> tools_of(const knowledge::KnowledgeBase& base, const CommandLine& line, const std::string& option) {
  std::istringstream words(line.value(option).value_or(""));
  std::vector<std::size_t> named;
  for (std::string word; std::getline(words, word, ',');) {
    const auto id = markup::fold_blanks(word);
    const auto tool = knowledge::find_id(base.tools, id);
    const auto ids = knowledge::ids_of(base.tools);
    if (!tool) throw Failure(bad_usage, "no tool '" + text::printable(id) + "' for --" + option + "; " + text::suggestion(id, ids, ids.size()));
    named.push_back(tool->index);
  }
  return named;
}

void mark_tools(const knowledge::KnowledgeBase& base, const CommandLine& line, planning::Bounds& bounds) {
  for (const auto& tool : base.tools) bounds.missing.push_back(!tool.usual);
  const auto with = tools_of(base, line, "with"), without = tools_of(base, line, "without");
  for (const auto tool : with) bounds.missing[tool] = false;
  for (const auto tool : without) {
    const bool both = std::find(with.begin(), with.end(), tool) != with.end();
    if (both) throw Failure(bad_usage, "--with and --without both name '" + base.tools[tool].id + "'; give one");
    bounds.missing[tool] = true;
  }
}

planning::Bounds bounds_of(const knowledge::KnowledgeBase& base, const CommandLine& line) {
  planning::Bounds bounds;
  mark_tools(base, line, bounds);
  if (line.has("afloat") && line.has("hauled")) throw Failure(bad_usage, "--afloat and --hauled contradict each other; give one");
  if (line.has("alone") && line.has("helper")) throw Failure(bad_usage, "--alone and --helper contradict each other; give one");
  if (line.has("hauled")) bounds.water = knowledge::Water::ashore;
  if (line.has("alone")) bounds.hands = planning::Hands::alone;
  if (line.has("helper")) bounds.hands = planning::Hands::helper;
  bounds.daylight = !line.has("dark");
  bounds.engine_may_run = !line.has("no-engine");
  return bounds;
}

Setup setup_of(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  Setup setup;
  setup.bounds = bounds_of(base, line);
  if (line.value("role") == "owner" || line.value("role") == "helpdesk") setup.role = knowledge::Who::owner;
  if (line.value("role") == "helpdesk") setup.bounds.by_phone = base.by_phone;
  setup.instrument = diagnosis::instrument_class_of(line.value("instrument").value_or("pocket")).value_or(setup.instrument);
  const auto file = line.value("installation");
  if (!file) return setup;
  if (*file == "-") throw Failure(bad_usage, "--installation needs a file: standard input is for the answers");
  setup.installation = load_boat(session, base, *file);
  return setup;
}

void save(const Session& session, const Conversation& conversation, const std::optional<std::string>& file) {
  if (!file) return;
  write_file(*file, callout::to_xml(conversation.base(), conversation.record()));
  session.tell("leadline: saved as " + text::printable(*file) + "; rank it with: leadline rank " + text::printable(*file));
}

// Said before anything is reckoned, which takes its time.
void open_talk(const Session& session, knowledge::Who role, bool by_phone, bool asks) {
  auto page = session.page();
  page.append(safety_page(role, by_phone, session.width)).blank();
  if (asks) page.append(hint_page(session.width));
  session.print(page);
  session.out.flush();
}

std::unique_ptr<Conversation> new_talk(const Session& session, const knowledge::KnowledgeBase& base, Setup setup, bool asks) {
  open_talk(session, setup.role, setup.bounds.by_phone.has_value(), asks);
  return std::make_unique<Conversation>(base, std::move(setup));
}

// Without questions: what the boat alone says, and the first check.
ExitCode without_questions(const Session& session, const Conversation& conversation, const std::optional<std::string>& record) {
  const auto& assessment = conversation.assessment();
  auto page = session.page();
  page.append(ranking_page(assessment, shown_explanations, session.width));
  const auto advice = planning::advise(conversation.job());
  page.blank().append(step_page(assessment, advice.proposals.front(), advice, "First check: ", session.width));
  session.print(page);
  save(session, conversation, record);
  return done;
}

// What one call-out is held with. The file comes first: it outlives what writes to it.
struct Held {
  std::optional<JobFile> file;
  std::unique_ptr<Conversation> conversation;
  std::string name;  // of the job, for messages
};

const std::vector<std::string>& setup_options() {
  static const std::vector<std::string> options{"installation", "role", "instrument", "afloat", "hauled", "helper", "alone", "without", "with", "dark", "no-engine"};
  return options;
}

// `role`: of the job that is begun already; the same one again is no other beginning.
std::string setup_option_in(const CommandLine& line, const std::string& role = "") {
  for (const auto& option : setup_options()) {
    const bool the_same = option == "role" && line.value("role") == role;
    if (line.has(option) && !the_same) return option;
  }
  return "";
}

// One line typed, in small letters; nothing when the input has ended.
std::optional<std::string> asked(const Session& session, const Page& page) {
  session.print(page);
  const auto line = prompted_line(session);
  if (line.kind == TypedLine::Kind::end) return std::nullopt;
  return normalised(line.text);
}

// What was put off to wait for: first of all when a job goes on, and last when it ends.
Page waiting_page(const Session& session, const Conversation& conversation) {
  return reminders_page(conversation.progress().waiting, now_of(session.around), session.width);
}

Held begun(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line, const std::string& name) {
  Held held;
  auto setup = setup_of(session, base, line);
  const bool with_record = setup.installation.has_value();
  held.conversation = new_talk(session, base, std::move(setup), true);
  auto head = callout::head_of(base, held.conversation->record());
  head.at = now_of(session.around);
  head.program = program_version();
  if (with_record) head.installation = installation::to_xml(held.conversation->record().installation);
  held.file = JobFile::begin(job_path(session.around, name), head);
  held.name = name;
  session.tell("leadline: kept as the job '" + text::printable(name) + "'");
  return held;
}

Held gone_on(const Session& session, const knowledge::KnowledgeBase& base, const std::string& name) {
  Held held;
  held.name = name;
  held.file = JobFile::open(job_path(session.around, name), now_of(session.around));
  auto first = session.page().line("The job '" + text::printable(name) + "' goes on.");
  if (!held.file->remark().empty()) first.line(held.file->remark());
  session.print(first.blank());
  const auto& head = held.file->journal().head;
  open_talk(session, callout::role_of(head), callout::bounds_of(base, head).by_phone.has_value(), true);
  auto resumed = resume(base, held.file->journal());
  held.conversation = std::move(resumed.conversation);
  auto page = session.page().line("\n");
  page.append(waiting_page(session, *held.conversation));
  page.append(carried_page(resumed, session.width)).append(standing_page(*held.conversation, held.file->journal(), session.width));
  held.file->append({now_of(session.around), callout::ResumeEvent{program_version()}});
  if (resumed.taken_over) held.file->append({now_of(session.around), *resumed.taken_over});
  // Whoever goes on with a job that somebody else was called in for is that somebody, or knows more now.
  if (held.conversation->ending() == Ending::called_in && held.conversation->back()) held.file->append({now_of(session.around), callout::UndoEvent{}});
  session.print(page);
  return held;
}

// The job that was worked on last, when it is not finished.
std::optional<std::string> unfinished(const std::string& folder, callout::Journal& journal) {
  for (const auto& job : found_jobs(folder)) {
    try {
      journal = look_at_job(job.path);
    } catch (const Failure&) {
      continue;  // 'leadline jobs' says what is wrong with it
    }
    return is_over(journal) || journal.events.empty() ? std::nullopt : std::optional(job.name);
  }
  return std::nullopt;
}

std::string name_of_now(const Surroundings& around) {
  auto words = time_words(now_of(around)).substr(0, 16);
  std::replace(words.begin(), words.end(), ':', '.');
  std::string name = "call " + words;
  std::error_code error;
  for (int number = 2; std::filesystem::exists(job_path(around, name), error); ++number) name = "call " + words + " " + std::to_string(number);
  return name;
}

// At a terminal and without a name: the unfinished one is offered, and a new one is kept as well. Nothing when the person would rather stop.
std::optional<Held> offered(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  try {
    callout::Journal journal;
    const auto open = setup_option_in(line).empty() ? unfinished(jobs_folder(session.around), journal) : std::nullopt;
    if (open) {
      auto page = session.page().line("The job '" + text::printable(*open) + "', begun " + time_words(journal.head.at) + ", is " + state_words(journal) + ".");
      const auto typed = asked(session, page.line("Enter: go on with it; n: begin another; stop: end.", 2));
      if (!typed || *typed == "stop") return std::nullopt;
      if (typed->empty() || *typed == "y" || *typed == "yes") return gone_on(session, base, *open);
    }
    return begun(session, base, line, name_of_now(session.around));
  } catch (const Failure& failure) {
    if (failure.code() == bad_usage || failure.code() == bad_data || failure.code() == input_missing) throw;
    const auto typed = asked(session, session.page().line(std::string("This call-out cannot be kept: ") + failure.what() + ".").line("Enter: go on without keeping it; stop: end.", 2));
    if (!typed || !typed->empty()) return std::nullopt;
    Held held;
    held.conversation = new_talk(session, base, setup_of(session, base, line), true);
    return held;
  }
}

Held named(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line, const std::string& name) {
  const auto path = job_path(session.around, name);
  if (const auto from = line.value("from")) JobFile::copy(job_path(session.around, *from), path);
  std::error_code error;
  if (std::filesystem::symlink_status(path, error).type() == std::filesystem::file_type::not_found) return begun(session, base, line, name);
  const auto role = line.has("role") ? look_at_job(path).head.role : std::string();
  if (const auto option = setup_option_in(line, role); !option.empty()) {
    throw Failure(bad_usage, "--" + option + " belongs to the beginning of a job, and '" + text::printable(name) + "' is begun already; leave it out, or begin another job");
  }
  return gone_on(session, base, name);
}

std::optional<Held> held_with(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  const auto name = line.value("job");
  if (line.has("from") && !name) throw Failure(bad_usage, "--from needs --job NAME: the name of the copy");
  if (name && line.has("no-input")) throw Failure(bad_usage, "--no-input asks nothing, so there is nothing to keep; leave out --job");
  if (name) return named(session, base, line, *name);
  if (session.around.in_is_terminal && !line.has("no-input")) return offered(session, base, line);
  Held held;
  held.conversation = new_talk(session, base, setup_of(session, base, line), !line.has("no-input"));
  return held;
}

const char* ending_word(Ending ending) {
  switch (ending) {
    case Ending::stopped: return "stopped";
    case Ending::proved: return "proved";
    case Ending::called_in: return "called-in";
    default: return "input-ended";
  }
}

ExitCode closing(const Session& session, const Conversation& conversation, JobKeeper& keeper, const std::optional<std::string>& record) {
  keeper.ended(ending_word(conversation.ending()));
  const bool nothing_said = conversation.ending() == Ending::input_ended && conversation.record().answers.empty();
  session.print(session.page().append(final_page(conversation, session.width)));
  const auto* file = keeper.file();
  auto page = notes_page(file != nullptr ? callout::notes_of(file->journal()) : keeper.notes(), session.width);
  if (file != nullptr) page.blank().append(minutes_page(conversation.base(), file->journal(), session.width));
  if (!page.empty()) session.print(session.page().line("\n").append(page));
  if (const auto reminders = waiting_page(session, conversation); !reminders.empty()) session.print(session.page().line("\n").append(reminders));
  save(session, conversation, record);
  if (nothing_said) {
    session.tell("leadline: the input ended before any answer; type answers, pipe them in one a line, or use --no-input");
    return input_missing;
  }
  return disagree(conversation.assessment()) ? done_with_findings : done;
}

}  // namespace

ExitCode run_diagnose(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  const auto record = line.value("record");
  if (record) {
    const auto why = why_not_writable(*record);  // before the first question, not after the last
    if (!why.empty()) throw Failure(input_output_failed, why);
  }
  auto held = held_with(session, base, line);
  if (!held) return told_to_stop(session.around) ? stopping_code(session.around) : done;
  auto& conversation = *held->conversation;
  if (line.has("no-input")) return without_questions(session, conversation, record);
  JobKeeper keeper(held->file ? &*held->file : nullptr, session.around);
  Dialogue dialogue(session, conversation, keeper);
  if (!dialogue.hold()) {
    keeper.ended("interrupted");
    save(session, conversation, record);
    session.tell(keeper.keeps() ? "leadline: stopped; all answers are kept, go on with: leadline diagnose --job '" + text::printable(held->name) + "'"
                     : record       ? "leadline: stopped; the answers so far are kept"
                                    : "leadline: stopped; the answers were not kept (--record FILE keeps them)");
    return stopping_code(session.around);
  }
  session.print("\n");
  return closing(session, conversation, keeper, record);
}

}  // namespace leadline::cli
