#include "engine/circuit/outlook.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "engine/circuit/fitted.h"

namespace leadline::circuit {

namespace {

constexpr double lead_ohm = 0.1;  // below it an ohmmeter reads its own leads

double normal_cdf(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

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

// One cell's tolerances and sizes as a joint normal, told one reading after the other.
class Belief {
 public:
  Belief(const Outlook& outlook, const Cell& cell) : outlook_(outlook), cell_(cell) {}
  Belief(const Outlook& outlook, const Cell& cell, const Informed::Known& known) : outlook_(outlook), cell_(cell), known_(known) {}

  double mean(std::size_t measure) const {
    const double middle = cell_.mean(static_cast<Eigen::Index>(measure));
    return known_.shift.size() == 0 ? middle : middle + row(measure).dot(known_.shift);
  }
  double deviation(std::size_t measure) const {
    const auto sways = row(measure);
    const double doubt = outlook_.doubt(static_cast<Eigen::Index>(measure));
    const double swaying = known_.spread.size() == 0 ? sways.squaredNorm() : sways.dot(known_.spread * sways);
    return std::sqrt(std::max(0.0, swaying) + doubt * doubt);
  }
  void learn(std::size_t measure, double value, double variance) {
    const auto sways = row(measure);
    if (known_.shift.size() == 0) {
      known_.shift = Eigen::VectorXd::Zero(sways.size());
      known_.spread = Eigen::MatrixXd::Identity(sways.size(), sways.size());
    }
    const double surprise = value - mean(measure);
    const Eigen::VectorXd gain = known_.spread * sways / variance;
    known_.shift += gain * surprise;
    known_.spread -= gain * gain.transpose() * variance;
  }
  const Informed::Known& known() const { return known_; }

 private:
  Eigen::VectorXd row(std::size_t measure) const {
    const auto at = static_cast<Eigen::Index>(measure);
    Eigen::VectorXd sways(cell_.sway->cols() + cell_.width.cols());
    sways << cell_.sway->row(at).transpose(), cell_.width.row(at).transpose();
    return sways;
  }

  const Outlook& outlook_;
  const Cell& cell_;
  Informed::Known known_;
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
double tell(Belief& belief, const Outlook& outlook, const std::vector<Taken>& readings) {
  double log_density = 0;
  for (const auto& reading : readings) {
    const double own = belief.deviation(reading.measure);
    const double deviation = std::sqrt(own * own + reading.uncertainty * reading.uncertainty);
    const double mean = belief.mean(reading.measure);
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
    const double log_weight = std::log(cell.weight) + tell(belief, outlook, readings);
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
    const Belief belief(outlook, outlook.cells[c], informed.cells[c]);
    cells.push_back({informed.cells[c].weight, belief.mean(measure), std::max(1e-9, belief.deviation(measure))});
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
  double below = 0;
  for (const double limit : limits) {
    const double upto = std::max(below, share_below(limit, cells, outlook.folded[measure]));
    chances.push_back(upto - below);
    below = upto;
  }
  chances.push_back(std::max(0.0, 1 - below));
  return chances;
}

double quantile(const Outlook& outlook, const Informed& informed, std::size_t measure, double share) {
  const auto cells = foretold(outlook, informed, measure);
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (const auto& [weight, mean, deviation] : cells) {
    low = std::min(low, mean - 6 * deviation - 1e-6);
    high = std::max(high, mean + 6 * deviation + 1e-6);
  }
  if (outlook.folded[measure]) low = 0;
  for (int halving = 0; halving < 50; ++halving) {
    const double middle = (low + high) / 2;
    (share_below(middle, cells, outlook.folded[measure]) < share ? low : high) = middle;
  }
  return (low + high) / 2;
}

}  // namespace leadline::circuit
