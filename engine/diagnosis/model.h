#pragma once
// The probability model of one boat: priors and noisy-MAX pushes as numbers, nothing else. The mathematics: docs/mathematics.md.
// Tested by tests/diagnosis/model_test.cpp.
#include <cstddef>
#include <vector>

#include "engine/installation/evaluation.h"

namespace leadline::diagnosis {

// How one cause pushes one finding: at_most[s] = P(this cause alone leaves the finding at state s or weaker). Last entry 1.
struct Push {
  std::size_t finding = 0;
  std::vector<double> at_most;
  std::vector<text::Place> because_of;  // the rules it comes from
};

struct ModelCause {
  double prior = 0;           // P(present) before any finding, in (0, 1)
  std::vector<Push> pushes;   // at most one for each finding, ascending by finding
};

struct ModelFinding {
  std::vector<double> leak_at_most;  // P(no cause at all leaves it at s or weaker). Last entry 1; its size is the number of states
};

// Finding j of the causes H:  F_j(s | H) = leak_at_most[s] * product over i in H of at_most_ij[s]   (noisy-MAX)
struct Model {
  std::vector<ModelCause> causes;
  std::vector<ModelFinding> findings;
  bool something_is_wrong = true;    // condition on at least one cause being present
};

// A model built from a knowledge base: which cause and finding each number belongs to.
struct BoatModel {
  Model model;
  std::vector<std::optional<knowledge::Ref<knowledge::Cause>>> cause_refs;  // none: the unlisted cause, always the last
  std::vector<bool> finding_applies;                                        // by finding of the knowledge base; model findings have the same indices
  std::vector<std::vector<double>> band_limits;                             // by finding: ascending upper limits of all bands but the highest
  std::size_t unlisted() const { return cause_refs.size() - 1; }
};

// Leaves out causes, findings and rules that do not apply here. The prior of a cause is its frequency, times its adjustments,
// times the chance that faults come together (docs/mathematics.md § priors), and never above one half.
BoatModel build_model(const knowledge::KnowledgeBase& base, const installation::Evaluation& evaluation);

// Findings whose band limits do not ascend for this installation: they cannot be judged here, and build_model lets them not apply.
// Empty for a sound knowledge base.
std::vector<knowledge::Ref<knowledge::Finding>> descending_limits(const BoatModel& boat);

}  // namespace leadline::diagnosis
