#include "engine/trial/dice.h"

#include <cmath>
#include <stdexcept>

namespace leadline::trial {

namespace {

// seed_seq reads 32 bits at a time.
std::mt19937_64 seeded(std::uint64_t seed, std::uint64_t number) {
  constexpr std::uint64_t low = 0xffffffff;
  std::seed_seq words{seed & low, seed >> 32, number & low, number >> 32};
  return std::mt19937_64(words);
}

}  // namespace

Dice::Dice(std::uint64_t seed, std::uint64_t number) : bits_(seeded(seed, number)) {}

double Dice::uniform() { return static_cast<double>(bits_() >> 11) * 0x1p-53; }

std::size_t Dice::draw(std::span<const double> weights) {
  double sum = 0;
  std::size_t last = weights.size();  // of a weight above 0
  for (std::size_t i = 0; i < weights.size(); ++i) {
    if (!(weights[i] >= 0)) throw std::invalid_argument("a weight below 0");
    if (weights[i] > 0) last = i;
    sum += weights[i];
  }
  if (!(sum > 0) || !std::isfinite(sum)) throw std::invalid_argument("weights without a sum");
  double left = uniform() * sum;
  for (std::size_t i = 0; i < last; ++i) {
    if (left < weights[i]) return i;
    left -= weights[i];
  }
  return last;  // also when rounding left a trace beyond the last
}

}  // namespace leadline::trial
