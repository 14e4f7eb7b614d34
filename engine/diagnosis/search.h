#pragma once
// The exact pass over all sets, and the search for the sets that matter. Internal to the room.
#include "engine/diagnosis/explanation.h"
#include "engine/diagnosis/odds.h"
#include "engine/diagnosis/reach_table.h"

namespace leadline::diagnosis {

// The sum over all sets (first-scaled, see Odds), and each cause's share of it. 0 when the evidence is impossible.
// Sides are not looked at: requires reach.sides to be empty for exact beliefs.
double total_and_beliefs(const Model& model, const Reach& reach, std::vector<double>& belief);

// log P(evidence | something is wrong) from that sum.
double log_evidence_of(const Model& model, const Reach& reach, double total);

struct FoundSet {
  std::vector<std::size_t> causes;
  double weight = 0;  // first-scaled
};

struct Search {
  std::vector<FoundSet> sets;   // all with weight >= least, in the order found
  double passed_over = 0;       // upper bound on the weight of all sets not in the list, among the candidates
};

// Every set of candidates that weighs at least `least`. A branch is cut when all its sets together (exactly, or by an upper bound when
// there are sides) weigh less, so the work follows the length of the answer, not the number of sets. Sets of more than `most_causes`
// causes are passed over.
constexpr std::size_t any_size = static_cast<std::size_t>(-1);
Search heavy_sets(const Model& model, const Evidence& evidence, const Reach& reach, const std::vector<std::size_t>& candidates, double least,
                  std::size_t most_causes = any_size);

}  // namespace leadline::diagnosis
