#pragma once
// Long output at a terminal, a screen at a time. Tested by tests/cli/pager_test.cpp.
#include <string>

#include "cli/surroundings.h"

namespace leadline::cli {

// The command line of the pager for a text of so many lines; empty: print it as it is. Only at a terminal that can steer its cursor,
// and only what is longer than the screen.
std::string pager_for(const Surroundings& surroundings, std::size_t lines);

// Starts it through the shell and gives it the text. False: nothing was shown, print it yourself. A reader who leaves early is no failure.
bool show_through(const std::string& pager, const std::string& text);

}  // namespace leadline::cli
