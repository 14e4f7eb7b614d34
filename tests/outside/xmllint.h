#pragma once
// libxml2's xmllint as an independent judge of XML. For tests/outside only.
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>

namespace leadline::testing {

inline std::string read_file(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw std::runtime_error("cannot read " + path);
  std::ostringstream content;
  content << in.rdbuf();
  return content.str();
}

struct Verdict {
  int code = 0;  // xmllint's exit code: 0 accepted, 1 not well-formed, 3 or 4 not valid, 5 the schema itself is wrong
  std::string message;
};

inline Verdict xmllint(const std::string& arguments) {
  FILE* pipe = popen(("LC_ALL=C xmllint --noout --nonet " + arguments + " 2>&1").c_str(), "r");
  if (pipe == nullptr) throw std::runtime_error("cannot start xmllint");
  Verdict verdict;
  char buffer[4096];
  while (std::fgets(buffer, sizeof buffer, pipe) != nullptr) verdict.message += buffer;
  const int status = pclose(pipe);
  verdict.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  if (verdict.code == 127 || verdict.code < 0)
    throw std::runtime_error("xmllint is missing (apt-get install libxml2-utils): " + verdict.message);
  return verdict;
}

// The judgement on a text, by way of a file of this process's own in the build folder.
inline Verdict xmllint_text(const std::string& options, const std::string& content) {
  const std::string path = std::string(LEADLINE_BINARY_DIR) + "/xmllint-" + std::to_string(getpid()) + ".xml";
  {
    std::ofstream out(path, std::ios::binary);
    out << content;
    if (!out.flush()) throw std::runtime_error("cannot write " + path);
  }
  const auto verdict = xmllint(options + " '" + path + "'");
  (void)std::remove(path.c_str());
  return verdict;
}

inline constexpr int well_formed = 0, ill_formed = 1, invalid = 3, invalid_too = 4;

}  // namespace leadline::testing
