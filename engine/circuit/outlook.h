#pragma once
// What the measurements of one circuit would read under a set of causes, with how sure that is. The mathematics: docs/mathematics.md § tied readings.
// Tested by tests/circuit/outlook_test.cpp against brute integration.
#include <Eigen/Dense>
#include <memory>
#include <optional>
#include <vector>

namespace leadline::circuit {

// Readings on the scale on which they are judged: volts and amperes as they are, ohms as ln(ohm + 0.1), cut off at over-range.
double judged_scale(double reading, bool ohms);
double reading_of(double judged, bool ohms);             // back again; infinite at over-range
double judged_scale_slope(double reading, bool ohms);  // to carry an uncertainty over

// One size of the faults. The mean of the readings, how they sway with what varies among sound boats (a column for each, per standard
// deviation), and `width` (a column for each fault that has a size): half of what they change over the cell of sizes it stands for, so that
// neighbouring cells join smoothly.
struct Cell {
  double weight = 0;
  Eigen::VectorXd mean;
  Eigen::MatrixXd width;
  std::shared_ptr<const Eigen::MatrixXd> sway;
  std::vector<std::size_t> alternatives;  // of each cause, index into Outlook::alternatives
  std::vector<double> sizes, half;        // of each cause, 0 … 1 between its effect's `from` and `to`: the cell's middle and half its length
};

// One way in which the causes can show: the place struck by each.
struct AlternativeName {
  std::string words, struck;  // the effect's words; the part that was meant by a *
};

struct Outlook {
  std::vector<Cell> cells;                    // weights add up to 1
  std::vector<std::vector<AlternativeName>> alternatives;  // by cause
  Eigen::VectorXd doubt;                      // by measurement, on the judged scale
  std::vector<bool> folded;                   // by measurement: a spread, which is never below 0
};

// A reading that was taken, on the judged scale.
struct Taken {
  std::size_t measure = 0;
  double value = 0, uncertainty = 0;
  double slip = 0;           // chance that it speaks of something the circuit does not describe
  double slip_density = 0;   // how likely this reading is then
};

// What readings make of an outlook: how much each cell weighs now, and what is known of this boat's tolerances under it. Readings are told one
// after the other; each is judged by what the earlier ones leave possible, so that the same thing read twice counts once. A reading far off
// is put down to its slip and tells nothing more.
struct Informed {
  double log_density = 0;              // of all readings together: log of sum over cells of weight * density
  struct Known {
    double weight = 0;                 // add up to 1
    Eigen::VectorXd shift;             // of the tolerances and sizes within the cell, in standard deviations; empty: 0
    Eigen::MatrixXd spread;            // their covariance; empty: independent, 1 each
  };
  std::vector<Known> cells;
};
Informed inform(const Outlook& outlook, const std::vector<Taken>& readings);

// The chance of each part of the judged scale between ascending limits (one more than limits). The meter's error is left out: it is what is
// there that counts.
std::vector<double> chances_between(const Outlook& outlook, const Informed& informed, std::size_t measure, const std::vector<double>& limits);

// The value that a share of the probability lies below.
double quantile(const Outlook& outlook, const Informed& informed, std::size_t measure, double share);

}  // namespace leadline::circuit
