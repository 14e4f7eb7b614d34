#include "engine/callout/callout.h"

#include <algorithm>
#include <span>

#include "engine/diagnosis/mending.h"

namespace leadline::callout {

namespace {

diagnosis::History history_of(const knowledge::KnowledgeBase& base, const diagnosis::BoatModel& boat, const Record& record) {
  const auto instrument = diagnosis::instrument_of(record.instrument);
  const auto done_by = [&](std::size_t r) { return diagnosis::Done{diagnosis::mends_of(base, boat, record.remedies[r].remedy), record.remedies[r].remedy.index}; };
  diagnosis::History history;
  std::size_t from = 0;
  for (std::size_t r = 0; r <= record.remedies.size(); ++r) {
    const auto upto = r < record.remedies.size() ? record.remedies[r].after : record.answers.size();
    const auto answers = std::span(record.answers).subspan(from, upto - from);
    history.push_back({diagnosis::evidence_of(base, boat, answers, instrument), r == 0 ? diagnosis::Done{} : done_by(r - 1)});
    from = upto;
  }
  return history;
}

// From here on the answers may have left no rival on the list to weigh them against: the ranking without each is made anew.
constexpr double stands_alone = 0.5;

// The latest answer to it since the last remedy, when there is one.
const diagnosis::Answer* answer_now(const Record& record, std::size_t finding) {
  for (std::size_t i = record.answers.size(); i > first_of_now(record); --i) {
    if (record.answers[i - 1].finding.index == finding) return &record.answers[i - 1];
  }
  return nullptr;
}

// By precaution: what nobody of the role must be asked to do while what was reported stands.
std::vector<bool> barred_now(const knowledge::KnowledgeBase& base, const Record& record) {
  std::vector<bool> barred(base.precautions.size(), false);
  for (const auto* told : at_once_now(base, record)) {
    for (const auto precaution : told->bars_all) barred[precaution.index] = true;
    if (record.role != knowledge::Who::owner) continue;
    for (const auto precaution : told->bars) barred[precaution.index] = true;
  }
  return barred;
}

}  // namespace

std::string role_words(const Record& record) { return record.bounds.by_phone ? "helpdesk" : std::string(knowledge::to_string(record.role)); }

std::size_t first_of_now(const Record& record) { return record.remedies.empty() ? 0 : record.remedies.back().after; }

bool answered_now(const Record& record, std::size_t finding) { return answer_now(record, finding) != nullptr; }

const knowledge::AtOnce* at_once_for(const knowledge::KnowledgeBase& base, const diagnosis::Answer& answer) {
  const auto* seen = std::get_if<diagnosis::Seen>(&answer.observed);
  if (seen == nullptr) return nullptr;
  const auto& all = base[answer.finding].at_once;
  const auto found = std::find_if(all.begin(), all.end(), [&](const auto& told) { return std::binary_search(told.states.begin(), told.states.end(), seen->state); });
  return found == all.end() ? nullptr : &*found;
}

std::vector<const knowledge::AtOnce*> at_once_now(const knowledge::KnowledgeBase& base, const Record& record) {
  std::vector<const knowledge::AtOnce*> standing;
  for (const auto& answer : std::span(record.answers).subspan(first_of_now(record))) {
    const auto* told = at_once_for(base, answer);
    if (told != nullptr && answer_now(record, answer.finding.index) == &answer) standing.push_back(told);
  }
  return standing;
}

std::vector<diagnosis::Answer> complaint_of(const knowledge::KnowledgeBase& base, const Record& record) {
  const auto before = record.remedies.empty() ? record.answers.size() : record.remedies.front().after;
  std::vector<diagnosis::Answer> told, seen;
  for (const auto& answer : std::span(record.answers).first(before)) {
    const auto* state = std::get_if<diagnosis::Seen>(&answer.observed);
    if (state == nullptr || state->state == 0) continue;
    (base[answer.finding].complaint ? told : seen).push_back(answer);
  }
  return told.empty() ? seen : told;
}

bool proved(const knowledge::KnowledgeBase& base, const Record& record) {
  const auto complaint = complaint_of(base, record);
  if (record.remedies.empty() || complaint.empty()) return false;
  return std::all_of(complaint.begin(), complaint.end(), [&](const auto& told) {
    const auto* now = answer_now(record, told.finding.index);
    return now != nullptr && now->observed == diagnosis::Observed{diagnosis::Seen{0}};
  });
}

std::string title_of(const knowledge::KnowledgeBase& base, const std::vector<std::size_t>& causes) {
  std::string title;
  for (const auto cause : causes) {
    title += title.empty() ? "" : " + ";
    title += cause < base.causes.size() ? base.causes[cause].title : "Something this knowledge base does not list";
  }
  return title;
}

Assessment::Assessment(const knowledge::KnowledgeBase& base, const Record& record)
    : base_(&base), record_(&record), evaluation_(base, record.installation), boat_(diagnosis::build_model(base, evaluation_)) {
  update();
}

Assessment::Assessment(const Assessment& same_boat, const Record& record)
    : base_(same_boat.base_), record_(&record), evaluation_(same_boat.evaluation_), boat_(same_boat.boat_) {
  update();
}

void Assessment::update() {
  history_ = history_of(*base_, boat_, *record_);
  evidence_ = diagnosis::evidence_of(*base_, boat_, record_->answers, diagnosis::instrument_of(record_->instrument));
  present_ = diagnosis::diagnose_after(boat_.model, history_, diagnosis::after_options_of(*base_));
  conflict_.reset();
  without_.clear();
}

// Only the answers before any remedy are asked: a repair explains every difference after it.
const diagnosis::Conflict& Assessment::conflict() const {
  if (!conflict_) conflict_ = diagnosis::conflict_in(boat_.model, history_.front().evidence, boat_.unlisted());
  return *conflict_;
}

// No current with the isolator off says nothing of the lugs once it is on: only what was seen since the last remedy is weighed.
std::vector<diagnosis::Reason> Assessment::reasons(std::size_t explanation) const {
  auto reasons = diagnosis::reasons_for(boat_.model, history_.back().evidence, diagnosis(), explanation);
  const auto& explained = diagnosis().explanations.at(explanation);
  if (explained.probability < stands_alone) return reasons;
  for (auto& reason : reasons) reason.weight_db = diagnosis::added_weight_db(diagnosis(), without(reason.finding), explained.causes);
  std::stable_sort(reasons.begin(), reasons.end(), [](const auto& a, const auto& b) { return a.weight_db > b.weight_db; });
  return reasons;
}

const diagnosis::Diagnosis& Assessment::without(std::size_t finding) const {
  if (const auto known = without_.find(finding); known != without_.end()) return known->second;
  auto history = history_;
  std::erase_if(history.back().evidence, [&](const auto& observation) { return observation.finding == finding; });
  return without_.emplace(finding, diagnosis::diagnose_after(boat_.model, history, diagnosis::after_options_of(*base_)).now).first->second;
}

std::vector<diagnosis::Reason> Assessment::reasons_between(const std::vector<std::size_t>& causes, const std::vector<std::size_t>& rival) const {
  return diagnosis::reasons_between(boat_.model, history_.back().evidence, diagnosis(), causes, rival);
}

std::string Assessment::title_of(const diagnosis::Explanation& explanation) const {
  if (explanation.causes.empty()) return "Nothing any more: mended";
  std::vector<std::size_t> causes;
  for (const auto cause : explanation.causes) causes.push_back(boat_.cause_refs[cause] ? boat_.cause_refs[cause]->index : base_->causes.size());
  return callout::title_of(*base_, causes);
}

std::vector<bool> Assessment::closed() const {
  auto closed = planning::not_to_be_seen(*base_, history_.back().evidence);
  for (const auto& answer : std::span(record_->answers).subspan(first_of_now(*record_))) closed[answer.finding.index] = true;
  return closed;
}

planning::Circumstances Assessment::circumstances(std::vector<bool> put_off) const {
  planning::Circumstances now{record_->role, record_->bounds, closed(), std::move(put_off)};
  now.barred = barred_now(*base_, *record_);
  now.done.resize(base_->remedies.size());
  for (const auto& done : record_->remedies) now.done[done.remedy.index] = true;
  return now;
}

bool Assessment::barred(knowledge::Ref<knowledge::Remedy> remedy) const {
  return planning::obstacle_to(*base_, (*base_)[remedy], circumstances()).why == planning::Hindrance::danger;
}

planning::Job Assessment::job(planning::Circumstances circumstances) const {
  return planning::job_after(*base_, boat_, evaluation_, history_, present_, std::move(circumstances));
}

std::optional<std::size_t> Assessment::cheapest_to_repeat() const {
  std::optional<std::size_t> cheapest;
  double least_minutes = 0;
  for (const auto finding : conflict().suspects) {
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
