#pragma once
// Remedies are evidence: what is still wrong, from what was seen before and after each remedy. The mathematics: docs/mathematics.md § remedies.
// Tested by tests/diagnosis/after_remedy_test.cpp, which holds its slow twin.
#include <functional>
#include <optional>
#include <utility>

#include "engine/diagnosis/explanation.h"
#include "engine/diagnosis/tied.h"

namespace leadline::diagnosis {

// A remedy that was done: the causes it removes when they are there, ascending, each with the chance that it does.
struct Done {
  std::vector<std::pair<std::size_t, double>> mends;
  std::optional<std::size_t> remedy = std::nullopt;  // of the book: the same remedy done twice fails the same way twice. None: like no other.
};

// A stretch of the call-out in which nothing was mended: the remedy it begins with (none for the first), and all that was observed in it.
struct Phase {
  Evidence evidence;
  Done before = {};
};

using History = std::vector<Phase>;  // in order of time

struct AfterOptions {
  double new_fault = 0.01;           // chance, for each remedy and finding, that something new disturbs the finding from then on (estimate)
  ExplainOptions explain = {};       // for the list of what is there now
  double drawn_anew = 0.01;          // chance, likewise, that its leak and pushes are drawn anew: it comes and goes, or a hand moved it (estimate)
  // Sets of causes are looked at that are this probable before any remedy, and so many of them; besides, those that would explain the latest answers.
  double least_candidate = 1e-7;
  std::size_t most_candidates = 200;
};
std::string why_invalid(const AfterOptions& options);  // empty when all is well

inline constexpr std::size_t never = static_cast<std::size_t>(-1);

// What may have happened: the causes there at the start, and the phase whose remedy removed each.
struct Course {
  std::vector<std::size_t> causes;      // of the model, ascending
  std::vector<std::size_t> removed_in;  // by those causes; `never`: still there
  std::vector<std::size_t> present;     // those still there
  double probability = 0;
};

struct Present {
  // Of the causes there now. The empty set is one of the explanations: all that was wrong is mended. `tied`: of the last phase.
  Diagnosis now;
  std::vector<double> had_been;         // P(cause present at the start), by cause of the model
  double mended = 0;                    // P(no cause is there now)
  std::vector<Course> courses;          // all that were weighed, by `present`; one phase: one for each explanation
  // Bound on the share of all sets that were not weighed, and so on the error of each number here: those sets' share before any remedy, times the most that
  // later answers could make of it. Strict unless readings tied to circuits were taken after a remedy: then it goes by the best density met. After answers
  // that nothing foretold it is near 1. now.unlisted_mass takes the unweighed sets to fare like the weighed ones instead: an estimate.
  double unweighed_at_most = 0;
  bool by_circuits = true;              // readings tied to circuits were judged there; false: by their bands, as diagnose() decides for the first phase
};

// With one phase this is diagnose(). With more, explicit sets of causes are weighed. Phases without remedy and observation do not count.
// Throws std::invalid_argument when the history does not fit the model.
Present diagnose_after(const Model& model, const History& history, const AfterOptions& options = {});

// What is foretold of findings.
struct StatesNow {
  // P(state of the finding now | exactly these causes are there now, and all that was seen), by state.
  std::function<std::vector<double>(std::size_t finding, const std::vector<std::size_t>& present)> states;
  // False: among those causes this one changes nothing of the finding. Most do not. Empty: not known.
  std::function<bool(std::size_t finding, std::size_t cause)> sways;

  std::vector<double> operator()(std::size_t finding, const std::vector<std::size_t>& present) const { return states(finding, present); }
};
// Averaged over the courses that lead there. `found` is what diagnose_after made of the same history and options; a finding that only readings on its circuit
// speak of is foretold from those of the last phase. What is worked out for one set of causes is kept for the next; not for two threads at once. Requires: all
// outlive what is returned.
StatesNow states_now(const Model& model, const History& history, const Present& found, const AfterOptions& options = {});

}  // namespace leadline::diagnosis
