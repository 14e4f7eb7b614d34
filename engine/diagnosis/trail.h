#pragma once
// One finding through all phases of a call-out, judged by its states. Internal to the room; docs/mathematics.md § remedies.
// Tested by tests/diagnosis/after_remedy_test.cpp.
#include <map>

#include "engine/diagnosis/after_remedy.h"

namespace leadline::diagnosis {

// Seen in phase k: max(B_k, M_k). B is the strongest of the leak and the pushes of the causes still there, M that of everything new. The pushes and the
// leak are drawn once, so B can only fall with a remedy: B_{k-1} = max(B_k, pushes of what remedy k removed), backward in time, and
// M_k = max(M_{k-1}, something new), forward. The two are independent but for what is seen: a chain over the pairs (B_k, M_k), summed from the first phase
// to the last. Seldom a remedy has pushes and leak drawn anew: then B_k does not know of B_{k-1}. Cost: phases * states^2.
class Trail {
 public:
  // Requires: `model` and the likelihoods told outlive it.
  Trail(const Model& model, std::size_t finding, const AfterOptions& options);

  // Phases are told in order; the finding's likelihood there, null when it was not observed. Idle: nothing was done that could disturb it.
  void tell(const std::vector<double>* likelihood, bool idle);
  bool seen_at_all() const { return seen_at_all_; }

  // log P(all that was seen of it | the course). What it has worked out it keeps, for many courses have the same causes with a push on it; not for two
  // threads at once.
  double log_likelihood(const std::vector<std::size_t>& causes, const std::vector<std::size_t>& removed_in) const;

  // By state s: P(all that was seen of it, and it is in state s now | the course). Kept likewise.
  const std::vector<double>& joint_now(const std::vector<std::size_t>& causes, const std::vector<std::size_t>& removed_in) const;

 private:
  struct Look {
    const std::vector<double>* likelihood;
    bool idle;
  };
  struct Removals {  // a course, see there
    const std::vector<std::size_t>& causes;
    const std::vector<std::size_t>& removed_in;
  };
  // P(what was seen up to a phase, and M there | B there), a row for each B.
  using Table = std::vector<double>;

  std::size_t states() const { return leak_.size(); }
  std::vector<double> joint_at(std::size_t phase, const Removals& course) const;
  double log_seen(const Removals& course) const;

  void push(std::size_t cause, std::vector<double>& at_most) const;
  std::vector<double> pushes_removed(std::size_t phase, const Removals& course) const;  // cumulative, taken together
  std::vector<double> chances_of_rest(std::size_t phase, const Removals& course) const;  // P(B in a phase)

  void see(std::size_t phase, Table& table) const;
  void remove(const std::vector<double>& at_most, Table& table) const;
  void disturb(Table& table) const;
  std::vector<double> whatever_rest(const Table& table, const std::vector<double>& chances) const;
  void draw_anew(const std::vector<double>& past, Table& table) const;

  const std::vector<double>& leak_;
  double drawn_anew_;
  double new_fault_;                         // into each abnormal state
  std::vector<const Push*> pushes_;          // by cause of the model
  std::vector<Look> looks_;                  // by phase
  std::size_t last_ = 0;                     // phase in which it was seen last
  bool seen_at_all_ = false;
  mutable std::optional<double> untouched_;  // log likelihood when no cause pushes it
  mutable std::map<std::vector<std::size_t>, double> known_;
  mutable std::map<std::vector<std::size_t>, std::vector<double>> known_now_;
  mutable std::vector<std::size_t> key_;
};

}  // namespace leadline::diagnosis
