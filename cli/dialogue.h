#pragma once
// The conversation on a pair of streams: prints questions, reads lines, echoes them when they come from a pipe. Nothing is ever redrawn.
// Tested by tests/cli/golden_test.cpp and the golden call-outs.
#include <functional>

#include "cli/conversation.h"
#include "cli/job_keeper.h"
#include "cli/prompt.h"
#include "cli/session.h"

namespace leadline::cli {

class Dialogue {
 public:
  // `keeper`: is told of everything that moves the conversation before the screen says so.
  Dialogue(const Session& session, Conversation& conversation, JobKeeper& keeper) : session_(session), conversation_(conversation), keeper_(keeper) {}

  // Until the conversation ends; false when the interrupt key ended it.
  bool hold();

 private:
  void show_question();
  void show(const Page& page);
  // True: the conversation has moved. False: the same question stands and is asked again.
  bool take(const TypedLine& line);
  bool obey(const Command& command);
  // Does it; when the conversation has moved, keeps it as `did` and only then reports.
  bool keep(const char* did, std::string_view typed, const std::function<Reply()>& act);
  void try_out(const std::string& answer);
  void note(const std::string& words);
  bool report(const Reply& reply, std::string_view typed = "");
  void explain(std::size_t number);

  const Session& session_;
  Conversation& conversation_;
  JobKeeper& keeper_;
  std::optional<knowledge::Ref<knowledge::Check>> shown_check_;
};

}  // namespace leadline::cli
