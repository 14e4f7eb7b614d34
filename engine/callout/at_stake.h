#pragma once
// Which facts of the boat that nobody stated the ranking hangs on: what is asked only when it would change something. Why so: docs/planning.md § facts.
// Tested by tests/callout/at_stake_test.cpp.
#include "engine/callout/callout.h"

namespace leadline::callout {

// A fact nobody stated, and the ranking were it otherwise.
struct Stake {
  std::size_t fact = 0;                // of the knowledge base
  // Belief that would move from cause to cause, on average over the other values it may have: each as likely as the one assumed before anything was seen,
  // and weighed by how well it foretells what was seen. From 0 to 1.
  double moved = 0;
  std::string assumed, instead;        // `instead`: the value that moves most
  std::string leader, leads;           // titles of the first explanation as assumed, and were it `instead`
  double leader_now = 0, leader_then = 0;  // chances of `leader`
  double leads_then = 0;               // chance of `leads` were it `instead`
};

// The facts a person may be asked for, by fact of the base: those with a question of their own that nobody stated.
std::vector<bool> facts_to_ask(const Assessment& assessment);

// Not for two threads at once.
class AtStake {
 public:
  AtStake();
  ~AtStake();
  // Of these facts (by fact of the base) those on which the ranking hangs: with another value another explanation would lead, or the leader's chance would be
  // another by a tenth or more. What moves most comes first. Empty after a remedy: what was seen then speaks of another boat. Only the likeliest explanations,
  // and causes that there would be with another value alone, are weighed anew: docs/planning.md § facts. What was worked out of other boats' circuits is kept for
  // the next time, as long as it is the same boat.
  std::vector<Stake> among(const Assessment& assessment, const std::vector<bool>& facts);

 private:
  struct OtherCircuits;
  std::unique_ptr<OtherCircuits> circuits_;
};

}  // namespace leadline::callout
