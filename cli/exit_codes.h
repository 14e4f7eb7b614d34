#pragma once
// How the program ends. The table for people: docs/exit-codes.md and `leadline help`.
#include <stdexcept>
#include <string>

namespace leadline::cli {

enum ExitCode : int {
  done = 0,
  done_with_findings = 1,  // the answers argue with one another, nothing listed fits, something is wrong in a record or in the book, nothing was found
  bad_usage = 64,
  bad_data = 65,
  input_missing = 66,
  internal_mistake = 70,
  cannot_create = 73,        // the file or folder of a job
  input_output_failed = 74,
  try_again = 75,            // another process holds the job
  hung_up = 129,             // these four: 128 and the number of the signal, as shells count
  interrupted = 130,
  quit = 131,
  terminated = 143,
};

// The command cannot go on, through no mistake of ours: `what` is for the person, the code for the caller of the program.
class Failure : public std::runtime_error {
 public:
  Failure(ExitCode code, const std::string& what) : std::runtime_error(what), code_(code) {}
  ExitCode code() const { return code_; }

 private:
  ExitCode code_;
};

}  // namespace leadline::cli
