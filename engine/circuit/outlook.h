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

// How readings sway with what varies among sound boats, per standard deviation: a row for each measurement, a column for each tolerance. One
// cell's is a mixture of those worked out at a few sizes, which all cells of a fault share.
struct Sway {
  struct Part {
    double factor = 1;
    std::shared_ptr<const Eigen::MatrixXd> at;
  };
  std::vector<Part> parts;
  Eigen::VectorXd squares;  // by measurement: the sum of the squares of its row, all parts together
  Eigen::Index cols() const { return parts.empty() ? 0 : parts.front().at->cols(); }
};

// One size of the faults. The mean of the readings, how they sway, and `width` (a column for each fault that has a size): half of what they
// change over the cell of sizes it stands for, so that neighbouring cells join smoothly.
struct Cell {
  double weight = 0;
  Eigen::VectorXd mean;
  Eigen::MatrixXd width;
  Sway sway;
  std::vector<bool> untold;               // by measurement: there is nothing to read it from (ohms without a current); empty: none
  bool ends = false;                      // the one fault's size ends at 0 and 1: what the cell's normal has beyond is cut off
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
    Eigen::VectorXd variance;          // while they are independent: of each; empty: 1
    Eigen::MatrixXd spread;            // their covariance, once a reading has tied them together; empty: independent
    double shift_of(Eigen::Index column) const { return shift.size() == 0 ? 0 : shift(column); }
    double variance_of(Eigen::Index column) const { return spread.size() > 0 ? spread(column, column) : variance.size() > 0 ? variance(column) : 1; }
  };
  std::vector<Known> cells;
};
Informed inform(const Outlook& outlook, const std::vector<Taken>& readings);

// The chance of each part of the judged scale between ascending limits (one more than limits). The meter's error is left out: it is what is
// there that counts. They add up to the chance that the measurement can be told at all.
std::vector<double> chances_between(const Outlook& outlook, const Informed& informed, std::size_t measure, const std::vector<double>& limits);

// The chance that there is nothing to read a measurement from.
double chance_untold(const Outlook& outlook, const Informed& informed, std::size_t measure);

// The value that a share of the probability lies below, given that it can be told; not a number when it never can.
double quantile(const Outlook& outlook, const Informed& informed, std::size_t measure, double share);

}  // namespace leadline::circuit
