#include "engine/diagnosis/after_remedy.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <set>
#include <stdexcept>

#include "engine/diagnosis/explanation_list.h"
#include "engine/diagnosis/trail.h"

namespace leadline::diagnosis {

namespace {

using Causes = std::vector<std::size_t>;

constexpr double impossible = -std::numeric_limits<double>::infinity();

bool idle(const Phase& phase) { return phase.evidence.empty() && phase.before.mends.empty(); }

Trail trail_of(const Model& model, const History& history, std::size_t finding, bool by_circuits, const AfterOptions& options) {
  Trail trail(model, finding, options);
  for (const auto& phase : history) {
    const auto at = std::lower_bound(phase.evidence.begin(), phase.evidence.end(), finding, [](const Observation& o, std::size_t f) { return o.finding < f; });
    const bool seen = at != phase.evidence.end() && at->finding == finding && !(at->tied && by_circuits);
    trail.tell(seen ? &at->likelihood : nullptr, idle(phase));
  }
  return trail;
}

// Every way in which the remedies may have gone for these causes: a draw for each cause and remedy.
class Fates {
 public:
  explicit Fates(const History& history) : history_(history) {}

  struct End {
    std::size_t removed_in;
    double chance;
  };
  // When one cause may have been removed, ends of no chance left out.
  std::vector<End> of(std::size_t cause) const {
    std::vector<End> ends;
    std::vector<std::size_t> tried;
    double left = 1;
    for (std::size_t k = 1; k < history_.size(); ++k) {
      const auto& [mends, remedy] = history_[k].before;
      const auto mended = std::find_if(mends.begin(), mends.end(), [&](const auto& m) { return m.first == cause; });
      if (mended == mends.end() || (remedy && std::find(tried.begin(), tried.end(), *remedy) != tried.end())) continue;
      if (remedy) tried.push_back(*remedy);
      if (left * mended->second > 0) ends.push_back({k, left * mended->second});
      left *= 1 - mended->second;
    }
    if (left > 0) ends.push_back({never, left});
    return ends;
  }

  // Calls visit(removed_in, chance) for every combination.
  template <class Visit>
  void each(const Causes& causes, const Visit& visit) const {
    std::vector<std::vector<End>> ends;
    for (const auto cause : causes) ends.push_back(of(cause));
    std::vector<std::size_t> removed_in(causes.size(), never);
    combine(ends, 0, 1, removed_in, visit);
  }

 private:
  template <class Visit>
  static void combine(const std::vector<std::vector<End>>& ends, std::size_t c, double chance, std::vector<std::size_t>& removed_in, const Visit& visit) {
    if (c == ends.size()) return visit(removed_in, chance);
    for (const auto& end : ends[c]) {
      removed_in[c] = end.removed_in;
      combine(ends, c + 1, chance * end.chance, removed_in, visit);
    }
  }

  const History& history_;
};

Causes present_in(std::size_t phase, const Causes& causes, const std::vector<std::size_t>& removed_in) {
  Causes present;
  for (std::size_t c = 0; c < causes.size(); ++c) {
    if (removed_in[c] > phase) present.push_back(causes[c]);
  }
  return present;
}

// What a person would say to all findings now if nobody had touched anything: the latest of each.
Evidence latest(const History& history) {
  std::map<std::size_t, const Observation*> by_finding;
  for (const auto& phase : history) {
    for (const auto& observation : phase.evidence) by_finding[observation.finding] = &observation;
  }
  Evidence evidence;
  for (const auto& [finding, observation] : by_finding) evidence.push_back(*observation);
  return evidence;
}

Causes removable(const History& history) {
  std::set<std::size_t> causes;
  for (const auto& phase : history) {
    for (const auto& [cause, chance] : phase.before.mends) {
      if (chance > 0) causes.insert(cause);
    }
  }
  return {causes.begin(), causes.end()};
}

Causes together(const Causes& a, const Causes& b) {
  Causes both;
  std::set_union(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(both));
  return both;
}

// Weighs explicit sets of causes through all phases.
constexpr std::size_t most_removed_together = 3;

class Weighing {
 public:
  Weighing(const Model& model, const History& history, const AfterOptions& options) : model_(model), history_(history), options_(options), fates_(history) {
    auto wide = options.explain;
    wide.least_probability = options.least_candidate;
    wide.most_explanations = options.most_candidates;
    first_ = diagnose(model, history[0].evidence, wide);
    by_circuits_ = !first_.tied.empty() || tied_part(history[0].evidence).empty();
    for (std::size_t k = 0; by_circuits_ && k < history.size(); ++k) {
      TiedReadings tied(model, history[k].evidence);
      if (!tied.empty()) tied_.push_back({k, std::move(tied)});
    }
    const auto all = latest(history);
    for (const auto& observation : all) {
      auto trail = trail_of(model, history, observation.finding, by_circuits_, options);
      if (trail.seen_at_all()) trails_.push_back(std::move(trail));
    }
    gather_candidates(diagnose(model, all, options.explain));
  }

  Present run() {
    Present result{prepared(model_), std::vector<double>(model_.causes.size(), 0.0), 0, {}, 1, by_circuits_};
    if (first_.explanations.empty()) return result;
    for (const auto& causes : candidates_) weigh(causes, result.courses);
    share_out(result);
    return result;
  }

 private:
  struct TiedPhase {
    std::size_t phase;
    TiedReadings readings;
    double most = impossible;  // the largest log density met
  };

  // Sets that were probable before any remedy; those that would explain the latest answers had they been there alone, with and without what was removed.
  void gather_candidates(const Diagnosis& fresh) {
    for (const auto& explanation : first_.explanations) candidates_.insert(explanation.causes);
    const auto removed = removable(history_);
    add_with_removed({}, removed);
    for (const auto& explanation : fresh.explanations) add_with_removed(explanation.causes, removed);
  }

  // What was removed may have been one fault, or a few: with many remedies done, all their causes together are too many to be likely or to be gone
  // through (each may have gone or stayed).
  void add_with_removed(const Causes& now, const Causes& removed) {
    if (!now.empty() || !model_.something_is_wrong) candidates_.insert(now);
    for (const auto cause : removed) candidates_.insert(together(now, {cause}));
    if (!removed.empty() && removed.size() <= most_removed_together) candidates_.insert(together(now, removed));
    for (std::size_t i = 0; now.empty() && i < removed.size(); ++i) {
      for (std::size_t k = i + 1; k < removed.size(); ++k) candidates_.insert({std::min(removed[i], removed[k]), std::max(removed[i], removed[k])});
    }
  }

  double log_odds(const Causes& causes) const {
    double sum = 0;
    for (const auto cause : causes) sum += std::log(model_.causes[cause].prior) - std::log1p(-model_.causes[cause].prior);
    return sum;
  }

  // Adds the courses these causes may have taken; their `probability` is the log of their weight for now.
  void weigh(const Causes& causes, std::vector<Course>& courses) {
    const double odds = log_odds(causes);
    fates_.each(causes, [&](const std::vector<std::size_t>& removed_in, double chance) {
      double log_weight = odds + std::log(chance);
      for (const auto& trail : trails_) log_weight += trail.log_likelihood(causes, removed_in);
      if (log_weight == impossible) return;
      for (auto& [phase, readings, most] : tied_) {
        const double density = readings.log_density(present_in(phase, causes, removed_in));
        most = std::max(most, density);
        log_weight += density;
      }
      courses.push_back({causes, removed_in, present_in(history_.size() - 1, causes, removed_in), log_weight});
    });
  }

  // From log weights to probabilities, and what they say of the causes.
  void share_out(Present& result) const {
    double scale = impossible, total = 0;
    for (const auto& course : result.courses) scale = std::max(scale, course.probability);
    if (scale == impossible) return result.courses.clear();
    for (auto& course : result.courses) total += course.probability = std::exp(course.probability - scale);
    std::map<Causes, double> by_present;
    for (auto& course : result.courses) {
      course.probability /= total;
      for (const auto cause : course.causes) result.had_been[cause] += course.probability;
      for (const auto cause : course.present) result.now.belief[cause] += course.probability;
      if (course.present.empty()) result.mended += course.probability;
      by_present[course.present] += course.probability;
    }
    std::sort(result.courses.begin(), result.courses.end(), [](const Course& a, const Course& b) {
      return a.present != b.present ? a.present < b.present : a.probability > b.probability;
    });
    for (const auto& [causes, probability] : by_present) {
      if (probability >= options_.explain.least_probability) result.now.explanations.push_back({causes, probability});
    }
    order_explanations(result.now, options_.explain.most_explanations);
    finish(result, scale + std::log(total));
  }

  void finish(Present& result, double log_total) const {
    const double log_first = log_weight_at_first(first_.explanations[0].causes) - std::log(first_.explanations[0].probability);  // of all sets
    const double unweighed = first_.unlisted_mass;
    result.unweighed_at_most = 1 / (1 + std::exp(log_total - std::log(unweighed) - log_first - log_best_later()));
    result.now.unlisted_mass = unweighed + (1 - unweighed) * result.now.unlisted_mass;
    result.now.log_evidence = first_.log_evidence + log_total - log_first;
    result.now.exact = false;
    if (by_circuits_) result.now.tied = tied_part(history_.back().evidence);
  }

  double log_weight_at_first(const Causes& causes) const {
    double log_weight = log_odds(causes);
    for (const auto& observation : history_[0].evidence) {
      if (!by_circuits_ || !observation.tied) log_weight += std::log(likelihood_under(model_, observation, causes));
    }
    for (const auto& [phase, readings, most] : tied_) log_weight += phase == 0 ? readings.log_density(causes) : 0;
    return log_weight;
  }

  double log_best_later() const {
    double best = 0;
    for (std::size_t k = 1; k < history_.size(); ++k) {
      for (const auto& observation : history_[k].evidence) {
        if (!by_circuits_ || !observation.tied) best += std::log(*std::max_element(observation.likelihood.begin(), observation.likelihood.end()));
      }
    }
    for (const auto& tied : tied_) best += tied.phase > 0 ? tied.most : 0;
    return best;
  }

  const Model& model_;
  const History& history_;
  const AfterOptions& options_;
  Fates fates_;
  Diagnosis first_;             // before any remedy, the list as long as candidates are wanted
  bool by_circuits_ = true;
  std::vector<Trail> trails_;
  std::vector<TiedPhase> tied_;
  std::set<Causes> candidates_;
};

std::string why_invalid(const Model& model, const Done& done) {
  for (std::size_t m = 0; m < done.mends.size(); ++m) {
    const auto& [cause, chance] = done.mends[m];
    if (cause >= model.causes.size()) return "a remedy for a cause that is not in the model";
    if (!(chance >= 0 && chance <= 1)) return "a remedy's chance must lie from 0 to 1";
    if (m > 0 && done.mends[m - 1].first >= cause) return "the causes a remedy mends must ascend";
  }
  return "";
}

void check(const Model& model, const History& history, const AfterOptions& options) {
  const auto refuse = [](const std::string& why) {
    if (!why.empty()) throw std::invalid_argument(why);
  };
  refuse(why_invalid(options));
  if (history.empty()) refuse("a history needs at least its first phase");
  if (!history[0].before.mends.empty()) refuse("the first phase comes before any remedy");
  for (const auto& phase : history) {
    refuse(why_invalid(model, phase.evidence));
    refuse(why_invalid(model, phase.before));
  }
}

// No remedy and nothing seen after the first phase.
Present untouched(const Model& model, const Evidence& evidence, const ExplainOptions& options) {
  Present result;
  result.now = diagnose(model, evidence, options);
  result.had_been = result.now.belief;
  result.unweighed_at_most = result.now.unlisted_mass;
  result.by_circuits = !result.now.tied.empty() || tied_part(evidence).empty();
  for (const auto& [causes, probability] : result.now.explanations) {
    result.courses.push_back({causes, std::vector(causes.size(), never), causes, probability});
    if (causes.empty()) result.mended = probability;
  }
  std::sort(result.courses.begin(), result.courses.end(), [](const Course& a, const Course& b) { return a.present < b.present; });
  return result;
}

struct ByPresent {
  bool operator()(const Course& course, const Causes& present) const { return course.present < present; }
  bool operator()(const Causes& present, const Course& course) const { return present < course.present; }
};

std::vector<double> states_after(const Model& model, const Present& found, const Trail& trail, std::size_t finding, const Causes& present) {
  const auto [begin, end] = std::equal_range(found.courses.begin(), found.courses.end(), present, ByPresent{});
  std::vector<double> states(model.findings[finding].leak_at_most.size(), 0.0);
  const auto add = [&](const Causes& causes, const std::vector<std::size_t>& removed_in, double weight) {
    const auto& joint = trail.joint_now(causes, removed_in);
    const double sum = std::accumulate(joint.begin(), joint.end(), 0.0);
    for (std::size_t s = 0; sum > 0 && s < states.size(); ++s) states[s] += weight * joint[s] / sum;
  };
  if (begin == end || !trail.seen_at_all()) {  // no course leads there, or what was removed does not matter: as if it had always been so
    add(present, std::vector(present.size(), never), 1);
  } else {
    for (auto course = begin; course != end; ++course) add(course->causes, course->removed_in, course->probability);
  }
  const double total = std::accumulate(states.begin(), states.end(), 0.0);
  if (!(total > 0)) return distribution_under(model, finding, present);
  for (auto& state : states) state /= total;
  return states;
}

}  // namespace

std::string why_invalid(const AfterOptions& options) {
  if (!(options.new_fault >= 0 && options.new_fault < 1)) return "new_fault must lie from 0 to below 1";
  if (!(options.drawn_anew >= 0 && options.drawn_anew < 1)) return "drawn_anew must lie from 0 to below 1";
  if (!(options.least_candidate > 0 && options.least_candidate < 1)) return "least_candidate must lie between 0 and 1";
  if (options.most_candidates == 0) return "most_candidates must be at least 1";
  return why_invalid(options.explain);
}

Present diagnose_after(const Model& model, const History& history, const AfterOptions& options) {
  check(model, history, options);
  if (std::all_of(history.begin() + 1, history.end(), idle)) return untouched(model, history[0].evidence, options.explain);
  return Weighing(model, history, options).run();
}

StatesNow states_now(const Model& model, const History& history, const Present& found, const AfterOptions& options) {
  struct Kept {
    TiedReadings tied;
    std::map<std::size_t, Trail> trails;  // by finding
  };
  const auto kept = std::make_shared<Kept>(Kept{TiedReadings(model, found.now.tied), {}});
  const auto trail_for = [&model, &history, &found, options, kept](std::size_t finding) -> const Trail& {
    const auto at = kept->trails.find(finding);
    return at != kept->trails.end() ? at->second : kept->trails.emplace(finding, trail_of(model, history, finding, found.by_circuits, options)).first->second;
  };
  const auto by_circuit = [&model, &found](std::size_t finding) { return found.by_circuits && model.circuits && model.circuits->expectation->tie_of(finding); };
  return {[&model, &found, kept, trail_for, by_circuit](std::size_t finding, const Causes& present) {
            const auto& trail = trail_for(finding);
            if (!trail.seen_at_all() && by_circuit(finding)) return kept->tied.states_of(finding, present);
            return states_after(model, found, trail, finding, present);
          },
          [&model, kept, trail_for, by_circuit](std::size_t finding, std::size_t cause) {
            if (trail_for(finding).seen_at_all()) return true;  // by way of the courses that lead to it
            return by_circuit(finding) ? kept->tied.sways(finding, cause) : push_on(model.causes[cause], finding) != nullptr;
          }};
}

}  // namespace leadline::diagnosis
