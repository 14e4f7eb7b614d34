#include "engine/trial/trial.h"

#include <algorithm>
#include <atomic>
#include <mutex>
#include <thread>

namespace leadline::trial {

namespace {

constexpr std::size_t bins = 10;
constexpr std::size_t told_every = 50;

template <class Of>
std::vector<double> samples(const std::vector<Played>& played, Of of) {
  std::vector<double> all;
  for (const auto& one : played) all.push_back(static_cast<double>(of(one)));
  return all;
}

Estimate estimate(const std::vector<double>& all) { return mean_of(all).value_or(Estimate{}); }

}  // namespace

std::vector<std::vector<Played>> run_trial(const knowledge::KnowledgeBase& base, const std::vector<TrialBoat>& boats, const TrialPlan& plan, const Progress& done,
                                           const Keeping* keeping) {
  std::vector<std::vector<Played>> all(plan.policies.size(), std::vector<Played>(plan.calls));
  const std::size_t jobs = plan.calls * plan.policies.size();
  std::atomic<std::size_t> next{0}, played{0};
  std::atomic<bool> stopped{false};
  std::mutex telling;
  const auto played_before = [&](Policy policy, std::uint64_t number) -> const Played* {
    if (keeping == nullptr) return nullptr;
    const auto found = keeping->before.find({policy, number});
    return found == keeping->before.end() ? nullptr : &found->second;
  };
  const auto work = [&] {
    for (std::size_t job = next++; job < jobs && !stopped; job = next++) {
      const auto policy = plan.policies[job % plan.policies.size()];
      const auto call = job / plan.policies.size();
      auto& one = all[job % plan.policies.size()][call];
      const auto* before = played_before(policy, plan.first + call);
      one = before != nullptr ? *before : play(base, boats, policy, plan.seed, plan.first + call, plan.play);
      const auto count = ++played;
      const std::lock_guard lock(telling);
      if (keeping != nullptr && before == nullptr) keeping->keep(policy, one);
      if (done && (count % told_every == 0 || count == jobs) && !done(count, jobs)) stopped = true;
    }
  };
  const auto cores = plan.threads != 0 ? plan.threads : std::max(1U, std::thread::hardware_concurrency());
  std::vector<std::jthread> threads;
  for (unsigned t = 1; t < cores; ++t) threads.emplace_back(work);
  work();
  threads.clear();
  if (stopped) all.clear();
  return all;
}

Fared fared_of(const std::vector<const Played*>& played) {
  const auto counted = [&](const auto& well) {
    return Proportion{static_cast<std::size_t>(std::count_if(played.begin(), played.end(), [&](const auto* one) { return well(*one); })), played.size()};
  };
  const auto among = [](const std::optional<std::size_t>& place, std::size_t first) { return place && *place < first; };
  std::vector<double> minutes;
  for (const auto* one : played) minutes.push_back(one->minutes);
  Fared fared;
  fared.first = counted([&](const Played& one) { return among(one.place, 1); });
  fared.first_three = counted([&](const Played& one) { return among(one.place, 3); });
  fared.named_first = counted([&](const Played& one) { return among(one.named, 1); });
  fared.named_first_three = counted([&](const Played& one) { return among(one.named, 3); });
  fared.proved = counted([](const Played& one) { return one.proved; });
  fared.minutes = estimate(minutes);
  return fared;
}

Summary summary_of(const std::vector<Played>& played) {
  Summary summary;
  std::vector<const Played*> all;
  std::vector<Forecast> beliefs, leaders;
  std::vector<std::size_t> call_out;   // of each belief
  for (const auto& one : played) {
    all.push_back(&one);
    beliefs.insert(beliefs.end(), one.beliefs.begin(), one.beliefs.end());
    call_out.insert(call_out.end(), one.beliefs.size(), call_out.empty() ? 0 : call_out.back() + 1);
    leaders.push_back(one.leader);
  }
  static_cast<Fared&>(summary) = fared_of(all);
  summary.checks = estimate(samples(played, [](const auto& p) { return p.checks; }));
  summary.remedies = estimate(samples(played, [](const auto& p) { return p.remedies; }));
  summary.hazards = estimate(samples(played, [](const auto& p) { return p.hazards; }));
  const auto binned = bins_of_width(beliefs, bins);
  summary.calibration = calibration_line(beliefs, call_out);
  summary.brier = brier_parts(binned);
  summary.error = calibration_error(binned);
  summary.leader = calibration_line(leaders);
  return summary;
}

std::vector<Played> worst_of(const std::vector<Played>& played, std::size_t count) {
  auto sorted = played;
  std::stable_sort(sorted.begin(), sorted.end(), [](const auto& a, const auto& b) { return a.minutes > b.minutes; });
  sorted.resize(std::min(count, sorted.size()));
  return sorted;
}

std::optional<Estimate> minutes_ratio(const std::vector<Played>& of, const std::vector<Played>& to) {
  const auto minutes = [](const Played& p) { return p.minutes; };
  return ratio_of_means(samples(of, minutes), samples(to, minutes));
}

}  // namespace leadline::trial
