#pragma once
// How call-outs fared by what was wrong in them: by subsystem and by cause. A call-out with two faults counts under each.
// Tested by tests/trial/breakdown_test.cpp.
#include <string>

#include "engine/trial/trial.h"

namespace leadline::trial {

struct FaredBySubsystem {
  std::string subsystem;                           // "" stands for what the book does not list
  Fared fared;
};
// In the order of the book, the unlisted cause last; only those that came up.
std::vector<FaredBySubsystem> by_subsystem(const knowledge::KnowledgeBase& base, const std::vector<TrialBoat>& boats, const std::vector<Played>& played);

struct FaredByCause {
  knowledge::Ref<knowledge::Cause> cause;
  Fared fared;
  // What stood first instead when mending began, most often first; an explanation of several causes is named by its first.
  struct Mistaken {
    std::optional<knowledge::Ref<knowledge::Cause>> cause;  // none: something the book does not list
    std::size_t times = 0;
  };
  std::vector<Mistaken> mistaken_for;
};
// The causes of the book that came up in at least `least` call-outs, worst first: by the share in which a true explanation was among the first three,
// then by the share in which it stood first.
std::vector<FaredByCause> by_cause(const knowledge::KnowledgeBase& base, const std::vector<TrialBoat>& boats, const std::vector<Played>& played, std::size_t least);

}  // namespace leadline::trial
