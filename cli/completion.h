#pragma once
// What a shell offers on Tab, written from the table of commands. Pure. Tested by tests/cli/manual_test.cpp, and in the shells by
// tests/outside/shells/manual.sh.
#include <string>

namespace leadline::cli {

std::string bash_completion();
std::string zsh_completion();
std::string fish_completion();

}  // namespace leadline::cli
