#pragma once
// The search behind a plan: every value is the cost of a policy one could follow, so looking further never makes it worse. Internal to the room.
// Derivations: docs/planning.md. Tested by tests/planning/repair_problem_test.cpp and, against the exact optimum, by tests/planning/optimum_test.cpp.
#include "engine/planning/remedy_sequence.h"

namespace leadline::planning {

class LookAhead {
 public:
  // Requires: `problem` outlives it and is valid. Throws std::invalid_argument otherwise.
  explicit LookAhead(const RepairProblem& problem);

  RemedyOrder order();
  Plan plan(const PlanOptions& options);

 private:
  // What is thought of at a point: all checks at the start, further on those that looked best at the point before.
  using Checks = std::vector<std::size_t>;

  double remaining(const Point& point) const;       // weight of all that is not cured
  double least_possible(const Point& point) const;
  bool anything_left(const Point& point) const;
  Checks all_checks() const;

  // Sets `weight` to the point's after the outcome; what is then least possible.
  double weigh(const Point& point, std::size_t check, std::size_t outcome, std::vector<double>& weight);
  // The value of the option when remedies alone follow. Once it cannot get below `best` any more: some value above `best`.
  double value_at_once(const Point& point, const Option& option, double best);
  // What can be done first, each with that value; by value. Without what cannot get below `best`.
  std::vector<Option> first_steps(const Point& point, const Checks& checks, std::size_t most_remedies, double best);
  double value_after(const Point& point, const Option& option, const Checks& checks, std::size_t depth, double best);
  double value(const Point& point, const Checks& checks, std::size_t depth);
  void deepen(Plan& plan, const Point& from, std::size_t depth);
  bool spent() const { return work_ + sequence_.work() > most_work_; }

  const RepairProblem& problem_;
  RemedySequence sequence_;
  std::size_t width_ = 1;                           // how many steps are followed, as a multiple of the fewest
  double least_worthwhile_ = 0;                     // minutes times weight
  bool cut_short_ = false, narrowed_ = false;       // a step further, or one more beside, could still have been looked at
  std::size_t work_ = 0, most_work_ = 0;
  std::vector<double> weight_;                      // of value_at_once
};

}  // namespace leadline::planning
