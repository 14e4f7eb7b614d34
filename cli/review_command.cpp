// leadline review: what is wrong in an installation record. Tested by tests/cli/review_test.cpp, tests/golden/review-*.
#include "cli/boat_file.h"
#include "cli/review_page.h"

namespace leadline::cli {

ExitCode run_review(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  const auto boat = load_boat(session, base, line.operands.front());
  const auto remarks = circuit::review(base, boat);
  // JSON is ASCII in every locale: the same bytes everywhere.
  if (line.has("json")) session.out << review_json(boat.name(), remarks);
  else session.print(review_page(base, boat, remarks, session.width));
  return count_of(remarks, circuit::Severity::wrong) > 0 ? done_with_findings : done;
}

}  // namespace leadline::cli
