#pragma once
// Chance that repeats: the same seed and number give the same draws on every machine, compiler and number of cores.
// Tested by tests/trial/dice_test.cpp.
#include <cstddef>
#include <cstdint>
#include <random>
#include <span>

namespace leadline::trial {

// The draws of one simulated call-out: `number` of the trial `seed`. Each has a stream of its own, seeded from both, so call-out 4711 of
// seed 1 can be played alone, and any number of cores may share a trial.
// std::mt19937_64 and std::seed_seq are laid down to the bit by the C++ standard; its distributions (uniform_real_distribution and kin) are
// not, so what turns bits into draws is written here.
class Dice {
 public:
  Dice(std::uint64_t seed, std::uint64_t number);

  // 0 <= u < 1, a multiple of 2^-53, each as likely.
  double uniform();

  // i with chance weights[i] / their sum; never one of weight 0. One draw of uniform(), whatever the weights: what follows does not shift.
  // Requires weights finite, none below 0, their sum above 0 and finite (std::invalid_argument).
  std::size_t draw(std::span<const double> weights);

 private:
  std::mt19937_64 bits_;
};

}  // namespace leadline::trial
