#include <iostream>

#include "cli/run.h"

int main(int argc, char** argv) {
  return leadline::cli::run({argv + 1, argv + argc}, std::cin, std::cout, std::cerr, leadline::cli::surroundings_of_process());
}
