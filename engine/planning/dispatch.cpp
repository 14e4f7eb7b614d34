#include "engine/planning/dispatch.h"

#include <algorithm>
#include <map>

namespace leadline::planning {

namespace {

using knowledge::KnowledgeBase;
using knowledge::Precaution;
using knowledge::Ref;
using knowledge::Remedy;
using knowledge::Who;

constexpr double looking_out = 1;        // minutes of looking a thing out and carrying it along; estimate
constexpr double worth_warning = 0.05;   // chance below which nobody need be warned of what a remedy's precaution is about

// Who comes by day has what it takes; only where the boat lies may stand in the way.
Circumstances visit_of(const Job& job) {
  Circumstances visit{.who = Who::specialist};
  visit.bounds.missing.assign(job.base.tools.size(), false);
  visit.bounds.water = job.now.bounds.water;
  visit.bounds.hands = Hands::helper;
  return visit;
}

// The job in the numbers of packing.h: what there is to bring, and the ways of each cause.
class Packable {
 public:
  explicit Packable(const Job& job) : job_(job), base_(job.base), visit_(visit_of(job)) {
    problem_.ways.resize(job.boat.cause_refs.size());
    for (std::size_t c = 0; c < problem_.ways.size(); ++c) {
      if (const auto& ref = job.boat.cause_refs[c]) add_ways(base_[*ref], problem_.ways[c]);
    }
    for (const auto& e : job.diagnosis.explanations) problem_.cases.push_back({e.probability, e.causes});
  }

  const PackingProblem& problem() const { return problem_; }
  const std::vector<Thing>& things() const { return things_; }

 private:
  void add_ways(const knowledge::Cause& cause, std::vector<Way>& ways) {
    for (const auto& mend : cause.mends) {
      const auto& remedy = base_[mend.remedy];
      if (!job_.evaluation.holds(remedy.applies)) continue;
      std::vector<Way> alternatives;
      for (const auto& proof : remedy.proofs) add_way(mend, proof, alternatives);
      // One remedy has one draw, however many of its proofs can be made: only the cheapest set of things stands for it.
      if (!alternatives.empty()) ways.push_back(*std::min_element(alternatives.begin(), alternatives.end(), [&](const auto& a, const auto& b) { return price(a) < price(b); }));
    }
  }

  void add_way(const knowledge::Mend& mend, const knowledge::Proof& proof, std::vector<Way>& ways) {
    const auto& remedy = base_[mend.remedy];
    const auto& check = base_[proof.check];
    Way way{{}, mend.chance};
    if (!needs_of(remedy, way) || !needs_of(check, way)) return;
    add_people(std::max(remedy.who, check.who), std::max(remedy.effort.hands, check.effort.hands), way);
    add_parts(mend.remedy, way);
    std::sort(way.things.begin(), way.things.end());
    way.things.erase(std::unique(way.things.begin(), way.things.end()), way.things.end());
    ways.push_back(std::move(way));
  }

  // False: not where the boat lies, and nothing to be done about it.
  template <class Action>
  bool needs_of(const Action& action, Way& way) {
    for (const auto tool : action.effort.tools) way.things.push_back(thing(ThingKind::tool, tool.index, "", base_[tool].usual ? 0 : looking_out));
    const auto why = obstacle_to(base_, action, visit_).why;
    if (why == Hindrance::afloat) way.things.push_back(thing(ThingKind::ashore, 0, "", giving_up(base_, Who::technician)));
    return why == Hindrance::none || why == Hindrance::afloat;
  }

  // What the customer can do himself needs nobody. Somebody who must come costs the journey once, whoever he is and whatever for.
  void add_people(Who who, int hands, Way& way) {
    if (who == Who::owner) return;
    way.things.push_back(thing(ThingKind::person, static_cast<std::size_t>(Who::technician), "", giving_up(base_, Who::owner)));
    if (who == Who::specialist) way.things.push_back(thing(ThingKind::person, static_cast<std::size_t>(Who::specialist), "", giving_up(base_, Who::technician)));
    if (hands > 1) way.things.push_back(thing(ThingKind::second_person, 0, "", giving_up(base_, Who::owner)));
  }

  void add_parts(Ref<Remedy> ref, Way& way) {
    const auto& remedy = base_[ref];
    if (remedy.parts.empty() && remedy.fetch > 0) way.things.push_back(thing(ThingKind::arrangement, ref.index, "", remedy.fetch));
    for (const auto& part : remedy.parts) {
      const double each = looking_out + remedy.fetch / static_cast<double>(remedy.parts.size());
      way.things.push_back(thing(ThingKind::part, 0, part, each));
    }
  }

  // The thing, made when it is new; of a part that several remedies name the least price counts.
  std::size_t thing(ThingKind kind, std::size_t index, const std::string& words, double minutes) {
    const auto [at, is_new] = places_.try_emplace({kind, index, words}, things_.size());
    if (is_new) {
      things_.push_back({kind, index, words, minutes, 0});
      problem_.price.push_back(minutes);
    }
    auto& known = things_[at->second];
    known.minutes = problem_.price[at->second] = std::min(known.minutes, minutes);
    return at->second;
  }

  double price(const Way& way) const {
    double sum = 0;
    for (const auto t : way.things) sum += problem_.price[t];
    return sum;
  }

  const Job& job_;
  const KnowledgeBase& base_;
  const Circumstances visit_;
  PackingProblem problem_;
  std::vector<Thing> things_;
  std::map<std::tuple<ThingKind, std::size_t, std::string>, std::size_t> places_;
};

// Things of the ways that can be gone: of what costs nothing only that is needed.
std::vector<bool> used_in(const PackingProblem& problem, const std::vector<bool>& packed) {
  std::vector<bool> used(packed.size());
  for (const auto& one : problem.cases) {
    for (const auto c : one.causes) {
      for (const auto& way : problem.ways[c]) {
        if (!at_hand(way, packed)) continue;
        for (const auto t : way.things) used[t] = true;
      }
    }
  }
  return used;
}

void add_thing(const Job& job, const PackingProblem& problem, const Packing& packing, Thing thing, std::size_t t, Dispatch& out) {
  auto without = packing.packed;
  without[t] = false;
  thing.hangs_on_it = packing.share - judged(problem, std::move(without)).share;
  switch (thing.kind) {
    case ThingKind::person:
      if (static_cast<Who>(thing.index) > out.who) out.who = static_cast<Who>(thing.index), out.for_the_role = thing.hangs_on_it;
      return;
    case ThingKind::second_person: out.second_person = true, out.for_the_second = thing.hangs_on_it; return;
    case ThingKind::ashore: out.ashore = true, out.for_the_lift = thing.hangs_on_it; return;
    case ThingKind::tool:
      if (job.base.tools[thing.index].usual) return out.usual_tools.push_back({thing.index});
      break;
    case ThingKind::part:
    case ThingKind::arrangement: break;
  }
  out.things.push_back(std::move(thing));
}

// By the chance of the explanations whose remedies carry it.
std::vector<Ref<Precaution>> meanwhile_of(const Job& job) {
  std::vector<double> chance(job.base.precautions.size());
  for (const auto& explanation : job.diagnosis.explanations) {
    std::vector<bool> counted(chance.size());
    for (const auto remedy : remedies_for(job.base, job.boat, job.evaluation, explanation)) {
      for (const auto p : job.base[remedy].precautions) {
        if (!counted[p.index]) chance[p.index] += explanation.probability;
        counted[p.index] = true;
      }
    }
  }
  std::vector<Ref<Precaution>> found;
  for (std::size_t p = 0; p < chance.size(); ++p) {
    if (chance[p] >= worth_warning && !job.base.precautions[p].meanwhile.empty()) found.push_back({p});
  }
  std::stable_sort(found.begin(), found.end(), [&](auto a, auto b) { return chance[a.index] > chance[b.index]; });
  return found;
}

}  // namespace

Dispatch dispatch_for(const Job& job, double target) {
  const Packable packable(job);
  const auto& problem = packable.problem();
  const auto packing = pack(problem, target);
  const auto used = used_in(problem, packing.packed);
  Dispatch out;
  out.share = packing.share;
  out.mended = packing.mended;
  for (std::size_t t = 0; t < used.size(); ++t) {
    if (used[t]) add_thing(job, problem, packing, packable.things()[t], t, out);
  }
  std::stable_sort(out.things.begin(), out.things.end(), [](const auto& a, const auto& b) { return a.hangs_on_it > b.hangs_on_it; });
  for (std::size_t e = 0; e < problem.cases.size(); ++e) {
    if (!served(problem, packing.packed, problem.cases[e].causes)) out.left_out.push_back(e);
  }
  out.meanwhile = meanwhile_of(job);
  return out;
}

}  // namespace leadline::planning
