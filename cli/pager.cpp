#include "cli/pager.h"

#include <sys/wait.h>

#include <csignal>
#include <cstdio>
#include <cstdlib>

#include "cli/descriptor.h"

namespace leadline::cli {

namespace {

constexpr int no_such_program = 127, not_a_program = 126;  // as a shell ends then

void leave_it_to_the_pager(int) {}

// A pager that is left early closes the pipe: that must not end us. Nor must the interrupt and the quit key, which are the pager's while it is on the
// screen: it would be left there without us. A handler that does nothing, for the pager would inherit what is ignored.
class WhilePaging {
 public:
  WhilePaging() : pipe_(std::signal(SIGPIPE, SIG_IGN)), interrupt_(std::signal(SIGINT, leave_it_to_the_pager)), quit_(std::signal(SIGQUIT, leave_it_to_the_pager)) {}
  WhilePaging(const WhilePaging&) = delete;
  WhilePaging& operator=(const WhilePaging&) = delete;
  ~WhilePaging() {
    std::signal(SIGPIPE, pipe_);
    std::signal(SIGINT, interrupt_);
    std::signal(SIGQUIT, quit_);
  }

 private:
  using Handler = void (*)(int);
  Handler pipe_, interrupt_, quit_;
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
  const WhilePaging undisturbed;
  ::setenv("LESS", "FRX", 0);  // leave at the end of a short text, pass nothing but colour through, leave the text on the screen
  std::FILE* pipe = ::popen(pager.c_str(), "w");
  if (pipe == nullptr) return false;
  write_all(::fileno(pipe), text);  // as far as it is read
  const int status = ::pclose(pipe);
  if (status < 0 || !WIFEXITED(status)) return true;
  return WEXITSTATUS(status) != no_such_program && WEXITSTATUS(status) != not_a_program;
}

}  // namespace leadline::cli
