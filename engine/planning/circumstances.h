#pragma once
// What is possible on this job: who is there, with which tools, where the boat lies. Tested by tests/planning/circumstances_test.cpp.
#include <optional>
#include <vector>

#include "engine/diagnosis/evidence.h"
#include "engine/knowledge/knowledge_base.h"
#include "engine/planning/repair_problem.h"

namespace leadline::planning {

enum class Hands { alone, within_call, helper };  // a second pair: none, somebody aboard who can be called, somebody standing by

// What stays so for the whole job.
struct Bounds {
  std::vector<bool> missing = {};                     // by tool: not in the bag. Empty: what is usual is there, the rest is not
  knowledge::Water water = knowledge::Water::afloat;  // where the boat is
  Hands hands = Hands::within_call;
  bool daylight = true;
  bool engine_may_run = true;
  std::optional<knowledge::ByPhone> by_phone = {};    // a person at a desk tells a layman aboard what to do, who then takes so long; none: who does it knows how
};

struct Circumstances {
  knowledge::Who who = knowledge::Who::technician;    // nobody is offered a check beyond this role
  Bounds bounds = {};
  std::vector<bool> answered = {};                    // by finding: an answer (of any kind) is there, of now: not of before the last remedy; or it is not to be seen
  std::vector<bool> put_off = {};                     // by check: "later"; offered only when nothing else is left
  std::vector<bool> left_out = {};                    // by check: not to be offered again
  std::vector<bool> done = {};                        // by remedy: done already, or not to be offered again
  std::vector<bool> remedies_put_off = {};            // by remedy: "later"
  Standing standing = {};
  std::vector<bool> barred = {};                      // by precaution: what carries it is not offered, for what was reported
};

// Why something cannot be done here; `none`: it can.
enum class Hindrance { none, role, tool, afloat, ashore, dark, engine, alone, danger, precondition };

struct Obstacle {
  Hindrance why = Hindrance::none;
  std::size_t index = 0;             // of the tool, of the precaution, or of the finding whose state stands in the way
  explicit operator bool() const { return why != Hindrance::none; }
};

// By finding: cannot be seen now, for what was said of another finding speaks against every state of it that this one needs.
std::vector<bool> not_to_be_seen(const knowledge::KnowledgeBase& base, const diagnosis::Evidence& evidence);

// Of the role: a check's or a remedy's; of the rest only what the job itself says, not what is believed (a precondition is next_step's).
Obstacle obstacle_to(const knowledge::KnowledgeBase& base, const knowledge::Check& check, const Circumstances& now);
Obstacle obstacle_to(const knowledge::KnowledgeBase& base, const knowledge::Remedy& remedy, const Circumstances& now);

// What doing it takes here, as numbers: by telephone longer. `extra` minutes on top: of fetching parts.
Doing doing_of(const knowledge::Effort& effort, const Circumstances& now, double extra = 0);

// Places and conditions of the knowledge base as numbers.
Terrain terrain_of(const knowledge::KnowledgeBase& base);

// Minutes it costs a person of this role to stop looking and let somebody else come.
double giving_up(const knowledge::KnowledgeBase& base, knowledge::Who who);

}  // namespace leadline::planning
