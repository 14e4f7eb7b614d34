#pragma once
// How sure a trial of n call-outs is: intervals round shares, means and ratios of means, and whether one policy beats another.
// Every interval is a 95 % one: made anew for each of many trials, it holds the true figure in about 95 of 100.
// Quantiles come from Boost.Math. Nothing here answers NaN or infinity: what the sample cannot tell is an empty std::optional.
// Counts or samples that contradict themselves (more successes than trials, unequal lengths, a sample not finite) are a mistake of the
// caller: std::invalid_argument. Assumes but does not check: samples whose squares can be summed in a double. Tested by tests/trial/interval_test.cpp.
#include <cstddef>
#include <optional>
#include <span>

namespace leadline::trial {

struct Interval {
  double low = 0, high = 0;
};

// The quantile of the standard normal distribution that leaves 2.5 % above it: 1.959964.
double normal_975();

// Call-outs that went well among all, each taken to be independent of the others and alike.
struct Proportion {
  std::size_t successes = 0, trials = 0;
};

// successes / trials. Empty when there are no trials; the same for the intervals.
std::optional<double> share(const Proportion& counted);

// Wilson's score interval: the shares that a z-test would not reject. Close to its 95 % on average, so fit for comparing and for pages.
//   (p + z^2/2n +- z sqrt(p(1-p)/n + z^2/4n^2)) / (1 + z^2/n)      Wilson 1927, J. Am. Stat. Assoc. 22 (from memory)
std::optional<Interval> wilson(const Proportion& counted);

// Clopper and Pearson's: at least 95 %, whatever the true share; wider than Wilson's. Fit for promises ("no failure in 20" still allows
// 17 % of failures). Quantiles of beta(successes, failures + 1) and beta(successes + 1, failures). Clopper, Pearson 1934 (from memory)
std::optional<Interval> clopper_pearson(const Proportion& counted);

// A figure and, when the sample can tell one, its interval.
struct Estimate {
  double value = 0;
  std::optional<Interval> interval;
};

// A share too rare to be seen often: the mean and the equal-tailed interval of its posterior under Jeffreys' prior beta(1/2, 1/2), which is
// beta(successes + 1/2, failures + 1/2). Never 0 or 1, so its logarithm and its odds exist. Without trials: the prior itself.
Estimate jeffreys(const Proportion& counted);

// The mean, +- t(n - 1) s / sqrt(n). One sample has no interval, none has no mean.
// Assumes but does not check: samples independent, and enough of them (some 30) for their mean to be near normal; minutes are skewed.
std::optional<Estimate> mean_of(std::span<const double> samples);

// mean(of) / mean(to) for PAIRED samples: of[i] and to[i] are minutes of two policies on the same call-out i. Below 1: the first is quicker.
// Fieller's interval: exactly the ratios r for which a paired t-test does not reject mean(of[i] - r to[i]) = 0, so it uses the pairing.
//   (mean x - r mean y)^2 <= t^2 (s_xx - 2 r s_xy + r^2 s_yy) / n      Fieller 1954, J. R. Stat. Soc. B 16 (from memory)
// Chosen over a bootstrap: no drawing where a closed form will do (same digits everywhere, no seed to choose), turning the two policies
// round gives the reciprocal bounds, and it says openly when there is no answer. Assumes what mean_of assumes.
// Empty when there is no pair or mean(to) is 0. Without interval: one pair, or mean(to) not clearly apart from 0 (the ratio has no bound).
std::optional<Estimate> ratio_of_means(std::span<const double> of, std::span<const double> to);

// Two policies on the same call-outs: on how many did only the first, only the second succeed? Where both or neither did says nothing.
// The two-sided p of the exact test (McNemar 1947 on counts, binomial with chance 1/2; from memory): the chance of a split at least as uneven
// if neither policy were better. 1 when they never differ.
double mcnemar_exact(std::size_t only_first, std::size_t only_second);

}  // namespace leadline::trial
