#pragma once
// The slow, obvious twin of the planner: the least expected minutes over all policies, and what a planner followed to the end really costs.
#include <functional>

#include "engine/planning/repair_problem.h"

namespace leadline::planning {

// Dynamic programming over every point that can be reached: outcome of each check or not done, remedies done, where one stands. Checks and
// remedies in any order, each once; giving up at any time. In minutes. Needs table_size(problem) entries of memory (random_problems.h).
double least_minutes(const RepairProblem& problem);

// The problem that is left when a check came out so; when a remedy was done and its proof shows that the boat is not cured. Chances stay joint
// with what was seen: their sum is the chance to get there. Indices of later checks or remedies move down by one.
RepairProblem after_check(const RepairProblem& problem, std::size_t check, std::size_t outcome);
RepairProblem after_remedy(const RepairProblem& problem, std::size_t remedy);

// The expected minutes of somebody who asks anew at each point what to do first and does it, over every outcome; nothing is sampled.
using Adviser = std::function<Option(const RepairProblem&)>;
double minutes_following(const RepairProblem& problem, const Adviser& adviser);

}  // namespace leadline::planning
