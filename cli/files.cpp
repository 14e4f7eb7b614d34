#include "cli/files.h"

#include <fcntl.h>
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

void write_file(const std::string& path, const std::string& content) {
  const auto part = path + ".part";
  Descriptor file(::open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666));
  if (file.number() < 0) throw Failure(input_output_failed, "cannot write " + shown(path) + ": " + reason(errno));
  try {
    if (!write_all(file.number(), content)) throw Failure(input_output_failed, "cannot write " + shown(path) + ": " + reason(errno));
    if (::fsync(file.number()) != 0 && errno != EINVAL) throw Failure(input_output_failed, "cannot write " + shown(path) + ": " + reason(errno));
    if (file.close() != 0 || ::rename(part.c_str(), path.c_str()) != 0) throw Failure(input_output_failed, "cannot write " + shown(path) + ": " + reason(errno));
  } catch (const Failure&) {
    ::unlink(part.c_str());
    throw;
  }
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
