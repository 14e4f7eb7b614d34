#pragma once
// The manual page, written from the table of commands, so that it cannot say less or more than the program does. Pure. Tested by tests/cli/manual_test.cpp.
#include <string>

namespace leadline::cli {

// Source for man(7): ASCII, for `man -l -` or to be installed as leadline.1.
std::string manual_page();

}  // namespace leadline::cli
