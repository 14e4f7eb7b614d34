#pragma once
// Tells the journal of a job what the conversation did, and the conversation what the journal holds. Tested by tests/cli/job_test.cpp.
#include "cli/conversation.h"
#include "cli/job_file.h"

namespace leadline::cli {

// What one step changed: from the progress and the question before it, and the conversation after it.
callout::Meaning meaning_of(const Progress& before, const Question& question, const Conversation& after);

class JobKeeper {
 public:
  // `file`: none: only notes are held, for the last page. Outlived by both.
  JobKeeper(JobFile* file, const Surroundings& around) : file_(file), around_(around) {}

  bool keeps() const { return file_ != nullptr; }
  const JobFile* file() const { return file_; }
  // Each returns when it is on the disk. Throws Failure 74.
  void said(const Progress& before, const Question& question, const Conversation& after, std::string_view did, std::string_view typed);
  void undone() { keep(callout::UndoEvent{}); }
  void noted(const std::string& words);
  void ended(const std::string& how) { keep(callout::EndEvent{how}); }

  const std::vector<callout::TimedNote>& notes() const { return notes_; }  // of this sitting

 private:
  void keep(decltype(callout::Event::what) what);

  JobFile* file_;
  const Surroundings& around_;
  std::vector<callout::TimedNote> notes_;
};

// A conversation where the job stands.
struct Resumed {
  std::unique_ptr<Conversation> conversation;
  std::vector<callout::Carried> carried;                  // under another book: what became of everything
  std::optional<callout::TakenOverEvent> taken_over;      // to be kept before anything else
  bool other_order = false;                               // the same book, but this program would have asked otherwise
};
// What the journal means under this book. Throws Failure 65 when the boat's record no longer fits it.
callout::Job job_under(const knowledge::KnowledgeBase& base, const callout::Journal& journal);
// Says everything again under the same book: the state is exactly that before the end. Under another book, or when this program asks in another
// order, takes over what still means the same. Throws Failure 65 when the boat's record no longer fits the book.
Resumed resume(const knowledge::KnowledgeBase& base, const callout::Journal& journal);

}  // namespace leadline::cli
