#include "cli/surroundings.h"

#include <fcntl.h>
#include <langinfo.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <clocale>
#include <csignal>
#include <cstdlib>
#include <ctime>
#include <string_view>

#include "cli/pager.h"
#include "engine/text/number.h"

namespace leadline::cli {

namespace {

constexpr int default_width = 80, least_width = 40;
constexpr int most_terminal_width = 100;  // longer lines are hard to follow with the eye

volatile std::sig_atomic_t stop_seen = 0;
volatile std::sig_atomic_t nothing_to_read = -1;  // opened beforehand

// A read that begins just after the signal would wait for a line nobody types: it meets the end of input instead.
void note_stop(int signal) {
  const int kept = errno;
  stop_seen = signal;
  if (nothing_to_read >= 0) dup2(nothing_to_read, STDIN_FILENO);
  errno = kept;
}

void heed_stopping() {
  nothing_to_read = open("/dev/null", O_RDONLY | O_CLOEXEC);
  for (const int signal : {SIGINT, SIGTERM, SIGHUP, SIGQUIT}) {
    struct sigaction before {}, action {};
    if (sigaction(signal, nullptr, &before) != 0 || before.sa_handler == SIG_IGN) continue;
    action.sa_handler = note_stop;
    action.sa_flags = static_cast<int>(SA_RESETHAND);  // and without SA_RESTART: a waiting read returns
    sigaction(signal, &action, nullptr);
  }
}

winsize size_of_terminal() {
  winsize size{};
  return ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 ? size : winsize{};
}

std::optional<int> columns_variable(const Surroundings& surroundings) {
  const auto written = variable_of(surroundings, "COLUMNS");
  const auto number = written ? text::parse_number(*written) : std::nullopt;
  if (!number || *number < 1 || *number > 10'000) return std::nullopt;
  return static_cast<int>(*number);
}

}  // namespace

bool told_to_stop(const Surroundings& surroundings) { return surroundings.stopped_by && surroundings.stopped_by() != 0; }
ExitCode stopping_code(const Surroundings& surroundings) { return static_cast<ExitCode>(128 + surroundings.stopped_by()); }
std::optional<std::string> variable_of(const Surroundings& surroundings, const char* name) { return surroundings.variable ? surroundings.variable(name) : std::nullopt; }
std::int64_t now_of(const Surroundings& surroundings) { return surroundings.clock ? surroundings.clock() : 0; }

Surroundings surroundings_of_process() {
  std::setlocale(LC_CTYPE, "");  // never LC_ALL: a comma locale would change how pugixml reads numbers
  Surroundings surroundings;
  surroundings.in_is_terminal = isatty(STDIN_FILENO) == 1;
  surroundings.out_is_terminal = isatty(STDOUT_FILENO) == 1;
  const auto size = surroundings.out_is_terminal ? size_of_terminal() : winsize{};
  surroundings.columns = size.ws_col;
  surroundings.rows = size.ws_row;
  surroundings.show_through = show_through;
  surroundings.utf8 = std::string_view(nl_langinfo(CODESET)) == "UTF-8";
  surroundings.variable = [](const char* name) -> std::optional<std::string> {
    const char* value = std::getenv(name);
    return value == nullptr ? std::nullopt : std::optional<std::string>(value);
  };
  surroundings.clock = [] { return static_cast<std::int64_t>(std::time(nullptr)); };
  surroundings.heed_stopping = heed_stopping;
  surroundings.stopped_by = [] { return static_cast<int>(stop_seen); };
  return surroundings;
}

std::size_t width_for(const Surroundings& surroundings, std::optional<int> asked) {
  int width = default_width;
  if (asked) width = *asked;
  else if (const auto columns = columns_variable(surroundings)) width = std::min(*columns, most_terminal_width);
  else if (surroundings.columns > 0) width = std::min(surroundings.columns, most_terminal_width);
  if (width == 0) width = default_width;
  return static_cast<std::size_t>(std::max(width, least_width));
}

}  // namespace leadline::cli
