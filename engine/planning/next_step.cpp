#include "engine/planning/next_step.h"

#include <algorithm>
#include <cmath>
#include <memory>

#include "engine/diagnosis/mending.h"
#include "engine/diagnosis/tied.h"

namespace leadline::planning {

namespace {

using knowledge::Check;
using knowledge::KnowledgeBase;
using knowledge::Ref;
using knowledge::Remedy;
using knowledge::Who;

constexpr double least_bits = 1e-4;                // below it a check tells nothing worth a walk
constexpr std::size_t most_joint_outcomes = 27;    // of a check that observes several findings
constexpr std::size_t most_checks = 120;           // planned with; of more, those that inform most per minute
constexpr double looking_at_the_complaint = 2;     // minutes of a proof without a check of its own: a push and a look; estimate
constexpr double calling_back = 5;                 // minutes of hanging up and telephoning again: by telephone nobody stands and waits; estimate
constexpr double precondition_must_hold = 0.5;     // chance below which a check is not offered
constexpr double worth_naming = 1;                 // minutes saved below which nobody misses a tool
constexpr double likely = 0.05, nearly_all = 0.9, told_apart = 0.05;

// A check as the planner weighs it: what it would tell, and in which numbers.
struct Weighed {
  Ref<Check> check;
  std::vector<std::size_t> findings;   // open ones that are reckoned with, the most telling first
  double bits = 0;
};

bool marked(const std::vector<bool>& marks, std::size_t at) { return at < marks.size() && marks[at]; }

class Planner {
 public:
  Planner(const Job& job, double share_looked_at)
      : job_(job), predictions_(job.diagnosis, job.boat.model.findings.size(), job.predict, share_looked_at), terrain_(terrain_of(job.base)),
        callers_(knowledge::Who::owner == job.now.who) {
    // Whom an owner calls in comes at a price that is paid once: a place of its own, bared by the journey.
    if (callers_) terrain_.reach.push_back(0), terrain_.covers.push_back(giving_up(job.base, Who::owner));
    if (job.now.bounds.by_phone) call_back_instead_of_waiting();
  }

  std::vector<std::size_t> open_findings(const Check& check) const;
  Obstacle obstacle(const Check& check);
  std::vector<Weighed> weighed_checks(bool possible);
  RepairProblem problem(const std::vector<Weighed>& checks);
  Proposal proposal_of(const Option& option, const std::vector<Weighed>& checks, double mending_only);
  const std::vector<Ref<Remedy>>& remedies() const { return remedies_; }
  RemedyOption option_of(Ref<Remedy> remedy) const;
  std::vector<Ref<Remedy>> possible_remedies() const;
  Possible possible();

 private:
  void call_back_instead_of_waiting() {
    for (std::size_t c = 0; c < terrain_.setting.size(); ++c) {
      if (job_.base.conditions[c].wait > 0) terrain_.setting[c] = std::min(terrain_.setting[c], calling_back);
    }
  }
  std::vector<Ref<Remedy>> remedies_in_question() const;
  std::vector<std::size_t> tractable(std::vector<std::size_t> findings);
  double chance_of(const knowledge::Needs& needs);
  CheckOption option_of(const Weighed& weighed);
  std::vector<Outcome> outcomes_of(std::size_t finding);
  bool others_do(const Remedy& remedy) const { return callers_ && remedy.who == Who::technician; }

  const Job& job_;
  Predictions predictions_;
  Terrain terrain_;
  bool callers_;
  std::vector<Ref<Remedy>> remedies_;
};

std::vector<std::size_t> Planner::open_findings(const Check& check) const {
  std::vector<std::size_t> open;
  for (const auto finding : check.observes) {
    if (job_.boat.finding_applies[finding.index] && !marked(job_.now.answered, finding.index)) open.push_back(finding.index);
  }
  return open;
}

// From what is believed, and from what was said of it.
double Planner::chance_of(const knowledge::Needs& needs) {
  const auto finding = needs.finding.index;
  if (!job_.boat.finding_applies[finding] || predictions_.size() == 0) return 1;
  auto chances = predictions_.expected(finding);
  const auto seen = std::find_if(job_.evidence.begin(), job_.evidence.end(), [&](const auto& o) { return o.finding == finding; });
  if (seen != job_.evidence.end()) {
    for (std::size_t s = 0; s < chances.size(); ++s) chances[s] *= seen->likelihood[s];
  }
  double all = 0, good = 0;
  for (const double p : chances) all += p;
  for (const auto s : needs.states) good += chances[s];
  return all > 0 ? good / all : 1;
}

Obstacle Planner::obstacle(const Check& check) {
  if (const auto found = obstacle_to(job_.base, check, job_.now)) return found;
  for (const auto& needs : check.needs) {
    if (chance_of(needs) < precondition_must_hold) return {Hindrance::precondition, needs.finding.index};
  }
  return {};
}

// The findings that tell most, as many as keep the joint outcomes few; information of a part never exceeds that of the whole.
std::vector<std::size_t> Planner::tractable(std::vector<std::size_t> findings) {
  std::vector<std::pair<double, std::size_t>> telling;
  for (const auto f : findings) telling.emplace_back(predictions_.information({f}), f);
  std::stable_sort(telling.begin(), telling.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<std::size_t> kept;
  std::size_t joint = 1;
  for (const auto& [bits, f] : telling) {
    joint *= predictions_.distributions(f).size();
    if (!kept.empty() && (joint > most_joint_outcomes || bits < least_bits)) break;
    kept.push_back(f);
  }
  return kept;
}

std::vector<Weighed> Planner::weighed_checks(bool possible) {
  std::vector<Weighed> checks;
  if (predictions_.size() < 2) return checks;
  for (std::size_t c = 0; c < job_.base.checks.size(); ++c) {
    const auto& check = job_.base.checks[c];
    if (marked(job_.now.left_out, c) || !job_.evaluation.holds(check.applies)) continue;
    const auto open = open_findings(check);
    if (open.empty() || static_cast<bool>(obstacle(check)) == possible) continue;
    Weighed weighed{{c}, tractable(open), 0};
    weighed.bits = predictions_.information(weighed.findings);
    if (weighed.bits >= least_bits) checks.push_back(std::move(weighed));
  }
  const auto rate = [&](const Weighed& w) { return w.bits / std::max(1.0, minutes_of(doing_of(job_.base[w.check].effort, job_.now), terrain_, job_.now.standing)); };
  if (checks.size() > most_checks) {
    std::stable_sort(checks.begin(), checks.end(), [&](const auto& a, const auto& b) { return rate(a) > rate(b); });
    checks.resize(most_checks);
  }
  return checks;
}

CheckOption Planner::option_of(const Weighed& weighed) {
  CheckOption option{doing_of(job_.base[weighed.check].effort, job_.now), {std::vector<double>(predictions_.size(), 1.0)}};
  for (const auto finding : weighed.findings) {
    std::vector<std::vector<double>> joint;
    for (const auto& before : option.outcomes) {
      for (const auto& under : predictions_.distributions(finding)) {
        auto& outcome = joint.emplace_back(before);
        for (std::size_t h = 0; h < outcome.size(); ++h) outcome[h] *= under[h];
      }
    }
    option.outcomes = std::move(joint);
  }
  return option;
}

// Remedies that mend a cause of some explanation, each once, in the order of the explanations.
std::vector<Ref<Remedy>> Planner::remedies_in_question() const {
  std::vector<bool> listed(job_.base.remedies.size());
  std::vector<Ref<Remedy>> found;
  for (std::size_t h = 0; h < predictions_.size(); ++h) {
    for (const auto remedy : remedies_for(job_.base, job_.boat, job_.evaluation, job_.diagnosis.explanations[h])) {
      if (listed[remedy.index]) continue;
      listed[remedy.index] = true;
      found.push_back(remedy);
    }
  }
  return found;
}

std::vector<Ref<Remedy>> Planner::possible_remedies() const {
  auto remedies = remedies_in_question();
  std::erase_if(remedies, [&](auto ref) {
    const auto why = obstacle_to(job_.base, job_.base[ref], job_.now).why;
    const bool possible = why == Hindrance::none || (why == Hindrance::role && others_do(job_.base[ref]));
    return !possible || marked(job_.now.done, ref.index);
  });
  return remedies;
}

RemedyOption Planner::option_of(Ref<Remedy> ref) const {
  auto option = remedy_option(job_.base, job_.boat, ref, job_.now);
  if (others_do(job_.base[ref])) option.doing.places.insert(option.doing.places.begin(), terrain_.reach.size() - 1);
  return option;
}

Possible Planner::possible() {
  Possible found;
  for (const auto& weighed : weighed_checks(true)) found.checks.push_back({weighed.check, weighed.bits, minutes_of(doing_of(job_.base[weighed.check].effort, job_.now), terrain_, job_.now.standing)});
  found.remedies = possible_remedies();
  return found;
}

RepairProblem Planner::problem(const std::vector<Weighed>& checks) {
  RepairProblem problem;
  problem.chance = predictions_.chances();
  for (std::size_t h = 0; h < predictions_.size(); ++h) problem.causes.push_back(predictions_.causes(h));
  for (const auto& weighed : checks) problem.checks.push_back(option_of(weighed));
  remedies_ = possible_remedies();
  for (const auto ref : remedies_) problem.remedies.push_back(option_of(ref));
  problem.terrain = terrain_;
  problem.standing = job_.now.standing;
  problem.giving_up = giving_up(job_.base, job_.now.who) + (callers_ ? giving_up(job_.base, Who::technician) : 0);
  return problem;
}

std::vector<Outcome> Planner::outcomes_of(std::size_t finding) {
  std::vector<Outcome> outcomes;
  const auto& by_state = predictions_.distributions(finding);
  for (std::size_t s = 0; s < by_state.size(); ++s) {
    Outcome outcome{s, 0, 0, 0};
    double best = -1;
    for (std::size_t h = 0; h < predictions_.size(); ++h) {
      const double joint = predictions_.chance(h) * by_state[s][h];
      outcome.chance += joint;
      if (joint > best) best = joint, outcome.leading = h;
    }
    outcome.leading_probability = outcome.chance > 0 ? best / outcome.chance : 0;
    outcomes.push_back(outcome);
  }
  return outcomes;
}

Proposal Planner::proposal_of(const Option& option, const std::vector<Weighed>& checks, double mending_only) {
  Proposal proposal;
  proposal.act = option.act;
  proposal.minutes = option.minutes;
  proposal.expected = option.expected;
  proposal.saved = mending_only - option.expected;
  if (option.act == Act::remedy) {
    proposal.remedy = remedies_[option.index];
    // What another person must come for is, to this one, calling him in.
    if (others_do(job_.base[proposal.remedy])) proposal.act = Act::give_up;
  }
  if (option.act == Act::check) {
    const auto& weighed = checks[option.index];
    proposal.check = weighed.check;
    proposal.bits = weighed.bits;
    proposal.tells_most = {weighed.findings.front()};
    proposal.outcomes = outcomes_of(weighed.findings.front());
  }
  return proposal;
}

// Explanations, the unlisted one aside, that are likely enough to matter.
std::vector<std::size_t> rivals(const Job& job) {
  std::vector<std::size_t> found;
  for (std::size_t h = 0; h < job.diagnosis.explanations.size(); ++h) {
    const auto& e = job.diagnosis.explanations[h];
    const bool unlisted = std::find(e.causes.begin(), e.causes.end(), job.boat.unlisted()) != e.causes.end();
    if (!unlisted && !e.causes.empty() && e.probability >= likely) found.push_back(h);
  }
  return found;
}

bool mends_all_of(const RemedyOption& remedy, const diagnosis::Explanation& explanation) {
  return std::all_of(explanation.causes.begin(), explanation.causes.end(),
                     [&](auto c) { return std::any_of(remedy.mends.begin(), remedy.mends.end(), [&](const auto& m) { return m.first == c; }); });
}

std::optional<Ref<Remedy>> one_for_all(const Job& job, const RepairProblem& problem, const std::vector<Ref<Remedy>>& remedies) {
  const auto likely_ones = rivals(job);
  if (likely_ones.size() < 2) return std::nullopt;
  double all = 0;
  for (const auto h : likely_ones) all += job.diagnosis.explanations[h].probability;
  if (all < nearly_all) return std::nullopt;
  for (std::size_t r = 0; r < remedies.size(); ++r) {
    const bool each = std::all_of(likely_ones.begin(), likely_ones.end(), [&](auto h) { return mends_all_of(problem.remedies[r], job.diagnosis.explanations[h]); });
    if (each) return remedies[r];
  }
  return std::nullopt;
}

// How differently two explanations show in the check's outcomes: half the sum of differences.
double apart(const CheckOption& check, std::size_t a, std::size_t b) {
  double sum = 0;
  for (const auto& outcome : check.outcomes) sum += std::abs(outcome[a] - outcome[b]);
  return sum / 2;
}

std::optional<std::pair<std::size_t, std::size_t>> not_told_apart(const Job& job, const RepairProblem& problem) {
  const auto likely_ones = rivals(job);
  if (likely_ones.size() < 2 || likely_ones[1] >= problem.chance.size()) return std::nullopt;
  const auto a = likely_ones[0], b = likely_ones[1];
  for (const auto& check : problem.checks) {
    if (apart(check, a, b) > told_apart) return std::nullopt;
  }
  return std::pair{a, b};
}

bool is_put_off(const Proposal& proposal, const Circumstances& now) {
  if (proposal.act == Act::check) return marked(now.put_off, proposal.check.index);
  return proposal.act == Act::remedy && marked(now.remedies_put_off, proposal.remedy.index);
}

}  // namespace

Predictor predictor_of(const diagnosis::BoatModel& boat, const diagnosis::Diagnosis& diagnosis) {
  const auto tied = std::make_shared<diagnosis::TiedReadings>(boat.model, diagnosis.tied);
  return {[tied](std::size_t finding, const std::vector<std::size_t>& causes) { return tied->states_of(finding, causes); },
          [tied](std::size_t finding, std::size_t cause) { return tied->sways(finding, cause); }};
}

Job job_after(const KnowledgeBase& base, const diagnosis::BoatModel& boat, const installation::Evaluation& evaluation, const diagnosis::History& history,
              const diagnosis::Present& found, Circumstances now) {
  auto predict = history.size() > 1 ? diagnosis::states_now(boat.model, history, found, diagnosis::after_options_of(base)) : predictor_of(boat, found.now);
  return {base, boat, evaluation, found.now, history.back().evidence, std::move(predict), std::move(now)};
}

Possible possible_steps(const Job& job) { return Planner(job, PlanOptions{}.share_looked_at).possible(); }

Advice advise(const Job& job, const PlanOptions& options) {
  Planner planner(job, options.share_looked_at);
  const auto checks = planner.weighed_checks(true);
  const auto problem = planner.problem(checks);
  auto found = plan(problem, options);
  mend_at_once(problem, found.options);
  Advice advice;
  advice.mending_only = found.without_checks.minutes;
  advice.steps_ahead = found.depth;
  for (const auto r : found.without_checks.remedies) advice.order.push_back(planner.remedies()[r]);
  for (const auto& option : found.options) advice.proposals.push_back(planner.proposal_of(option, checks, advice.mending_only));
  std::stable_partition(advice.proposals.begin(), advice.proposals.end(), [&](const Proposal& p) { return !is_put_off(p, job.now); });
  advice.one_for_all = one_for_all(job, problem, planner.remedies());
  if (!advice.one_for_all) advice.not_told_apart = not_told_apart(job, problem);
  return advice;
}

std::vector<Helpful> what_would_help(const Job& job, double without) {
  Planner planner(job, PlanOptions{}.share_looked_at);
  const auto checks = planner.weighed_checks(false);
  const auto problem = planner.problem(checks);
  const auto found = plan(problem, {.most_work = 0});
  std::vector<Helpful> helpful;
  for (const auto& option : found.options) {
    if (option.act != Act::check) continue;
    auto proposal = planner.proposal_of(option, checks, without);
    if (proposal.saved >= worth_naming) helpful.push_back({proposal, planner.obstacle(job.base[proposal.check])});
  }
  return helpful;
}

RemedyOption remedy_option(const KnowledgeBase& base, const diagnosis::BoatModel& boat, Ref<Remedy> ref, const Circumstances& now) {
  const auto& remedy = base[ref];
  RemedyOption option{doing_of(remedy.effort, now, remedy.fetch), {looking_at_the_complaint, {}, std::nullopt}, {}};
  if (!remedy.proofs.empty()) option.proof = doing_of(base[remedy.proofs.front().check].effort, now);
  option.mends = diagnosis::mends_of(base, boat, ref);
  return option;
}

std::vector<Ref<Remedy>> remedies_for(const KnowledgeBase& base, const diagnosis::BoatModel& boat, const installation::Evaluation& evaluation,
                                      const diagnosis::Explanation& explanation) {
  std::vector<Ref<Remedy>> remedies;
  for (const auto cause : explanation.causes) {
    if (!boat.cause_refs[cause]) continue;
    for (const auto& mend : base[*boat.cause_refs[cause]].mends) {
      const bool known = std::find(remedies.begin(), remedies.end(), mend.remedy) != remedies.end();
      if (!known && evaluation.holds(base[mend.remedy].applies)) remedies.push_back(mend.remedy);
    }
  }
  return remedies;
}

}  // namespace leadline::planning
