#pragma once
// What lies around the program: terminal, environment, whoever tells it to stop. Injected, so that tests run everything in-process.
#include <cstdint>
#include <functional>
#include <optional>
#include <string>

#include "cli/exit_codes.h"

namespace leadline::cli {

struct Surroundings {
  bool in_is_terminal = false, out_is_terminal = false;
  int columns = 0;                                                        // of the terminal; 0: unknown
  int rows = 0;                                                           // likewise
  bool utf8 = true;                                                       // the locale's character set
  std::function<std::optional<std::string>(const char*)> variable;        // of the environment; may be empty
  std::function<bool(const std::string&, const std::string&)> show_through;  // a pager and a text; false: not shown. May be empty: no paging
  std::function<std::int64_t()> clock;                                    // seconds since 1970 UTC; may be empty: then 0
  std::function<void()> heed_stopping;                                    // from now on what asks to stop is told by stopped_by; before, it ends the program at once
  std::function<int()> stopped_by;                                        // the number of the signal that asked to stop; 0: none. Both may be empty
};

bool told_to_stop(const Surroundings& surroundings);
ExitCode stopping_code(const Surroundings& surroundings);  // 128 and the signal's number, as shells count
std::optional<std::string> variable_of(const Surroundings& surroundings, const char* name);
std::int64_t now_of(const Surroundings& surroundings);

// Sets LC_CTYPE only (numbers stay as they are in every locale). What asks to stop and is heeded: the interrupt and the quit key, a hang-up, a request to
// terminate. The first sets a flag and ends standard input, so that no question waits on; a second one ends the program at once. What the caller has
// told us to ignore (nohup) stays ignored.
Surroundings surroundings_of_process();

// --width when given (0: the default 80), else COLUMNS, else the terminal's columns up to 100, else 80; never below 40.
std::size_t width_for(const Surroundings& surroundings, std::optional<int> asked);

}  // namespace leadline::cli
