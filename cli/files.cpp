#include "cli/files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <optional>
#include <istream>

#include "cli/descriptor.h"
#include "cli/exit_codes.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_bytes = std::size_t{16} << 20;  // as markup::Limits

std::string reason(int error) { return std::strerror(error); }
std::string shown(const std::string& path) { return "'" + text::printable(path) + "'"; }

void refuse_large(const std::string& name, std::size_t size) {
  if (size > most_bytes) throw Failure(bad_data, name + ": larger than 16 MiB");
}

}  // namespace

text::Source read_file(const std::string& path) {
  const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (file.number() < 0) throw Failure(input_missing, "cannot read " + shown(path) + ": " + reason(errno));
  struct stat what {};
  if (::fstat(file.number(), &what) == 0 && S_ISDIR(what.st_mode)) throw Failure(input_missing, "cannot read " + shown(path) + ": " + reason(EISDIR));
  text::Source source{path, ""};
  char buffer[1 << 16];
  for (;;) {
    const auto count = ::read(file.number(), buffer, sizeof buffer);
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) throw Failure(input_output_failed, "cannot read " + shown(path) + ": " + reason(errno));
    if (count == 0) return source;
    source.content.append(buffer, static_cast<std::size_t>(count));
    refuse_large(shown(path), source.content.size());
  }
}

text::Source read_file_or(const std::string& path, std::istream& in) {
  if (path != "-") return read_file(path);
  text::Source source{"standard input", ""};
  char buffer[1 << 16];
  while (in.read(buffer, sizeof buffer) || in.gcount() > 0) {
    source.content.append(buffer, static_cast<std::size_t>(in.gcount()));
    refuse_large(source.name, source.content.size());
  }
  if (in.bad()) throw Failure(input_output_failed, "cannot read standard input");
  if (source.content.empty()) throw Failure(input_missing, "standard input is empty");
  return source;
}

namespace {

// The files that `file_of` makes of a folder's entries, by name; `wanted` is what there must be one of.
template <class FileOf>
std::vector<text::Source> read_entries(const std::string& path, const std::string& wanted, const FileOf& file_of) {
  std::error_code error;
  std::vector<fs::path> paths;
  for (fs::directory_iterator entry(path, error), end; !error && entry != end; entry.increment(error)) {
    if (const auto file = file_of(entry->path())) paths.push_back(*file);
  }
  if (error) throw Failure(input_missing, "cannot read the folder " + shown(path) + ": " + error.message());
  if (paths.empty()) throw Failure(input_missing, "no " + wanted + " in the folder " + shown(path));
  std::sort(paths.begin(), paths.end());
  std::vector<text::Source> files;
  for (const auto& file : paths) files.push_back(read_file(file.string()));
  return files;
}

}  // namespace

std::vector<text::Source> read_folder(const std::string& path) {
  return read_entries(path, "*.xml file", [](const fs::path& entry) { return entry.extension() == ".xml" ? std::optional(entry) : std::nullopt; });
}

std::vector<text::Source> read_folders(const std::string& path, const std::string& name) {
  return read_entries(path, "*/" + name, [&](const fs::path& entry) {
    std::error_code none;
    return fs::is_regular_file(entry / name, none) ? std::optional(entry / name) : std::nullopt;
  });
}

namespace {

[[noreturn]] void cannot_write(const std::string& path) { throw Failure(input_output_failed, "cannot write " + shown(path) + ": " + reason(errno)); }

// The file that links lead to, when there is one: it is replaced, not the link.
std::string behind_links(const std::string& path) {
  std::error_code none;
  const auto target = fs::is_symlink(path, none) ? fs::canonical(path, none) : fs::path(path);
  return none || target.empty() ? path : target.string();
}

// A device, a pipe: what is there is written to, for nothing can stand in its place.
void write_into(const std::string& path, const std::string& content) {
  Descriptor file(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
  if (file.number() < 0 || !write_all(file.number(), content) || file.close() != 0) cannot_write(path);
}

// Whole or not at all: a temporary beside it takes its name, and keeps who may read it.
void replace_file(const std::string& path, const std::string& content) {
  const auto part = path + ".part";
  struct stat old {};
  const bool there = ::stat(path.c_str(), &old) == 0;
  Descriptor file(::open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, there ? 0600 : 0666));
  if (file.number() < 0) cannot_write(path);
  try {
    if (there && ::fchmod(file.number(), old.st_mode & 07777) != 0) cannot_write(path);
    if (!write_all(file.number(), content)) cannot_write(path);
    if (::fsync(file.number()) != 0 && errno != EINVAL) cannot_write(path);
    if (file.close() != 0 || ::rename(part.c_str(), path.c_str()) != 0) cannot_write(path);
  } catch (const Failure&) {
    ::unlink(part.c_str());
    throw;
  }
}

}  // namespace

void write_file(const std::string& path, const std::string& content) {
  struct stat old {};
  if (::stat(path.c_str(), &old) == 0 && !S_ISREG(old.st_mode) && !S_ISDIR(old.st_mode)) return write_into(path, content);
  replace_file(behind_links(path), content);
}

std::string why_not_writable(const std::string& path) {
  const fs::path target(path);
  std::error_code error;
  if (fs::is_directory(target, error)) return "cannot write " + shown(path) + ": " + reason(EISDIR);
  const auto folder = target.has_parent_path() ? target.parent_path() : fs::path(".");
  if (::access(folder.c_str(), W_OK) != 0) return "cannot write " + shown(path) + ": " + reason(errno);
  return "";
}

}  // namespace leadline::cli
