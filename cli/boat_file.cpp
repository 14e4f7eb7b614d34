#include "cli/boat_file.h"

#include "cli/files.h"
#include "engine/callout/case_file.h"
#include "engine/markup/document.h"

namespace leadline::cli {

namespace {

template <class T>
T value_or_failure(const Session& session, text::Loaded<T> loaded, const text::Source& source) {
  const auto rendered = text::render(loaded.problems, std::span(&source, 1));
  if (!loaded.value) throw Failure(bad_data, rendered);
  if (!rendered.empty()) session.log->warn("{}", rendered);
  return std::move(*loaded.value);
}

bool is_callout(const text::Source& source) {
  const auto parsed = markup::parse(source);
  return parsed.value && std::string_view(parsed.value->root().name()) == "callout";
}

}  // namespace

installation::Installation load_boat(const Session& session, const knowledge::KnowledgeBase& base, const std::string& path) {
  const auto source = read_file_or(path, session.in);
  if (is_callout(source)) return value_or_failure(session, callout::read_case(base, source), source).installation;
  return value_or_failure(session, installation::read_installation(base, source), source);
}

}  // namespace leadline::cli
