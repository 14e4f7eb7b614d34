// leadline jobs: what is kept, and where each job stands. Changes nothing. Tested by tests/cli/job_test.cpp.
#include "cli/job_page.h"
#include "cli/reminders_page.h"
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
  page.append(reminders_page(resumed.conversation->progress().waiting, now_of(session.around), session.width));
  page.append(carried_page(resumed, session.width)).append(standing_page(*resumed.conversation, journal, session.width));
  session.print(page);
  return done;
}

// What is known of the job, and under it what waits.
void add_job(Page& page, const FoundJob& job, const Surroundings& around) {
  std::string words;
  std::vector<callout::Reminder> reminders;
  try {
    const auto journal = look_at_job(job.path);
    words = state_words(journal);
    if (!is_over(journal)) reminders = callout::state_of(journal).reminders;
  } catch (const Failure& failure) {
    words = failure.what();
  }
  page.item("-", text::printable(job.name) + ": " + words + "; last written " + time_words(job.changed));
  for (const auto& reminder : reminders) page.line("to do: " + reminder_words(reminder, now_of(around)), 4);
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
  for (const auto& job : jobs) add_job(page, job, session.around);
  session.print(page);
  return done;
}

}  // namespace leadline::cli
