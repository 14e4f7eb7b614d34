// leadline audit: what is wrong with the book itself. Tested by tests/cli/audit_test.cpp.
#include "cli/audit_page.h"
#include "cli/embedded.h"
#include "cli/files.h"
#include "cli/session.h"

namespace leadline::cli {

namespace {

std::vector<text::Source> book_of(const CommandLine& line) {
  const auto folder = line.value("knowledge");
  if (folder && !line.operands.empty()) throw Failure(bad_usage, "audit DIR and --knowledge both name a folder; give one");
  if (!line.operands.empty()) return read_folder(line.operands.front());
  return folder ? read_folder(*folder) : embedded_knowledge();
}

}  // namespace

ExitCode run_audit(const Session& session, const CommandLine& line) {
  const auto files = book_of(line);
  const auto audited = audit::audit(files);
  // JSON is ASCII in every locale: the same bytes everywhere.
  if (line.has("json")) session.out << audit_json(audited);
  else session.print(audit_page(audited, session.width));
  return audited.remarks.empty() ? done : done_with_findings;
}

}  // namespace leadline::cli
