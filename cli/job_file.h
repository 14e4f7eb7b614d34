#pragma once
// The journal of a job as a file: found, locked, begun, gone on with. What append() has returned from is on the disk, as far as the system keeps its
// word. docs/journal.md says what is promised. Tested by tests/cli/job_test.cpp and tests/outside/journal_kill.sh.
#include <string>
#include <vector>

#include "cli/descriptor.h"
#include "cli/surroundings.h"
#include "engine/callout/journal.h"

namespace leadline::cli {

// Where jobs are kept: $XDG_STATE_HOME/leadline/jobs, else ~/.local/state/leadline/jobs. Throws Failure 73 when there is neither.
std::string jobs_folder(const Surroundings& around);
// The file of a job: a name stands for a file of that folder, anything with a '/' for itself. Throws Failure 64 for a name that cannot be one.
std::string job_path(const Surroundings& around, const std::string& name);

struct FoundJob {
  std::string name, path;
  callout::Time changed = 0;
};
// The jobs of the folder, the one changed last first. None when there is no such folder.
std::vector<FoundJob> found_jobs(const std::string& folder);

class JobFile {
 public:
  // A new job with its first line; makes the folder (0700). Throws Failure: 73 when it cannot be made, 75 when another process holds it, 74 when it is
  // there already.
  static JobFile begin(const std::string& path, const callout::JournalHead& head);
  // The whole records of a job as a new one. Throws Failure as begin() and look_at_job() do.
  static void copy(const std::string& from, const std::string& path);
  // Goes on with a job: locks, reads, cuts a torn tail off; of a damaged one a copy is kept. `journal()` is what was read. Throws Failure: 66 when there
  // is none, 75 when another process holds it, 65 when it is no journal, 74 when it cannot be read or written.
  static JobFile open(const std::string& path, callout::Time now);

  const callout::Journal& journal() const { return journal_; }
  const std::string& path() const { return path_; }
  // What was lost, and where the copy is; empty when nothing was.
  const std::string& remark() const { return remark_; }

  // Returns when it is on the disk. Throws Failure 74, and from then on always: a sync that failed once proves nothing when it is tried again.
  void append(const callout::Event& event);

 private:
  JobFile(std::string path, Descriptor lock) : path_(std::move(path)), lock_(std::move(lock)), file_(-1) {}
  void open_for_appending();

  std::string path_;
  Descriptor lock_, file_;
  callout::Journal journal_;
  std::string remark_;
  std::size_t next_ = 0, size_ = 0;
  bool broken_ = false;
};

// To look at only: without a lock, nothing is changed. Throws Failure 66, 65, 74.
callout::Journal look_at_job(const std::string& path);
// Its two halves, where the text is needed as well: throws Failure 66, 74; 65.
text::Source read_job(const std::string& path);
callout::Journal journal_in(const text::Source& file);

}  // namespace leadline::cli
