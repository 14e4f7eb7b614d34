#include "engine/planning/circumstances.h"

#include <algorithm>

namespace leadline::planning {

namespace {

using knowledge::KnowledgeBase;
using knowledge::Water;
using knowledge::Who;

constexpr double calling_a_hand = 3;          // minutes until somebody within call stands at the lever; estimate
constexpr double unpriced_giving_up = 480;    // a working day, where the book names no price; estimate

bool is_missing(const KnowledgeBase& base, std::size_t tool, const Bounds& bounds) {
  return tool < bounds.missing.size() ? bounds.missing[tool] : !base.tools[tool].usual;
}

using Precautions = std::vector<knowledge::Ref<knowledge::Precaution>>;

bool forbidden_afloat(const KnowledgeBase& base, const Precautions& precautions) {
  return std::any_of(precautions.begin(), precautions.end(), [&](auto p) { return base[p].forbids_afloat; });
}

std::optional<std::size_t> barred_by(const Precautions& precautions, const Circumstances& now) {
  const auto found = std::find_if(precautions.begin(), precautions.end(), [&](auto p) { return p.index < now.barred.size() && now.barred[p.index]; });
  return found == precautions.end() ? std::nullopt : std::optional(found->index);
}

Obstacle obstacle_to(const KnowledgeBase& base, const knowledge::Effort& effort, const Precautions& precautions, const Circumstances& now) {
  const auto& bounds = now.bounds;
  const bool not_afloat = forbidden_afloat(base, precautions);
  if (const auto by = barred_by(precautions, now)) return {Hindrance::danger, *by};
  for (const auto tool : effort.tools) {
    if (is_missing(base, tool.index, bounds)) return {Hindrance::tool, tool.index};
  }
  if (bounds.water == Water::afloat && (effort.water == Water::ashore || not_afloat)) return {Hindrance::afloat, 0};
  if (bounds.water == Water::ashore && effort.water == Water::afloat) return {Hindrance::ashore, 0};
  if (effort.daylight && !bounds.daylight) return {Hindrance::dark, 0};
  if (effort.engine && !bounds.engine_may_run) return {Hindrance::engine, 0};
  if (effort.hands > 1 && bounds.hands == Hands::alone) return {Hindrance::alone, 0};
  return {};
}

// Some other state is better borne out than the likeliest of those needed.
bool spoken_against(const knowledge::Needs& needs, const std::vector<double>& likelihood) {
  double needed = 0, other = 0;
  for (std::size_t s = 0; s < likelihood.size(); ++s) {
    auto& best = std::binary_search(needs.states.begin(), needs.states.end(), s) ? needed : other;
    best = std::max(best, likelihood[s]);
  }
  return needed < other;
}

}  // namespace

std::vector<bool> not_to_be_seen(const KnowledgeBase& base, const diagnosis::Evidence& evidence) {
  std::vector<bool> hidden(base.findings.size(), false);
  for (std::size_t f = 0; f < base.findings.size(); ++f) {
    hidden[f] = std::any_of(base.findings[f].needs.begin(), base.findings[f].needs.end(), [&](const auto& needs) {
      const auto said = std::find_if(evidence.begin(), evidence.end(), [&](const auto& o) { return o.finding == needs.finding.index; });
      return said != evidence.end() && spoken_against(needs, said->likelihood);
    });
  }
  return hidden;
}

Obstacle obstacle_to(const KnowledgeBase& base, const knowledge::Check& check, const Circumstances& now) {
  if (check.who > now.who) return {Hindrance::role, 0};
  return obstacle_to(base, check.effort, check.precautions, now);
}

Obstacle obstacle_to(const KnowledgeBase& base, const knowledge::Remedy& remedy, const Circumstances& now) {
  if (remedy.who > now.who) return {Hindrance::role, 0};
  return obstacle_to(base, remedy.effort, remedy.precautions, now);
}

Doing doing_of(const knowledge::Effort& effort, const Circumstances& now, double extra) {
  const auto& phone = now.bounds.by_phone;
  Doing doing{(phone ? effort.minutes * phone->times + phone->minutes : effort.minutes) + extra, {}, std::nullopt};
  if (effort.hands > 1 && now.bounds.hands == Hands::within_call) doing.minutes += calling_a_hand;
  for (const auto place : effort.places) doing.places.push_back(place.index);
  if (effort.condition) doing.condition = effort.condition->index;
  return doing;
}

Terrain terrain_of(const KnowledgeBase& base) {
  Terrain terrain;
  for (const auto& place : base.places) terrain.reach.push_back(place.reach), terrain.covers.push_back(place.covers);
  for (const auto& condition : base.conditions) terrain.setting.push_back(condition.minutes);
  return terrain;
}

double giving_up(const KnowledgeBase& base, Who who) {
  for (const auto& price : base.giving_up) {
    if (price.who == who) return price.minutes;
  }
  return unpriced_giving_up;
}

}  // namespace leadline::planning
