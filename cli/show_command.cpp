// leadline show: the page of one thing. Tested by tests/cli/golden_test.cpp.
#include "cli/session.h"
#include "cli/show_page.h"
#include "engine/text/spelling.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

ExitCode run_show(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  const auto& id = line.operands.front();
  const auto kind = line.value("kind");
  const auto page = pages_of(base, id, kind, session.width);
  if (!page.empty()) {
    session.print(page);
    return done;
  }
  const auto hint = text::suggestion(id, known_ids(base, kind));
  throw Failure(bad_data, "no " + (kind ? *kind : std::string("cause, finding, check, remedy, precaution or source")) + " has the id '" + text::printable(id) + "'; " +
                              (hint.empty() ? "'leadline find WORDS' searches the symptoms" : hint));
}

}  // namespace leadline::cli
