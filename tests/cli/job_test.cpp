// A job that lasts: kept, broken off, gone on with; tried answers and notes; another book; what stands in the way of keeping it.
#include <gtest/gtest.h>

#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

#include "cli/embedded.h"
#include "cli/exit_codes.h"
#include "cli/job_keeper.h"
#include "engine/callout/case_file.h"
#include "tests/cli/jobs_folder.h"

namespace leadline::cli {
namespace {

namespace fs = std::filesystem;

using Jobs = testing::JobsFolder;
using testing::has;

TEST_F(Jobs, AJobGoesOnWhereItWasBrokenOff) {
  const auto first = run({"diagnose", "--job", "Grey Plover"}, "48\n1\n3\n\n");
  EXPECT_EQ(first.code, done) << first.err;
  EXPECT_EQ(first.err, "leadline: kept as the job 'Grey Plover'\n");
  const auto second = run({"diagnose", "--job", "Grey Plover"}, "stop\n");
  EXPECT_EQ(second.code, done) << second.err;
  EXPECT_TRUE(second.out.starts_with("The job 'Grey Plover' goes on.\n\nLeadline advises; local codes and licensed practice come first.\n")) << second.out;
  EXPECT_TRUE(has(second.out, "\n\nBegun 2027-01-15 08:01 UTC; not finished, 1 answer.\n\nSaid of the boat:\n  - Nominal volts? 48 V\n")) << second.out;
  EXPECT_TRUE(has(second.out, "no push at all")) << second.out;
  EXPECT_TRUE(has(second.out, "At work so far: ")) << second.out;
}

TEST_F(Jobs, BackGoesOnAfterAResumption) {
  run({"diagnose", "--job", "x"}, "48\n1\n3\n\n");
  const auto ran = run({"diagnose", "--job", "x"}, "back\nback\nback\nback\nback\n24\nstop\n");
  EXPECT_TRUE(has(ran.out, "This is the first question: there is nothing to undo.")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Noted: 24 V.")) << ran.out;
  const auto journal = look_at_job(file("x"));
  EXPECT_EQ(callout::state_of(journal).facts.at(0).value, "24");
}

TEST_F(Jobs, FilesAreForNobodyElse) {
  run({"diagnose", "--job", "x"}, "48\n");
  struct stat about {};
  ASSERT_EQ(::stat(file("x").c_str(), &about), 0);
  EXPECT_EQ(about.st_mode & 0777U, 0600U);
  ASSERT_EQ(::stat(fs::path(file("x")).parent_path().c_str(), &about), 0);
  EXPECT_EQ(about.st_mode & 0777U, 0700U);
}

TEST_F(Jobs, WithoutANameAPipeKeepsNothing) {
  run({"diagnose"}, "48\n1\n3\n\n");
  EXPECT_FALSE(fs::exists(folder_ / "leadline"));
}

TEST_F(Jobs, ATerminalOffersTheUnfinishedOne) {
  const auto first = run({"diagnose"}, "48\n1\n3\n\n", true);
  EXPECT_TRUE(has(first.err, "kept as the job 'call 2027-01-15")) << first.err;
  const auto second = run({"diagnose"}, "\nstop\n", true);
  EXPECT_TRUE(second.out.starts_with("The job 'call 2027-01-15 08.01', begun 2027-01-15 08:02 UTC, is not finished, 1\nanswer.\n  Enter: go on with it; n: begin another; stop: end.\n> The job 'call")) << second.out;
  const auto third = run({"diagnose"}, "stop\n", true);  // that one is over now: nothing is offered
  EXPECT_TRUE(has(third.err, "kept as the job")) << third.err;
}

TEST_F(Jobs, ATerminalBeginsAnotherWhenAsked) {
  run({"diagnose"}, "48\n", true);
  const auto ran = run({"diagnose"}, "n\n24\n", true);
  EXPECT_TRUE(has(ran.err, "kept as the job")) << ran.err;
  EXPECT_EQ(found_jobs((folder_ / "leadline" / "jobs").string()).size(), 2U);
}

TEST_F(Jobs, WhatIfShowsWhereAnAnswerLeadsAndKeepsNothing) {
  const auto ran = run({"diagnose", "--job", "x"}, "24\n1\n3\n\nwhat-if 24.2 V\nwhat-if soup\nwhat-if\nlist\nstop\n");
  EXPECT_TRUE(has(ran.out, "If it were so (nothing of this is kept):\nNoted: Bank volts at rest: 24.2 V.\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Back to the question as it stands:\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "What if what? 'what-if' and an answer to this question, for")) << ran.out;
  EXPECT_EQ(callout::state_of(look_at_job(file("x"))).answers.size(), 1U);
  EXPECT_FALSE(has(slurp_of("x"), "24.2 V"));
}

TEST_F(Jobs, NotesAreKeptWithTheirTime) {
  const auto ran = run({"diagnose", "--job", "x"}, "note Owner says: Since Tuesday\nnote\n48\nstop\n");
  EXPECT_TRUE(has(ran.out, "Noted.\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Which words? 'note' and what is to be noted.")) << ran.out;
  EXPECT_TRUE(has(ran.out, "Notes:\n  - 2027-01-15 08:02 UTC: Owner says: Since Tuesday\n")) << ran.out;
  EXPECT_TRUE(has(run({"jobs", "x"}).out, "Owner says: Since Tuesday"));
  const auto unkept = run({"diagnose"}, "note wet bilge\nstop\n");
  EXPECT_TRUE(has(unkept.out, "Noted for the last page; nothing is kept beyond it (--job NAME would).")) << unkept.out;
  EXPECT_TRUE(has(unkept.out, "wet bilge\n")) << unkept.out;
}

TEST_F(Jobs, MinutesAreComparedWithThoseOfTheBook) {
  const auto ran = run({"diagnose", "--job", "x"}, "24\n1\n3\n\n24.2 V\nstop\n");
  EXPECT_TRUE(has(ran.out, "At work so far: 6 min; the book reckons 4 min for the checks and remedies done.\n")) << ran.out;
}

TEST_F(Jobs, AreListed) {
  EXPECT_EQ(run({"jobs"}).out, "No jobs are kept in '" + (folder_ / "leadline" / "jobs").string() + "'.\n");
  run({"diagnose", "--job", "x"}, "48\n1\n3\n\nstop\n");
  EXPECT_TRUE(run({"jobs"}).out.starts_with("  - x: stopped, 1 answer; last written ")) << run({"jobs"}).out;
  EXPECT_EQ(run({"jobs", "y"}).code, input_missing);
}

TEST_F(Jobs, TheBeginningIsNotTakenAnew) {
  run({"diagnose", "--job", "x"}, "48\n");
  const auto ran = run({"diagnose", "--job", "x", "--role", "owner"}, "48\n");
  EXPECT_EQ(ran.code, bad_usage);
  EXPECT_EQ(ran.err, "leadline: --role belongs to the beginning of a job, and 'x' is begun already; leave it out, or begin another job\n");
}

TEST_F(Jobs, ACopyGoesItsOwnWay) {
  run({"diagnose", "--job", "x"}, "24\n1\n3\n\n");
  const auto before = slurp_of("x");
  const auto ran = run({"diagnose", "--job", "y", "--from", "x"}, "24.2 V\nstop\n");
  EXPECT_EQ(ran.code, done) << ran.err;
  EXPECT_EQ(slurp_of("x"), before);
  EXPECT_EQ(callout::state_of(look_at_job(file("y"))).answers.size(), 2U);
}

TEST_F(Jobs, AnotherBookIsSaidAndNothingGetsANewMeaning) {
  run({"diagnose", "--job", "x"}, "24\n1\n3\n\n24.2 V\n");
  auto text = testing::minimal_text;
  const std::string from = ">no push at all<";
  text.replace(text.find(from), from.size(), ">nothing at all<");
  write_book(text);
  const auto ran = run({"diagnose", "--job", "x"}, "3\nback\nback\n");
  EXPECT_TRUE(has(ran.out, "The knowledge base is another one than the job was told under. Kept as they\nwere: 2 of 3. 'back' goes no further than this.\n"
                           "  - 'What does the propeller do on command?': no push at all: asked again,\n    because this choice now reads 'nothing at all'\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "What does the propeller do on command?\n  1 full push\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "This is the first question: there is nothing to undo.")) << ran.out;
  const auto again = run({"diagnose", "--job", "x"}, "3\nstop\n");  // under the same book now: nothing is remarked
  EXPECT_FALSE(has(again.out, "another one")) << again.out;
  EXPECT_EQ(callout::state_of(look_at_job(file("x"))).answers.size(), 2U);
}

TEST_F(Jobs, ATornTailIsCutAndSaid) {
  run({"diagnose", "--job", "x"}, "24\n1\n3\n\n");
  const auto whole = slurp_of("x");
  std::ofstream(file("x"), std::ios::binary | std::ios::trunc) << whole.substr(0, whole.size() - 5);
  const auto ran = run({"diagnose", "--job", "x"}, "24.2 V\n");
  EXPECT_TRUE(has(ran.out, "The last thing said was cut short while it was written")) << ran.out;
  EXPECT_EQ(look_at_job(file("x")).soundness, callout::Soundness::whole);
  EXPECT_EQ(callout::state_of(look_at_job(file("x"))).answers.size(), 2U);
}

TEST_F(Jobs, DamageIsSaidAndACopyKept) {
  run({"diagnose", "--job", "x"}, "48\n1\n3\n\n");
  auto broken = slurp_of("x");
  broken[broken.find("\"event\":\"said\"", broken.find("bank/@volts")) + 2] ^= 1;
  std::ofstream(file("x"), std::ios::binary | std::ios::trunc) << broken;
  const auto ran = run({"diagnose", "--job", "x"}, "stop\n");
  EXPECT_TRUE(has(ran.out, "The file of this job was damaged: line ")) << ran.out;
  std::size_t copies = 0;
  for (const auto& entry : fs::directory_iterator(fs::path(file("x")).parent_path())) {
    if (entry.path().string().find(".damaged-") == std::string::npos) continue;
    ++copies;
    EXPECT_EQ(testing::slurp(entry.path()), broken);
  }
  EXPECT_EQ(copies, 1U);
  EXPECT_EQ(look_at_job(file("x")).soundness, callout::Soundness::whole);
}

TEST_F(Jobs, WhatStandsInTheWayIsSaidBeforeTheFirstQuestion) {
  const auto jobs = folder_ / "leadline" / "jobs";
  fs::create_directories(jobs);
  const auto expect = [&](const char* what, const std::vector<std::string>& arguments, int code, const std::string& words) {
    const auto ran = run(arguments, "48\n");
    EXPECT_EQ(ran.code, code) << what;
    EXPECT_EQ(ran.err, "leadline: " + words + "\n") << what;
    EXPECT_FALSE(has(ran.out, "> ")) << what << "\n" << ran.out;  // no question
  };
  const auto at = [&](const std::string& name) { return (folder_ / name).string(); };
  std::ofstream(at("plain")) << "x";
  fs::create_symlink(at("plain"), at("link.job"));
  fs::create_directories(at("folder.job"));
  expect("link", {"diagnose", "--job", at("link.job")}, 74, "'" + at("link.job") + "' is a symbolic link, which a job is never kept behind; name the file it leads to, or take another name");
  expect("folder", {"diagnose", "--job", at("folder.job")}, 74, "'" + at("folder.job") + "' is no file; take another name for the job");
  expect("below a file", {"diagnose", "--job", at("plain/x.job")}, 73, "cannot lock the job with '" + at("plain/x.job.lock") + "': Not a directory; give a place that can be written with --job ./NAME.job");
  expect("not a job", {"diagnose", "--job", at("plain")}, 65, "'" + at("plain") + "' is no job that can be read: line 1, which says what the job began with, is not whole; nothing was changed in it, begin another with --job ANOTHER-NAME");
  expect("no place", {"diagnose", "--job", "/proc/nowhere/x.job"}, 73, "cannot make the folder '/proc/nowhere': No such file or directory; give a place that can be written: --job ./NAME.job, or set XDG_STATE_HOME");
  expect("a name that is none", {"diagnose", "--job", ".x"}, 64, "'.x' cannot be the name of a job; give letters, digits and blanks, for instance --job 'Grey Plover', or a file: --job ./grey.job");
  homeless_ = true;
  expect("no home", {"diagnose", "--job", "x"}, 73, "there is no place to keep jobs in: neither HOME nor XDG_STATE_HOME is set; give a file with --job ./NAME.job");
  const auto terminal = run({"diagnose"}, "\nstop\n", true);
  EXPECT_TRUE(terminal.out.starts_with("This call-out cannot be kept: there is no place to keep jobs in: neither HOME\nnor XDG_STATE_HOME is set; give a file with --job ./NAME.job.\n  Enter: go on without keeping it; stop: end.\n")) << terminal.out;
  EXPECT_EQ(terminal.code, done) << terminal.err;
}

TEST_F(Jobs, AFullDiskEndsTheTalkAndSaysWhatIsKept) {
  run({"diagnose", "--job", "x"}, "48\n");
  auto job = JobFile::open(file("x"), 5);
  rlimit_to(fs::file_size(file("x")) + 10, [&] {
    EXPECT_THROW(job.append({6, callout::NoteEvent{"much too long for what is left"}}), Failure);
  });
  try {
    job.append({7, callout::NoteEvent{"there is room again, but one failure is final"}});
    FAIL();
  } catch (const Failure& failure) {
    EXPECT_EQ(failure.code(), input_output_failed);
    EXPECT_TRUE(has(failure.what(), "what was typed last is not kept, all before it is; make room, then go on with: leadline diagnose --job ")) << failure.what();
  }
  EXPECT_EQ(look_at_job(file("x")).soundness, callout::Soundness::whole);
}

TEST_F(Jobs, ASecondProcessIsToldWhoHoldsIt) {
  run({"diagnose", "--job", "x"}, "48\n");
  const auto held = JobFile::open(file("x"), 5);
  const auto ran = run({"diagnose", "--job", "x"}, "48\n");
  EXPECT_EQ(ran.code, try_again);
  EXPECT_EQ(ran.err, "leadline: the job '" + file("x") + "' is open in process " + std::to_string(::getpid()) + "; look at it with: leadline jobs '" + file("x") +
                         "', or go on in a copy of your own: leadline diagnose --from '" + file("x") + "' --job ANOTHER-NAME\n");
  EXPECT_EQ(run({"jobs", "x"}).code, done);
}

// All of a progress that a person could notice.
std::string told(const Conversation& conversation) {
  const auto& p = conversation.progress();
  std::ostringstream out;
  out << static_cast<int>(conversation.question().asks) << ' ' << conversation.question().index << ' ' << static_cast<int>(p.ending) << ' ' << p.settled.size() << p.complaint_told << p.told
      << p.search_ended << p.proving << p.said_gone << p.choosing << p.going_on << ' ' << conversation.steps() << ' ' << p.offered.size() << ' '
      << (p.to_settle ? static_cast<long>(p.to_settle->index) : -1) << ' ' << (p.guess ? static_cast<long>(*p.guess) : -1) << ' ' << (p.again ? static_cast<long>(*p.again) : -1);
  for (const auto* flags : {&p.put_off, &p.dropped, &p.remedies_put_off, &p.remedies_dropped}) {
    out << ' ';
    for (const bool flag : *flags) out << flag;
  }
  for (const auto& waits : p.waiting) out << " waits " << waits.check << ' ' << waits.since;
  for (const auto& parted : p.parted) out << ' ' << parted.cut << parted.before;
  if (p.in_hand) out << " in hand " << static_cast<int>(p.in_hand->act) << ' ' << p.in_hand->check.index << ' ' << p.in_hand->remedy.index;
  for (const auto belief : conversation.assessment().diagnosis().belief) out << ' ' << belief;
  return out.str() + "\n" + callout::to_xml(conversation.base(), conversation.record());
}

// A person who types whatever is possible, and now and then what is not.
void type_something(Conversation& conversation, JobKeeper& keeper, std::mt19937& dice) {
  static const std::vector<std::string> lines{"1", "2", "3", "", "can't tell", "not fitted", "24.2 V", "12 V", "48", "no push", "soup", "9", "none"};
  const auto before = conversation.progress();
  const auto question = conversation.question();
  const auto steps = conversation.steps();
  const auto what = dice() % 16;
  const auto typed = what == 0 ? std::to_string(1 + dice() % 3) : lines[dice() % lines.size()];
  if (what == 1 || what == 2) {
    if (conversation.back()) keeper.undone();
    return;
  }
  if (what == 0) conversation.again(std::stoul(typed));
  else if (what == 3) conversation.later(dice() % 100'000);
  else if (what == 4) conversation.other();
  else if (what == 5) conversation.take_up(1);
  else conversation.answer(typed);
  const char* did = what == 0 ? "again" : what == 3 ? "later" : what == 4 ? "other" : what == 5 ? "take-up" : "answer";
  if (conversation.steps() > steps) keeper.said(before, question, conversation, did, what == 5 ? "1" : typed);
}

void expect_resumed_equals_live(const knowledge::KnowledgeBase& base, const std::string& path, unsigned seed, int lines) {
  std::mt19937 dice(seed);
  Conversation live(base, {});
  auto file = JobFile::begin(path, callout::head_of(base, live.record()));
  const Surroundings around;
  JobKeeper keeper(&file, around);
  for (int line = 0; line < lines && live.question().asks != Asks::nothing; ++line) type_something(live, keeper, dice);
  const auto journal = look_at_job(path);
  ASSERT_EQ(journal.events, file.journal().events);
  const auto resumed = resume(base, journal);
  ASSERT_FALSE(resumed.taken_over.has_value()) << "seed " << seed;
  EXPECT_EQ(told(*resumed.conversation), told(live)) << "seed " << seed;
  // And by meaning alone, without the conversation: the same record.
  const auto job = callout::job_of(base, journal);
  EXPECT_EQ(callout::to_xml(base, job.value->record), callout::to_xml(base, live.record())) << "seed " << seed;
}

#ifdef __SANITIZE_ADDRESS__
constexpr unsigned random_jobs = 40, random_jobs_of_the_book = 1;
#else
constexpr unsigned random_jobs = 150, random_jobs_of_the_book = 2;
#endif

TEST_F(Jobs, ResumedEqualsLiveForRandomJobs) {
  const auto base = testing::minimal_base();
  for (unsigned seed = 0; seed < random_jobs; ++seed) expect_resumed_equals_live(base, (folder_ / ("random" + std::to_string(seed) + ".job")).string(), seed, static_cast<int>(1 + seed % 40));
}

TEST_F(Jobs, ResumedEqualsLiveForRandomJobsOfTheBook) {
  const auto base = *knowledge::read_knowledge(embedded_knowledge()).value;
  for (unsigned seed = 0; seed < random_jobs_of_the_book; ++seed) expect_resumed_equals_live(base, (folder_ / ("book" + std::to_string(seed) + ".job")).string(), seed, 30);
}

}  // namespace
}  // namespace leadline::cli
