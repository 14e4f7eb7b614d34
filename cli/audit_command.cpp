// leadline audit: what is wrong with the book itself, and how far it carries. Tested by tests/cli/audit_test.cpp.
#include <span>

#include "cli/audit_page.h"
#include "cli/embedded.h"
#include "cli/files.h"
#include "cli/session.h"
#include "engine/callout/case_file.h"

namespace leadline::cli {

namespace {

std::vector<text::Source> book_of(const CommandLine& line) {
  const auto folder = line.value("knowledge");
  if (folder && !line.operands.empty()) throw Failure(bad_usage, "audit DIR and --knowledge both name a folder; give one");
  if (!line.operands.empty()) return read_folder(line.operands.front());
  return folder ? read_folder(*folder) : embedded_knowledge();
}

std::vector<callout::Record> records_of(const knowledge::KnowledgeBase& base, const CommandLine& line) {
  std::vector<callout::Record> records;
  const auto folder = line.value("cases");
  if (!folder) return records;
  for (const auto& source : read_folders(*folder, "callout.xml")) {
    auto loaded = callout::read_case(base, source);
    if (!loaded.value) throw Failure(bad_data, text::render(loaded.problems, std::span(&source, 1)));
    records.push_back(*std::move(loaded.value));
  }
  return records;
}

}  // namespace

ExitCode run_audit(const Session& session, const CommandLine& line) {
  if (line.has("cases") && !line.has("report")) throw Failure(bad_usage, "--cases is for the report; give --report too");
  const auto files = book_of(line);
  const auto audited = audit::audit(files);
  std::optional<audit::Report> report;
  std::vector<std::string> titles;
  if (line.has("report") && audited.base) {
    const auto records = records_of(*audited.base, line);
    for (const auto& record : records) titles.push_back(record.title);
    report = audit::report_on(*audited.base, files, records);
  }
  // JSON is ASCII in every locale: the same bytes everywhere.
  if (line.has("json")) session.out << audit_json(audited, report ? &*report : nullptr, titles);
  else session.print(audit_page(audited, session.width));
  if (report && !line.has("json")) session.print(audit_report_page(*audited.base, *report, titles, session.width));
  return audited.remarks.empty() ? done : done_with_findings;
}

}  // namespace leadline::cli
