#pragma once
// The search behind a plan: every value is the cost of a policy one could follow, so looking further never makes it worse. Internal to the room.
// Derivations: docs/planning.md. Tested by tests/planning/repair_problem_test.cpp and, against the exact optimum, by tests/planning/optimum_test.cpp.
#include "engine/planning/repair_problem.h"

namespace leadline::planning {

// What is known and done at one point of a job. Weights are joint with what was seen, so no step divides by anything.
struct Point {
  std::vector<double> weight;            // by hypothesis: chance * likelihood of what was seen
  std::vector<double> left;              // by cause: chance that it is still there if it was, after the remedies done
  std::vector<bool> checked, done;       // by check, by remedy
  Standing standing;
};

class LookAhead {
 public:
  // Requires: `problem` outlives it and is valid. Throws std::invalid_argument otherwise.
  explicit LookAhead(const RepairProblem& problem);

  Point start() const;
  // The cost from here on with remedies alone; `order`, when given, receives them.
  double remedies_only(const Point& point, std::vector<std::size_t>* order = nullptr);
  RemedyOrder order();
  Plan plan(const PlanOptions& options);

 private:
  // One remedy's say in one hypothesis: a cause of it that it removes with this chance.
  struct Touch {
    std::size_t hypothesis, cause;
    double chance;
  };
  // By hypothesis: its weight that is not cured, over the number of its causes expected to be left. What removes one of several earns its part.
  using Shares = std::vector<double>;

  double uncured(const Point& point, std::size_t hypothesis) const;   // P(the remedies done left something of it)
  double remaining(const Point& point) const;                         // weight of all that is not cured
  double least_possible(const Point& point) const;
  double remedy_minutes(std::size_t remedy, const Standing& standing) const;
  Shares shares(const Point& point) const;
  double gain(const Point& point, const Shares& shares, std::size_t remedy) const;
  // The remedy that gains most per minute; none when none gains.
  struct Rated {
    std::size_t remedy;
    double gain, minutes;
  };
  std::optional<Rated> best_remedy(const Point& point);
  void do_remedy(Point& point, std::size_t remedy) const;

  Point after_check(const Point& point, std::size_t check, std::size_t outcome) const;

  // Everything that can be done first, each with its value when remedies alone follow; by value. Without what cannot get below `best`.
  std::vector<Option> first_steps(const Point& point, double best);
  double value_after(const Point& point, const Option& option, std::size_t depth, double best);
  double value(const Point& point, std::size_t depth);
  bool spent() const { return work_ > most_work_; }

  const RepairProblem& problem_;
  std::size_t causes_ = 0;
  std::vector<std::vector<Touch>> touches_;         // by remedy
  std::vector<double> least_;                       // by hypothesis: no plan ends it in fewer minutes
  std::size_t work_ = 0, most_work_ = 0;
};

}  // namespace leadline::planning
