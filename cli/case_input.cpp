#include "cli/case_input.h"

#include "engine/callout/case_file.h"

namespace leadline::cli {

callout::Record case_from(const Session& session, const knowledge::KnowledgeBase& base, const text::Source& source) {
  auto loaded = callout::read_case(base, source);
  const auto rendered = text::render(loaded.problems, std::span(&source, 1));
  if (!loaded.value) throw Failure(bad_data, rendered);
  if (!rendered.empty()) session.log->warn("{}", rendered);
  return std::move(*loaded.value);
}

}  // namespace leadline::cli
