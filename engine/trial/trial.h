#pragma once
// Many simulated call-outs, on all cores, and what they amount to. The figures: docs/trial.md. Tested by tests/trial/trial_test.cpp.
#include <functional>

#include "engine/trial/kept.h"
#include "engine/trial/player.h"

namespace leadline::trial {

struct TrialPlan {
  std::uint64_t seed = 1;
  std::uint64_t first = 1, calls = 1000;      // numbers of the call-outs
  std::vector<Policy> policies{Policy::ours};
  PlayOptions play = {};
  unsigned threads = 0;                       // 0: as many as the machine has cores
};

// By policy, in the plan's order, then by call-out. The same plan gives the same result on any number of cores.
// `done` hears from time to time how many of all are played; from any thread, never from two at once. When it says false, the trial is
// broken off and its result empty.
using Progress = std::function<bool(std::size_t played, std::size_t all)>;
// Of a trial that goes on: what was played before is taken as it was, and what is played is handed over as soon as it is; likewise never from two threads at once.
struct Keeping {
  const PlayedBefore& before;
  std::function<void(Policy, const Played&)> keep;
};
std::vector<std::vector<Played>> run_trial(const knowledge::KnowledgeBase& base, const std::vector<TrialBoat>& boats, const TrialPlan& plan, const Progress& done = {},
                                           const Keeping* keeping = nullptr);

// How some call-outs went.
struct Fared {
  Proportion first, first_three;                // a true explanation first, among the first three, when mending begins
  Proportion named_first, named_first_three;    // likewise of what it had been, when the job ends
  Proportion proved;                            // the thruster proved to work
  Estimate minutes;
  std::size_t calls() const { return first.trials; }
};
Fared fared_of(const std::vector<const Played*>& played);

// One policy's figures.
struct Summary : Fared {
  Estimate checks, remedies, hazards;
  std::optional<CalibrationLine> calibration;   // of beliefs in causes
  std::optional<BrierParts> brier;
  std::optional<CalibrationError> error;        // ten bins
  std::optional<CalibrationLine> leader;        // of the leading explanation's probability
};
Summary summary_of(const std::vector<Played>& played);

// Call-outs that took longest, longest first.
std::vector<Played> worst_of(const std::vector<Played>& played, std::size_t count);

// Mean minutes of the first, over those of the second, on the same call-outs.
std::optional<Estimate> minutes_ratio(const std::vector<Played>& of, const std::vector<Played>& to);

}  // namespace leadline::trial
