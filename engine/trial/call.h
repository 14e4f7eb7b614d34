#pragma once
// Somebody calls: on which of some boats, what is truly wrong there, and what the owner says of it. Tested by tests/trial/call_test.cpp.
#include "engine/trial/drawn_boats.h"
#include "engine/trial/world.h"

namespace leadline::trial {

struct Said {
  std::size_t finding = 0, state = 0;
};

struct Call {
  std::size_t boat = 0;
  World world;
  std::vector<Said> said;   // symptoms the owner was asked for, in that order: all normal but the last, which is what he calls about
};

struct CallOptions {
  std::size_t most_asked = 4;   // symptoms the owner is asked for before a call is taken to be none
  bool of_a_cause = false;      // only calls about what a cause truly there brought about, and nothing else: mended, it is gone. Not fair: who plays does not know it
};

// Worlds are drawn until somebody would call: the owner is asked for one symptom owners call about after the other, until he names one that is abnormal; which comes next is
// drawn by how often the causes of such boats show it. Every word of his counts, so the draw is fair: whether the call is taken hangs on nothing but what is on record.
// Requires: at least one boat, on which a cause shows something owners call about; `boats` outlive it.
Call draw_call(const knowledge::KnowledgeBase& base, const std::vector<TrialBoat>& boats, Dice& dice, const CallOptions& options = {});

}  // namespace leadline::trial
