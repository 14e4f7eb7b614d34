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

using Group = std::vector<const Played*>;

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
  std::map<std::string, Group> groups;
  for (const auto& one : played) {
    std::vector<std::string> counted;  // two faults of one subsystem are one call-out of it
    for (const auto cause : one.truth) {
      const auto ref = in_the_book(boats, one, cause);
      const auto subsystem = ref ? base[*ref].subsystem : std::string();
      if (std::find(counted.begin(), counted.end(), subsystem) != counted.end()) continue;
      counted.push_back(subsystem);
      groups[subsystem].push_back(&one);
    }
  }
  std::vector<FaredBySubsystem> all;
  const auto take = [&](const std::string& subsystem) {
    const auto found = groups.find(subsystem);
    if (found == groups.end()) return;
    all.push_back({subsystem, fared_of(found->second)});
    groups.erase(found);
  };
  for (const auto& cause : base.causes) take(cause.subsystem);
  take("");
  return all;
}

std::vector<FaredByCause> by_cause(const KnowledgeBase& base, const std::vector<TrialBoat>& boats, const std::vector<Played>& played, std::size_t least) {
  std::vector<Group> groups(base.causes.size());
  std::vector<Times> instead(base.causes.size());
  for (const auto& one : played) {
    for (const auto cause : one.truth) {
      const auto ref = in_the_book(boats, one, cause);
      if (!ref) continue;
      groups[ref->index].push_back(&one);
      if (one.place == std::size_t{0} || one.led_by.empty()) continue;
      const auto led = in_the_book(boats, one, one.led_by.front());
      ++instead[ref->index][led ? std::optional(led->index) : std::nullopt];
    }
  }
  std::vector<FaredByCause> all;
  for (std::size_t i = 0; i < groups.size(); ++i) {
    if (!groups[i].empty() && groups[i].size() >= least) all.push_back({{i}, fared_of(groups[i]), most_often_first(instead[i])});
  }
  std::stable_sort(all.begin(), all.end(), worse);
  return all;
}

}  // namespace leadline::trial
