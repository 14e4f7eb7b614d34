#pragma once
// Odds that cannot underflow together. Internal to the room.
#include <vector>

namespace leadline::diagnosis {

// A positive number with its far exponent kept apart: value * 2^(512 * blocks). Five hundred findings of likelihood 1e-6 against a cause
// make odds of 1e-3000, which a double cannot hold; logarithms could, at the price of two calls of exp for each cause and answer.
struct FarNumber {
  double value = 0;
  int blocks = 0;

  FarNumber& operator*=(double factor);  // assumes but does not check: factor in [0, 2^256]
  double scaled(int by_blocks) const;    // the number times 2^(-512 * by_blocks), as a double; 0 when far below
};

// The first cause of a set, in the order in which causes are gone through, weighs first[i] = odds * 2^(-512 * blocks); every further one
// later[i] = odds. With `blocks` those of the largest odds, sets of one keep all their digits however small all odds have become, and
// every set weighs the same factor less than it should. When nothing needs to be wrong the empty set counts, and no cause is a first one.
struct Odds {
  std::vector<double> first, later;
  int blocks = 0;
  bool any = false;  // some cause is not ruled out
};

Odds odds_of(const std::vector<FarNumber>& odds, bool something_is_wrong);

}  // namespace leadline::diagnosis
