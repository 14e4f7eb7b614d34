#pragma once
// The boat that a page of the book is measured on: the one that was given, or a usual one (every fact as assumed, but for what a cause needs to be there). What the page needs of its model:
// limits of bands, how strongly a cause shows, which check tells most. Tested by tests/cli/yardstick_test.cpp.
#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/model.h"

namespace leadline::cli {

struct Yardstick {
  installation::Evaluation evaluation;
  diagnosis::BoatModel boat;
  bool given = false;  // else usual: no condition of it is taken for a fact
};

Yardstick yardstick_for(const knowledge::KnowledgeBase& base, const std::optional<installation::Installation>& given);
// The same for pages about causes: where these cannot be in the usual boat, one like it in which they can; the usual one when there is none.
Yardstick yardstick_for(const knowledge::KnowledgeBase& base, const std::optional<installation::Installation>& given, const std::vector<knowledge::Ref<knowledge::Cause>>& causes);

// "below 24.5 V", "24.5 V to 25.1 V", "25.1 V or more"; empty for a symptom, and where this boat has no such limits.
std::string limit_words(const knowledge::Finding& finding, const std::vector<double>& limits, std::size_t state);

// One thing a cause shows.
struct Sign {
  knowledge::Ref<knowledge::Finding> finding;
  std::size_t state = 0;
  double chance = 0;
  const knowledge::Rule* rule = nullptr;  // none: computed by the circuit
};

// What the cause shows, strongest first. On a given boat only what holds there. Written rules give way to the circuit where it computes them.
std::vector<Sign> signs_of(const knowledge::KnowledgeBase& base, const Yardstick& yardstick, knowledge::Ref<knowledge::Cause> cause);

// A check and by how many decibans its most telling finding is expected to speak for the cause against everything else the call-out may be,
// or against one other cause.
struct Telling {
  knowledge::Ref<knowledge::Check> check;
  knowledge::Ref<knowledge::Finding> finding;
  double weight = 0;
};

// The checks that observe what the cause shows, most telling first; those that say next to nothing are left out.
std::vector<Telling> telling_checks(const knowledge::KnowledgeBase& base, const Yardstick& yardstick, knowledge::Ref<knowledge::Cause> cause);
// The check that best parts two causes; none when no check does.
std::optional<Telling> parting_check(const knowledge::KnowledgeBase& base, const Yardstick& yardstick, knowledge::Ref<knowledge::Cause> one,
                                     knowledge::Ref<knowledge::Cause> other);

}  // namespace leadline::cli
