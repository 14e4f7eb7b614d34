// leadline list: what the book holds, one thing a line, for other programs and for completion. Tested by tests/cli/manual_test.cpp.
#include <algorithm>

#include "cli/session.h"
#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

template <class Things>
std::string rows(const std::string& kind, const Things& things) {
  std::string out;
  for (const auto& thing : things) out += kind + "\t" + thing.id + "\t" + text::printable(thing.title) + "\n";
  return out;
}

std::string rows_of(const knowledge::KnowledgeBase& base, const std::string& kind) {
  if (kind == "cause") return rows(kind, base.causes);
  if (kind == "finding") return rows(kind, base.findings);
  if (kind == "check") return rows(kind, base.checks);
  if (kind == "remedy") return rows(kind, base.remedies);
  if (kind == "precaution") return rows(kind, base.precautions);
  if (kind == "source") return rows(kind, base.sources);
  return rows(kind, base.tools);
}

}  // namespace

ExitCode run_list(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line) {
  const auto& asked = line.operands;
  for (const auto& kind : listed_kinds()) {
    if (asked.empty() || std::find(asked.begin(), asked.end(), kind) != asked.end()) session.print(rows_of(base, kind));
  }
  return done;
}

}  // namespace leadline::cli
