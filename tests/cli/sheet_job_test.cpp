// The sheet of a job that is kept: notes, times, checks and precautions as they were, and what was lost on the way.
#include "tests/cli/jobs_folder.h"

namespace leadline::cli {
namespace {

namespace fs = std::filesystem;

using testing::has;

class SheetOfAJob : public testing::JobsFolder {
 protected:
  // No push, a note, the bank at rest measured twice.
  void call_out(const std::string& name) { run({"diagnose", "--job", name}, "24\n1\n3\n\nnote Wet <bilge>\n24.2 V\nagain 2\n24.3 V\nstop\n"); }
};

TEST_F(SheetOfAJob, HasItsNotesTimesChecksAndPrecautions) {
  call_out("Grey Plover");
  const auto ran = run({"sheet", "Grey Plover"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_TRUE(ran.out.starts_with("CALL-OUT SHEET: Grey Plover\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "  Note: 2027-01-15 08:06 UTC: Wet <bilge>\n  2. Bank volts at rest\n     read: 24.3 V\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "- Begun 2027-01-15 08:01 UTC, last entry 2027-01-15 08:11 UTC; stopped, 2\n    answers.\n  - At work: 10 min.\n")) << ran.out;
  EXPECT_TRUE(has(ran.out, "- Checks recorded, by the book: 4 min,")) << ran.out;
  EXPECT_TRUE(has(run({"sheet", "Grey Plover", "--as", "html"}).out, "Note: 2027-01-15 08:06 UTC: Wet &lt;bilge&gt;"));
}

// A recorded call-out would have it guessed that trying the lever was a check as well.
TEST_F(SheetOfAJob, CountsTheChecksThatWereDoneAndNoOthers) {
  call_out("x");
  EXPECT_FALSE(has(run({"sheet", "x"}).out, "Nobody in the water"));
  run({"diagnose", "--record", (folder_ / "x.xml").string()}, "24\n1\n3\n\n24.2 V\nstop\n");
  EXPECT_TRUE(has(run({"sheet", (folder_ / "x.xml").string()}).out, "Nobody in the water"));
}

TEST_F(SheetOfAJob, IsTheSameByPathAndFromStandardInput) {
  call_out("x");
  const auto named = run({"sheet", "x", "--as", "json"});
  EXPECT_EQ(run({"sheet", file("x"), "--as", "json"}).out, named.out);
  fs::copy_file(file("x"), folder_ / "other.xml");
  auto piped = run({"sheet", "-", "--as", "json"}, slurp_of("x")).out;
  EXPECT_EQ(piped.replace(piped.find("\"call-out\""), 10, "\"x\""), named.out);
}

TEST_F(SheetOfAJob, IsWrittenWhileTheJobIsOpenAndChangesNothing) {
  call_out("x");
  const auto before = slurp_of("x");
  const auto held = JobFile::open(file("x"), 5);
  EXPECT_EQ(run({"sheet", "x"}).code, 0);
  EXPECT_EQ(slurp_of("x"), before);
}

TEST_F(SheetOfAJob, DoubtsWhatWasLeftOutUnderAnotherBook) {
  call_out("x");
  write_book(testing::minimal_with(">no push at all<", ">nothing at all<"));
  EXPECT_TRUE(has(run({"sheet", "x"}).out, "REMAINING DOUBTS\n  - Left out, for the job was told under another knowledge base: 'What does the\n    propeller do on command?': no push at all (this choice now reads 'nothing at\n    all').\n"))
      << run({"sheet", "x"}).out;
}

TEST_F(SheetOfAJob, DoubtsAFileThatIsTorn) {
  call_out("x");
  const auto whole = slurp_of("x");
  std::ofstream(file("x"), std::ios::binary | std::ios::trunc) << whole.substr(0, whole.size() - 5);
  EXPECT_TRUE(has(run({"sheet", "x"}).out, "REMAINING DOUBTS\n  - Not all of the job's file can be read: line 10, the last, is not whole.\n")) << run({"sheet", "x"}).out;
}

TEST_F(SheetOfAJob, ThatIsNotThereHasAWayOut) {
  const auto expect = [&](const std::string& given, int code, const std::string& words) {
    const auto ran = run({"sheet", given});
    EXPECT_EQ(ran.code, code) << given;
    EXPECT_EQ(ran.err, "leadline: " + words + "\n") << given;
    EXPECT_EQ(ran.out, "") << given;
  };
  expect("x", 66, "there is no job '" + file("x") + "'; 'leadline jobs' lists what there is");
  expect("./x.job", 66, "cannot read './x.job': No such file or directory");
  const auto before = fs::current_path();
  fs::current_path(folder_);
  std::ofstream("plain") << "words";
  std::ofstream("plain.job") << "words";
  expect("plain", 66, "there is no job 'plain'; the file of that name is meant with './plain'");
  expect("./plain.job", 65, "'./plain.job' is no job that can be read: line 1, which says what the job began with, is not whole; nothing was changed in it, begin another with --job ANOTHER-NAME");
  EXPECT_EQ(run({"sheet", "./plain"}).err, "./plain:1:1: error: text outside the root element\n    words\n    ^ remove it\n");
  fs::current_path(before);
}

}  // namespace
}  // namespace leadline::cli
