#include "cli/sheet_matter.h"

#include <algorithm>
#include <filesystem>

#include "cli/case_input.h"
#include "cli/files.h"
#include "cli/job_page.h"
#include "engine/text/sha256.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

namespace fs = std::filesystem;

bool names_file(const std::string& given) { return given == "-" || given.find('/') != std::string::npos || given.ends_with(".xml"); }

bool is_journal(const std::string& given, const std::string& content) { return given.ends_with(".job") || content.starts_with("0 "); }

text::Source job_named(const Session& session, const std::string& name) {
  const auto path = job_path(session.around, name);
  std::error_code error;
  if (!fs::exists(path, error) && fs::exists(name, error)) {
    const auto shown = "'" + text::printable(name) + "'";
    throw Failure(input_missing, "there is no job " + shown + "; the file of that name is meant with './" + text::printable(name) + "'");
  }
  return read_job(path);
}

// So many of the answers that stand were given before it.
std::vector<SheetNote> notes_in(const callout::Journal& journal, const std::vector<callout::Time>& answered) {
  std::vector<SheetNote> notes;
  for (const auto& note : callout::notes_of(journal)) {
    const auto before = std::count_if(answered.begin(), answered.end(), [&](callout::Time at) { return at <= note.at; });
    notes.push_back({static_cast<std::size_t>(before), note.words, note.at == 0 ? "" : time_words(note.at)});
  }
  return notes;
}

SheetTimes times_of(const callout::Journal& journal) {
  const auto last = journal.events.empty() ? journal.head.at : journal.events.back().at;
  return {time_words(journal.head.at), time_words(last), static_cast<double>((callout::worked(journal) + 30) / 60), state_words(journal)};
}

std::vector<std::string> losses_of(const callout::Journal& journal, const std::vector<callout::Carried>& carried) {
  std::vector<std::string> losses;
  if (!journal.trouble.empty()) losses.push_back("Not all of the job's file can be read: " + journal.trouble + ".");
  for (const auto& line : carried) {
    if (line.fate != callout::Fate::kept) losses.push_back("Left out, for the job was told under another knowledge base: " + line.what + " (" + line.why + ").");
  }
  return losses;
}

SheetMatter matter_of_job(const knowledge::KnowledgeBase& base, const text::Source& file, const std::string& name) {
  const auto journal = journal_in(file);
  auto job = job_under(base, journal);
  if (!name.empty()) job.record.title = name;
  std::vector<knowledge::Ref<knowledge::Check>> checks;
  for (const auto& id : job.taken_over.checks) checks.push_back(*knowledge::find_id(base.checks, id));
  return {.base = base, .record = std::move(job.record), .program = "", .book_digest = "", .record_digest = text::sha256(file.content), .times = times_of(journal),
          .notes = notes_in(journal, job.answered), .checks = std::move(checks), .losses = losses_of(journal, job.carried)};
}

}  // namespace

SheetMatter sheet_matter(const Session& session, const knowledge::KnowledgeBase& base, const std::string& given) {
  if (!names_file(given)) return matter_of_job(base, job_named(session, given), given);
  const auto file = read_file_or(given, session.in);
  if (is_journal(given, file.content)) return matter_of_job(base, file, given == "-" ? "" : fs::path(given).stem().string());
  return {.base = base, .record = case_from(session, base, file), .program = "", .book_digest = "", .record_digest = text::sha256(file.content)};
}

}  // namespace leadline::cli
