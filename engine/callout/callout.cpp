#include "engine/callout/callout.h"

namespace leadline::callout {

Assessment::Assessment(const knowledge::KnowledgeBase& base, const Record& record)
    : base_(&base), record_(&record), evaluation_(base, record.installation), boat_(diagnosis::build_model(base, evaluation_)) {
  update();
}

void Assessment::update() {
  evidence_ = diagnosis::evidence_of(*base_, boat_, record_->answers, diagnosis::instrument_of(record_->instrument));
  diagnosis_ = diagnosis::diagnose(boat_.model, evidence_);
  conflict_ = diagnosis::conflict_in(boat_.model, evidence_, boat_.unlisted());
}

std::vector<diagnosis::Reason> Assessment::reasons(std::size_t explanation) const {
  return diagnosis::reasons_for(boat_.model, evidence_, diagnosis_, explanation);
}

std::string Assessment::title_of(const diagnosis::Explanation& explanation) const {
  std::string title;
  for (const auto cause : explanation.causes) {
    const auto& ref = boat_.cause_refs[cause];
    title += title.empty() ? "" : " + ";
    title += ref ? (*base_)[*ref].title : "Something this knowledge base does not list";
  }
  return title;
}

planning::Circumstances Assessment::circumstances(std::vector<bool> put_off) const {
  planning::Circumstances now{record_->role, std::vector<bool>(base_->findings.size(), false), std::move(put_off)};
  for (const auto& answer : record_->answers) now.answered[answer.finding.index] = true;
  return now;
}

std::optional<std::size_t> Assessment::cheapest_to_repeat() const {
  std::optional<std::size_t> cheapest;
  double least_minutes = 0;
  for (const auto finding : conflict_.suspects) {
    for (const auto& check : base_->checks) {
      for (const auto observed : check.observes) {
        const bool cheaper = !cheapest || check.effort.minutes < least_minutes;
        if (observed.index == finding && check.who <= record_->role && cheaper) cheapest = finding, least_minutes = check.effort.minutes;
      }
    }
  }
  return cheapest;
}

}  // namespace leadline::callout
