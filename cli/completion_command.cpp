// leadline completion: the script for one shell. Tested by tests/cli/manual_test.cpp.
#include "cli/completion.h"
#include "cli/session.h"

namespace leadline::cli {

ExitCode run_completion(const Session& session, const CommandLine& line) {
  const auto& shell = line.operands.front();
  session.print(shell == "bash" ? bash_completion() : shell == "zsh" ? zsh_completion() : fish_completion());
  return done;
}

}  // namespace leadline::cli
