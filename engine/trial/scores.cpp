#include "engine/trial/scores.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace leadline::trial {

namespace {

double outcome(const Forecast& forecast) { return forecast.happened ? 1 : 0; }

double squared(double x) { return x * x; }

double not_sure(double chance) { return std::clamp(chance, surest_no, 1 - surest_no); }

void check(double chance) {
  if (!(chance >= 0 && chance <= 1)) throw std::invalid_argument("a chance outside 0 to 1");
}

void check(std::span<const Forecast> forecasts) {
  for (const auto& forecast : forecasts) check(forecast.chance);
}

void check(std::span<const double> chances, std::size_t happened) {
  double sum = 0;
  for (const double chance : chances) {
    check(chance);
    sum += chance;
  }
  if (std::abs(sum - 1) > 1e-6) throw std::invalid_argument("chances that do not add up to 1");
  if (happened >= chances.size()) throw std::invalid_argument("an outcome without a chance");
}

// The last bin whose lower edge is not above the chance. The product alone would put 0.29 of a hundred bins below its own edge.
std::size_t bin_of(double chance, std::size_t bins) {
  const auto edge = [&](std::size_t k) { return static_cast<double>(k) / static_cast<double>(bins); };
  auto k = std::min(bins - 1, static_cast<std::size_t>(chance * static_cast<double>(bins)));
  if (k + 1 < bins && edge(k + 1) <= chance) ++k;
  if (k > 0 && edge(k) > chance) --k;
  return k;
}

// Requires `held` not empty.
Bin bin_holding(std::span<const Forecast> held, double low, double high) {
  Bin bin{low, high, held.size(), 0, 0, 0, 0};
  // Summed from the first chance on: equal chances then have exactly their own mean, and no spread.
  double beyond_first = 0;
  for (const auto& forecast : held) {
    bin.happened += forecast.happened ? 1 : 0;
    beyond_first += forecast.chance - held.front().chance;
  }
  bin.mean_chance = held.front().chance + beyond_first / static_cast<double>(held.size());
  for (const auto& forecast : held) {
    bin.spread += squared(forecast.chance - bin.mean_chance);
    bin.joint_spread += (forecast.chance - bin.mean_chance) * (outcome(forecast) - bin.frequency());
  }
  return bin;
}

// Cuts the forecasts, by chance, wherever `key` changes (it must not fall as chances rise); `bounds(key)` are the edges of that bin.
std::vector<Bin> bins_by(std::span<const Forecast> forecasts, const auto& key, const auto& bounds) {
  check(forecasts);
  std::vector<Forecast> sorted(forecasts.begin(), forecasts.end());
  std::ranges::stable_sort(sorted, {}, &Forecast::chance);
  std::vector<Bin> bins;
  for (auto from = sorted.begin(); from != sorted.end();) {
    const auto to = std::find_if(from, sorted.end(), [&](const Forecast& f) { return key(f.chance) != key(from->chance); });
    const Interval edges = bounds(key(from->chance));
    bins.push_back(bin_holding({from, to}, edges.low, edges.high));
    from = to;
  }
  return bins;
}

// What happened and did not, on the log odds stated.
struct Point {
  double log_odds;
  double happened;
};

std::vector<Point> points_of(std::span<const Forecast> forecasts) {
  std::vector<Point> points;
  for (const auto& forecast : forecasts) {
    const double chance = not_sure(forecast.chance);
    points.push_back({std::log(chance / (1 - chance)), outcome(forecast)});
  }
  return points;
}

// Some chance has all that happened on its one side and all that did not on the other (on itself: either). All equal is a case of it.
bool separated(const std::vector<Point>& points) {
  double least[2] = {HUGE_VAL, HUGE_VAL}, most[2] = {-HUGE_VAL, -HUGE_VAL};
  for (const auto& point : points) {
    const auto side = point.happened > 0 ? 1 : 0;
    least[side] = std::min(least[side], point.log_odds);
    most[side] = std::max(most[side], point.log_odds);
  }
  return most[0] <= least[1] || most[1] <= least[0];
}

struct Line {
  double intercept = 0, slope = 0;
  double at(double log_odds) const { return intercept + slope * log_odds; }
};

double log_likelihood(const std::vector<Point>& points, const Line& line) {
  double sum = 0;
  for (const auto& point : points) {
    const double towards = point.happened > 0 ? line.at(point.log_odds) : -line.at(point.log_odds);
    sum -= towards > 0 ? std::log1p(std::exp(-towards)) : std::log1p(std::exp(towards)) - towards;
  }
  return sum;
}

// The information about a line, turned so that it is diagonal: about its height at `centre`, and about its slope.
struct Information {
  double weight = 0, centre = 0, about_slope = 0;
  double height_push = 0, slope_push = 0;  // the gradient, in the same terms
};

Information information_at(const std::vector<Point>& points, const Line& line) {
  Information info;
  const auto expected = [&](const Point& point) { return 1 / (1 + std::exp(-line.at(point.log_odds))); };
  const auto weight = [&](const Point& point) { return expected(point) / (1 + std::exp(line.at(point.log_odds))); };
  for (const auto& point : points) {
    info.weight += weight(point);
    info.centre += weight(point) * point.log_odds;
  }
  info.centre /= info.weight;
  for (const auto& point : points) {
    const double off = point.log_odds - info.centre;
    info.about_slope += weight(point) * off * off;
    info.height_push += point.happened - expected(point);
    info.slope_push += (point.happened - expected(point)) * off;
  }
  return info;
}

// Along a step that raises the line by `up` at `centre` and its slope by `tilt`; halved while it lowers the likelihood.
Line stepped(const std::vector<Point>& points, const Line& line, double up, double tilt, double centre) {
  const double before = log_likelihood(points, line);
  const double rounding = 1e-12 * (1 - before);
  for (double step = 1;; step /= 2) {
    const Line next{line.intercept + step * (up - tilt * centre), line.slope + step * tilt};
    if (log_likelihood(points, next) >= before - rounding || step < 1e-6) return next;
  }
}

struct Fit {
  Line line;
  Information info;
};

// By Newton's method; none when no finite line is likeliest.
std::optional<Fit> likeliest(const std::vector<Point>& points) {
  if (separated(points)) return std::nullopt;
  Line line;
  for (int turn = 0; turn < 100; ++turn) {
    const auto info = information_at(points, line);
    const double up = info.height_push / info.weight, tilt = info.slope_push / info.about_slope;
    // The step in standard errors, squared: at 1e-20 it moves no digit anybody reads.
    if (up * info.height_push + tilt * info.slope_push < 1e-20) return Fit{line, info};
    line = stepped(points, line, up, tilt, info.centre);
  }
  return std::nullopt;
}

// Of the line's height at the centre, of its slope, and of both together.
struct Variances {
  double height = 0, slope = 0, both = 0;
};

Variances independent(const Information& info) { return {1 / info.weight, 1 / info.about_slope, 0}; }

Variances by_groups(const std::vector<Point>& points, const Line& line, const Information& info, std::span<const std::size_t> group) {
  Variances sums;
  double groups = 0;
  for (std::size_t at = 0; at < points.size();) {
    const auto now = group[at];
    double height = 0, slope = 0;
    for (; at < points.size() && group[at] == now; ++at) {
      const double miss = points[at].happened - 1 / (1 + std::exp(-line.at(points[at].log_odds)));
      height += miss;
      slope += miss * (points[at].log_odds - info.centre);
    }
    sums.height += height * height, sums.slope += slope * slope, sums.both += height * slope;
    ++groups;
  }
  const double few = groups / (groups - 1);
  return {few * sums.height / (info.weight * info.weight), few * sums.slope / (info.about_slope * info.about_slope), few * sums.both / (info.weight * info.about_slope)};
}

CalibrationLine with_errors(const Line& line, double centre, const Variances& variances) {
  CalibrationLine result;
  result.intercept = line.intercept;
  result.slope = line.slope;
  result.slope_error = std::sqrt(variances.slope);
  result.intercept_error = std::sqrt(variances.height + centre * centre * variances.slope - 2 * centre * variances.both);
  const double z = normal_975();
  result.intercept_interval = {line.intercept - z * result.intercept_error, line.intercept + z * result.intercept_error};
  result.slope_interval = {line.slope - z * result.slope_error, line.slope + z * result.slope_error};
  return result;
}

}  // namespace

std::optional<double> brier(std::span<const Forecast> forecasts) {
  check(forecasts);
  if (forecasts.empty()) return std::nullopt;
  double sum = 0;
  for (const auto& forecast : forecasts) sum += squared(forecast.chance - outcome(forecast));
  return sum / static_cast<double>(forecasts.size());
}

std::optional<double> log_loss(std::span<const Forecast> forecasts) {
  check(forecasts);
  if (forecasts.empty()) return std::nullopt;
  double sum = 0;
  for (const auto& forecast : forecasts) {
    const double chance = not_sure(forecast.chance);
    sum -= forecast.happened ? std::log(chance) : std::log1p(-chance);
  }
  return sum / static_cast<double>(forecasts.size());
}

std::vector<Bin> bins_of_width(std::span<const Forecast> forecasts, std::size_t bins) {
  if (bins == 0) throw std::invalid_argument("no bins");
  const auto edge = [&](std::size_t k) { return static_cast<double>(k) / static_cast<double>(bins); };
  return bins_by(forecasts, [&](double chance) { return bin_of(chance, bins); }, [&](std::size_t k) { return Interval{edge(k), edge(k + 1)}; });
}

std::vector<Bin> bins_by_value(std::span<const Forecast> forecasts) {
  return bins_by(forecasts, [](double chance) { return chance; }, [](double chance) { return Interval{chance, chance}; });
}

std::optional<BrierParts> brier_parts(std::span<const Bin> bins) {
  if (bins.empty()) return std::nullopt;
  double n = 0, happened = 0;
  for (const auto& bin : bins) {
    n += static_cast<double>(bin.forecasts);
    happened += static_cast<double>(bin.happened);
  }
  const double overall = happened / n;
  BrierParts parts;
  for (const auto& bin : bins) {
    const double share = static_cast<double>(bin.forecasts) / n;
    parts.reliability += share * squared(bin.mean_chance - bin.frequency());
    parts.resolution += share * squared(bin.frequency() - overall);
    parts.within_spread += bin.spread / n;
    parts.within_joint_spread += 2 * bin.joint_spread / n;
  }
  parts.uncertainty = overall * (1 - overall);
  parts.brier = parts.reliability - parts.resolution + parts.uncertainty + parts.within_spread - parts.within_joint_spread;
  if (parts.uncertainty > 0) parts.skill = 1 - parts.brier / parts.uncertainty;
  return parts;
}

std::optional<CalibrationError> calibration_error(std::span<const Bin> bins) {
  if (bins.empty()) return std::nullopt;
  CalibrationError error;
  double n = 0;
  for (const auto& bin : bins) {
    const double apart = std::abs(bin.frequency() - bin.mean_chance);
    error.worst = std::max(error.worst, apart);
    error.expected += static_cast<double>(bin.forecasts) * apart;
    n += static_cast<double>(bin.forecasts);
  }
  error.expected /= n;
  return error;
}

// Newton's method. The likelihood is strictly concave, with its top at a finite line, when nothing is separated.
std::optional<CalibrationLine> calibration_line(std::span<const Forecast> forecasts) {
  check(forecasts);
  const auto points = points_of(forecasts);
  const auto fit = likeliest(points);
  if (!fit) return std::nullopt;
  return with_errors(fit->line, fit->info.centre, independent(fit->info));
}

std::optional<CalibrationLine> calibration_line(std::span<const Forecast> forecasts, std::span<const std::size_t> group) {
  check(forecasts);
  if (group.size() != forecasts.size()) throw std::invalid_argument("a group for each forecast");
  const auto points = points_of(forecasts);
  const auto fit = likeliest(points);
  if (!fit || group.front() == group.back()) return std::nullopt;
  return with_errors(fit->line, fit->info.centre, by_groups(points, fit->line, fit->info, group));
}

double brier_sum(std::span<const double> chances, std::size_t happened) {
  check(chances, happened);
  double sum = 0;
  for (std::size_t i = 0; i < chances.size(); ++i) sum += squared(chances[i] - (i == happened ? 1 : 0));
  return sum;
}

double log_score(std::span<const double> chances, std::size_t happened) {
  check(chances, happened);
  return -std::log(not_sure(chances[happened]));
}

double spherical_score(std::span<const double> chances, std::size_t happened) {
  check(chances, happened);
  double length = 0;
  for (const double chance : chances) length += squared(chance);
  return chances[happened] / std::sqrt(length);
}

}  // namespace leadline::trial
