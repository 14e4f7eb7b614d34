#include "cli/pager.h"

#include <sys/wait.h>

#include <csignal>
#include <cstdio>
#include <cstdlib>

#include "cli/descriptor.h"

namespace leadline::cli {

namespace {

constexpr int no_such_program = 127, not_a_program = 126;  // as a shell ends then

// A pager that is left early closes the pipe: that must not end us.
class WithoutBrokenPipe {
 public:
  WithoutBrokenPipe() : before_(std::signal(SIGPIPE, SIG_IGN)) {}
  WithoutBrokenPipe(const WithoutBrokenPipe&) = delete;
  WithoutBrokenPipe& operator=(const WithoutBrokenPipe&) = delete;
  ~WithoutBrokenPipe() { std::signal(SIGPIPE, before_); }

 private:
  void (*before_)(int);
};

}  // namespace

std::string pager_for(const Surroundings& surroundings, std::size_t lines) {
  const auto terminal = variable_of(surroundings, "TERM").value_or("");
  if (!surroundings.out_is_terminal || !surroundings.in_is_terminal || terminal.empty() || terminal == "dumb") return "";
  if (surroundings.rows <= 0 || lines < static_cast<std::size_t>(surroundings.rows)) return "";
  const auto pager = variable_of(surroundings, "PAGER").value_or("less");
  return pager == "cat" ? "" : pager;
}

bool show_through(const std::string& pager, const std::string& text) {
  const WithoutBrokenPipe quiet;
  ::setenv("LESS", "FRX", 0);  // leave at the end of a short text, pass nothing but colour through, leave the text on the screen
  std::FILE* pipe = ::popen(pager.c_str(), "w");
  if (pipe == nullptr) return false;
  write_all(::fileno(pipe), text);  // as far as it is read
  const int status = ::pclose(pipe);
  if (status < 0 || !WIFEXITED(status)) return true;
  return WEXITSTATUS(status) != no_such_program && WEXITSTATUS(status) != not_a_program;
}

}  // namespace leadline::cli
