// leadline find: symptoms by free words. Tested by tests/cli/golden_test.cpp.
#include "cli/session.h"
#include "engine/knowledge/finder.h"

namespace leadline::cli {

ExitCode run_find(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  std::string words;
  for (const auto& operand : line.operands) words += operand + " ";
  const auto matches = knowledge::Finder(base).find(words);
  auto page = session.page();
  if (matches.empty()) {
    session.print(page.line("No symptom matches these words. Try others: what is seen, heard or felt."));
    return done_with_findings;
  }
  for (const auto& match : matches) {
    const auto& finding = base[match.finding];
    page.line(finding.id + (match.state ? " = " + finding.states[*match.state].id : ""));
    page.line(finding.title + (match.state ? ": " + finding.states[*match.state].words : ""), 2);
  }
  page.blank().line("'leadline show ID' prints the page of one.");
  session.print(page);
  return done;
}

}  // namespace leadline::cli
