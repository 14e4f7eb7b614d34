#include "engine/diagnosis/odds.h"

#include <algorithm>
#include <cmath>

namespace leadline::diagnosis {

namespace {

constexpr int block_bits = 512;
constexpr double block = 0x1p512;
constexpr double least_kept = 0x1p-256;

}  // namespace

FarNumber& FarNumber::operator*=(double factor) {
  value *= factor;
  while (value != 0 && value < least_kept) {
    value *= block;
    --blocks;
  }
  return *this;
}

double FarNumber::scaled(int by_blocks) const {
  return blocks == by_blocks ? value : std::ldexp(value, block_bits * std::max(-4, blocks - by_blocks));
}

Odds odds_of(const std::vector<FarNumber>& odds, bool something_is_wrong) {
  Odds result;
  for (const auto& far : odds) {
    if (far.value > 0) result.blocks = result.any ? std::max(result.blocks, far.blocks) : far.blocks;
    result.any |= far.value > 0;
  }
  if (!something_is_wrong) result.blocks = 0;
  result.first.reserve(odds.size());
  result.later.reserve(odds.size());
  for (const auto& far : odds) {
    result.first.push_back(something_is_wrong ? far.scaled(result.blocks) : 0);
    result.later.push_back(far.scaled(0));
  }
  return result;
}

}  // namespace leadline::diagnosis
