#pragma once
// A simulated call-out played to its end by a policy: complaint, checks, remedies, proof. What the figures mean: docs/trial.md.
// Tested by tests/trial/trial_test.cpp.
#include <memory>
#include <string_view>

#include "engine/diagnosis/after_remedy.h"
#include "engine/planning/next_step.h"
#include "engine/trial/call.h"
#include "engine/trial/scores.h"

namespace leadline::trial {

// ours: fewest expected minutes. The others share our ranking, and mend when an explanation has `convinced`; they differ in the next check:
// most bits per minute; a check of the most frequent cause that is still possible; the order of the book, leaving out what tells nothing. They
// call somebody in once they have spent as many minutes as that costs.
enum class Policy { ours, information, frequency, chart };
std::string_view to_string(Policy policy);
std::optional<Policy> policy_of(std::string_view word);

struct PlayOptions {
  double cannot_tell = 0.03;              // chance that a question finds no answer
  double convinced = 0.95;                // of the other policies
  bool patient = false;                   // the other policies never give up; else once they have spent what giving up costs
  CallOptions call = {};
  std::size_t most_steps = 150;
  planning::PlanOptions plan = {};
};

struct Played {
  std::uint64_t number = 0;               // of the call-out: replays it with the same seed
  std::size_t boat = 0;
  std::vector<std::size_t> truth;         // causes of the model
  std::optional<std::size_t> place;       // of the first explanation that holds true causes only, from 0, when mending first began
  std::vector<std::size_t> led_by;        // the causes of the first explanation then
  std::optional<std::size_t> named;       // likewise of what it had been, as it is told when the job ends: whatever a remedy told is in it
  bool proved = false;                    // else somebody else was called in
  double minutes = 0;
  std::size_t checks = 0, remedies = 0;
  std::size_t hazards = 0;                // precautions of all that was done: each is a danger met
  std::vector<Forecast> beliefs;          // when mending first began: of each cause, whether it is there; those above 1 %
  Forecast leader;                        // that the first explanation is exactly what is wrong
  std::vector<std::string> story;         // one line for each step, when wanted
};

// The same seed and number are the same call-out for every policy: the same truth and the same complaint.
Played play(const knowledge::KnowledgeBase& base, const std::vector<TrialBoat>& boats, Policy policy, std::uint64_t seed, std::uint64_t number,
            const PlayOptions& options = {}, bool with_story = false);

}  // namespace leadline::trial
