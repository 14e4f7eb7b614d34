#pragma once
// A simulated call-out in the hands of somebody who learns: he chooses what is looked at and mended, the drawn boat answers in words and readings, and each choice
// is held against the best one. What a remedy can mend it does mend here: nobody learns by a good repair that failed by chance. docs/practice.md. Tested by tests/trial/practice_test.cpp.
#include <memory>

#include "engine/callout/callout.h"
#include "engine/trial/call.h"
#include "engine/trial/drawn_circuits.h"

namespace leadline::trial {

// A check or a remedy that can be chosen.
struct Choosable {
  planning::Act act = planning::Act::check;   // never give_up
  std::size_t index = 0;                      // of the check or remedy in the book
  friend bool operator==(const Choosable&, const Choosable&) = default;
};

// Requires: a check or a remedy.
Choosable step_of(const planning::Proposal& proposal);

struct Practised {
  Choosable step;
  double minutes = 0, total = 0;              // it took, from where one stood, and all so far
  std::size_t first_answer = 0, answers = 0;  // of the record: what it told
  std::vector<double> believed_before, believed_after;  // by what is truly wrong: that it was there at the start
  planning::Proposal best;                    // what was best just then
  double lost = 0;                            // expected minutes by which it was worse than that, all it took at most; of what tells and mends nothing, all it took
};

class Practice {
 public:
  // Call-out `number` (from 1) on a boat of its own. The same number, book and program are the same call-out. Requires: `base` outlives it.
  Practice(const knowledge::KnowledgeBase& base, std::uint64_t number);
  Practice(const Practice&) = delete;
  Practice& operator=(const Practice&) = delete;

  const knowledge::KnowledgeBase& base() const { return base_; }
  std::uint64_t number() const { return number_; }
  const std::vector<installation::Stated>& stated() const { return boats_.front().stated; }   // of the boat
  const callout::Record& record() const { return record_; }
  const callout::Assessment& assessment() const { return *assessment_; }
  // Of the record's answers: what the owner calls about, brought about by what is truly wrong; those before it are normal.
  std::size_t complaint() const { return call_.said.size() - 1; }
  // What is truly wrong, of the book; base.causes.size(): what it does not list.
  std::vector<std::size_t> truth() const;         // at the start
  std::vector<std::size_t> still_wrong() const;   // now
  bool mended() const { return mended_; }
  double minutes() const { return minutes_; }
  const std::vector<Practised>& done() const { return done_; }

  // All that applies to this boat and was not done or seen, checks first, as the book has them.
  std::vector<Choosable> choosable() const;
  planning::Obstacle obstacle_to(const Choosable& step) const;
  double minutes_of(const Choosable& step) const;    // from where one stands; of a remedy with its proof
  const planning::Advice& advice();                  // for now; takes a moment, and is kept
  // Requires: choosable, nothing in its way, not mended.
  const Practised& take(const Choosable& step);

  // The same call-out from its beginning, played by the program until it would call somebody else in. Takes a moment.
  std::unique_ptr<Practice> by_the_program() const;

 private:
  planning::Circumstances circumstances() const;
  planning::Job job() const;
  std::vector<double> believed() const;
  std::vector<std::size_t> of_the_book(const std::vector<std::size_t>& causes) const;
  diagnosis::Observed observed(std::size_t finding);
  void look(std::size_t finding);
  void do_check(const knowledge::Check& check);
  void do_remedy(knowledge::Ref<knowledge::Remedy> ref);
  double lost_by(const Choosable& step, double minutes);

  const knowledge::KnowledgeBase& base_;
  std::uint64_t number_;
  std::vector<TrialBoat> boats_;                     // one
  Dice dice_;
  Call call_;
  callout::Record record_;
  std::unique_ptr<callout::Assessment> assessment_;
  std::optional<DrawnCircuits> circuits_;            // none: the book has none
  std::vector<double> within_;                       // by finding: where in its band a reading lies that no circuit describes
  planning::Terrain terrain_;
  planning::Standing standing_;
  std::optional<planning::Advice> advice_;
  double minutes_ = 0;
  bool mended_ = false;
  std::vector<Practised> done_;
};

// A reading as a pocket meter would show it where a finding that no circuit describes is in this state: at that share of the state's band on this boat (its limits
// ascending), or as far beyond its one limit. Requires: a reading; 0 <= share < 1.
diagnosis::Reading drawn_reading(const knowledge::Finding& finding, const std::vector<double>& limits, std::size_t state, double share);

}  // namespace leadline::trial
