#include "engine/trial/interval.h"

#include <algorithm>
#include <boost/math/distributions/beta.hpp>
#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <stdexcept>

namespace leadline::trial {

namespace {

constexpr double tail = 0.025;  // left out on each side

void check(const Proportion& counted) {
  if (counted.successes > counted.trials) throw std::invalid_argument("more successes than trials");
}

void check(std::span<const double> samples) {
  if (!std::ranges::all_of(samples, [](double s) { return std::isfinite(s); })) throw std::invalid_argument("a sample that is not finite");
}

double plain_mean(std::span<const double> samples) {
  double sum = 0;
  for (const double sample : samples) sum += sample;
  return sum / static_cast<double>(samples.size());
}

// s_ab / n: the (co)variance of the two means. Two passes: the short-cut by sums of squares loses the digits that matter.
double variance_of_means(std::span<const double> a, std::span<const double> b, double mean_a, double mean_b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += (a[i] - mean_a) * (b[i] - mean_b);
  const auto n = static_cast<double>(a.size());
  return sum / (n - 1) / n;
}

double t_975(std::size_t samples) { return quantile(boost::math::students_t(static_cast<double>(samples - 1)), 1 - tail); }

}  // namespace

double normal_975() { return quantile(boost::math::normal(), 1 - tail); }

std::optional<double> share(const Proportion& counted) {
  check(counted);
  if (counted.trials == 0) return std::nullopt;
  return static_cast<double>(counted.successes) / static_cast<double>(counted.trials);
}

std::optional<Interval> wilson(const Proportion& counted) {
  const auto p = share(counted);
  if (!p) return std::nullopt;
  const auto n = static_cast<double>(counted.trials);
  const double z = normal_975();
  const double centre = *p + z * z / (2 * n);
  const double half = z * std::sqrt(*p * (1 - *p) / n + z * z / (4 * n * n));
  const double shrink = 1 + z * z / n;
  // At the ends one bound is 0 or 1 exactly, which rounding would miss.
  return Interval{counted.successes == 0 ? 0 : (centre - half) / shrink, counted.successes == counted.trials ? 1 : (centre + half) / shrink};
}

std::optional<Interval> clopper_pearson(const Proportion& counted) {
  check(counted);
  if (counted.trials == 0) return std::nullopt;
  using boost::math::binomial;
  const auto n = static_cast<double>(counted.trials), x = static_cast<double>(counted.successes);
  return Interval{binomial::find_lower_bound_on_p(n, x, tail), binomial::find_upper_bound_on_p(n, x, tail)};
}

Estimate jeffreys(const Proportion& counted) {
  check(counted);
  const boost::math::beta_distribution<double> posterior(static_cast<double>(counted.successes) + 0.5,
                                                         static_cast<double>(counted.trials - counted.successes) + 0.5);
  return {mean(posterior), Interval{quantile(posterior, tail), quantile(complement(posterior, tail))}};
}

std::optional<Estimate> mean_of(std::span<const double> samples) {
  check(samples);
  if (samples.empty()) return std::nullopt;
  Estimate result{plain_mean(samples), {}};
  if (samples.size() < 2) return result;
  const double half = t_975(samples.size()) * std::sqrt(variance_of_means(samples, samples, result.value, result.value));
  result.interval = Interval{result.value - half, result.value + half};
  return result;
}

std::optional<Estimate> ratio_of_means(std::span<const double> of, std::span<const double> to) {
  if (of.size() != to.size()) throw std::invalid_argument("paired samples of unequal number");
  check(of);
  check(to);
  if (of.empty()) return std::nullopt;
  const double x = plain_mean(of), y = plain_mean(to);
  if (!std::isfinite(x / y)) return std::nullopt;
  Estimate result{x / y, {}};
  if (of.size() < 2) return result;
  // The bounds are the roots of a r^2 - 2 b r + c: two, with the ratio between them, exactly when a > 0.
  const double t = t_975(of.size());
  const double a = y * y - t * t * variance_of_means(to, to, y, y);
  const double b = x * y - t * t * variance_of_means(of, to, x, y);
  const double c = x * x - t * t * variance_of_means(of, of, x, x);
  if (!(a > 0)) return result;
  const double root = std::sqrt(std::max(0.0, b * b - a * c));  // below 0 by rounding only: the ratio itself is within
  result.interval = Interval{(b - root) / a, (b + root) / a};
  return result;
}

double mcnemar_exact(std::size_t only_first, std::size_t only_second) {
  const boost::math::binomial fair(static_cast<double>(only_first + only_second), 0.5);
  return std::min(1.0, 2 * cdf(fair, static_cast<double>(std::min(only_first, only_second))));
}

}  // namespace leadline::trial
