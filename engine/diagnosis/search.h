#pragma once
// The exact pass over all sets, and the search for the sets that matter. Internal to the room.
#include "engine/diagnosis/explanation.h"
#include "engine/diagnosis/odds.h"
#include "engine/diagnosis/reach_table.h"

namespace leadline::diagnosis {

// The sum over all sets (first-scaled, see Odds), and each cause's share of it. 0 when the evidence is impossible. `empty_counts`: the set
// without any cause is one of them. Sides are not looked at: requires reach.sides to be empty for exact beliefs.
double total_and_beliefs(const Reach& reach, const Odds& odds, bool empty_counts, std::vector<double>& belief);

// The table that all sets of causes, the empty one included, make of the start: as `later` ones, none is a first cause.
Table reached_by_all(const Reach& reach, const Odds& odds);

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
  bool empty_counts;        // the set without any of the candidates is one of the sets, and no cause is a first one
};

struct Search {
  std::vector<FoundSet> sets;
  double passed_over = 0;       // upper bound on the weight of all sets of candidates that are not in the list
};

// What adding the k-th candidate makes of each state of the table, looked back upon from the end; without the candidate's odds. Row k of each.
struct Ahead {
  std::vector<double> alone;     // [k * states + state]: nothing else added after it
  std::vector<double> at_best;   // the most that any one set of the candidates after it makes of it
  std::vector<double> in_all;    // what all sets of the candidates after it make of it together; empty unless there are sides
};
Ahead ahead_of(const Reach& reach, const std::vector<std::size_t>& candidates, const Odds& odds);

// The heaviest sets of candidates. A branch is cut when none of its sets can weigh enough (by the best that each state of the table could
// still become), so the work follows the length of the answer, not the number of sets.
Search heaviest_sets(const Model& model, const Evidence& evidence, const Reach& reach, const Odds& odds, const std::vector<std::size_t>& candidates,
                     const SearchOptions& options);
// The same from another start: `start` in place of reach.start, `ahead` of these candidates.
Search heaviest_sets_from(const Model& model, const Evidence& evidence, const Reach& reach, const Odds& odds, const std::vector<std::size_t>& candidates,
                          const SearchOptions& options, const Table& start, const Ahead& ahead);

}  // namespace leadline::diagnosis
