#pragma once
// The figures of a trial, as a page and as JSON. Pure. Tested by tests/cli/trial_test.cpp.
#include "cli/layout.h"
#include "engine/trial/breakdown.h"
#include "engine/trial/replay.h"
#include "engine/trial/trial.h"

namespace leadline::cli {

struct TrialResult {
  const knowledge::KnowledgeBase& base;
  const std::vector<trial::TrialBoat>& boats;
  const trial::TrialPlan& plan;
  std::vector<std::vector<trial::Played>> played;  // by policy of the plan
};

Page trial_page(const TrialResult& result, std::size_t width);
std::string trial_json(const TrialResult& result);

// Recorded call-outs played again.
Page replays_page(const std::vector<trial::Replayed>& replayed, std::size_t width);
std::string replays_json(const std::vector<trial::Replayed>& replayed);

// One call-out, step by step.
Page story_page(const knowledge::KnowledgeBase& base, const std::vector<trial::TrialBoat>& boats, const trial::Played& played, trial::Policy policy, std::size_t width);

}  // namespace leadline::cli
