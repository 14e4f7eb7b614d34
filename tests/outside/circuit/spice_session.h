#pragma once
// One netlist whose numbers are altered between operating points: thousands of points in one run of ngspice.
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iomanip>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

namespace leadline::testing {

class SpiceSession {
 public:
  // A number that may be altered, written into the netlist as 0. Returns its place among a point's numbers.
  std::size_t knob(const std::string& device, const std::string& parameter = "") {
    knobs_.push_back("alter " + device + (parameter.empty() ? "" : " " + parameter) + "=");
    return knobs_.size() - 1;
  }
  void line(const std::string& text) { netlist_ += text + "\n"; }
  std::size_t knobs() const { return knobs_.size(); }

  struct Point {
    std::vector<double> numbers;        // by knob
    std::vector<std::string> vectors;   // "v(n3)", "i(v7)"
  };

  // The vectors of each point, in its order; nothing where ngspice found no operating point. Without ngspice: nothing anywhere.
  std::vector<std::optional<std::vector<double>>> run(const std::vector<Point>& points) const {
    std::vector<std::optional<std::vector<double>>> results(points.size());
    if (points.empty()) return results;
    const auto stem = (std::filesystem::temp_directory_path() / ("leadline_spice_" + std::to_string(getpid()))).string();
    write(stem + ".cir", points);
    const std::string command = "ngspice -b " + stem + ".cir > " + stem + ".log 2> " + stem + ".err";
    if (std::system(command.c_str()) != -1) read(stem + ".log", points, results);
    for (const char* ending : {".cir", ".log", ".err"}) std::filesystem::remove(stem + ending);
    return results;
  }

 private:
  void write(const std::string& path, const std::vector<Point>& points) const {
    std::ofstream out(path);
    out << std::setprecision(17) << "* written by the test\n.options reltol=1e-9 abstol=1e-12 vntol=1e-9 gmin=1e-15 itl1=500\n" << netlist_;
    out << ".control\nset numdgt=12\n";
    std::vector<std::optional<double>> now(knobs_.size());
    for (std::size_t p = 0; p < points.size(); ++p) {
      for (std::size_t k = 0; k < knobs_.size(); ++k) {
        if (now[k] != points[p].numbers[k]) out << knobs_[k] << points[p].numbers[k] << "\n";
        now[k] = points[p].numbers[k];
      }
      out << "op\necho point " << p << "\nprint";
      for (const auto& vector : points[p].vectors) out << " " << vector;
      out << "\ndestroy all\n";  // kept plots make each further point slower
    }
    out << ".endc\n.end\n";
  }

  static void read(const std::string& path, const std::vector<Point>& points, std::vector<std::optional<std::vector<double>>>& results) {
    std::ifstream lines(path);
    std::vector<double> values;
    std::optional<std::size_t> point;
    const auto close = [&] {
      if (point && values.size() == points[*point].vectors.size()) results[*point] = values;
      values.clear();
    };
    for (std::string line; std::getline(lines, line);) {
      std::istringstream words(line);
      std::string name, equals;
      std::size_t number = 0;
      double value = 0;
      words >> name;
      if (name == "point" && words >> number) {
        close();
        point = number;
      } else if (words >> equals >> value && equals == "=" && point && values.size() < points[*point].vectors.size() &&
                 name == points[*point].vectors[values.size()]) {
        values.push_back(value);
      }
    }
    close();
  }

  std::string netlist_;
  std::vector<std::string> knobs_;
};

}  // namespace leadline::testing
