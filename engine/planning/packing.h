#pragma once
// What to take along so that most of what may be wrong can be mended in one visit, as numbers alone: no boat, no book. Covering enough weight with
// the cheapest things is as hard as set cover, so it is done greedily; how far from the cheapest that ends: docs/by-phone.md.
// Tested by tests/planning/packing_test.cpp.
#include <cstddef>
#include <vector>

namespace leadline::planning {

// One way to mend one cause: possible with all of these things at hand, and then done with this chance.
struct Way {
  std::vector<std::size_t> things;       // ascending, each once
  double chance = 1;
};

// Causes present together, and how likely that is.
struct Together {
  double chance = 0;
  std::vector<std::size_t> causes;       // none: nothing is wrong, and nothing is needed
};

struct PackingProblem {
  std::vector<double> price;             // by thing: what bringing it costs, in minutes; 0: it is there anyhow
  std::vector<std::vector<Way>> ways;    // by cause; none: nobody can mend it
  std::vector<Together> cases;
};

struct Packing {
  std::vector<bool> packed;              // by thing; what costs nothing always is
  double share = 0;                      // of the chance of all cases: each of their causes has a way
  double mended = 0;                     // and with the chances of the ways, all ways at hand being tried, each with a draw of its own
  double minutes = 0;                    // price of what is packed
};

// Of what everything together would reach, so much is wanted at most: the last twentieth may ask for everything there is.
constexpr double most_wanted = 0.95;

// Packs until the share reaches the target, or `most_wanted` of what everything together would reach where that is less; and leaves out whatever it reaches it without.
// Assumes, does not check: chances add up to at most 1, prices are not negative, indices exist.
Packing pack(const PackingProblem& problem, double target);

bool at_hand(const Way& way, const std::vector<bool>& packed);
// Each of the causes has a way at hand.
bool served(const PackingProblem& problem, const std::vector<bool>& packed, const std::vector<std::size_t>& causes);

// Share and chance with these things at hand.
Packing judged(const PackingProblem& problem, std::vector<bool> packed);

}  // namespace leadline::planning
