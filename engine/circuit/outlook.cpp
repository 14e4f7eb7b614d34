#include "engine/circuit/outlook.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "engine/circuit/fitted.h"

namespace leadline::circuit {

namespace {

constexpr double lead_ohm = 0.1;         // below it an ohmmeter reads its own leads
constexpr double no_weight = 1e-15;      // of all cells: too little to be seen in any sum
constexpr double impossible_log = -1000;  // of a reading where there is nothing to read: only a slip explains it

double normal_cdf(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

double normal_density(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2 * std::numbers::pi); }

// The share of a normal between two places, from the side on which it keeps its digits.
double normal_share(double low, double high) { return low > 0 ? normal_cdf(-low) - normal_cdf(-high) : normal_cdf(high) - normal_cdf(low); }

bool told_at(const Cell& cell, std::size_t measure) { return cell.untold.empty() || !cell.untold[measure]; }

double log_normal_density(double z, double deviation) { return -0.5 * z * z - std::log(deviation * std::sqrt(2 * std::numbers::pi)); }

double log_sum(double a, double b) {
  const double larger = std::max(a, b);
  return larger == -HUGE_VAL ? larger : larger + std::log1p(std::exp(std::min(a, b) - larger));
}

// In logarithms: a reading that a cause all but forbids must count against it, not vanish in an underflow.
double log_density_at(double value, double mean, double deviation, bool folded) {
  const double straight = log_normal_density((value - mean) / deviation, deviation);
  return folded ? log_sum(straight, log_normal_density((value + mean) / deviation, deviation)) : straight;
}

// What one cell foretells, with what is known of its tolerances and sizes: a joint normal. Looks only; requires that all three outlive it.
class Foresight {
 public:
  Foresight(const Outlook& outlook, const Cell& cell, const Informed::Known& known) : outlook_(outlook), cell_(cell), known_(known) {}

  double mean(std::size_t measure) const {
    const auto at = static_cast<Eigen::Index>(measure);
    if (known_.shift.size() == 0) return cell_.mean(at);
    if (known_.spread.size() == 0) return cell_.mean(at) + (sized() ? cell_.width.row(at).dot(known_.shift.tail(cell_.width.cols())) : 0);  // tolerances stand where they stood
    return cell_.mean(at) + row(measure).dot(known_.shift);
  }
  double deviation(std::size_t measure) const {
    const double doubt = outlook_.doubt(static_cast<Eigen::Index>(measure));
    return std::sqrt(std::max(0.0, swaying(measure)) + doubt * doubt);
  }
  // How the reading moves with each tolerance and each size.
  Eigen::VectorXd row(std::size_t measure) const {
    const auto at = static_cast<Eigen::Index>(measure);
    Eigen::VectorXd sways = Eigen::VectorXd::Zero(cell_.sway.cols() + cell_.width.cols());
    for (const auto& [factor, matrix] : cell_.sway.parts) {
      if (matrix->cols() > 0) sways.head(matrix->cols()) += factor * matrix->row(at).transpose();
    }
    if (sized()) sways.tail(cell_.width.cols()) = cell_.width.row(at).transpose();
    return sways;
  }

 private:
  bool sized() const { return cell_.width.cols() > 0; }  // no row can be taken of a matrix without columns: it has no memory to point into

  double swaying(std::size_t measure) const {
    if (known_.spread.size() > 0) {
      const auto sways = row(measure);
      return sways.dot(known_.spread * sways);
    }
    const auto at = static_cast<Eigen::Index>(measure);
    const double tolerances = cell_.sway.squares.size() > 0 ? cell_.sway.squares(at) : 0;
    if (!sized()) return tolerances;
    const auto own = cell_.width.row(at).cwiseAbs2();
    return tolerances + (known_.variance.size() > 0 ? own.dot(known_.variance.tail(cell_.width.cols())) : own.sum());
  }

  const Outlook& outlook_;
  const Cell& cell_;
  const Informed::Known& known_;
};

// The same, told one reading after the other.
class Belief {
 public:
  Belief(const Outlook& outlook, const Cell& cell) : cell_(cell), foresight_(outlook, cell, known_) {}
  Belief(const Belief&) = delete;  // its foresight looks at its own

  const Foresight& foresight() const { return foresight_; }
  void learn(std::size_t measure, double value, double variance) {
    const auto sways = foresight_.row(measure);
    if (known_.spread.size() == 0) {
      known_.shift = Eigen::VectorXd::Zero(sways.size());
      known_.spread = Eigen::MatrixXd::Identity(sways.size(), sways.size());
    }
    const double surprise = value - foresight_.mean(measure);
    const Eigen::VectorXd gain = known_.spread * sways / variance;
    known_.shift += gain * surprise;
    known_.spread -= gain * gain.transpose() * variance;
  }
  const Informed::Known& known() const { return known_; }

  // How much of the cell's normal lies within the range of sizes.
  double share_within() const {
    const auto [middle, deviation] = size_position();
    return normal_share((lowest() - middle) / deviation, (highest() - middle) / deviation);
  }

  // Cuts off what lies beyond the range of sizes: the mean and variance of a truncated normal, carried over to all that hangs together with it.
  void keep_within() {
    const auto at = size_column();
    const auto [middle, deviation] = size_position();
    const double low = (lowest() - middle) / deviation, high = (highest() - middle) / deviation;
    const double share = normal_share(low, high);
    if (share < nothing_to_keep || share > 1 - nothing_to_cut) return;
    const double at_low = normal_density(low), at_high = normal_density(high);
    const double moved = (at_low - at_high) / share, left = 1 + (low * at_low - high * at_high) / share - moved * moved;
    const double kept = std::clamp(left, 0.0, 1.0);
    if (known_.spread.size() == 0) {
      known_.shift = Eigen::VectorXd::Zero(at + cell_.width.cols());
      known_.variance = Eigen::VectorXd::Ones(at + cell_.width.cols());
      known_.shift(at) = moved;
      known_.variance(at) = kept;
      return;
    }
    const Eigen::VectorXd follows = known_.spread.col(at) / deviation;
    known_.shift += follows * moved;
    known_.spread -= follows * follows.transpose() * (1 - kept);
  }

 private:
  static constexpr double nothing_to_keep = 1e-12, nothing_to_cut = 0.003;

  // Of the one fault's size within the cell, in deviations: half of the cell each.
  Eigen::Index size_column() const { return cell_.sway.cols(); }
  double lowest() const { return -cell_.sizes[0] / cell_.half[0]; }
  double highest() const { return (1 - cell_.sizes[0]) / cell_.half[0]; }
  std::pair<double, double> size_position() const {
    return {known_.shift_of(size_column()), std::sqrt(std::max(1e-12, known_.variance_of(size_column())))};
  }

  const Cell& cell_;
  Informed::Known known_;
  Foresight foresight_;
};

}  // namespace

double judged_scale(double reading, bool ohms) {
  if (!ohms) return reading;
  return std::log(std::clamp(reading, 0.0, over_range_ohm) + lead_ohm);
}

double reading_of(double judged, bool ohms) {
  if (!ohms) return judged;
  const double ohm = std::exp(judged) - lead_ohm;
  return ohm >= 0.5 * over_range_ohm ? std::numeric_limits<double>::infinity() : std::max(0.0, ohm);
}

double judged_scale_slope(double reading, bool ohms) {
  return ohms ? 1 / (std::clamp(reading, 0.0, over_range_ohm) + lead_ohm) : 1;
}

namespace {

// Tells one cell the readings; the log of their joint density under it.
double tell(Belief& belief, const Outlook& outlook, const Cell& cell, const std::vector<Taken>& readings) {
  double log_density = 0;
  for (const auto& reading : readings) {
    if (!told_at(cell, reading.measure)) {
      log_density += log_sum(impossible_log, std::log(reading.slip * reading.slip_density));
      continue;
    }
    const double own = belief.foresight().deviation(reading.measure);
    const double deviation = std::sqrt(own * own + reading.uncertainty * reading.uncertainty);
    const double mean = belief.foresight().mean(reading.measure);
    const double told = std::log(1 - reading.slip) + log_density_at(reading.value, mean, deviation, outlook.folded[reading.measure]);
    const double slipped = std::log(reading.slip * reading.slip_density);
    log_density += log_sum(told, slipped);
    if (told >= slipped) belief.learn(reading.measure, reading.value, deviation * deviation);
  }
  return log_density;
}

}  // namespace

Informed inform(const Outlook& outlook, const std::vector<Taken>& readings) {
  Informed informed;
  double largest = -HUGE_VAL, sum = 0;
  for (const auto& cell : outlook.cells) {
    Belief belief(outlook, cell);
    double log_weight = std::log(cell.weight);
    if (cell.ends) log_weight -= std::log(belief.share_within());  // the weight holds it already
    log_weight += tell(belief, outlook, cell, readings);
    if (cell.ends) {
      log_weight += std::log(std::max(belief.share_within(), 1e-300));
      belief.keep_within();
    }
    informed.cells.push_back(belief.known());
    informed.cells.back().weight = log_weight;
    largest = std::max(largest, log_weight);
  }
  for (auto& cell : informed.cells) sum += cell.weight = std::exp(cell.weight - largest);
  for (auto& cell : informed.cells) cell.weight /= sum;
  informed.log_density = largest + std::log(sum);
  return informed;
}

namespace {

struct Foretold {
  double weight, mean, deviation;
};

std::vector<Foretold> foretold(const Outlook& outlook, const Informed& informed, std::size_t measure) {
  std::vector<Foretold> cells;
  for (std::size_t c = 0; c < outlook.cells.size(); ++c) {
    if (!told_at(outlook.cells[c], measure) || informed.cells[c].weight < no_weight) continue;
    const Foresight foresight(outlook, outlook.cells[c], informed.cells[c]);
    cells.push_back({informed.cells[c].weight, foresight.mean(measure), std::max(1e-9, foresight.deviation(measure))});
  }
  return cells;
}

double share_below(double limit, const std::vector<Foretold>& cells, bool folded) {
  double share = 0;
  for (const auto& [weight, mean, deviation] : cells) {
    const double straight = normal_cdf((limit - mean) / deviation);
    if (!folded) share += weight * straight;
    else if (limit > 0) share += weight * (straight - normal_cdf((-limit - mean) / deviation));
  }
  return share;
}

}  // namespace

std::vector<double> chances_between(const Outlook& outlook, const Informed& informed, std::size_t measure, const std::vector<double>& limits) {
  const auto cells = foretold(outlook, informed, measure);
  std::vector<double> chances;
  double below = 0, all = 0;
  for (const auto& cell : cells) all += cell.weight;
  for (const double limit : limits) {
    const double upto = std::max(below, share_below(limit, cells, outlook.folded[measure]));
    chances.push_back(upto - below);
    below = upto;
  }
  chances.push_back(std::max(0.0, all - below));
  return chances;
}

double chance_untold(const Outlook& outlook, const Informed& informed, std::size_t measure) {
  double chance = 0;
  for (std::size_t c = 0; c < outlook.cells.size(); ++c) chance += told_at(outlook.cells[c], measure) ? 0 : informed.cells[c].weight;
  return chance;
}

double quantile(const Outlook& outlook, const Informed& informed, std::size_t measure, double share) {
  const auto cells = foretold(outlook, informed, measure);
  if (cells.empty()) return std::numeric_limits<double>::quiet_NaN();
  double low = HUGE_VAL, high = -HUGE_VAL, all = 0;
  for (const auto& [weight, mean, deviation] : cells) {
    all += weight;
    low = std::min(low, mean - 6 * deviation - 1e-6);
    high = std::max(high, mean + 6 * deviation + 1e-6);
  }
  if (outlook.folded[measure]) low = 0;
  for (int halving = 0; halving < 50; ++halving) {
    const double middle = (low + high) / 2;
    (share_below(middle, cells, outlook.folded[measure]) < share * all ? low : high) = middle;
  }
  return (low + high) / 2;
}

}  // namespace leadline::circuit
