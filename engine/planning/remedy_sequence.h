#pragma once
// Remedies one after the other, best first by gained chance of a cure per minute: what every branch of a search ends in. Internal to the room.
// Derivations: docs/planning.md. Tested by tests/planning/repair_problem_test.cpp and tests/planning/remedy_order_test.cpp.
#include "engine/planning/repair_problem.h"

namespace leadline::planning {

// What is known and done at one point of a job. Weights are joint with what was seen, so no step divides by anything.
struct Point {
  std::vector<double> weight;            // by hypothesis: chance * likelihood of what was seen
  std::vector<double> left;              // by cause: chance that it is still there if it was, after the remedies done
  std::vector<double> uncured;           // by hypothesis: chance that the remedies done left something of it
  std::vector<bool> checked, done;       // by check, by remedy
  std::size_t mended = 0;                // the same number, the same remedies done: `left` and `uncured` are those of its kin
  Standing standing;
};

class RemedySequence {
 public:
  // Requires: `problem` outlives it and is valid (assumes, does not check).
  explicit RemedySequence(const RepairProblem& problem);

  Point start() const;
  void do_remedy(Point& point, std::size_t remedy);
  double minutes(std::size_t remedy, const Standing& standing) const;   // with its proof
  // No plan ends the hypothesis in fewer: the cheapest remedy of its most laborious cause, or giving up.
  double least(std::size_t hypothesis) const { return least_[hypothesis]; }

  // Minutes still needed, times the weight of what is not cured, with remedies alone, from the point but for these weights and this standing.
  // Ends at the first remedy that does not pay for itself: nearly the least, in half of the time.
  double cost(const Point& point, const std::vector<double>& weight, const Standing& standing);
  // The same from the point itself, to where nothing that follows can pay any more: a remedy that does not pay for itself may make the next one
  // pay, for less is left to wait for it. `order` receives the remedies.
  double best_order(const Point& point, std::vector<std::size_t>& order);
  // Remedies that gain anything, by gain per minute; at most so many.
  std::vector<std::size_t> most_promising(const Point& point, std::size_t at_most);

  std::size_t work() const { return work_; }   // steps of arithmetic since it was made

 private:
  // One remedy's say in one hypothesis: a cause of it that it removes with this chance.
  struct Touch {
    std::size_t hypothesis, cause;
    double chance;
  };
  struct Rated {
    std::size_t remedy;
    double rate, minutes;
  };

  double uncured(std::size_t hypothesis, const std::vector<double>& left) const;
  double causes_left(std::size_t hypothesis, const std::vector<double>& left) const;
  void begin(const Point& point, const std::vector<double>& weight, const Standing& standing);
  void stand_at(const Point& point, const Standing& standing);
  double gain_of(std::size_t remedy) const;
  void set_gain(std::size_t remedy, double gain);
  Rated rated(std::size_t remedy, double takes) const;
  double minutes_there(std::size_t remedy);
  std::optional<Rated> best_remedy(const Standing& standing);
  // Gives up where rate * giving_up < W - patience * X; W is what is left, X what of it can be cured. Rates fall, so curing all of X takes at least
  // (W X - X^2 / 2) / rate and spares X * giving_up: patience 1/2 misses nothing, 0 judges each remedy alone.
  double run(const Standing& standing, double patience, std::vector<std::size_t>* order);
  void mend(std::size_t remedy);
  void reconsider(std::size_t hypothesis);
  void mark_removers_of_affected();

  const RepairProblem& problem_;
  std::vector<std::vector<Touch>> touches_;                  // by remedy
  std::vector<std::vector<std::size_t>> holders_, removers_;  // by cause: hypotheses with it, remedies of it
  std::vector<double> least_;                                // by hypothesis
  std::vector<char> has_remedies_;                           // by hypothesis: for each of its causes
  std::vector<double> per_minute_;                           // by remedy: one over its minutes without any trip
  // The sequence under way. A share is the hypothesis' weight that is not cured, over the number of its causes expected to be left: what
  // removes one of several earns its part.
  const std::vector<double>* weight_ = nullptr;
  std::vector<double> left_, open_, share_;                  // by cause; by hypothesis: weight not cured; its share
  // Of the point and standing last begun from, for hundreds of sequences begin there: the share of a weight of 1; of each touch of each remedy,
  // one after the other, its hypothesis and the chance that it takes its cause away now; of each remedy its minutes, once asked for.
  std::optional<std::size_t> mended_there_;
  Standing standing_there_;
  std::vector<double> share_there_, takes_there_, minutes_there_;
  std::vector<std::uint32_t> touched_;
  std::vector<std::size_t> touches_end_;                     // by remedy: where its touches end in touched_
  std::size_t last_mended_ = 0;
  std::vector<double> gain_, rate_without_trips_;            // by remedy
  std::vector<std::size_t> affected_, stale_;                // hypotheses that a remedy changed; remedies whose gain changed with them
  std::vector<char> is_stale_;                               // by remedy
  double remaining_ = 0, at_first_ = 0, curable_ = 0;        // weight not cured: now, when the sequence began; now, of what has remedies
  std::size_t work_ = 0;
};

}  // namespace leadline::planning
