#pragma once
// Whom to send, and with what, so that most of what may be wrong is mended in one visit; and what the customer leaves alone until then. From the
// explanations of now and the book's remedies and proofs; the mathematics is packing.h. Tested by tests/planning/dispatch_test.cpp.
#include <string>

#include "engine/planning/next_step.h"
#include "engine/planning/packing.h"

namespace leadline::planning {

enum class ThingKind { tool, part, person, second_person, ashore, arrangement };

// Something to bring or to arrange. A person counts as one.
struct Thing {
  ThingKind kind = ThingKind::tool;
  std::size_t index = 0;                 // of the tool, the role (knowledge::Who) of the person, or of the remedy whose people and gear (a diver, a lift) are arranged beforehand; else 0
  std::string words;                     // of a part, as the book names it
  double minutes = 0;                    // what bringing it costs: of a part and an arrangement the fetching, of a person his way
  double hangs_on_it = 0;                // share that is lost without it
};

struct Dispatch {
  // Least role that may do all remedies that are packed for; `owner`: nobody need come, the customer can put all of it right.
  knowledge::Who who = knowledge::Who::owner;
  bool second_person = false, ashore = false;
  // Share that is lost without: somebody of that role; the second person; taking the boat out of the water.
  double for_the_role = 0, for_the_second = 0, for_the_lift = 0;
  std::vector<Thing> things;             // tools beyond the usual bag, parts, arrangements; what most hangs on comes first
  std::vector<knowledge::Ref<knowledge::Tool>> usual_tools;  // of the usual bag, what the remedies packed for ask for
  double share = 0;                      // of the chance of all that may be wrong: remedy and proof can be made with it
  double mended = 0;                     // the same, reckoned with remedies that fail
  std::vector<std::size_t> left_out;     // explanations (indices into the list) that it does not serve, likeliest first
  std::vector<knowledge::Ref<knowledge::Precaution>> meanwhile;  // that have words for the customer, by the chance of the explanations whose remedies carry them
};

// A visit by day, with the engine running where it is needed; the boat where the job has her. Who comes brings what is usual. A remedy counts when it
// and one of its proofs can be made. What is left out of the list of explanations counts as not served. Deterministic; some milliseconds.
Dispatch dispatch_for(const Job& job, double target = 0.9);

}  // namespace leadline::planning
