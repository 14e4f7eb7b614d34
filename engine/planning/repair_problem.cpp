#include "engine/planning/repair_problem.h"

#include <algorithm>
#include <cmath>

#include "engine/planning/look_ahead.h"

namespace leadline::planning {

namespace {

constexpr std::size_t most_places = 64;

bool sound(const Doing& doing, const Terrain& terrain) {
  const bool places = std::all_of(doing.places.begin(), doing.places.end(), [&](auto p) { return p < terrain.reach.size(); });
  return doing.minutes >= 0 && places && (!doing.condition || *doing.condition < terrain.setting.size());
}

std::string why_invalid(const CheckOption& check, std::size_t hypotheses, const Terrain& terrain) {
  if (!sound(check.doing, terrain)) return "a check with negative minutes or an unknown place";
  for (std::size_t h = 0; h < hypotheses; ++h) {
    double sum = 0;
    for (const auto& outcome : check.outcomes) {
      if (outcome.size() != hypotheses) return "an outcome needs a chance for each hypothesis";
      sum += outcome[h];
    }
    if (std::abs(sum - 1) > 1e-6) return "the outcomes of a check must add up to 1";
  }
  return "";
}

}  // namespace

double minutes_of(const Doing& doing, const Terrain& terrain, const Standing& standing) {
  double minutes = doing.minutes;
  auto at = standing.place;
  auto bared = standing.bared;
  for (const auto place : doing.places) {
    if (at != place) minutes += terrain.reach[place];
    if (!(bared >> place & 1U)) minutes += terrain.covers[place];
    bared |= std::uint64_t{1} << place;
    at = place;
  }
  if (doing.condition && doing.condition != standing.condition) minutes += terrain.setting[*doing.condition];
  return minutes;
}

Standing after(const Doing& doing, const Standing& standing) {
  auto now = standing;
  for (const auto place : doing.places) now.bared |= std::uint64_t{1} << place;
  if (!doing.places.empty()) now.place = doing.places.back();
  if (doing.condition) now.condition = doing.condition;
  return now;
}

double minutes_of(const RemedyOption& remedy, const Terrain& terrain, const Standing& standing) {
  return minutes_of(remedy.doing, terrain, standing) + minutes_of(remedy.proof, terrain, after(remedy.doing, standing));
}

Standing after(const RemedyOption& remedy, const Standing& standing) { return after(remedy.proof, after(remedy.doing, standing)); }

std::string why_invalid(const RepairProblem& problem) {
  const auto& terrain = problem.terrain;
  if (terrain.reach.size() != terrain.covers.size() || terrain.reach.size() > most_places) return "places need both reach and covers, and are at most 64";
  if (problem.causes.size() != problem.chance.size()) return "every hypothesis needs its causes";
  if (!(problem.giving_up >= 0)) return "giving up needs a price";
  for (const double p : problem.chance) {
    if (!(p >= 0)) return "a chance below 0";
  }
  for (const auto& check : problem.checks) {
    if (auto why = why_invalid(check, problem.chance.size(), terrain); !why.empty()) return why;
  }
  for (const auto& remedy : problem.remedies) {
    if (!sound(remedy.doing, terrain) || !sound(remedy.proof, terrain)) return "a remedy with negative minutes or an unknown place";
    for (const auto& [cause, chance] : remedy.mends) {
      if (!(chance >= 0 && chance <= 1)) return "a remedy that mends with a chance outside 0 to 1";
    }
  }
  return "";
}

RemedyOrder remedies_in_order(const RepairProblem& problem) { return LookAhead(problem).order(); }

Plan plan(const RepairProblem& problem, const PlanOptions& options) { return LookAhead(problem).plan(options); }

}  // namespace leadline::planning
