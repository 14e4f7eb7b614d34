// leadline jobs: what is kept, and where each job stands. Changes nothing. Tested by tests/cli/job_test.cpp.
#include "cli/job_page.h"
#include "cli/session.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

ExitCode show_job(const Session& session, const knowledge::KnowledgeBase& base, const std::string& name) {
  const auto journal = look_at_job(job_path(session.around, name));
  const auto resumed = resume(base, journal);
  auto page = session.page();
  page.line("Job " + text::printable(name));
  if (!journal.trouble.empty()) page.line("Not all of its file can be read: " + journal.trouble + ".");
  page.append(carried_page(resumed, session.width)).append(standing_page(*resumed.conversation, journal, session.width));
  session.print(page);
  return done;
}

std::string words_of(const FoundJob& job) {
  try {
    return state_words(look_at_job(job.path));
  } catch (const Failure& failure) {
    return failure.what();
  }
}

}  // namespace

ExitCode run_jobs(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  if (!line.operands.empty()) return show_job(session, base, line.operands.front());
  auto page = session.page();
  std::string folder;
  try {
    folder = jobs_folder(session.around);
  } catch (const Failure& failure) {
    session.print(page.line(std::string("No jobs are kept: ") + failure.what() + "."));
    return done;
  }
  const auto jobs = found_jobs(folder);
  if (jobs.empty()) page.line("No jobs are kept in '" + text::printable(folder) + "'.");
  for (const auto& job : jobs) page.item("-", text::printable(job.name) + ": " + words_of(job) + "; last written " + time_words(job.changed));
  session.print(page);
  return done;
}

}  // namespace leadline::cli
