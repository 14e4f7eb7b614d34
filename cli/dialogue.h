#pragma once
// The conversation on a pair of streams: prints questions, reads lines, echoes them when they come from a pipe. Nothing is ever redrawn.
// Tested by tests/cli/golden_test.cpp and the golden call-outs.
#include "cli/conversation.h"
#include "cli/prompt.h"
#include "cli/session.h"

namespace leadline::cli {

class Dialogue {
 public:
  Dialogue(const Session& session, Conversation& conversation) : session_(session), conversation_(conversation) {}

  // Until the conversation ends; false when the interrupt key ended it.
  bool hold();

 private:
  void show_question();
  void show(const Page& page);
  // True: the conversation has moved. False: the same question stands and is asked again.
  bool take(const TypedLine& line);
  bool obey(const Command& command);
  bool report(const Reply& reply, std::string_view typed = "");
  void explain(std::size_t number);

  const Session& session_;
  Conversation& conversation_;
  std::optional<knowledge::Ref<knowledge::Check>> shown_check_;
};

}  // namespace leadline::cli
