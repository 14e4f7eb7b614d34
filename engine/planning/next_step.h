#pragma once
// What to do next on this boat: the check or remedy after which the thruster works, and is proved to, in the fewest expected minutes.
// The mathematics: docs/planning.md. Tested by tests/planning/next_step_test.cpp.
#include "engine/diagnosis/after_remedy.h"
#include "engine/planning/circumstances.h"
#include "engine/planning/predictions.h"

namespace leadline::planning {

// A job as the planner sees it. Requires: everything referred to outlives the call.
struct Job {
  const knowledge::KnowledgeBase& base;
  const diagnosis::BoatModel& boat;
  const installation::Evaluation& evaluation;
  const diagnosis::Diagnosis& diagnosis;   // of what is there now
  const diagnosis::Evidence& evidence;     // of now: what was seen since the last remedy
  Predictor predict;                       // what is seen now under a set of causes
  Circumstances now;
};
// The plain case, no remedy done: predictions from the model and its circuits.
Predictor predictor_of(const diagnosis::BoatModel& boat, const diagnosis::Diagnosis& diagnosis);
// The job after a history, plain or with remedies in it. Requires: `found` comes of the history.
Job job_after(const knowledge::KnowledgeBase& base, const diagnosis::BoatModel& boat, const installation::Evaluation& evaluation, const diagnosis::History& history,
              const diagnosis::Present& found, Circumstances now);

// What one outcome of a check would mean.
struct Outcome {
  std::size_t state = 0;                 // of the finding
  double chance = 0;
  std::size_t leading = 0;               // explanation (index into the list) that would lead
  double leading_probability = 0;
};

struct Proposal {
  Act act = Act::give_up;
  knowledge::Ref<knowledge::Check> check;    // when act is check
  knowledge::Ref<knowledge::Remedy> remedy;  // when act is remedy
  double minutes = 0;                    // of doing it from where one stands, trips and conditions included; of a remedy with its proof
  double expected = 0;                   // minutes to the end of the job if it is done first
  double saved = 0;                      // on average, against mending without a further check; below 0: it costs more than it tells
  double bits = 0;                       // of a check: expected information about which explanation is true
  knowledge::Ref<knowledge::Finding> tells_most;  // of the findings still open
  std::vector<Outcome> outcomes;         // of that finding, by state
};

struct Advice {
  // Fewest expected minutes first, but a remedy that will probably cure before checks that would save next to nothing; then what was put off. Never empty.
  std::vector<Proposal> proposals;
  double mending_only = 0;                                  // expected minutes without a further check
  std::vector<knowledge::Ref<knowledge::Remedy>> order;     // the remedies in that case
  std::size_t steps_ahead = 0;
  // The remedy that mends all that is likely, when there are several such explanations: telling them apart is pointless.
  std::optional<knowledge::Ref<knowledge::Remedy>> one_for_all;
  // Explanations (indices into the list) that lead and that no check to be done here tells apart.
  std::optional<std::pair<std::size_t, std::size_t>> not_told_apart;
};
Advice advise(const Job& job, const PlanOptions& options = {});

// What can be done next, without weighing one against the other: for whoever chooses by a rule of his own.
struct Possible {
  struct Telling {
    knowledge::Ref<knowledge::Check> check;
    double bits, minutes;                                   // expected information; from where one stands
  };
  std::vector<Telling> checks;                              // those that tell something
  std::vector<knowledge::Ref<knowledge::Remedy>> remedies;  // in the order of the explanations
};
Possible possible_steps(const Job& job);

// Checks and remedies that cannot be done here and would save minutes; most first. For the end of the job: never proposed.
struct Helpful {
  Proposal proposal;
  Obstacle obstacle;
};
// `without`: the expected minutes of the best there is.
std::vector<Helpful> what_would_help(const Job& job, double without);

// What a remedy takes here, fetching its parts and its proof included, and which causes of the model it mends.
RemedyOption remedy_option(const knowledge::KnowledgeBase& base, const diagnosis::BoatModel& boat, knowledge::Ref<knowledge::Remedy> remedy, const Circumstances& now);

// Remedies of the explanation's causes that apply here, without repeats, in the order of the causes.
std::vector<knowledge::Ref<knowledge::Remedy>> remedies_for(const knowledge::KnowledgeBase& base, const diagnosis::BoatModel& boat,
                                                             const installation::Evaluation& evaluation, const diagnosis::Explanation& explanation);

}  // namespace leadline::planning
