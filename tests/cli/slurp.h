#pragma once
// A file's bytes, as the tests of whole runs compare them.
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace leadline::testing {

// "" for a file that is not there.
inline std::string slurp(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream content;
  content << file.rdbuf();
  return content.str();
}

}  // namespace leadline::testing
