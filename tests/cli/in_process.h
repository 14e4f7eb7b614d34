#pragma once
// Runs the whole program inside the test: width 80, no terminal, UTF-8, an empty environment.
#include <sstream>
#include <string>
#include <vector>

#include "cli/run.h"

namespace leadline::testing {

struct Ran {
  int code = 0;
  std::string out, err;
};

inline Ran run_program(const std::vector<std::string>& arguments, const std::string& typed = "") {
  std::istringstream in(typed);
  std::ostringstream out, err;
  const cli::Surroundings surroundings;
  const int code = cli::run(arguments, in, out, err, surroundings);
  return {code, out.str(), err.str()};
}

}  // namespace leadline::testing
