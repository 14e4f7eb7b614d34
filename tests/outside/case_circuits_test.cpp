// The readings of the recorded call-outs against ngspice: cases/NAME/circuit.cir, written from the trade's side, prints `reading FINDING VALUE`;
// callout.xml must say the same within what its meter may err. Nothing of the engine's circuits is used.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>

#include "engine/callout/case_file.h"
#include "tests/circuit/shipped_base.h"

namespace leadline {
namespace {

namespace fs = std::filesystem;

constexpr double over_range = 10e6;  // ohm: more than a pocket meter shows

std::map<std::string, double> computed_by_ngspice(const fs::path& netlist) {
  std::map<std::string, double> values;
  std::FILE* pipe = popen(("ngspice -b '" + netlist.string() + "' 2>/dev/null").c_str(), "r");
  if (pipe == nullptr) return values;
  std::string output;
  char part[4096];
  while (const auto got = std::fread(part, 1, sizeof part, pipe)) output.append(part, got);
  pclose(pipe);
  std::istringstream lines(output);
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::string word, finding;
    double value = 0;
    if (words >> word >> finding >> value && word == "reading") values[finding] = value;
  }
  return values;
}

// How many readings the netlist asks for: one that ngspice could not compute must not pass unseen.
std::size_t wanted_of(const fs::path& netlist) {
  std::ifstream in(netlist);
  std::size_t count = 0;
  for (std::string line; std::getline(in, line);) count += line.starts_with("echo reading ") ? 1 : 0;
  return count;
}

callout::Record record_of(const fs::path& folder) {
  std::ifstream in(folder / "callout.xml", std::ios::binary);
  std::ostringstream content;
  content << in.rdbuf();
  const text::Source file{"callout.xml", content.str()};
  auto loaded = callout::read_case(testing::shipped_base(), file);
  if (!loaded.value) throw std::runtime_error(folder.string() + "\n" + text::render(loaded.problems, std::vector<text::Source>{file}));
  return *std::move(loaded.value);
}

// The limits of error, not the standard uncertainty: a = sqrt(3) u (GUM, JCGM 100:2008 § 4.3.7).
double limit_of_error(const diagnosis::Reading& reading, knowledge::Unit unit, diagnosis::InstrumentClass instrument) {
  return std::sqrt(3.0) * diagnosis::standard_uncertainty(reading, unit, diagnosis::instrument_of(instrument));
}

TEST(CaseCircuits, ReadingsAreThoseOfNgspice) {
  if (std::system("ngspice --version > /dev/null 2>&1") != 0) GTEST_SKIP() << "ngspice is not installed";
  std::size_t compared = 0;
  for (const auto& entry : fs::directory_iterator(fs::path(LEADLINE_SOURCE_DIR) / "cases")) {
    const auto netlist = entry.path() / "circuit.cir";
    if (!fs::exists(netlist)) continue;
    const auto record = record_of(entry.path());
    const auto values = computed_by_ngspice(netlist);
    EXPECT_EQ(values.size(), wanted_of(netlist)) << netlist;
    for (const auto& [id, value] : values) {
      const auto answer = std::find_if(record.answers.begin(), record.answers.end(),
                                       [&, name = id](const auto& a) { return testing::shipped_base()[a.finding].id == name; });
      ASSERT_NE(answer, record.answers.end()) << netlist << ": " << id << " is no answer of the call-out";
      const auto* told = std::get_if<diagnosis::Reading>(&answer->observed);
      ASSERT_NE(told, nullptr) << netlist << ": " << id << " is answered without a reading";
      ++compared;
      const auto& reading = *told;
      if (std::isinf(reading.value)) EXPECT_GT(value, over_range) << netlist << ": " << id;
      else EXPECT_NEAR(reading.value, value, limit_of_error(reading, *testing::shipped_base()[answer->finding].unit, record.instrument)) << netlist << ": " << id;
    }
  }
  EXPECT_GE(compared, 100U);
}

}  // namespace
}  // namespace leadline
