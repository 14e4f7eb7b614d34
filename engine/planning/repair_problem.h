#pragma once
// What to do next, as numbers alone: hypotheses, checks, remedies and minutes. No boat, no book. The mathematics: docs/planning.md.
// Tested by tests/planning/repair_problem_test.cpp.
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace leadline::planning {

// Where one stands, what has been bared and which condition is set: what the next thing costs depends on it.
struct Standing {
  std::optional<std::size_t> place;      // none: not begun
  std::optional<std::size_t> condition;  // none: as found
  std::uint64_t bared = 0;               // by place: its covers are off
  friend bool operator==(const Standing&, const Standing&) = default;
};

// What trips and conditions cost here, in minutes.
struct Terrain {
  std::vector<double> reach, covers;     // by place; at most 64 places
  std::vector<double> setting;           // by condition
};

// What doing one thing takes.
struct Doing {
  double minutes = 0;
  std::vector<std::size_t> places;       // visited in this order; one stands at the last
  std::optional<std::size_t> condition;  // that must be set; it stays
};

double minutes_of(const Doing& doing, const Terrain& terrain, const Standing& standing);
Standing after(const Doing& doing, const Standing& standing);

struct CheckOption {
  Doing doing;
  std::vector<std::vector<double>> outcomes;  // [outcome][hypothesis]: P(outcome | hypothesis); over the outcomes they add up to 1
};

struct RemedyOption {
  Doing doing;
  Doing proof;                                             // done after it, always
  std::vector<std::pair<std::size_t, double>> mends;       // cause, and the chance that the remedy removes it; each cause and remedy has its own draw
};

// With its proof.
double minutes_of(const RemedyOption& remedy, const Terrain& terrain, const Standing& standing);
Standing after(const RemedyOption& remedy, const Standing& standing);

struct RepairProblem {
  std::vector<double> chance;                              // by hypothesis; only their proportions matter
  std::vector<std::vector<std::size_t>> causes;            // by hypothesis: the causes present together; one that no remedy removes ends in giving up
  std::vector<CheckOption> checks;
  std::vector<RemedyOption> remedies;
  double giving_up = 480;                                  // minutes: calling in somebody else, or another visit
  Terrain terrain;
  Standing standing;
};
std::string why_invalid(const RepairProblem& problem);     // empty when all is well

// The cost of repair when nothing more is checked: remedies one after the other, each with its proof, until cured; given up where that is cheaper.
struct RemedyOrder {
  double minutes = 0;                    // expected
  std::vector<std::size_t> remedies;     // in order, up to where giving up is better
};

// Best first by gained chance of a cure per minute. Optimal for single faults with remedies of their own and no trips (Kadane and Simon; Kalagnanam
// and Henrion: see docs/planning.md); otherwise a good order.
RemedyOrder remedies_in_order(const RepairProblem& problem);

enum class Act { check, remedy, give_up };

struct Option {
  Act act = Act::give_up;
  std::size_t index = 0;                 // of the check or remedy
  double minutes = 0;                    // of doing it from where one stands; of a remedy with its proof
  double expected = 0;                   // minutes to the end of the job when it is done first
};

struct PlanOptions {
  std::size_t most_work = 1'250'000;     // steps of arithmetic that looking ahead may take: some 8 ms. The same input gives the same plan everywhere
  std::size_t deepest = 8;               // steps ahead at most
  double share_looked_at = 0.995;        // `advise` plans with so many explanations, the likeliest, that they hold this share of those listed
};

struct Plan {
  std::vector<Option> options;           // least expected minutes first; ties: giving up last, checks before remedies, lower index first
  RemedyOrder without_checks;
  std::size_t depth = 0;                 // steps that were looked ahead
  double least_possible = 0;             // with the truth known at once: no plan can take less
};

// Every check and remedy as the first step, and what the job then costs on average. Never fails: with nothing to do there is giving up.
Plan plan(const RepairProblem& problem, const PlanOptions& options = {});

// Moves the best remedy to the front when it will cure in seven jobs of ten, and no check before it would save two minutes. Such a remedy mostly
// ends the job, so all that may be lost by it is some such minutes. Requires: options as `plan` orders them.
void mend_at_once(const RepairProblem& problem, std::vector<Option>& options);

}  // namespace leadline::planning
