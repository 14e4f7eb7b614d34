#pragma once
// What to do next: the check with the most expected information per minute over the explanation list.
// (Expected minutes to a working thruster will replace the measure; the question stays.) Tested by tests/planning/next_check_test.cpp.
#include <vector>

#include "engine/diagnosis/explanation.h"

namespace leadline::planning {

// What is possible now.
struct Circumstances {
  knowledge::Who who = knowledge::Who::technician;   // nobody is offered a check beyond this role
  std::vector<bool> answered;                         // by finding: an answer (of any kind) is there
  std::vector<bool> put_off;                          // by check: "later"; offered only when nothing else is left
};

// What one outcome would mean.
struct Outcome {
  std::size_t state = 0;                 // of the finding
  double chance = 0;
  std::size_t leading = 0;               // explanation (index into the list) that would lead
  double leading_probability = 0;
};

struct Proposal {
  knowledge::Ref<knowledge::Check> check;
  double bits = 0;                       // expected information about which explanation is true
  double bits_per_minute = 0;
  knowledge::Ref<knowledge::Finding> tells_most;   // of the findings still open
  std::vector<Outcome> outcomes;         // of that finding, by state
};

// All checks that may be done and would tell something, best first (ties: order of the knowledge base). A check of no minutes counts as one.
std::vector<Proposal> proposals(const knowledge::KnowledgeBase& base, const diagnosis::BoatModel& boat, const installation::Evaluation& evaluation,
                                const diagnosis::Diagnosis& diagnosis, const Circumstances& circumstances);

// Checks beyond the role that would tell more per minute than any allowed one; named at the end, never proposed.
std::vector<Proposal> beyond_role(const knowledge::KnowledgeBase& base, const diagnosis::BoatModel& boat, const installation::Evaluation& evaluation,
                                  const diagnosis::Diagnosis& diagnosis, const Circumstances& circumstances);

// Remedies of the explanation's causes that apply here, without repeats, in the order of the causes' belief.
std::vector<knowledge::Ref<knowledge::Remedy>> remedies_for(const knowledge::KnowledgeBase& base, const diagnosis::BoatModel& boat,
                                                             const installation::Evaluation& evaluation, const diagnosis::Explanation& explanation);

}  // namespace leadline::planning
