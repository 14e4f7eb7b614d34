#include "cli/job_file.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>

#include "cli/exit_codes.h"
#include "cli/files.h"
#include "cli/phrases.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

namespace fs = std::filesystem;

constexpr const char* ending = ".job";
constexpr std::size_t most_name = 100;

std::string shown(const std::string& path) { return "'" + text::printable(path) + "'"; }

[[noreturn]] void fail(ExitCode code, const std::string& what, const std::string& path, int error, const std::string& way_out = "") {
  throw Failure(code, what + " " + shown(path) + ": " + std::strerror(error) + (way_out.empty() ? "" : "; " + way_out));
}

// Every folder on the way that is not there yet, for nobody else to read.
void make_folder(const fs::path& folder) {
  std::error_code error;
  if (folder.empty() || fs::is_directory(folder, error)) return;
  make_folder(folder.parent_path());
  if (::mkdir(folder.c_str(), 0700) != 0 && errno != EEXIST) {
    fail(cannot_create, "cannot make the folder", folder.string(), errno, "give a place that can be written: --job ./NAME.job, or set XDG_STATE_HOME");
  }
}

std::string folder_of(const std::string& path) {
  const auto folder = fs::path(path).parent_path();
  return folder.empty() ? "." : folder.string();
}

void sync_folder(const std::string& path) {
  const Descriptor folder(::open(folder_of(path).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (folder.number() < 0 || (::fsync(folder.number()) != 0 && errno != EINVAL)) fail(input_output_failed, "cannot make safe", path, errno);
}

// Under its name only once it is whole: a temporary beside, synced, renamed, the folder synced.
void make_file(const std::string& path, const std::string& content, ExitCode code) {
  const auto part = path + ".part";
  Descriptor file(::open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0600));
  if (file.number() < 0) fail(code, "cannot write", path, errno, "give a place that can be written with --job ./NAME.job");
  if (!write_all(file.number(), content) || ::fsync(file.number()) != 0 || file.close() != 0 || ::rename(part.c_str(), path.c_str()) != 0) {
    const int error = errno;
    ::unlink(part.c_str());
    fail(code, "cannot write", path, error, "make room, or give another place with --job ./NAME.job");
  }
  sync_folder(path);
}

std::string holder_of(const Descriptor& lock) {
  char buffer[64] = {};
  const auto count = ::pread(lock.number(), buffer, sizeof buffer - 1, 0);
  std::string words(buffer, count > 0 ? static_cast<std::size_t>(count) : 0);
  words = words.substr(0, words.find('\n'));
  return words.empty() ? "another process" : text::printable(words);
}

// On a file of its own, which is never renamed or removed; the system drops it with the process, however that ends.
Descriptor lock_job(const std::string& path) {
  const auto name = path + ".lock";
  Descriptor lock(::open(name.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600));
  if (lock.number() < 0) fail(cannot_create, "cannot lock the job with", name, errno, "give a place that can be written with --job ./NAME.job");
  if (::flock(lock.number(), LOCK_EX | LOCK_NB) != 0) {
    if (errno != EWOULDBLOCK) fail(cannot_create, "cannot lock the job with", name, errno);
    throw Failure(try_again, "the job " + shown(path) + " is open in " + holder_of(lock) + "; look at it with: leadline jobs " + shown(path) +
                                 ", or go on in a copy of your own: leadline diagnose --from " + shown(path) + " --job ANOTHER-NAME");
  }
  const auto who = "process " + std::to_string(::getpid()) + "\n";
  if (::ftruncate(lock.number(), 0) == 0 && ::pwrite(lock.number(), who.data(), who.size(), 0) < 0) errno = 0;  // only a courtesy to the next
  return lock;
}

// Throws when the name is there and is not a file: a link could lead anywhere.
bool is_there(const std::string& path) {
  struct stat about {};
  if (::lstat(path.c_str(), &about) != 0) {
    if (errno == ENOENT) return false;
    fail(errno == ENOTDIR ? cannot_create : input_output_failed, "cannot look at", path, errno);
  }
  if (S_ISLNK(about.st_mode)) throw Failure(input_output_failed, shown(path) + " is a symbolic link, which a job is never kept behind; name the file it leads to, or take another name");
  if (!S_ISREG(about.st_mode)) throw Failure(input_output_failed, shown(path) + " is no file; take another name for the job");
  return true;
}

}  // namespace

std::string jobs_folder(const Surroundings& around) {
  const auto state = variable_of(around, "XDG_STATE_HOME"), home = variable_of(around, "HOME");
  if (state && state->starts_with('/')) return *state + "/leadline/jobs";  // a relative one is to be ignored, says the XDG specification
  if (home && home->starts_with('/')) return *home + "/.local/state/leadline/jobs";
  throw Failure(cannot_create, "there is no place to keep jobs in: neither HOME nor XDG_STATE_HOME is set; give a file with --job ./NAME.job");
}

std::string job_path(const Surroundings& around, const std::string& name) {
  if (name.find('/') != std::string::npos) return name;
  const bool legal = !name.empty() && name.size() <= most_name && name[0] != '.' && name[0] != '-' && !text::first_invalid_utf8(name) &&
                     std::none_of(name.begin(), name.end(), [](unsigned char c) { return c < 0x20 || c == 0x7F; });
  if (!legal) throw Failure(bad_usage, shown(name) + " cannot be the name of a job; give letters, digits and blanks, for instance --job 'Grey Plover', or a file: --job ./grey.job");
  return jobs_folder(around) + "/" + name + ending;
}

std::vector<FoundJob> found_jobs(const std::string& folder) {
  std::vector<FoundJob> found;
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error)) {
    struct stat about {};
    const auto path = entry->path();
    if (path.extension() != ending || ::lstat(path.c_str(), &about) != 0 || !S_ISREG(about.st_mode)) continue;
    found.push_back({path.stem().string(), path.string(), about.st_mtime});
  }
  std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.changed != b.changed ? a.changed > b.changed : a.name < b.name; });
  return found;
}

void JobFile::copy(const std::string& from, const std::string& path) {
  is_there(from);
  const auto text = read_file(from).content;
  const auto whole = journal_in({from, text}).whole_bytes;
  make_folder(fs::path(path).parent_path());
  const auto lock = lock_job(path);
  if (is_there(path)) throw Failure(input_output_failed, shown(path) + " is there already; take another name for the copy");
  make_file(path, text.substr(0, whole), cannot_create);
}

JobFile JobFile::begin(const std::string& path, const callout::JournalHead& head) {
  make_folder(fs::path(path).parent_path());
  JobFile job(path, lock_job(path));
  if (is_there(path)) throw Failure(input_output_failed, shown(path) + " is there already; go on with it: leadline diagnose --job " + shown(path));
  const auto line = callout::journal_line(0, head);
  make_file(path, line, cannot_create);
  job.journal_.head = head;
  job.next_ = 1;
  job.size_ = line.size();
  job.open_for_appending();
  return job;
}

JobFile JobFile::open(const std::string& path, callout::Time now) {
  if (!is_there(path)) throw Failure(input_missing, "there is no job " + shown(path) + "; 'leadline jobs' lists what there is");
  JobFile job(path, lock_job(path));
  is_there(path);
  const auto text = read_file(path).content;
  job.journal_ = journal_in({path, text});
  job.next_ = job.journal_.events.size() + 1;
  job.size_ = job.journal_.whole_bytes;
  if (job.journal_.soundness == callout::Soundness::damaged) {
    const auto copy = path + ".damaged-" + std::to_string(now);
    make_file(copy, text, input_output_failed);
    make_file(path, text.substr(0, job.size_), input_output_failed);
    job.remark_ = "The file of this job was damaged: " + job.journal_.trouble + ". What stands before it is kept, the rest must be answered again; " +
                  "a copy of the whole is kept as " + shown(copy) + ".";
  }
  job.open_for_appending();
  if (job.journal_.soundness == callout::Soundness::torn) {
    if (::ftruncate(job.file_.number(), static_cast<off_t>(job.size_)) != 0 || ::fsync(job.file_.number()) != 0) fail(input_output_failed, "cannot mend", path, errno);
    job.remark_ = "The last thing said was cut short while it was written, and is left out: " + job.journal_.trouble + ".";
  }
  return job;
}

void JobFile::open_for_appending() {
  file_ = Descriptor(::open(path_.c_str(), O_WRONLY | O_APPEND | O_CLOEXEC | O_NOFOLLOW));
  if (file_.number() < 0) fail(input_output_failed, "cannot write", path_, errno, "go on in a copy: leadline diagnose --from " + shown(path_) + " --job ANOTHER-NAME");
}

void JobFile::append(const callout::Event& event) {
  const auto line = callout::journal_line(next_, event);
  const bool before = std::exchange(broken_, true);
  errno = EIO;
  if (before || !write_all(file_.number(), line) || ::fdatasync(file_.number()) != 0) {
    const int error = errno;
    // So that what was called lost does not come back. Without success the next start finds a whole line too many, or a torn one.
    if (!before && ::ftruncate(file_.number(), static_cast<off_t>(size_)) != 0) errno = 0;
    fail(input_output_failed, "cannot write", path_, error, "what was typed last is not kept, all before it is; make room, then go on with: leadline diagnose --job " + shown(path_));
  }
  broken_ = false;
  ++next_;
  size_ += line.size();
  journal_.events.push_back(event);
}

text::Source read_job(const std::string& path) {
  if (!is_there(path)) throw Failure(input_missing, "there is no job " + shown(path) + "; 'leadline jobs' lists what there is");
  return read_file(path);
}

callout::Journal journal_in(const text::Source& file) {
  auto journal = callout::read_journal(file.content);
  if (journal.soundness == callout::Soundness::unreadable) {
    throw Failure(bad_data, shown(file.name) + " is no job that can be read: " + journal.trouble + "; nothing was changed in it, begin another with --job ANOTHER-NAME");
  }
  return journal;
}

callout::Journal look_at_job(const std::string& path) { return journal_in(read_job(path)); }

}  // namespace leadline::cli
