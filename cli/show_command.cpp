// leadline show: the page of one thing. Tested by tests/cli/golden_test.cpp.
#include "cli/boat_file.h"
#include "cli/session.h"
#include "cli/show_page.h"
#include "engine/text/spelling.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

ExitCode run_show(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  const auto& id = line.operands.front();
  const auto kind = line.value("kind");
  std::optional<installation::Installation> boat;
  if (const auto file = line.value("installation")) boat = load_boat(session, base, *file);
  const auto page = line.has("sources") ? sources_of(base, id, kind, session.width) : pages_of(base, id, kind, boat, session.width);
  if (!page.empty()) {
    session.print(page);
    return done;
  }
  if (line.has("sources") && !pages_of(base, id, kind, boat, session.width).empty()) {
    throw Failure(bad_data, "'" + id + "' holds no number; leave --sources out to see its page");
  }
  const auto hint = text::suggestion(id, known_ids(base, kind));
  throw Failure(bad_data, "no " + (kind ? *kind : std::string("cause, finding, check, remedy, precaution or source")) + " has the id '" + text::printable(id) + "'; " +
                              (hint.empty() ? "'leadline find WORDS' searches the symptoms" : hint));
}

}  // namespace leadline::cli
