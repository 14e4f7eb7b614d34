// leadline expect: what should be read in a boat, healthy and under causes. Tested by tests/golden/expect-*.
#include "cli/boat_file.h"
#include "cli/expect_page.h"
#include "engine/text/spelling.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

constexpr std::size_t shown_causes = 4;

knowledge::Ref<knowledge::Cause> cause_named(const knowledge::KnowledgeBase& base, const std::string& id) {
  if (const auto found = knowledge::find_id(base.causes, id)) return *found;
  const auto hint = text::suggestion(id, knowledge::ids_of(base.causes));
  throw Failure(bad_data, "no cause has the id '" + text::printable(id) + "'" + (hint.empty() ? "" : "; " + hint));
}

}  // namespace

ExitCode run_expect(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  const auto boat = load_boat(session, base, line.operands.front());
  const auto cause = line.value("cause");
  if (cause) session.print(expect_cause_page(base, boat, cause_named(base, *cause), session.width));
  else session.print(expect_page(base, boat, line.has("all") ? base.causes.size() : shown_causes, session.width));
  return done;
}

}  // namespace leadline::cli
