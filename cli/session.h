#pragma once
// What every command is given: streams, width, and how to print. Commands are free functions that return an ExitCode.
#include <iosfwd>
#include <memory>
#include <spdlog/logger.h>

#include "cli/command_line.h"
#include "cli/exit_codes.h"
#include "cli/layout.h"
#include "cli/surroundings.h"
#include "engine/knowledge/knowledge_base.h"

namespace leadline::cli {

struct Session {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  const Surroundings& around;
  std::size_t width;
  std::shared_ptr<spdlog::logger> log;  // to `err`, never to `out`
  bool read_aloud = false;              // by a screen reader: no bars, no pager

  Page page() const { return Page(width); }
  void print(std::string_view text) const;     // to `out`; ASCII where the locale is not UTF-8, without bars where it is read aloud
  void print(const Page& page) const { print(page.text()); }
  void complain(std::string_view text) const;  // to `err`, likewise
  void tell(std::string_view words) const { complain(page().line(words).text()); }  // to `err`, wrapped to the width: a sentence to a person
};

// Each command has a file of its own.
ExitCode run_diagnose(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line);
ExitCode run_jobs(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line);
ExitCode run_rank(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line);
ExitCode run_sheet(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line);
ExitCode run_show(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line);
ExitCode run_expect(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line);
ExitCode run_review(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line);
ExitCode run_practise(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line);
ExitCode run_trial(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line);
// Reads the book itself: a faulty one is what it is there for.
ExitCode run_audit(const Session& session, const CommandLine& line);
ExitCode run_find(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line);
ExitCode run_list(const Session& session, const knowledge::KnowledgeBase& base, const CommandLine& line);

// Help pages need no knowledge base.
Page short_help(std::size_t width);                              // at most 24 lines at 80 characters
Page full_help(std::size_t width);
Page command_help(const CommandSpec& command, std::size_t width);
ExitCode run_help(const Session& session, const CommandLine& line);
ExitCode run_completion(const Session& session, const CommandLine& line);

}  // namespace leadline::cli
