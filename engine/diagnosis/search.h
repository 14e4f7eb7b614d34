#pragma once
// The exact pass over all sets, and the search for the sets that matter. Internal to the room.
#include "engine/diagnosis/explanation.h"
#include "engine/diagnosis/odds.h"
#include "engine/diagnosis/reach_table.h"

namespace leadline::diagnosis {

// The sum over all sets (first-scaled, see Odds), and each cause's share of it. 0 when the evidence is impossible.
// Sides are not looked at: requires reach.sides to be empty for exact beliefs.
double total_and_beliefs(const Model& model, const Reach& reach, const Odds& odds, std::vector<double>& belief);

// log P(evidence | something is wrong) from that sum.
double log_evidence_of(const Model& model, const Reach& reach, const Odds& odds, double total);

struct FoundSet {
  std::vector<std::size_t> causes;
  double weight = 0;  // first-scaled
};

constexpr std::size_t any_size = static_cast<std::size_t>(-1);

struct SearchOptions {
  double least;             // sets below this weight are not wanted
  std::size_t most_sets;    // keep the heaviest
  std::size_t most_causes;  // larger sets are passed over
  std::size_t most_work;    // table states that may be computed
};

struct Search {
  std::vector<FoundSet> sets;
  double passed_over = 0;       // upper bound on the weight of all sets of candidates that are not in the list
};

// The heaviest sets of candidates. A branch is cut when none of its sets can weigh enough (by the best that each state of the table could
// still become), so the work follows the length of the answer, not the number of sets.
Search heaviest_sets(const Model& model, const Evidence& evidence, const Reach& reach, const Odds& odds, const std::vector<std::size_t>& candidates,
                     const SearchOptions& options);

}  // namespace leadline::diagnosis
