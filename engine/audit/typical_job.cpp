#include "engine/audit/typical_job.h"

#include <algorithm>

#include "engine/diagnosis/mending.h"
#include "engine/planning/next_step.h"

namespace leadline::audit {

namespace {

using diagnosis::Observation;
using knowledge::KnowledgeBase;

constexpr std::size_t symptoms_told = 2, most_steps = 60;
constexpr std::size_t plan_work = 20'000;          // steps of arithmetic for each proposal: a hundredth of what a call-out takes
constexpr double more_often_than_not = 0.5;

class Job {
 public:
  // Findings are judged by their states, as in a trial: readings are not made up.
  Job(const KnowledgeBase& base, const Sample& sample, const diagnosis::BoatModel& boat, std::size_t cause)
      : base_(base), sample_(sample), boat_(boat), truth_{*sample.model_cause[cause]}, terrain_(planning::terrain_of(base)) {
    done_.cause = cause;
    now_.answered.assign(base.findings.size(), false);
    now_.done.assign(base.remedies.size(), false);
  }

  TypicalJob run() {
    done_.called = take_the_call();
    for (std::size_t step = 0; done_.called && step < most_steps && !done_.mended; ++step) {
      const auto present = diagnosis::diagnose_after(boat_.model, history_, diagnosis::after_options_of(base_));
      planning::PlanOptions options;
      options.most_work = plan_work;
      const auto advice = planning::advise(planning::job_after(base_, boat_, *sample_.evaluation, history_, present, now_), options);
      const auto& next = advice.proposals.front();
      if (next.act == planning::Act::give_up) break;
      if (next.act == planning::Act::check) do_check(base_[next.check]);
      else do_remedy(next.remedy);
    }
    if (done_.called && !done_.mended) done_.minutes += planning::giving_up(base_, now_.who);
    return done_;
  }

 private:
  std::size_t likeliest(std::size_t finding) const {
    const auto chances = diagnosis::distribution_under(boat_.model, finding, truth_);
    return static_cast<std::size_t>(std::max_element(chances.begin(), chances.end()) - chances.begin());
  }

  void put(std::size_t finding, std::size_t state, knowledge::Who by) {
    auto& evidence = history_.back().evidence;
    const auto at = std::lower_bound(evidence.begin(), evidence.end(), finding, [](const auto& o, auto f) { return o.finding < f; });
    evidence.insert(at, Observation{finding, diagnosis::seen_likelihood(base_.findings[finding], state, by)});
    now_.answered[finding] = true;
  }

  // The abnormal state that gains most over its leak, for each symptom an owner calls about.
  bool take_the_call() {
    struct Told {
      double gain;
      std::size_t finding, state;
    };
    std::vector<Told> told;
    for (const auto& push : boat_.model.causes[truth_.front()].pushes) {
      if (!base_.findings[push.finding].complaint) continue;
      const auto chances = diagnosis::distribution_under(boat_.model, push.finding, truth_), sound = diagnosis::distribution_under(boat_.model, push.finding, {});
      Told best{0, push.finding, 0};
      for (std::size_t s = 1; s < chances.size(); ++s) {
        if (chances[s] - sound[s] > best.gain) best.gain = chances[s] - sound[s], best.state = s;
      }
      if (best.gain > 0) told.push_back(best);
    }
    std::stable_sort(told.begin(), told.end(), [](const auto& a, const auto& b) { return a.gain > b.gain; });
    if (told.size() > symptoms_told) told.resize(symptoms_told);
    for (const auto& symptom : told) {
      complaint_.emplace_back(symptom.finding, symptom.state);
      put(symptom.finding, symptom.state, knowledge::Who::owner);
    }
    return !told.empty();
  }

  void spend(const planning::Doing& doing) {
    done_.minutes += planning::minutes_of(doing, terrain_, now_.standing);
    now_.standing = planning::after(doing, now_.standing);
  }

  void do_check(const knowledge::Check& check) {
    spend(planning::doing_of(check.effort, now_));
    ++done_.checks;
    for (const auto finding : check.observes) {
      if (boat_.finding_applies[finding.index] && !now_.answered[finding.index]) put(finding.index, likeliest(finding.index), knowledge::Who::technician);
    }
  }

  void do_remedy(knowledge::Ref<knowledge::Remedy> remedy) {
    const auto option = planning::remedy_option(base_, boat_, remedy, now_);
    spend(option.doing);
    spend(option.proof);
    ++done_.remedies;
    now_.done[remedy.index] = true;
    done_.mended = std::any_of(option.mends.begin(), option.mends.end(), [&](const auto& mend) { return mend.first == truth_.front() && mend.second > more_often_than_not; });
    history_.push_back({{}, {option.mends, remedy.index}});
    now_.answered.assign(base_.findings.size(), false);
    for (const auto& [finding, state] : complaint_) put(finding, state, knowledge::Who::technician);
  }

  const KnowledgeBase& base_;
  const Sample& sample_;
  const diagnosis::BoatModel& boat_;
  std::vector<std::size_t> truth_;                              // of the model: one cause
  planning::Terrain terrain_;
  planning::Circumstances now_;
  diagnosis::History history_{1};
  std::vector<std::pair<std::size_t, std::size_t>> complaint_;  // finding and state
  TypicalJob done_;
};

}  // namespace

std::vector<TypicalJob> typical_jobs(const KnowledgeBase& base, const std::vector<Sample>& samples) {
  std::vector<diagnosis::BoatModel> boats;
  for (const auto& sample : samples) {
    boats.push_back(sample.boat);
    boats.back().model.circuits = nullptr;
  }
  std::vector<TypicalJob> jobs;
  for (std::size_t cause = 0; cause < base.causes.size(); ++cause) {
    std::size_t s = 0;
    while (s < samples.size() && !samples[s].model_cause[cause]) ++s;
    if (s < samples.size()) jobs.push_back(Job(base, samples[s], boats[s], cause).run());
  }
  return jobs;
}

}  // namespace leadline::audit
