#include "engine/trial/replay.h"

#include <algorithm>

namespace leadline::trial {

namespace {

using callout::Assessment;
using callout::Record;
using knowledge::KnowledgeBase;
using planning::Act;

constexpr std::size_t most_steps = 100;

class Replay {
 public:
  Replay(const KnowledgeBase& base, const Record& recorded, const planning::PlanOptions& options)
      : base_(base), recorded_(recorded), options_(options), record_(recorded), left_(recorded.found), terrain_(planning::terrain_of(base)) {
    record_.answers = callout::complaint_of(base, recorded);
    record_.remedies.clear();
    result_.title = recorded.title;
    for (std::size_t c = 0; c < base.checks.size(); ++c) result_.recorded += answers_to(c).empty() ? 0 : 1;
  }

  Replayed run() {
    Assessment assessment(base_, record_);
    for (std::size_t step = 0; step < most_steps && !result_.proved; ++step) {
      const auto now = circumstances(assessment);
      const auto advice = planning::advise(assessment.job(now), options_);
      const auto& next = advice.proposals.front();
      if (next.act == Act::give_up) break;
      if (next.act == Act::check) do_check(next, now);
      else do_remedy(assessment, next, now);
      assessment.update();
    }
    if (result_.remedies == 0) result_.place = place_in(assessment);
    if (!result_.proved) result_.minutes += planning::giving_up(base_, record_.role);
    return result_;
  }

 private:
  // What the record holds of a check's findings and is not known yet.
  std::vector<diagnosis::Answer> answers_to(std::size_t check) const {
    std::vector<diagnosis::Answer> answers;
    for (const auto finding : base_.checks[check].observes) {
      const auto told = std::find_if(recorded_.answers.rbegin(), recorded_.answers.rend(), [&](const auto& a) { return a.finding == finding; });
      const auto same = [&](const auto& a) { return a.finding == finding; };
      if (told != recorded_.answers.rend() && std::none_of(record_.answers.begin(), record_.answers.end(), same)) answers.push_back(*told);
    }
    return answers;
  }

  planning::Circumstances circumstances(const Assessment& assessment) const {
    auto now = assessment.circumstances();
    now.standing = standing_;
    // Once part of it is mended, what was measured before tells of another boat.
    const bool changed = left_.size() != recorded_.found.size();
    for (std::size_t c = 0; c < base_.checks.size(); ++c) now.left_out.push_back(changed || answers_to(c).empty());
    return now;
  }

  void spend(const planning::Doing& doing) {
    result_.minutes += planning::minutes_of(doing, terrain_, standing_);
    standing_ = planning::after(doing, standing_);
  }

  void do_check(const planning::Proposal& proposal, const planning::Circumstances& now) {
    spend(planning::doing_of(base_[proposal.check].effort, now));
    ++result_.checks;
    for (const auto& answer : answers_to(proposal.check.index)) record_.answers.push_back(answer);
  }

  void do_remedy(const Assessment& assessment, const planning::Proposal& proposal, const planning::Circumstances& now) {
    if (result_.remedies++ == 0) result_.place = place_in(assessment);
    const auto option = planning::remedy_option(base_, assessment.boat(), proposal.remedy, now);
    spend(option.doing);
    spend(option.proof);
    std::erase_if(left_, [&](auto cause) {
      const auto& mends = base_[cause].mends;
      return std::any_of(mends.begin(), mends.end(), [&](const auto& mend) { return mend.remedy == proposal.remedy; });
    });
    record_.remedies.push_back({proposal.remedy, record_.answers.size()});
    result_.proved = left_.empty() && !recorded_.found.empty();
    for (auto told : callout::complaint_of(base_, record_)) {
      if (result_.proved) told.observed = diagnosis::Seen{0};
      record_.answers.push_back(told);
    }
  }

  std::optional<std::size_t> place_in(const Assessment& assessment) const {
    std::vector<std::size_t> truth;
    for (std::size_t c = 0; c < assessment.boat().cause_refs.size(); ++c) {
      const auto& ref = assessment.boat().cause_refs[c];
      if (ref && std::find(recorded_.found.begin(), recorded_.found.end(), *ref) != recorded_.found.end()) truth.push_back(c);
    }
    if (recorded_.found.empty()) truth.push_back(assessment.boat().unlisted());
    const auto& list = assessment.diagnosis().explanations;
    const auto at = std::find_if(list.begin(), list.end(), [&](const auto& e) { return e.causes == truth; });
    if (at == list.end()) return std::nullopt;
    return static_cast<std::size_t>(at - list.begin());
  }

  const KnowledgeBase& base_;
  const Record& recorded_;
  planning::PlanOptions options_;
  Record record_;
  std::vector<knowledge::Ref<knowledge::Cause>> left_;
  planning::Terrain terrain_;
  planning::Standing standing_;
  Replayed result_;
};

}  // namespace

Replayed replay(const KnowledgeBase& base, const Record& record, const planning::PlanOptions& options) { return Replay(base, record, options).run(); }

}  // namespace leadline::trial
