#pragma once
// The probability model of one boat: priors and noisy-MAX pushes as numbers, nothing else. The mathematics: docs/mathematics.md.
// Tested by tests/diagnosis/model_test.cpp.
#include <cstddef>
#include <map>
#include <vector>

#include "engine/circuit/expected.h"

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

// The push of a cause on one finding; null when it has none.
const Push* push_on(const ModelCause& cause, std::size_t finding);

struct ModelFinding {
  std::vector<double> leak_at_most;  // P(no cause at all leaves it at s or weaker). Last entry 1; its size is the number of states
};

// What ties the model to the circuits of the boat it was made for.
struct CircuitLink {
  std::shared_ptr<const circuit::Expectation> expectation;
  std::vector<std::optional<std::size_t>> book_cause;      // by cause of the model: its index in the knowledge base; none: unlisted
  std::vector<std::vector<double>> judged_limits;          // by finding: limits of its bands on the judged scale; empty when not tied
  std::vector<std::vector<std::size_t>> bands;             // by finding: its state by band, ascending with the reading

  // The chances of the finding's states under these causes of the knowledge base (as Expectation::under knows them) while nothing is read on its
  // circuit. Requires: tied. Kept: it hangs on the boat alone. Not for two threads at once.
  const std::vector<double>& states_unread(std::size_t finding, const circuit::Tie& tie, const std::vector<std::size_t>& causes) const;

 private:
  mutable std::map<std::pair<std::size_t, std::vector<std::size_t>>, std::vector<double>> states_unread_;
};

// The chances of the finding's states where the circuit stands so. Requires: tied.
std::vector<double> states_by_outlook(const CircuitLink& link, std::size_t finding, std::size_t measure, const circuit::Outlook& outlook,
                                      const circuit::Informed& informed);

// Of these causes of the model the first two with an effect on the circuit, as Expectation::under knows them: more are not solved together.
std::vector<std::size_t> governing(const CircuitLink& link, std::size_t circuit, const std::vector<std::size_t>& causes);

// Finding j of the causes H:  F_j(s | H) = leak_at_most[s] * product over i in H of at_most_ij[s]   (noisy-MAX)
struct Model {
  std::vector<ModelCause> causes;
  std::vector<ModelFinding> findings;
  bool something_is_wrong = true;    // condition on at least one cause being present
  std::shared_ptr<const CircuitLink> circuits = nullptr;  // none: every finding is judged by its states
};

// A model built from a knowledge base: which cause and finding each number belongs to.
struct BoatModel {
  Model model;
  std::vector<std::optional<knowledge::Ref<knowledge::Cause>>> cause_refs;  // none: the unlisted cause, always the last
  std::vector<bool> finding_applies;                                        // by finding of the knowledge base; model findings have the same indices
  std::vector<std::vector<double>> band_limits;                             // by finding: ascending upper limits of all bands but the highest
  std::shared_ptr<const circuit::Expectation> expectation = nullptr;        // what the circuits of this boat should read
  std::size_t unlisted() const { return cause_refs.size() - 1; }
};

// The limits of a tied finding's bands on the judged scale.
std::vector<double> judged_limits(const circuit::Expectation& expectation, const circuit::Tie& tie, const std::vector<double>& band_limits);

// The chances by state of a finding tied to a circuit, under one cause that has an effect there: from the circuit, over the effect's sizes and
// the tolerances of sound boats. In place of the written rules; docs/circuit.md § bands.
std::vector<double> computed_chances(const knowledge::Finding& finding, const circuit::Expectation& expectation, const circuit::Tie& tie, std::size_t cause,
                                     const std::vector<double>& band_limits);

// Leaves out causes, findings and rules that do not apply here. The prior of a cause is its frequency, times its adjustments,
// times the chance that faults come together (docs/mathematics.md § priors), and never above one half.
BoatModel build_model(const knowledge::KnowledgeBase& base, const installation::Evaluation& evaluation);

// Only findings that are `wanted` (by finding) apply: while no other is answered the beliefs are the same, for a fraction of the work. `circuits`: those of
// a boat on which the wanted findings read the same under every cause.
BoatModel build_model_of(const knowledge::KnowledgeBase& base, const installation::Evaluation& evaluation, const std::vector<bool>& wanted,
                         std::shared_ptr<const circuit::Expectation> circuits);

// A boat of the same pages and other circuits: the model of `boat` (as build_model_of makes it of `wanted`) with what is read on its circuits expected as
// `circuits` does. Its pushes on tied findings stay those of `boat`: readings must be judged by their circuits.
BoatModel with_circuits(const knowledge::KnowledgeBase& base, const BoatModel& boat, const installation::Evaluation& evaluation, const std::vector<bool>& wanted,
                        std::shared_ptr<const circuit::Expectation> circuits);

// Findings whose band limits do not ascend for this installation: they cannot be judged here, and build_model lets them not apply.
// Empty for a sound knowledge base.
std::vector<knowledge::Ref<knowledge::Finding>> descending_limits(const BoatModel& boat);

}  // namespace leadline::diagnosis
