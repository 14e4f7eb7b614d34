#pragma once
// Odds that cannot underflow together. Internal to the room.
#include <vector>

namespace leadline::diagnosis {

// The first cause of a set, in the order in which causes are gone through, weighs first[i] = exp(log_odds - shift); every further one
// later[i] = exp(log_odds). With shift the largest log odds, sets of one keep all their digits however small all odds have become
// (500 findings against everything), and a set weighs exp(-shift) times what it should: a common factor.
// When nothing needs to be wrong the empty set counts, and no cause is a first one: first = 0, shift = 0.
struct Odds {
  std::vector<double> first, later;
  double shift = 0;
};

Odds odds_of(const std::vector<double>& log_odds, bool something_is_wrong);

}  // namespace leadline::diagnosis
