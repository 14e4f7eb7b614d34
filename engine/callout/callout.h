#pragma once
// The job in progress: what is fitted, what was said, and what follows from it. Tested by tests/callout/callout_test.cpp.
#include <memory>
#include <string>
#include <vector>

#include "engine/diagnosis/conflict.h"
#include "engine/diagnosis/reason.h"
#include "engine/planning/next_check.h"

namespace leadline::callout {

// A recorded job: plain data, in order.
struct Record {
  std::string title;
  installation::Installation installation;
  knowledge::Who role = knowledge::Who::technician;
  diagnosis::InstrumentClass instrument = diagnosis::InstrumentClass::pocket;
  std::vector<diagnosis::Answer> answers;
};

// What follows from a record: computed anew from all answers, so undoing an answer equals never having given it.
class Assessment {
 public:
  // Requires: `base` and `record` outlive the assessment.
  Assessment(const knowledge::KnowledgeBase& base, const Record& record);

  const knowledge::KnowledgeBase& base() const { return *base_; }
  const Record& record() const { return *record_; }
  const installation::Evaluation& evaluation() const { return evaluation_; }
  const diagnosis::BoatModel& boat() const { return boat_; }
  const diagnosis::Evidence& evidence() const { return evidence_; }
  const diagnosis::Diagnosis& diagnosis() const { return diagnosis_; }
  const diagnosis::Conflict& conflict() const { return conflict_; }

  // After answers were added to or taken from the record.
  void update();

  std::vector<diagnosis::Reason> reasons(std::size_t explanation) const;
  // "Main fuse blown + lug loose", or the words for the unlisted cause.
  std::string title_of(const diagnosis::Explanation& explanation) const;
  planning::Circumstances circumstances(std::vector<bool> put_off = {}) const;
  // Of the answers in conflict: the one whose check is cheapest to repeat.
  std::optional<std::size_t> cheapest_to_repeat() const;

 private:
  const knowledge::KnowledgeBase* base_;
  const Record* record_;
  installation::Evaluation evaluation_;
  diagnosis::BoatModel boat_;
  diagnosis::Evidence evidence_;
  diagnosis::Diagnosis diagnosis_;
  diagnosis::Conflict conflict_;
};

}  // namespace leadline::callout
