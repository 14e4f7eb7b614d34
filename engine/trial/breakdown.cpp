#include "engine/trial/breakdown.h"

#include <algorithm>
#include <map>

namespace leadline::trial {

namespace {

using knowledge::Cause;
using knowledge::KnowledgeBase;
using knowledge::Ref;

std::optional<Ref<Cause>> in_the_book(const std::vector<TrialBoat>& boats, const Played& played, std::size_t cause) {
  return boats[played.boat].boat.cause_refs[cause];
}

class Tally {
 public:
  void add(const Played& played) {
    ++fared_.first.trials;
    fared_.first.successes += played.place && *played.place == 0 ? 1 : 0;
    fared_.first_three.successes += played.place && *played.place < 3 ? 1 : 0;
    fared_.proved.successes += played.proved ? 1 : 0;
    minutes_.push_back(played.minutes);
  }
  Fared fared() const {
    auto all = fared_;
    all.first_three.trials = all.proved.trials = all.first.trials;
    all.minutes = mean_of(minutes_).value_or(Estimate{});
    return all;
  }

 private:
  Fared fared_;
  std::vector<double> minutes_;
};

bool worse(const FaredByCause& a, const FaredByCause& b) {
  const auto rank = [](const FaredByCause& f) { return std::pair(*share(f.fared.first_three), *share(f.fared.first)); };
  return rank(a) < rank(b);
}

using Times = std::map<std::optional<std::size_t>, std::size_t>;  // by index of the cause in the book; none: unlisted

std::vector<FaredByCause::Mistaken> most_often_first(const Times& times) {
  std::vector<FaredByCause::Mistaken> sorted;
  for (const auto& [cause, count] : times) sorted.push_back({cause ? std::optional(Ref<Cause>{*cause}) : std::nullopt, count});
  std::stable_sort(sorted.begin(), sorted.end(), [](const auto& a, const auto& b) { return a.times > b.times; });
  return sorted;
}

}  // namespace

std::vector<FaredBySubsystem> by_subsystem(const KnowledgeBase& base, const std::vector<TrialBoat>& boats, const std::vector<Played>& played) {
  std::map<std::string, Tally> tallies;
  for (const auto& one : played) {
    std::vector<std::string> counted;  // two faults of one subsystem are one call-out of it
    for (const auto cause : one.truth) {
      const auto ref = in_the_book(boats, one, cause);
      const auto subsystem = ref ? base[*ref].subsystem : std::string();
      if (std::find(counted.begin(), counted.end(), subsystem) != counted.end()) continue;
      counted.push_back(subsystem);
      tallies[subsystem].add(one);
    }
  }
  std::vector<FaredBySubsystem> all;
  const auto take = [&](const std::string& subsystem) {
    const auto found = tallies.find(subsystem);
    if (found == tallies.end()) return;
    all.push_back({subsystem, found->second.fared()});
    tallies.erase(found);
  };
  for (const auto& cause : base.causes) take(cause.subsystem);
  take("");
  return all;
}

std::vector<FaredByCause> by_cause(const KnowledgeBase& base, const std::vector<TrialBoat>& boats, const std::vector<Played>& played, std::size_t least) {
  std::vector<Tally> tallies(base.causes.size());
  std::vector<Times> instead(base.causes.size());
  for (const auto& one : played) {
    for (const auto cause : one.truth) {
      const auto ref = in_the_book(boats, one, cause);
      if (!ref) continue;
      tallies[ref->index].add(one);
      if (one.place == std::size_t{0} || one.led_by.empty()) continue;
      const auto led = in_the_book(boats, one, one.led_by.front());
      ++instead[ref->index][led ? std::optional(led->index) : std::nullopt];
    }
  }
  std::vector<FaredByCause> all;
  for (std::size_t i = 0; i < tallies.size(); ++i) {
    const auto fared = tallies[i].fared();
    if (fared.calls() > 0 && fared.calls() >= least) all.push_back({{i}, fared, most_often_first(instead[i])});
  }
  std::stable_sort(all.begin(), all.end(), worse);
  return all;
}

}  // namespace leadline::trial
