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

bool forbidden_afloat(const KnowledgeBase& base, const std::vector<knowledge::Ref<knowledge::Precaution>>& precautions) {
  return std::any_of(precautions.begin(), precautions.end(), [&](auto p) { return base[p].forbids_afloat; });
}

Obstacle obstacle_to(const KnowledgeBase& base, const knowledge::Effort& effort, bool not_afloat, const Bounds& bounds) {
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

}  // namespace

Obstacle obstacle_to(const KnowledgeBase& base, const knowledge::Check& check, const Circumstances& now) {
  if (check.who > now.who) return {Hindrance::role, 0};
  return obstacle_to(base, check.effort, forbidden_afloat(base, check.precautions), now.bounds);
}

Obstacle obstacle_to(const KnowledgeBase& base, const knowledge::Remedy& remedy, const Circumstances& now) {
  if (remedy.who > now.who) return {Hindrance::role, 0};
  return obstacle_to(base, remedy.effort, forbidden_afloat(base, remedy.precautions), now.bounds);
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
