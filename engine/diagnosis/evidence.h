#pragma once
// Answers as likelihoods over states. Tested by tests/diagnosis/evidence_test.cpp.
#include <span>
#include <string>
#include <vector>

#include "engine/diagnosis/answer.h"
#include "engine/diagnosis/model.h"

namespace leadline::diagnosis {

// A reading that a circuit describes, on the scale on which it is judged (circuit/outlook.h).
struct TiedReading {
  circuit::Tie tie;
  double value = 0, uncertainty = 0;
  // How likely this reading is when something the circuit does not describe puts the finding in a state: even over its band.
  std::vector<double> density_by_state;
};

// likelihood[s] = P(what was said | the finding is in state s), up to a common factor; at least one entry above 0.
struct Observation {
  std::size_t finding = 0;
  std::vector<double> likelihood;
  std::optional<TiedReading> tied = std::nullopt;
};

// At most one observation for each finding, ascending by finding.
using Evidence = std::vector<Observation>;
std::string why_invalid(const Model& model, const Evidence& evidence);  // empty when all is well

// P(each state is named | this one is there), of somebody who looked. An owner names the one that is there 92 times in 100, otherwise any of the others
// (estimate); but none that calls for something at once by a mere slip more often than it is seen without a known cause, its leak.
std::vector<double> named_chances(const knowledge::Finding& finding, std::size_t state, knowledge::Who by);
// P(this state is named | each is there).
std::vector<double> seen_likelihood(const knowledge::Finding& finding, std::size_t state, knowledge::Who by);

// P(true value in each band | the reading), normal error: the share each band gets near an edge. Shares below 1e-6 are 0.
std::vector<double> band_shares(std::span<const double> ascending_limits, double value, double uncertainty);

// The observation an answer makes; nothing when it changes nothing (cannot tell, not fitted, does not apply here).
std::optional<Observation> observation_of(const knowledge::KnowledgeBase& base, const BoatModel& boat, const Answer& answer, const Instrument& instrument);

// A later answer to the same finding replaces an earlier one: a repeated check counts once.
Evidence evidence_of(const knowledge::KnowledgeBase& base, const BoatModel& boat, std::span<const Answer> answers, const Instrument& instrument);

}  // namespace leadline::diagnosis
