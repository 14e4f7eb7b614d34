#pragma once
// How good forecasts are that were stated as chances. docs/trial.md says what each figure means to a reader of the page.
// Nothing here answers NaN or infinity: what the forecasts cannot tell is an empty std::optional. A chance outside 0 to 1 is a mistake of
// the caller: std::invalid_argument. Tested by tests/trial/scores_test.cpp.
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "engine/trial/interval.h"

namespace leadline::trial {

// Where a logarithm is taken, a chance is first brought into surest_no .. 1 - surest_no: a certainty that proves wrong costs 20.7 nats, not
// infinitely many, and one such call-out does not drown all others.
inline constexpr double surest_no = 1e-9;

// One event with two outcomes: "the first explanation is right", "the proof will hold".
struct Forecast {
  double chance = 0;  // stated before, 0 to 1
  bool happened = false;
};

// Mean of (chance - outcome)^2: 0 is perfect, 0.25 is what always saying one half earns. Brier 1950 (from memory). Empty without forecasts.
std::optional<double> brier(std::span<const Forecast> forecasts);

// Mean of -ln(chance given to what happened), nats: 0.693 is what always saying one half earns. Empty without forecasts.
std::optional<double> log_loss(std::span<const Forecast> forecasts);

// Forecasts of about the same chance.
struct Bin {
  double low = 0, high = 0;  // chances that belong here: low <= chance < high; in the last of bins_of_width, and in bins_by_value, high too
  std::size_t forecasts = 0, happened = 0;
  double mean_chance = 0;
  double spread = 0;        // sum over the bin of (chance - mean_chance)^2; 0 when all are one value
  double joint_spread = 0;  // sum over the bin of (chance - mean_chance)(outcome - frequency)

  double frequency() const { return static_cast<double>(happened) / static_cast<double>(forecasts); }
};

// Bins that hold a forecast, ascending; empty ones are left out. Requires bins >= 1 (std::invalid_argument).
// `bins` of equal width from 0 to 1. Edges are no standard: here a bin is closed on its left, so 0.2 of five bins is in the second, and the
// last is closed on both sides. The edge k / bins is the nearest double, as is a chance that was written as that decimal: no edge is missed.
std::vector<Bin> bins_of_width(std::span<const Forecast> forecasts, std::size_t bins);
// One bin for each different chance.
std::vector<Bin> bins_by_value(std::span<const Forecast> forecasts);

// brier = reliability - resolution + uncertainty + within_spread - within_joint_spread, whatever the bins.
// With one value in each bin the last two are 0, which leaves Murphy's three (Murphy 1973, from memory); wide bins lump forecasts together, and
// then only all five add up (the two terms within bins: Stephenson, Coelho, Jolliffe 2008; abstract journals.ametsoc.org/waf 23/4/752).
struct BrierParts {
  double brier = 0;
  double reliability = 0;  // how far from the frequency seen the chances lie: less is better
  double resolution = 0;   // how far apart the bins lie in what happened: more is better
  double uncertainty = 0;  // of the outcomes themselves, the Brier score of always stating their overall frequency
  double within_spread = 0, within_joint_spread = 0;
  std::optional<double> skill;  // 1 - brier / uncertainty: 1 perfect, 0 no better than the overall frequency. Empty: all outcomes equal
};

// Empty without bins.
std::optional<BrierParts> brier_parts(std::span<const Bin> bins);

// How far chance and frequency lie apart, over the bins: the mean weighted by forecasts (expected calibration error), and the worst bin.
// Both depend on the bins; wide ones flatter. Empty without bins.
struct CalibrationError {
  double expected = 0, worst = 0;
};

std::optional<CalibrationError> calibration_error(std::span<const Bin> bins);

// Logistic regression of the outcome on the log odds stated:  log odds of it happening = intercept + slope * ln(chance / (1 - chance)).
// Perfectly calibrated: intercept 0, slope 1. Slope below 1: too sure of itself; above 1: not sure enough. Intercept above 0: it happens more
// often than stated where one half was stated. Maximum likelihood; intervals +- 1.96 standard errors from the information (Wald).
struct CalibrationLine {
  double intercept = 0, slope = 0;
  double intercept_error = 0, slope_error = 0;  // standard errors
  Interval intercept_interval, slope_interval;
};

// Empty when no finite line is likeliest: fewer than two chances, all outcomes equal, or a chance with everything that happened on one side of it
// and everything that did not on the other ("separated": the steeper the line the better; Albert, Anderson 1984, from memory).
std::optional<CalibrationLine> calibration_line(std::span<const Forecast> forecasts);
// The same line, its errors by groups: forecasts of one call-out go wrong together, and taken as independent they would promise too narrow an
// interval. Sandwich of Huber and White over groups, times groups / (groups - 1) (Liang, Zeger 1986, from memory). `group`: one for each forecast,
// equal ones side by side. Empty also for fewer than two groups.
std::optional<CalibrationLine> calibration_line(std::span<const Forecast> forecasts, std::span<const std::size_t> group);

// One event with several outcomes that exclude one another, `chances` adding up to 1 (within 1e-6, else std::invalid_argument).
// Requires happened < chances.size() (std::invalid_argument).
double brier_sum(std::span<const double> chances, std::size_t happened);        // sum of (chance - outcome)^2, 0 to 2; for two outcomes twice brier
double log_score(std::span<const double> chances, std::size_t happened);        // -ln(chance of what happened), nats; less is better
double spherical_score(std::span<const double> chances, std::size_t happened);  // that chance / the vector's length, 0 to 1; more is better

}  // namespace leadline::trial
