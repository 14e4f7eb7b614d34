#pragma once
// The whole program behind main. Tested by tests/cli/.
#include <iosfwd>
#include <string>
#include <vector>

#include "cli/surroundings.h"

namespace leadline::cli {

// "0.1.0".
std::string program_version();

// Returns an ExitCode. Nothing escapes: our own mistakes become a short apology on `err` and 70.
int run(const std::vector<std::string>& arguments, std::istream& in, std::ostream& out, std::ostream& err, const Surroundings& surroundings);

}  // namespace leadline::cli
