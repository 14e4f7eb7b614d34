#pragma once
// The job in progress: what is fitted, what was said, and what follows from it. Tested by tests/callout/callout_test.cpp.
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/conflict.h"
#include "engine/diagnosis/reason.h"
#include "engine/diagnosis/after_remedy.h"
#include "engine/planning/next_step.h"

namespace leadline::callout {

// A remedy that was carried out. What is answered later speaks of the boat after it.
struct RemedyDone {
  knowledge::Ref<knowledge::Remedy> remedy;
  std::size_t after = 0;                              // so many answers stood before it
  friend bool operator==(const RemedyDone&, const RemedyDone&) = default;
};

// A recorded job: plain data, in order.
struct Record {
  std::string title;
  installation::Installation installation;
  knowledge::Who role = knowledge::Who::technician;
  diagnosis::InstrumentClass instrument = diagnosis::InstrumentClass::pocket;
  std::vector<diagnosis::Answer> answers;
  std::vector<RemedyDone> remedies = {};              // ascending by `after`
  planning::Bounds bounds = {};
  std::vector<knowledge::Ref<knowledge::Cause>> found = {};  // what it was, told when the job was over; nobody on the job knows
};

// "owner", "technician", "specialist"; "helpdesk": an owner guided by telephone. As files and programs name it.
std::string role_words(const Record& record);

// The answers given since the last remedy begin here.
std::size_t first_of_now(const Record& record);

// Whether this finding was answered since the last remedy.
bool answered_now(const Record& record, std::size_t finding);

// What an answer calls for at once; none: nothing.
const knowledge::AtOnce* at_once_for(const knowledge::KnowledgeBase& base, const diagnosis::Answer& answer);

// What the answers call for at once that stand: since the last remedy, and not answered anew. In their order.
std::vector<const knowledge::AtOnce*> at_once_now(const knowledge::KnowledgeBase& base, const Record& record);

// What the call was about: symptoms an owner calls for, seen abnormal before any remedy; by these the thruster is proved to work again. Where
// none was told, all that was seen abnormal.
std::vector<diagnosis::Answer> complaint_of(const knowledge::KnowledgeBase& base, const Record& record);

// A remedy was done, and since the last one every symptom of the complaint was seen normal again. Never without a complaint.
bool proved(const knowledge::KnowledgeBase& base, const Record& record);

// "Main fuse blown + lug loose", of causes of the book; base.causes.size() stands for the unlisted one.
std::string title_of(const knowledge::KnowledgeBase& base, const std::vector<std::size_t>& causes);

// What follows from a record: computed anew from all answers, so undoing an answer equals never having given it.
class Assessment {
 public:
  // Requires: `base` and `record` outlive the assessment.
  Assessment(const knowledge::KnowledgeBase& base, const Record& record);
  // Of another record of the same boat: what was worked out of its circuits is shared. Requires: the installations are equal.
  Assessment(const Assessment& same_boat, const Record& record);

  const knowledge::KnowledgeBase& base() const { return *base_; }
  const Record& record() const { return *record_; }
  const installation::Evaluation& evaluation() const { return evaluation_; }
  const diagnosis::BoatModel& boat() const { return boat_; }
  // What is known of each finding, by its latest answer.
  const diagnosis::Evidence& evidence() const { return evidence_; }
  // Of what is there now. After a remedy an explanation may be empty: everything is mended.
  const diagnosis::Diagnosis& diagnosis() const { return present_.now; }
  // P(the cause was there when the job began), by cause of the model.
  const std::vector<double>& had_been() const { return present_.had_been; }
  // Worked out when it is asked for. Not for two threads at once.
  const diagnosis::Conflict& conflict() const;

  // After answers were added to or taken from the record.
  void update();

  // What speaks for and against it, of the answers since the last remedy.
  std::vector<diagnosis::Reason> reasons(std::size_t explanation) const;
  // What speaks for and against some causes beside others, likewise; neither need be on the list.
  std::vector<diagnosis::Reason> reasons_between(const std::vector<std::size_t>& causes, const std::vector<std::size_t>& rival) const;
  // Of the causes of an explanation; words of its own when there are none.
  std::string title_of(const diagnosis::Explanation& explanation) const;
  // By finding: answered since the last remedy or, by what was said of others since then, not to be seen. Not to be asked.
  std::vector<bool> closed() const;
  planning::Circumstances circumstances(std::vector<bool> put_off = {}) const;
  // Not to be done by anybody of the role while what it calls for at once stands. A remedy beyond the role is not.
  bool barred(knowledge::Ref<knowledge::Remedy> remedy) const;
  // The job as the planner sees it. Valid until the next update.
  planning::Job job(planning::Circumstances circumstances) const;
  // Of the answers in conflict: the one whose check is cheapest to repeat.
  std::optional<std::size_t> cheapest_to_repeat() const;

 private:
  // The ranking without the answer to this finding since the last remedy. Worked out when it is asked for.
  const diagnosis::Diagnosis& without(std::size_t finding) const;

  const knowledge::KnowledgeBase* base_;
  const Record* record_;
  installation::Evaluation evaluation_;
  diagnosis::BoatModel boat_;
  diagnosis::Evidence evidence_;
  diagnosis::Present present_;
  diagnosis::History history_;                        // by phase: what was seen between remedies
  mutable std::optional<diagnosis::Conflict> conflict_;
  mutable std::map<std::size_t, diagnosis::Diagnosis> without_;   // by finding
};

}  // namespace leadline::callout
