#include "engine/planning/repair_problem.h"

#include <algorithm>
#include <cmath>

#include "engine/planning/look_ahead.h"

namespace leadline::planning {

namespace {

constexpr std::size_t most_places = 64;
constexpr double worth_a_check = 2;      // minutes: the book's are no finer than that by far, and each question costs patience
constexpr double probably = 0.7;

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

// Of all that may be wrong, the share that the remedy alone would cure.
double chance_of_cure(const RepairProblem& problem, const RemedyOption& remedy) {
  double cured = 0, all = 0;
  for (std::size_t h = 0; h < problem.chance.size(); ++h) {
    double by_this = problem.causes[h].empty() ? 0 : problem.chance[h];
    for (const auto cause : problem.causes[h]) {
      const auto mend = std::find_if(remedy.mends.begin(), remedy.mends.end(), [&](const auto& m) { return m.first == cause; });
      by_this *= mend == remedy.mends.end() ? 0 : mend->second;
    }
    cured += by_this;
    all += problem.chance[h];
  }
  return all > 0 ? cured / all : 0;
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

void mend_at_once(const RepairProblem& problem, std::vector<Option>& options) {
  const auto remedy = std::find_if(options.begin(), options.end(), [](const auto& o) { return o.act != Act::check; });
  if (remedy == options.end() || remedy == options.begin() || remedy->act != Act::remedy) return;
  const double saved = remedy->expected - options.front().expected;
  const bool will_do = saved < worth_a_check && chance_of_cure(problem, problem.remedies[remedy->index]) >= probably;
  if (will_do) std::rotate(options.begin(), remedy, std::next(remedy));
}

}  // namespace leadline::planning
