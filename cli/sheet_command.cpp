// leadline sheet: the record of a job that goes to the customer or the office. Tested by tests/cli/sheet_*_test.cpp.
#include <algorithm>

#include "cli/embedded.h"
#include "cli/files.h"
#include "cli/run.h"
#include "cli/sheet_matter.h"
#include "cli/sheet_render.h"
#include "engine/text/sha256.h"

namespace leadline::cli {

namespace {

// As `cat FOLDER/*.xml | sha256sum` prints it.
std::string digest_of_book(const CommandLine& line) {
  const auto folder = line.value("knowledge");
  auto files = folder ? read_folder(*folder) : embedded_knowledge();
  std::sort(files.begin(), files.end(), [](const auto& a, const auto& b) { return a.name < b.name; });
  std::string all;
  for (const auto& file : files) all += file.content;
  return text::sha256(all);
}

std::string rendered(const Session& session, const Sheet& sheet, const std::string& form) {
  if (form == "json") return sheet_json(sheet);
  if (form == "html") return sheet_html(sheet);
  const auto page = sheet_page(sheet, session.width).text();
  return session.around.utf8 ? page : ascii(page);
}

}  // namespace

ExitCode run_sheet(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  auto output = line.value("output");
  if (output == "-") output.reset();
  if (output) {
    if (const auto why = why_not_writable(*output); !why.empty()) throw Failure(input_output_failed, why);
  }
  auto matter = sheet_matter(session, base, line.operands.front());
  matter.program = program_version(), matter.book_digest = digest_of_book(line);
  const auto content = rendered(session, sheet_of(matter), line.value("as").value_or("text"));
  if (!output) return session.out << content, done;
  write_file(*output, content);
  session.complain("leadline: sheet written to '" + *output + "'");
  return done;
}

}  // namespace leadline::cli
