#include "engine/text/problem.h"

#include <algorithm>
#include <tuple>

#include "engine/text/utf8.h"

namespace leadline::text {

namespace {

// A very long line is shown as a window around the column, so that the caret stays on the screen.
constexpr std::size_t window_characters = 100;

std::string excerpt(std::string_view line, int column) {
  const auto characters = split_characters(printable(line));
  const auto at = static_cast<std::size_t>(std::max(column, 1) - 1);
  const std::size_t first = at > window_characters - 20 ? at - (window_characters - 20) : 0;
  std::string shown, caret;
  for (std::size_t i = first; i < std::min(characters.size(), first + window_characters); ++i) shown += characters[i];
  caret.assign(std::min(at, characters.size()) - std::min(first, characters.size()), ' ');
  return "    " + shown + "\n    " + caret + "^";
}

std::string_view content_of(const std::string& name, std::span<const Source> sources) {
  for (const auto& source : sources) {
    if (source.name == name) return source.content;
  }
  return {};
}

}  // namespace

bool has_error(const Problems& problems) {
  return std::any_of(problems.begin(), problems.end(), [](const auto& p) { return p.severity == Severity::error; });
}

void sort_by_place(Problems& problems) {
  std::stable_sort(problems.begin(), problems.end(), [](const Problem& a, const Problem& b) {
    return std::tie(a.place, a.what) < std::tie(b.place, b.what);
  });
  problems.erase(std::unique(problems.begin(), problems.end()), problems.end());
}

std::string render(const Problem& problem, std::span<const Source> sources) {
  std::string out = printable(to_string(problem.place));
  out += problem.severity == Severity::error ? ": error: " : ": warning: ";
  out += printable(problem.what);
  const auto line = line_at(content_of(problem.place.file, sources), problem.place.line);
  if (!line.empty()) {
    out += "\n" + excerpt(line, problem.place.column);
    if (!problem.hint.empty()) out += " " + printable(problem.hint);
  } else if (!problem.hint.empty()) {
    out += "\n    " + printable(problem.hint);
  }
  return out + "\n";
}

std::string render(const Problems& problems, std::span<const Source> sources) {
  std::string out;
  for (const auto& problem : problems) out += render(problem, sources);
  return out;
}

}  // namespace leadline::text
